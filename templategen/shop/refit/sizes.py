"""What may be measured on each kind of part, in the maker's words, and what the drawing says of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import fsum, hypot
from typing import Literal

from templategen.joinery.mortise import MortiseAndTenon
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.rails import leg_joint, top_leg_joint
from templategen.table.sizes import Sizes


@dataclass(frozen=True, slots=True)
class Size:
    """A size of a part: how it is spoken of and what the drawing gives (mm or radians)."""

    name: str
    kind: Literal["length", "angle"]
    says: str
    drawn: Callable[[Table, Part], float]


def _length(name: str, says: str, drawn: Callable[[Table, Part], float]) -> Size:
    return Size(name, "length", says, drawn)


def _sizes(call: Callable[[Sizes], float]) -> Callable[[Table, Part], float]:
    return lambda table, part: call(table.sizes)


def _longest(table: Table, part: Part) -> float:
    """A slat between its shoulders."""
    assert part.body is not None
    return part.body.bounds.width


def _slat_width(table: Table, part: Part) -> float:
    """A slat over both long edges; one that the field's end cuts off is narrower than the others."""
    assert part.body is not None
    return part.body.bounds.height


def _joint(table: Table, part: Part) -> MortiseAndTenon:
    """A leg's joint with this rail."""
    return (top_leg_joint if part.kind == "rail" else leg_joint)(table.sizes)


_THICK = _length("thickness", "top face to underside", lambda table, part: part.thickness)
_GROOVE = (
    _length("groove_width", "of the groove for tongues", _sizes(lambda s: s.profile.joints.tongue)),
    _length("groove_depth", "of that groove", _sizes(lambda s: s.profile.joints.groove_depth)),
)
_MORTISE = (
    _length("mortise_thickness", "across the rail", lambda table, part: _joint(table, part).mortise_thickness),
    _length("mortise_width", "along the rail", lambda table, part: _joint(table, part).mortise_width),
    _length("mortise_depth", "of the leg's mortise", lambda table, part: _joint(table, part).depth),
)
_TENON = "of the tongue or tenon"

SIZES: Mapping[str, tuple[Size, ...]] = {
    "rim-segment": (
        _length("length", "inner edge, from mitre to mitre", _sizes(lambda s: s.inner_length)),
        _length("outer_length", "outer edge of the blank", _sizes(lambda s: s.outer_length)),
        Size("left_angle", "angle", "mitre off square at your left, seen from the table's centre",
             _sizes(lambda s: s.mitre)),
        Size("right_angle", "angle", "mitre off square at your right", _sizes(lambda s: s.mitre)),
        _length("width", "of the blank, square to its inner edge", _sizes(lambda s: s.profile.top.rim_width)),
        _THICK,
        *_GROOVE,
        _length("slot_width", "of the spline slot", _sizes(lambda s: s.profile.joints.spline_thickness)),
        _length("slot_depth", "of that slot, square to the mitre", _sizes(lambda s: s.profile.joints.spline_depth)),
    ),
    "rail": (
        _length("first_shoulder", "middle of the lap to the shoulder, on the lower-numbered arm",
                _sizes(lambda s: s.inner_apothem)),
        _length("second_shoulder", "the same at the other end", _sizes(lambda s: s.inner_apothem)),
        _length("length", "from shoulder to shoulder", _sizes(lambda s: 2 * s.inner_apothem)),
        _length("width", "of the rail", _sizes(lambda s: s.profile.top.rail_width)),
        _THICK,
        *_GROOVE,
        _length("tenon_thickness", _TENON, _sizes(lambda s: s.groove.tongue_thickness)),
        *_MORTISE,
        _length("peg_rise", "underside to the middle of a peg's hole", _sizes(lambda s: s.profile.legs.peg[2])),
    ),
    "slat": (
        _length("length", "the longer edge, from shoulder to shoulder", _longest),
        _length("width", "of the slat, square to its length", _slat_width),
        _THICK,
        _length("tongue_thickness", _TENON, _sizes(lambda s: s.slat_groove.tongue_thickness)),
    ),
    "spline": (
        _THICK,
        _length("width", "across the joint, along the grain", lambda table, part: part.blank.bounds.width),
    ),
    "leg": (
        _length("length", "from shoulder to shoulder, upright",
                _sizes(lambda s: s.leg_height)),
        _length("section", "of the square bar", _sizes(lambda s: s.profile.legs.section)),
        _length("tenon_thickness", "across the rail", _sizes(lambda s: s.profile.legs.tenon[0])),
        _length("tenon_width", "along the rail", _sizes(lambda s: s.profile.legs.tenon[1])),
        _length("tenon_length", "of the shorter tenon; under a bolted top, of the lower one",
                _sizes(lambda s: s.profile.legs.tenon[2])),
        _length("peg_shoulder", "shoulder to the middle of a peg's hole in the tenon",
                _sizes(lambda s: s.profile.legs.peg[2] - s.profile.legs.peg[1])),
    ),
    "base-rail": (
        _length("length", "over all", _sizes(lambda s: s.profile.base.length)),
        _length("width", "of the rail", _sizes(lambda s: s.profile.base.rail_width)),
        _THICK,
        *_MORTISE,
    ),
    "foot": (
        _length("length", "along the rail", _sizes(lambda s: s.profile.base.foot_length)),
        _length("thickness", "of the pad", _sizes(lambda s: s.profile.base.foot_thickness)),
    ),
}  # fmt: skip
"""By kind of part. Sizes of rim segments and rails are each part's own; the others stand for all of their kind."""


def size_of(part: Part, name: str) -> Size | None:
    """The size called `name` of a part's kind."""
    return next((size for size in SIZES.get(part.kind, ()) if size.name == name), None)


@dataclass(frozen=True, slots=True)
class Measurement:
    """One size found on copy `place` of part `code`, mm or radians, and one standard deviation of the measuring.

    `where` says which entry and key of the maker's file it comes from.
    """

    code: str
    place: int
    name: str
    value: float
    accuracy: float
    where: str


@dataclass(frozen=True, slots=True)
class Best:
    """The best value of one size from all that was measured of it."""

    value: float
    accuracy: float


def weighted_mean(measured: list[Measurement]) -> Best:
    """Repeated measurements as one: each weighs by one over the square of its accuracy."""
    weights = [1 / m.accuracy**2 for m in measured]
    whole = fsum(weights)
    value = fsum(w * m.value for w, m in zip(weights, measured, strict=True)) / whole
    return Best(measured[0].value if len(measured) == 1 else value, whole**-0.5)


def apart(one: Measurement, other: Measurement) -> float:
    """By how many of its own standard deviations a difference between two measurements is off nought."""
    return abs(one.value - other.value) / hypot(one.accuracy, other.accuracy)

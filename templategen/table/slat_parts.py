"""Slats as parts: equal ones share a code, mirrored ones are told apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import pi

from templategen.catalogue import worded
from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.face import flat_faces
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.parts.sameness import same_outline
from templategen.table.edges import LOWER_EDGE, eased
from templategen.table.field import Border
from templategen.table.pins import pin_slots
from templategen.table.profile.model import Profile
from templategen.table.sizes import Sizes
from templategen.table.slat import FittedSlat, base_fields, end_zones, fit_slats
from templategen.table.spacing import Spacing


@dataclass(frozen=True, slots=True)
class LaidSlat:
    """One slat of the table: its part's code, where that lies, the slat it fits, how that was turned, and its pin's
    slot where the fitted slat lies."""

    code: str
    placement: Placement
    fitted: FittedSlat
    fields_on: int
    slot: Outline | None = None

    def border_part(self, border: Border) -> tuple[str, int]:
        """The arm or segment that this copy meets where the fitted slat meets `border`."""
        sizes = self.fitted.field.sizes
        if border.kind == "arm":
            return "arm", (border.index + self.fields_on) % sizes.arms
        return "rim", (border.index + self.fields_on * sizes.segments_per_field) % sizes.segments


@dataclass(slots=True)
class _Kind:
    """A shape met so far; `twin` is the shape it mirrors."""

    body: Outline
    outline: Outline
    number: int
    twin: _Kind | None = None
    twinned: bool = False
    laid: list[tuple[Placement, FittedSlat]] = field(default_factory=list)

    @property
    def hand(self) -> str:
        if self.twin is not None:
            return "right"
        return "left" if self.twinned else ""


def make_slats(sizes: Sizes, spacing: Spacing) -> tuple[tuple[Part, ...], tuple[LaidSlat, ...]]:
    """Every slat of the table, as parts and as laid."""
    kinds: list[_Kind] = []
    for slat in (slat for base in base_fields(sizes) for slat in fit_slats(base, spacing)):
        _sort_in(kinds, slat, flippable=_alike_both_faces(sizes.profile))
    parts, laid = [], []
    for kind in kinds:
        code = f"SLAT-{kind.number:02d}{kind.hand[:1].upper()}"
        features = slat_features(kind.body, kind.outline, sizes)
        slot = next((one.outline for one in features if one.kind == "pin-slot"), None)
        copies = [copy for own, slat in kind.laid for copy in _copies(code, own, slat, sizes, slot)]
        laid.extend(copies)
        parts.append(_part(code, kind, len(copies), sizes, features))
    return tuple(parts), tuple(laid)


def _alike_both_faces(profile: Profile) -> bool:
    """Whether a slat may lie either face up, its tongues being in its middle."""
    above, below = profile.slats.chamfer, profile.edges.slat
    return above == below and (above == 0 or profile.edges.shape == "chamfered")


def _copies(code: str, own: Placement, slat: FittedSlat, sizes: Sizes, slot: Outline | None) -> Iterator[LaidSlat]:
    step = sizes.rails if sizes.profile.slats.run == "straight" else 1
    for fields_on in range(0, sizes.arms, step):
        turned = own.then(Placement(turn=fields_on * sizes.field_angle))
        yield LaidSlat(code, turned, slat, fields_on, slot and own.outline(slot))


def _sort_in(kinds: list[_Kind], slat: FittedSlat, flippable: bool) -> None:
    """Adds the slat to the kind it equals, or makes a new kind of it."""
    flat = slat.to_band
    box = flat.outline(slat.outline).bounds
    own = flat.then(Placement(-box.left, -box.bottom))
    body, outline = own.outline(slat.body), own.outline(slat.outline)
    mirror: _Kind | None = None
    for kind in kinds:
        for way in _ways(kind.outline):
            if not (same_outline(way.outline(kind.outline), outline) and same_outline(way.outline(kind.body), body)):
                continue
            if way.turned_over and not flippable:
                mirror = mirror or kind
                continue
            kind.laid.append((way.then(own.inverse), slat))
            return
    number = mirror.number if mirror else 1 + max((kind.number for kind in kinds), default=0)
    if mirror:
        mirror.twinned = True
    kinds.append(_Kind(body, outline, number, mirror, False, [(own.inverse, slat)]))


def _ways(outline: Outline) -> Iterator[Placement]:
    """The ways a shape in the first quadrant can be laid into its own box: as it is, turned half round, turned
    over, both. The last two mirror it."""
    box = outline.bounds
    for turned_over in (False, True):
        for turn in (0.0, pi):
            raw = Placement(turn=turn, turned_over=turned_over)
            moved = raw.outline(outline).bounds
            yield replace(raw, x=box.left - moved.left, y=box.bottom - moved.bottom)


def _part(code: str, kind: _Kind, count: int, sizes: Sizes, features: tuple[Feature, ...]) -> Part:
    profile = sizes.profile
    thickness = profile.slats.thickness
    named = {"left": "slat {number}, left hand", "right": "slat {number}, right hand"}.get(kind.hand, "slat {number}")
    return Part(
        code=code,
        name=worded(named, number=kind.number),
        kind="slat",
        count=count,
        wood=profile.wood,
        thickness=thickness,
        blank=kind.outline,
        outline=kind.outline,
        body=kind.body,
        features=features,
        faces=flat_faces(kind.outline, thickness),
        handed=kind.hand,
    )


def slat_features(body: Outline, outline: Outline, sizes: Sizes) -> tuple[Feature, ...]:
    """The tongues, the pin's slot and the eased edges of a slat that lies along x."""
    slats = sizes.profile.slats
    features: list[Feature] = []
    for zone in end_zones(body, outline):
        features.extend(sizes.slat_groove.rebates("tongue", zone, slats.thickness, slats.thickness / 2, ()))
    features.extend(pin_slots(body, outline, sizes))
    for strip in _edge_strips(body, outline, slats.chamfer):
        features.append(Feature("chamfer", "top", strip, slats.chamfer, "ease both long edges"))
    size = sizes.profile.edges.slat
    features.extend(eased(sizes.profile, _edge_strips(body, outline, size), size, LOWER_EDGE, "bottom"))
    return tuple(features)


def _edge_strips(body: Outline, outline: Outline, size: float) -> Iterator[Outline]:
    """Along both long edges, from shoulder to shoulder; not at a point, nor where the slat stands against a rail."""
    box = body.bounds
    if size <= 0 or box.height <= 2 * size:
        return
    for edge, y, inward in (
        (box.bottom, box.bottom + size, Point(0, -1)),
        (box.top, box.top - size, Point(0, 1)),
    ):
        level = (side for side in body.edges if max(abs(end.y - edge) for end in (side.start, side.end)) < ON_EDGE)
        if any(outline.distance(side.point_at(0.5)) < ON_EDGE for side in level):
            yield from clip_half_plane(body, Point(0, y), inward)

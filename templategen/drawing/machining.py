"""Marks for whoever sets up a routing machine: zero, tabs, entries and the order. No machine follows these layers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import pi

from templategen.drawing.dimension import cross
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import THROUGH_INSIDE
from templategen.drawing.tabs import TAB_HEIGHT, TAB_WIDTH, Tab, free_runs, joint_lines, tabs
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle, polygon
from templategen.geometry.point import Point
from templategen.nesting.stock import Laid
from templategen.parts.part import Part
from templategen.units import trimmed

TABS = Layer(
    "HOLDING_TAB",
    f"leave a tab {trimmed(TAB_WIDTH)} mm wide and {trimmed(TAB_HEIGHT)} mm high",
    "green", "continuous", 0.35,
)  # fmt: skip
ENTRY = Layer("ENTRY", "the bit goes in here, on the waste side, clear of joints", "blue", "continuous", 0.25)
ORDER = Layer("ORDER", "order of cutting: inside before outside, small before large", "blue", "continuous", 0.25)
ZERO = Layer("SHEET_ZERO", "zero of the lying sheet: X and Y at this corner, Z on the upper face", "green",
             "continuous", 0.35)  # fmt: skip

LETTER = 5.0
"""Capitals of the order's numbers, mm."""

RING = 6.0
"""Radius of the ring round the zero, mm."""

FITS = 1e-6
"""A hole this much narrower than the bit still takes it, mm."""

INTO_PART = 1.5
"""How far the mark of a tab reaches over the line into the part, mm."""


@dataclass(frozen=True, slots=True)
class Contour:
    """One closed cut: its outline, whether the waste lies inside, where the bit enters and how it is held.

    `entry` is the bit's centre, `touch` the point of the outline beside it.
    """

    code: str
    outline: Outline
    inside: bool
    entry: Point
    touch: Point
    tabs: tuple[Tab, ...] = ()

    @property
    def narrow(self) -> float:
        """The smaller side of its box."""
        return min(self.outline.bounds.width, self.outline.bounds.height)


@dataclass(frozen=True, slots=True)
class Routed:
    """What is known of the parts on routed sheets: by code, the parts and edges besides joints that must stay clean;
    the bit's diameter, mm."""

    parts: Mapping[str, Part]
    bit: float
    clean: Mapping[str, Sequence[Line]] = field(default_factory=dict)

    def holes(self, laid: Laid) -> tuple[Outline, ...]:
        """The holes of one copy where it lies."""
        part = self.parts.get(laid.code)
        return tuple(laid.placement.outline(hole) for hole in part.holes) if part else ()

    def contours(self, code: str) -> tuple[Contour, ...]:
        """The cuts that free a part, in its own frame; none of a part that isn't known."""
        part = self.parts.get(code)
        return tuple(contours(part, self.bit, self.clean.get(code, ()))) if part else ()


@dataclass(frozen=True, slots=True)
class Told:
    """The codes of parts that no tab can hold, and of those with holes narrower than the bit."""

    loose: tuple[str, ...] = ()
    bored: tuple[str, ...] = ()


def machining(laid: Sequence[Laid], routed: Routed) -> tuple[tuple[Mark, ...], Told]:
    """The inside cuts and the marks of a routed sheet, and what must be told of it."""
    own = {code: routed.contours(code) for code in dict.fromkeys(one.code for one in laid)}
    drawn = [(one, contour) for one in laid for contour in own[one.code]]
    placed = [_placed(contour, one) for one, contour in drawn]
    ordered = sorted(placed, key=lambda c: (not c.inside, round(abs(c.outline.area), 3)))
    marks: list[Mark] = [*zero_mark()]
    for number, contour in enumerate(ordered, 1):
        marks += _marks(contour, number, routed.bit)
    loose = dict.fromkeys(contour.code for contour in placed if not contour.inside and not contour.tabs)
    bored = dict.fromkeys(contour.code for contour in placed if contour.inside and contour.narrow < routed.bit - FITS)
    return tuple(marks), Told(tuple(loose), tuple(bored))


def contours(part: Part, bit: float, clean: Sequence[Line] = ()) -> Iterator[Contour]:
    """The cuts that free a part, in its own frame: holes first."""
    for hole in part.holes:
        touch, along = _start(hole.anticlockwise, (), ())
        narrow = min(hole.bounds.width, hole.bounds.height)
        yield Contour(part.code, hole, True, touch.plus(along.left, min(bit, narrow) / 2), touch)
    joints = (*joint_lines(part), *clean)
    held = tabs(part.blank, joints)
    touch, along = _start(part.blank.anticlockwise, joints, held)
    yield Contour(part.code, part.blank, False, touch.plus(along.left, -bit / 2), touch, held)


def _start(ring: Outline, joints: Sequence[Line], held: Sequence[Tab]) -> tuple[Point, Point]:
    """Where the bit meets the line: on the longest run free of joints, as far from tabs as it can be."""
    free: list[Edge] = [run for edge in ring.edges if isinstance(edge, Line) for run in free_runs(edge, joints)]
    runs = free or list(ring.edges)
    longest = max(runs, key=lambda run: round(run.length, 6))
    shares = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
    best = max(shares, key=lambda share: _clear(longest.point_at(share), held))
    return longest.point_at(best), longest.direction_at(best)


def _clear(point: Point, held: Sequence[Tab]) -> float:
    return round(min((2 * TAB_WIDTH, *(point.distance(tab.at) for tab in held))), 6)


def _placed(contour: Contour, laid: Laid) -> Contour:
    spot = laid.placement
    turned = -1.0 if spot.turned_over else 1.0
    held = tuple(Tab(spot.point(tab.at), spot.direction(tab.along).times(turned)) for tab in contour.tabs)
    outline = spot.outline(contour.outline)
    return Contour(laid.code, outline, contour.inside, spot.point(contour.entry), spot.point(contour.touch), held)


def _marks(contour: Contour, number: int, bit: float) -> Iterator[Mark]:
    if contour.inside:
        yield Shape(THROUGH_INSIDE, contour.outline)
    radius = min(bit / 4, contour.entry.distance(contour.touch) / 2)
    yield Shape(ENTRY, circle(*contour.entry, radius))
    inward = contour.touch.minus(contour.entry).unit
    yield Stroke(ENTRY, Line(contour.entry.plus(inward, radius), contour.touch))
    beyond = contour.touch.plus(inward, LETTER)
    yield Words(ORDER, beyond.plus(Point(0, -LETTER / 2)), LETTER, str(number), "middle")
    for tab in contour.tabs:
        yield Shape(TABS, _tab_box(tab, bit))


def _tab_box(tab: Tab, bit: float) -> Outline:
    """The tab over the cut: from a little inside the part to most of the way across the cut."""
    out, half = tab.along.left.times(-1), tab.along.times(TAB_WIDTH / 2)
    near, far = tab.at.plus(out, -INTO_PART), tab.at.plus(out, bit * 0.8)
    return polygon((near.minus(half), near.plus(half), far.plus(half), far.minus(half))).anticlockwise


def zero_mark() -> Iterator[Mark]:
    """The sheet's lower left corner."""
    yield Shape(ZERO, circle(0.0, 0.0, RING))
    yield from cross(Point(0.0, 0.0), RING * 1.6, pi / 4, ZERO)
    yield Words(ZERO, Point(-RING * 1.6, -RING * 2.6), LETTER, "X0 Y0, Z0 on the upper face", "start")


def machining_notes(told: Told, bit: str) -> Iterator[str]:
    """What the marks mean, in words."""
    yield (
        f"Routed with a {bit} bit outside the lines of parts and inside those of holes, in the order of the numbers; "
        f"tabs {trimmed(TAB_WIDTH)} mm wide, {trimmed(TAB_HEIGHT)} mm high, cut and pared off by hand."
    )
    if told.bored:
        yield f"Holes narrower than the bit are bored: in {', '.join(told.bored)}."
    if told.loose:
        yield (
            f"No tabs on {', '.join(told.loose)}: edges are faces of joints, or too short. Leave a skin of 0.3 to "
            "0.5 mm or screw it down through its waste."
        )

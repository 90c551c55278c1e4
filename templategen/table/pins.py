"""The slats' pins: where each stands in its tongue, and the slot in which one end of a slat may slide."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, Vertex
from templategen.geometry.tolerance import EQUAL, ON_EDGE
from templategen.parts.feature import Feature
from templategen.table.profile.choices import Units
from templategen.table.seasons import board_swing
from templategen.table.sizes import Sizes
from templategen.units import MM_PER_INCH


@dataclass(frozen=True, slots=True)
class Pin:
    """A slat's pin: its thickness, and its play in its slot, across it and beyond what the wood moves along, mm."""

    thick: float
    play: float

    @property
    def slot(self) -> float:
        """Width of a slot, and of the bit that bores its end, mm."""
        return self.thick + self.play


INCH = float(MM_PER_INCH)

PIN_OF: Mapping[Units, Pin] = {"mm": Pin(4.0, 2.0), "in": Pin(5 * INCH / 32, 3 * INCH / 32)}
"""Pins (assumed): they and their slots are as wide as drills that are sold by the maker's measure, and a slot so much
wider that a hole bored by hand through rail or rim still meets it."""

CLEAR = ON_EDGE / 2
"""By so much a slot passes its tongue's end, mm, or rounding would leave a skin there in solids."""

BESIDE = 1.0
"""Wood beside a slot, and between its round end and the shoulder, at the least, mm (assumed): a bit that strays bites
no step into the shoulder's edge, which shows. So much stays between a pin's hole and an eased edge, too, on whose
slope the bit's point would begin."""

WIDE = 3.0
"""An end takes a pin where its tongue is so many pins wide (assumed)."""


@dataclass(frozen=True, slots=True)
class PinnedEnd:
    """An end of a slat that takes a pin, in the slat's own frame, mm: the middle of its tongue's end, how far that
    end lies along the slat for each mm across, how long the tongue is along the slat for each mm square to its
    shoulder, and 1 at the right end, -1 at the left."""

    middle: Point
    slant: float
    longer: float
    way: int

    def inside(self, deep: float) -> Point:
        """Where the pin stands, so deep inside the tongue's end, square to it."""
        return Point(self.middle.x - self.way * deep * self.longer, self.middle.y)


def pin_from_end(sizes: Sizes) -> float:
    """How far inside a tongue's end, square to it, pins stand, mm: half way to the shoulder, nearer to the end where
    their holes would meet the eased edge of rail or rim, as near as leaves wood there."""
    tongue, pin, edges = sizes.tongue_length, PIN_OF[sizes.profile.units].thick, sizes.profile.edges
    eased = max(edges.rim, edges.rail + sizes.clearances.shoulder)
    return min(tongue / 2, max(tongue - eased - BESIDE - pin / 2, BESIDE + pin / 2))


def ends_move(sizes: Sizes) -> tuple[float, float]:
    """How far the wood beside an end moves over the year, as seen from a slat whose other end stands still, mm: at an
    arm, with the play at both shoulders, and at the rim."""
    dry, wet = board_swing(sizes.profile)
    arm = 2 * sizes.clearances.shoulder + sizes.half_rail * (wet - dry)
    return arm, sizes.wall_at_middle * (wet - dry)


def slot_length(sizes: Sizes) -> float:
    """How long a slot must be for a slat whose ends both move, mm."""
    arm, rim = ends_move(sizes)
    return PIN_OF[sizes.profile.units].slot + (arm + rim if sizes.profile.slats.run == "along" else 2 * max(arm, rim))


def slot_reach(sizes: Sizes, end: PinnedEnd) -> float:
    """From the tongue's end in to the middle of the slot's round end, along the slat; it stays in the tongue, off the
    shoulder as far as a pin leaves room that stands still when that shoulder closes."""
    tongue, wide, deep = sizes.tongue_length, PIN_OF[sizes.profile.units].slot, pin_from_end(sizes)
    off = max(0.0, min(BESIDE, tongue - deep - sizes.clearances.shoulder - wide / 2))
    return min((tongue - off - wide / 2) * end.longer, deep * end.longer + (slot_length(sizes) - wide) / 2)


def pinned_ends(body: Outline, outline: Outline, tongue: float, pin: Pin) -> tuple[PinnedEnd, ...]:
    """The ends of a slat along x that take a `pin`, the left one first: of an end with several tongues the widest."""
    found: dict[int, tuple[float, PinnedEnd]] = {}
    for edge in outline.anticlockwise.edges:
        rise = edge.end.minus(edge.start)
        wide = abs(rise.y)
        if wide < WIDE * pin.thick or not _has_shoulder(edge, body, tongue):
            continue
        way = 1 if rise.y > 0 else -1
        middle = edge.point_at(0.5)
        end = PinnedEnd(middle, rise.x / rise.y, rise.length / wide, way)
        if way > 0 and not _has_room(end, outline, tongue, pin.slot):
            continue
        known = found.get(way)
        if known is None or wide > known[0] + EQUAL or (wide > known[0] - EQUAL and middle.y < known[1].middle.y):
            found[way] = (wide, end)
    return tuple(found[way][1] for way in (-1, 1) if way in found)


def _has_room(end: PinnedEnd, outline: Outline, tongue: float, wide: float) -> bool:
    """Whether the longest slot in a tongue, so `wide`, keeps wood all round its inner end: it would cut the tip off a
    point."""
    x, side = end.middle.x - (tongue - wide / 2) * end.longer, wide / 2 + BESIDE
    spots = (Point(x, end.middle.y - side), Point(x, end.middle.y + side), Point(x - side, end.middle.y))
    return all(outline.contains(spot) for spot in spots)


def _has_shoulder(edge: Edge, body: Outline, tongue: float) -> bool:
    """Whether a shoulder runs along an edge, a tongue's length inside it."""
    along = edge.end.minus(edge.start).unit
    return any(
        abs(along.cross(other.end.minus(other.start).unit)) < ON_EDGE
        and abs(along.left.dot(other.start.minus(edge.start)) - tongue) < EQUAL
        for other in body.edges
        if other.length > ON_EDGE
    )


def pin_slots(body: Outline, outline: Outline, sizes: Sizes) -> Iterator[Feature]:
    """The slot in the right tongue of a slat that is pinned at both ends: open at the tongue's end, where too little
    wood would be left to close it, and round at the other."""
    pin = PIN_OF[sizes.profile.units]
    ends = pinned_ends(body, outline, sizes.tongue_length, pin)
    if len(ends) < 2:
        return
    end, half = ends[1], pin.slot / 2
    inner, y = end.middle.x - slot_reach(sizes, end), end.middle.y
    low, high = (Vertex(end.middle.x + at * end.slant + CLEAR, y + at) for at in (-half, half))
    ring = Outline((low, high, Vertex(inner, y + half, 1.0), Vertex(inner, y - half)))
    depth = (sizes.profile.slats.thickness + sizes.slat_groove.tongue_thickness) / 2
    yield Feature("pin-slot", "top", ring, depth, "slot for the pin")

"""How a piece is held against a block while its end goes over a cutter: which edge lies at the block, which way up
the block lies, and where there is wood enough for a clamp."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import atan2, ceil, cos, sin, tan
from typing import Literal

from templategen.geometry.outline import distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.jigs.piece import step_of
from templategen.parts.part import Part
from templategen.parts.sides import end_edge, ends_of
from templategen.table.assembly import Table

DEEP = 60.0
"""From a block's front to its back, square to both, mm."""

JAW = 20.0
"""Of a clamp's jaw along an edge, mm."""

BESIDE = 30.0
"""Front of a block past the jaw, mm."""

CLEAR = 25.0
"""From the cut to the nearest that a jaw comes, square to the fence, mm."""

LEAST = 15.0
"""Edge beside the cut on both sides of a piece between two blocks, at the least, mm."""

SCRAP = 50.0
"""Length of the scrap that keeps two blocks parallel, mm."""

SHARE = 0.4
"""Of a clamp's force the share that a piece gets at the least, where a scrap takes the rest."""

LONGEST = 600.0
"""A longer piece isn't led by its end and a block, mm: the mitre gauge carries it."""

HAIR = 0.5
"""A corner no further off the block is at it, mm."""

SAME = 0.01
"""Depths within this are one, mm."""

Way = Literal["top", "bottom"]

FACES: tuple[Way, Way] = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class Hold:
    """One end of a piece with a face down, seen from above: the machine's fence along y = 0, the piece below it and
    pushed towards -x, the corner of the block's front on the fence at the origin.

    `ring` is the piece so, `edge` the long one at the block's front, `lean` how far that falls forwards of square,
    radians, `wide` the piece and `back` the block square to it, mm. Along the front from the fence, mm: `clamp` the
    clamp's middle, `both` where front and far edge of the piece lie across from each other beside the cut, `scrap`
    where scrap between two blocks begins, None where the clamp goes over one block and the piece. `is_free` that the
    end's corner is off the block, `is_cut_again` that the cut on the edge beside it takes what breaks out there.
    """

    code: str
    end: str
    down: Way
    edge: Literal["low", "high"]
    lean: float
    ring: tuple[Point, ...]
    wide: float
    back: float
    both: tuple[float, float]
    clamp: float
    scrap: float | None
    is_free: bool
    is_cut_again: bool

    @property
    def along(self) -> Point:
        """The way of the block's front, away from the fence."""
        return Point(-sin(self.lean), -cos(self.lean))

    @property
    def ahead(self) -> Point:
        """Square to it, forwards."""
        return Point(-cos(self.lean), sin(self.lean))

    def at(self, far: float, ahead: float) -> Point:
        """A place so far along the front, and so far before it."""
        return self.along.times(far).plus(self.ahead, ahead)

    @property
    def reach(self) -> float:
        """How long the front of a block must be that lies so."""
        far = max(self.clamp + JAW / 2 + BESIDE, self.scrap + SCRAP if self.scrap is not None else 0.0)
        if self.lean >= 0:
            return far
        return far + (self.wide if self.scrap is not None else -self.back) * tan(-self.lean)

    @property
    def bears(self) -> float:
        """How much of the piece's two edges is pressed, mm: the jaw, or what lies between two blocks."""
        return JAW if self.scrap is None else self.both[1] - self.both[0]


def on_gauge(part: Part) -> bool:
    """Whether a piece is too long to be led by its end and a block."""
    return part.size[0] > LONGEST


def held(table: Table) -> Iterator[Hold]:
    """Every end with a tongue or a tenon that a block carries, with each face down, in the order of the parts."""
    step = step_of(table.profile)
    for part in (one for one in table.parts if one.cuts("tongue", "tenon") and not on_gauge(one)):
        deep = table.profile.legs.tenon[2] if part.kind == "leg" else table.sizes.tongue_length
        for end in _cut_ends(part, deep):
            found = (hold(part, end, down, deep, step) for down in FACES)
            yield from (one for one in found if one)


def hold(part: Part, end: str, down: Way, deep: float, step: float = 5.0) -> Hold | None:
    """How an end is held with a face down, its shoulder `deep` off the fence; None where there is no wood to hold it
    by: it has no two edges that lie across from each other beside the cut. Places are told in whole `step`s, mm."""
    if any(end_edge(part.blank, name) is None for name in (end, "low", "high")):
        return None
    placed, trailing, leading, is_free = _placed(part, end, down)
    along = trailing[1].minus(trailing[0]).unit
    lean, back = atan2(-along.x, -along.y), ceil(DEEP / step - SAME) * step
    wide = leading[0].dot(Point(-cos(lean), sin(lean)))

    def off(before: float, clear: float) -> float:
        """How far along the front something is so far off the fence, `before` the front."""
        return (before * sin(lean) + clear) / cos(lean)

    spans = [sorted(p.dot(along) for p in edge) for edge in (trailing, leading)]
    low, high = max(off(0.0, deep), off(wide, deep), *(a for a, _ in spans)), min(b for _, b in spans)
    near = max(off(before, deep + CLEAR) for before in (-back, wide)) + JAW / 2
    clamp, scrap = ceil(max(near, low + JAW / 2) / step) * step, None
    if clamp + JAW / 2 > high:
        if high - low < LEAST:
            return None
        clamp = ceil(max(near, off(wide + back, deep + CLEAR) + JAW / 2) / step) * step
        past = max(p.dot(along) for p in placed) + step
        middle = (clamp - SHARE * (low + high) / 2) / (1 - SHARE)
        scrap = ceil(max(past, middle - SCRAP / 2) / step) * step
    return Hold(
        part.code, end, down, _at_block(end, down), lean, tuple(placed), wide, back, (low, high), clamp, scrap,
        is_free, _beside(part, end, down) in _cut_ends(part, deep),
    )  # fmt: skip


def _at_block(end: str, down: Way) -> Literal["low", "high"]:
    """The long edge that lies behind as the piece is pushed on."""
    return "high" if end.startswith("left") is (down == "bottom") else "low"


def _beside(part: Part, end: str, down: Way) -> str:
    """The edge of the end that this one meets behind; "" where that is a long one."""
    corner = _edge(part, end)[0 if down == "bottom" else 1]
    others = (name for name in ends_of(part.blank) if name != end)
    return next((name for name in others if min(p.distance(corner) for p in _edge(part, name)) < ON_EDGE), "")


def _placed(part: Part, end: str, down: Way) -> tuple[list[Point], tuple[Point, ...], tuple[Point, ...], bool]:
    """The piece at the fence, its long edges behind and before from the fence outwards, and whether the end's corner
    is off the block. It is turned over where its top lies down."""
    own, behind = _edge(part, end), _at_block(end, down)
    start, stop = own if down == "bottom" else (own[1], own[0])
    way, inward = stop.minus(start).unit, own[1].minus(own[0]).left.unit

    def seen(points: Iterable[Point]) -> list[Point]:
        return [Point(-p.minus(start).dot(way), -p.minus(start).dot(inward)) for p in points]

    before: Literal["low", "high"] = "low" if behind == "high" else "high"
    edges = [sorted(seen(_edge(part, name)), key=lambda p: -p.y) for name in (behind, before)]
    one, other = edges[0]
    aside = one.x - one.y * (other.x - one.x) / (other.y - one.y)
    ring, trailing, leading = ([Point(p.x - aside, p.y) for p in points]
                               for points in (seen(part.blank.anticlockwise.points), *edges))  # fmt: skip
    return ring, tuple(trailing), tuple(leading), abs(aside) > HAIR


def _edge(part: Part, name: str) -> tuple[Point, Point]:
    edge = end_edge(part.blank, name)
    assert edge is not None
    return edge


def _cut_ends(part: Part, deep: float) -> tuple[str, ...]:
    """The edges of its ends that a tongue or a tenon as long ends on."""
    return tuple(name for name in ends_of(part.blank) if _is_cut(part, _edge(part, name), deep))


def _is_cut(part: Part, edge: tuple[Point, Point], deep: float) -> bool:
    """Whether the middle of an edge lies on a zone that is cut, and its shoulder so deep behind it."""
    middle, inward = edge[0].plus(edge[1]).times(0.5), edge[1].minus(edge[0]).left.unit
    for zone in part.cuts("tongue", "tenon"):
        if zone.face == "top" and any(distance_to(side, middle) < ON_EDGE for side in zone.outline.edges):
            ring = zone.outline if zone.kind == "tenon" or part.body is None else part.body
            far = [point.minus(edge[0]).dot(inward) for point in ring.points]
            return abs((max if zone.kind == "tenon" else min)(far) - deep) < SAME
    return False

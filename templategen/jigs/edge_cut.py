"""Cuts in the narrow faces of parts: where a groove or slot lies from the end that a stop can bear on."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import atan2

from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part

SAME = 1e-4
"""Cuts whose dimensions all agree within this share a template, mm."""

NEAR = 60.0
"""A stop this close to the cut's closed end is preferred to one at the end where the bit runs out, mm."""

HANDS = ("left", "right")


@dataclass(frozen=True, slots=True)
class EdgeCut:
    """A rectangle cut into a narrow face, seen from outside with the part's top face uppermost.

    Frame: x along the face from the end that the stop bears on, y up from the top face's arris, so the part lies
    below y = 0. The cut reaches from `start` to `end`, an open end runs out of the wood there; `over` is the wood
    above it, `width` its own, `depth` into the face. `lean` is how far the end that the stop bears on leans out below
    the face, radians. `hands` say on which side of the cut, seen so, the stop stands: "left", "right" or both.
    """

    kind: FeatureKind
    start: float
    end: float
    start_open: bool
    end_open: bool
    over: float
    width: float
    depth: float
    thickness: float
    lean: float
    hands: tuple[str, ...]
    serves: tuple[str, ...]

    @property
    def key(self) -> tuple[object, ...]:
        """What makes two cuts one template, whichever way it is laid on."""
        sizes = (self.start, self.end, self.over, self.width, self.depth, self.thickness, self.lean * 1000)
        return (self.kind, self.start_open, self.end_open, *(round(size / SAME) for size in sizes))

    @property
    def is_stopped(self) -> bool:
        """Whether it ends inside the face."""
        return not (self.start_open and self.end_open)

    def routed(self, run_out: float) -> Bounds:
        """The rectangle that is routed: past the wood at open ends."""
        first = min(self.start, 0.0) - run_out if self.start_open else self.start
        last = self.end + run_out if self.end_open else self.end
        return Bounds(first, -self.over - self.width, last, -self.over)


def edge_cuts(parts: Iterable[Part], kind: FeatureKind) -> tuple[EdgeCut, ...]:
    """The different cuts of one kind in side faces, each with both hands and all the parts that have it."""
    known: dict[tuple[object, ...], EdgeCut] = {}
    for part in parts:
        for feature in part.cuts(kind):
            if feature.is_flat:
                continue
            cut = _edge_cut(part, feature)
            before = known.get(cut.key, cut)
            known[cut.key] = replace(
                before,
                hands=tuple(hand for hand in HANDS if hand in (*before.hands, *cut.hands)),
                serves=tuple(dict.fromkeys((*before.serves, *cut.serves))),
            )
    return tuple(known.values())


def _edge_cut(part: Part, feature: Feature) -> EdgeCut:
    face = part.face(feature.face)
    cut, whole = feature.outline.bounds, face.outline.bounds
    before, after = _past(part, face, -1), _past(part, face, 1)
    opens = cut.left <= SAME, cut.right >= whole.right - SAME
    from_left, from_right = cut.left + before, whole.right - cut.right + after
    left = _bears_left(opens, from_left, from_right)
    start, far = (from_left, before) if left else (from_right, after)
    return EdgeCut(
        feature.kind, start, start + cut.width, *(opens if left else opens[::-1]),
        part.thickness - cut.top, cut.height, feature.depth, part.thickness,
        0.0 if far > SAME else _lean(part, face, -1 if left else 1), ("left" if left else "right",), (part.code,),
    )  # fmt: skip


def _bears_left(opens: tuple[bool, bool], from_left: float, from_right: float) -> bool:
    """Whether the stop bears on the left end: the nearer one, or a closed one that is near enough."""
    closed = [not is_open and away <= NEAR for is_open, away in zip(opens, (from_left, from_right), strict=True)]
    if closed[0] != closed[1]:
        return closed[0]
    return from_left <= from_right + SAME


def _foot(face: Face, way: int) -> tuple[Point, Point]:
    """The end of the face in plan on that side (-1 left, 1 right), and the direction that way."""
    along = Point(face.along.x, face.along.y)
    start = Point(face.origin.x, face.origin.y)
    return (start, along.times(-1)) if way < 0 else (start.plus(along, face.outline.bounds.width), along)


def _past(part: Part, face: Face, way: int) -> float:
    """How far the blank reaches past the end of the face along the face itself, as at a rail's tenon."""
    end, ahead = _foot(face, way)
    on_line = (p for p in part.blank.points if abs(p.minus(end).cross(ahead)) < SAME)
    return max([0.0, *(p.minus(end).dot(ahead) for p in on_line)])


def _lean(part: Part, face: Face, way: int) -> float:
    """How far the blank's edge that meets the face's end leans out past it, going into the wood; radians."""
    end, ahead = _foot(face, way)
    inward = Point(-face.normal.x, -face.normal.y)
    for away in _edges_from(part, end):
        if away.dot(inward) > SAME * away.length:
            return atan2(away.dot(ahead), away.dot(inward))
    return 0.0


def _edges_from(part: Part, end: Point) -> Iterator[Point]:
    for edge in part.blank.edges:
        if isinstance(edge, Line):
            for here, there in ((edge.start, edge.end), (edge.end, edge.start)):
                if here.distance(end) < SAME:
                    yield there.minus(here)

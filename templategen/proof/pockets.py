"""A pocket as it is drawn, held against the feature: in the wood it is the feature; where it is open it runs out.

Where a pocket is open at the edge of the wood, or meets a deeper one, its line may lie further out, so that a round
cutter clears the corners; but all open sides of one pocket as far as each other.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from templategen.geometry.edge import Edge, Line
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.lines import Lines
from templategen.proof.outlines import TRUE, places
from templategen.proof.recorded import RecordedWork

ON = 1e-5
"""Points nearer than this to a line lie on it, mm."""

TOUCHING = 1e-6
"""Edges nearer than this meet, mm."""

SHORTEST = 0.05
"""Pieces of edges shorter than this aren't measured by themselves, mm: files leave out edges under 0.01 mm."""

ACROSS = (0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95)
"""Where along an open side it is measured how far out it is drawn."""

FURTHEST = 60.0
"""No pocket runs out further, mm: half of the widest bit."""


@dataclass(frozen=True)
class Ground:
    """What pockets of one face are cut into: its wood, and all work on it."""

    wood: Outline
    works: tuple[RecordedWork, ...]

    @cached_property
    def pockets(self) -> tuple[RecordedWork, ...]:
        """The work that a cutter clears as a whole."""
        return tuple(work for work in self.works if not work.runs_along)

    def deeper(self, work: RecordedWork) -> tuple[Outline, ...]:
        """The pockets that leave no wood at this one's depth; of two alike the earlier."""
        own = (work.depth, -work.number)
        return tuple(other.outline for other in self.pockets if (other.depth, -other.number) > own)


def pocket_off(work: RecordedWork, drawn: Outline, ground: Ground) -> tuple[float, Point | None]:
    """How far a drawn pocket at most lies from where the feature is, and where; 0 for a true one."""
    deeper = ground.deeper(work)
    lines = (*ground.wood.edges, *(edge for ring in deeper for edge in ring.edges))
    kept: list[Edge] = []
    opened: list[Edge] = []
    for piece in parted(work.outline.anticlockwise.edges, lines):
        (opened if _is_open(piece, ground.wood, deeper, lines) else kept).append(piece)
    found = Lines(drawn.edges).worst(list(places(kept)))
    back = Lines(work.outline.edges).worst(
        list(places(piece for piece in parted(drawn.edges, lines) if _in_wood(piece, ground.wood, deeper)))
    )
    return max(found, back, _uneven(opened, drawn), key=lambda one: one[0])


def parted(edges: Iterable[Edge], lines: Sequence[Edge]) -> Iterator[Edge]:
    """The edges, parted wherever they meet one of the lines."""
    boxes = [(line, line.bounds) for line in lines]
    for edge in edges:
        own = edge.bounds
        near = (line for line, box in boxes if own.meets(box, TOUCHING))
        met = (share for line in near for _, share, _ in met_at(intersect(edge, line, TOUCHING)))
        stops = sorted({0.0, 1.0, *(share for share in met if 0.0 < share < 1.0)})
        yield from (edge.between(a, b) for a, b in pairwise(stops) if (b - a) * edge.length > SHORTEST)


def _outward(piece: Edge) -> Point:
    return piece.direction_at(0.5).left.times(-1.0)


def _is_open(piece: Edge, wood: Outline, deeper: Sequence[Outline], lines: Sequence[Edge]) -> bool:
    """Whether the piece lies on the edge of the wood or of a deeper pocket, with no wood beyond it."""
    middle = piece.point_at(0.5)
    if Lines(lines).worst([middle])[0] > ON:
        return False
    beyond = middle.plus(_outward(piece), 10 * ON)
    return not wood.contains(beyond, 0.0) or any(ring.contains(beyond, 0.0) for ring in deeper)


def _in_wood(piece: Edge, wood: Outline, deeper: Sequence[Outline]) -> bool:
    """Whether there is wood about the piece, its edges left out."""
    middle = piece.point_at(0.5)
    inside = wood.contains(middle, 0.0) and wood.distance(middle) > ON
    return inside and not any(ring.contains(middle, ON) for ring in deeper)


def _uneven(opened: Sequence[Edge], drawn: Outline) -> tuple[float, Point | None]:
    """By how much the open sides run out further than each other."""
    reach = [(_run_out(piece, drawn), piece.point_at(0.5)) for piece in opened]
    if not reach:
        return 0.0, None
    (least, at), (most, _) = min(reach, key=lambda one: one[0]), max(reach, key=lambda one: one[0])
    return (most - least if most - least > TRUE else 0.0), at


def _run_out(piece: Edge, drawn: Outline) -> float:
    """How far outside an open side the pocket's line is drawn; endless where it isn't.

    Sides that slant may end the widened pocket before a ray meets its outer line, so the longest of several counts.
    """
    return max(_ray(piece, share, drawn) for share in ACROSS)


def _ray(piece: Edge, share: float, drawn: Outline) -> float:
    """The way from a point of an open side straight out to the pocket's line."""
    start, out = piece.point_at(share), piece.direction_at(share).left.times(-1.0)
    ray = Line(start.plus(out, -2 * TRUE), start.plus(out, FURTHEST))
    met = (point for edge in drawn.edges for point, _, _ in met_at(intersect(ray, edge)))
    return min((point.minus(start).dot(out) for point in met), default=float("inf"))

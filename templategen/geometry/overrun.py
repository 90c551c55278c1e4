"""Overrun: a pocket that is open at the edge of the wood is drawn past it.

So a round cutter clears the corners, and no line of the pocket lies on the line that cuts the wood out.
Inside the wood the pocket stays what it was. The same holds where a pocket meets a deeper one: there is no
wood left beyond that line either.
"""

from dataclasses import dataclass
from math import sqrt

from templategen.geometry.coincide import covered_share, pieces
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline, outline_through
from templategen.geometry.point import Point, Vertex
from templategen.geometry.tolerance import ON_EDGE

OVERRUN = 5.0
"""How far open pockets run past the wood when no cutter is named: half a 10 mm bit; mm."""

LEAST_OVERRUN = 0.05
"""Where other wood stands close by the overrun is halved, but not below this; mm."""


STEEPEST = 0.3
"""A side of the pocket that leaves the wood flatter than this (sine of the angle) is flared instead."""

SAMPLES = 12
"""Points tried along each edge of a widened pocket."""

SHARPEST = 0.3
"""Corners with less than this of one plus the cosine of their turn are cut off short of the mitre."""

Piece = tuple[Edge, bool]


@dataclass(frozen=True)
class Ground:
    """What a pocket is cut into: the face and the deeper pockets already in it."""

    wood: Outline
    deeper: tuple[Outline, ...] = ()

    def holds(self, point: Point) -> bool:
        """Whether there is wood at the point, its edges left out."""
        box = self.wood.bounds
        if not (box.left < point.x < box.right and box.bottom < point.y < box.top):
            return False
        if not self.wood.contains(point, 0.0) or self.wood.distance(point) <= ON_EDGE:
            return False
        return not any(ring.contains(point, ON_EDGE) for ring in self.deeper)


def overrun(pocket: Outline, wood: Outline, by: float = OVERRUN, deeper: tuple[Outline, ...] = ()) -> Outline:
    """The pocket with its open edges moved out of the wood, so far that a bit of radius `by` mm clears it; unchanged
    when none is open.

    Square to the edge that takes a bit's radius. At a corner of angle a the bit leaves wood as far as r / tan(a / 2)
    from the corner along the pocket's side, so there the edge moves out by r (1 + cos a). The pocket's sides run
    straight on past the edge, along an edge of the wood too, as at the shoulder of a tenon narrower than the bar: a
    bend there would leave wood in it. Where wood lies ahead the side turns outward by 45 degrees. `deeper` are those
    that leave no wood at this depth.
    """
    ground = Ground(wood, tuple(ring.anticlockwise for ring in deeper))
    ring = [piece for edge in pocket.anticlockwise.edges for piece in _open_pieces(edge, ground)]
    if not any(is_open for _, is_open in ring):
        return pocket
    by *= max((_share(before, after, ground) for before, after in zip(ring, ring[1:] + ring[:1], strict=True)))
    while by >= LEAST_OVERRUN:
        widened = _widened(ring, ground, by)
        if not _crosses_itself(widened) and _keeps_clear(widened, pocket, ground):
            return widened
        by /= 2
    return pocket


def _share(before: Piece, after: Piece, ground: Ground) -> float:
    """How many radii a corner between two pieces asks the open one of them to be moved out; 1 where none is sharp."""
    (first, first_open), (second, second_open) = before, after
    if first_open == second_open:
        return 1.0
    at, out = second.start, OVERRUN
    ahead, inward = (
        (first.direction_at(1), second.direction_at(0))
        if second_open
        else (second.direction_at(0).times(-1), first.direction_at(1).times(-1))
    )
    if ground.holds(at.plus(ahead, out / 2)):
        return 1.0
    return max(1.0, 1.0 - ahead.dot(inward))


def _open_pieces(edge: Edge, ground: Ground) -> list[Piece]:
    """The edge in pieces: open where it lies on the ring of the wood, or where a deeper pocket adjoins."""
    against = [other for ring in ground.deeper for other in ring.edges if _runs_against(edge, other)]
    return pieces(edge, (*ground.wood.edges, *against))


def adjoins(pocket: Outline, other: Outline) -> bool:
    """Whether two pockets of one face meet along a line, each on its own side."""
    theirs = other.anticlockwise.edges
    return any(_runs_against(edge, line) for edge in pocket.anticlockwise.edges for line in theirs)


def _runs_against(edge: Edge, other: Edge) -> bool:
    span = covered_share(edge, other)
    if span is None:
        return False
    middle = (span[0] + span[1]) / 2
    there = other.share_of(edge.point_at(middle))
    return edge.direction_at(middle).dot(other.direction_at(there)) < 0


def _widened(ring: list[Piece], ground: Ground, by: float) -> Outline:
    corners = [_corner(ring[i - 1], ring[i], ground, by) for i in range(len(ring))]
    vertices: list[Vertex] = []
    for i, (edge, is_open) in enumerate(ring):
        start, end = corners[i][-1], corners[(i + 1) % len(ring)][0]
        vertices += [Vertex(*point) for point in corners[i][:-1]]
        vertices.append(Vertex(*start, _bulge(edge, is_open, start, end)))
    return outline_through(vertices)


def _bulge(edge: Edge, is_open: bool, start: Point, end: Point) -> float:
    if not isinstance(edge, Arc) or not is_open:
        return edge.bulge
    chord, radius = start.distance(end), start.distance(edge.centre)
    share = min(1.0, chord / (2 * radius))
    sagitta_share = share / (1 + sqrt(1 - share * share))
    return sagitta_share if edge.sweep > 0 else -sagitta_share


def _corner(before: Piece, after: Piece, ground: Ground, by: float) -> list[Point]:
    """The points that stand for the corner between two pieces, in order of travel."""
    (first, first_open), (second, second_open) = before, after
    at = second.start
    if first_open and second_open:
        return _outer_corner(first, second, at, by)
    if second_open:
        return _run_out(first, first.direction_at(1), second, 0, ground, by)
    if first_open:
        return _run_out(second, second.direction_at(0).times(-1), first, 1, ground, by)[::-1]
    return [at]


def _outer_corner(first: Edge, second: Edge, at: Point, by: float) -> list[Point]:
    a, b = _outward(first, 1), _outward(second, 0)
    straight = isinstance(first, Line) and isinstance(second, Line)
    if a.distance(b) < 1e-9 or (straight and 1 + a.dot(b) > SHARPEST):
        return [at.plus(a.plus(b), by / (1 + a.dot(b)))]
    onward, back = first.direction_at(1).times(by), second.direction_at(0).times(-by)
    return [at.plus(a, by).plus(onward), at.plus(b, by).plus(back)]


def _outward(edge: Edge, share: float) -> Point:
    return edge.direction_at(share).left.times(-1)


def _run_out(side: Edge, ahead: Point, opening: Edge, end: int, ground: Ground, by: float) -> list[Point]:
    """From the corner out of the wood, along the side of the pocket or at 45 degrees to the open edge."""
    at = opening.end if end else opening.start
    straight_on = _reach(at, ahead, opening, end, by)
    if straight_on is not None and not ground.holds(Line(at, straight_on).point_at(0.5)):
        return [straight_on] if isinstance(side, Line) else [at, straight_on]
    inward = opening.direction_at(end).times(-1 if end else 1)
    flare = _outward(opening, end).plus(inward).unit
    return [at, _reach(at, flare, opening, end, by) or at.plus(_outward(opening, end), by)]


def _reach(at: Point, ahead: Point, opening: Edge, end: int, by: float) -> Point | None:
    """Where a ray from the corner meets the open edge moved out."""
    out = _outward(opening, end)
    if ahead.dot(out) < STEEPEST:
        return None
    if isinstance(opening, Line):
        return at.plus(ahead, by / ahead.dot(out))
    radius = opening.radius + (by if opening.sweep > 0 else -by)
    if radius <= 0:
        return None
    from_centre = at.minus(opening.centre)
    half = ahead.dot(from_centre)
    root = half * half - (opening.radius**2 - radius * radius)
    if root < 0:
        return None
    far = [t for t in (-half - sqrt(root), -half + sqrt(root)) if t > 0]
    return at.plus(ahead, min(far)) if far else None


def _crosses_itself(ring: Outline) -> bool:
    """Whether two edges meet that don't follow each other."""
    edges = ring.edges
    pairs = ((i, j) for j in range(2, len(edges)) for i in range(j - 1) if (i, j) != (0, len(edges) - 1))
    return any(met_at(intersect(edges[i], edges[j])) for i, j in pairs)


def _keeps_clear(widened: Outline, pocket: Outline, ground: Ground) -> bool:
    """Whether the pocket takes no more wood: no point of its ring lies in wood outside the old ring."""
    for edge in widened.edges:
        for step in range(1, SAMPLES):
            point = edge.point_at(step / SAMPLES)
            if ground.holds(point) and not pocket.contains(point, ON_EDGE):
                return False
    return not any(_swallowed(edge.start, widened, pocket) for edge in ground.wood.edges)


def _swallowed(corner: Point, widened: Outline, pocket: Outline) -> bool:
    if pocket.contains(corner, ON_EDGE):
        return False
    return widened.contains(corner, 0.0) and widened.distance(corner) > ON_EDGE

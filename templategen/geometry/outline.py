"""Outlines: closed rings of lines and true arcs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import hypot, isfinite

from templategen.errors import Fault, GeometryError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge, Line, edge_between
from templategen.geometry.point import Point, Vertex
from templategen.geometry.tolerance import COINCIDENT, EQUAL, SHORTEST_EDGE

MOST_BULGE = 1 + EQUAL
"""Half a circle, and what rounding adds to it."""


@dataclass(frozen=True)
class Outline:
    """A closed ring of vertices, millimetres, y up; it closes by itself, the first vertex isn't repeated.

    Anticlockwise rings have positive area. Each edge turns by half a circle at most, so a full
    circle is two vertices of bulge 1.

    Raises:
        GeometryError: fewer than two vertices, or two that are joined by lines only; a vertex that
            isn't a finite number; an edge that turns by more than half a circle.
    """

    vertices: tuple[Vertex, ...]

    def __post_init__(self) -> None:
        if len(self.vertices) < 2 or (len(self.vertices) == 2 and not any(v.bulge for v in self.vertices)):
            raise GeometryError(Fault("outline", f"{len(self.vertices)} vertices enclose nothing"))
        if not isfinite(sum(v.x + v.y for v in self.vertices)):
            raise GeometryError(Fault("outline", "a vertex lies nowhere (not a finite number)"))
        if not all(-MOST_BULGE <= v.bulge <= MOST_BULGE for v in self.vertices):
            raise GeometryError(Fault("outline", "an edge turns by more than half a circle", "split the arc in two"))

    def __iter__(self) -> Iterator[Vertex]:
        return iter(self.vertices)

    def __len__(self) -> int:
        return len(self.vertices)

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Edge i leaves vertex i."""
        ring = self.vertices
        return tuple(edge_between(ring[i], ring[(i + 1) % len(ring)]) for i in range(len(ring)))

    @cached_property
    def area(self) -> float:
        """Exact signed area, mm2, positive when anticlockwise."""
        origin = self.vertices[0].point
        total = 0.0
        for edge in self.edges:
            segment = edge.swept_area - edge.start.cross(edge.end) / 2
            total += segment + edge.start.minus(origin).cross(edge.end.minus(origin)) / 2
        return total

    @cached_property
    def length(self) -> float:
        """Exact length round the ring."""
        return sum(edge.length for edge in self.edges)

    @cached_property
    def bounds(self) -> Bounds:
        """Exact extents."""
        return Bounds.around(edge.bounds for edge in self.edges)

    @property
    def points(self) -> tuple[Point, ...]:
        """The corners without their bulges."""
        return tuple(vertex.point for vertex in self.vertices)

    @property
    def is_anticlockwise(self) -> bool:
        """Whether the inside lies to the left of travel."""
        return self.area > 0

    @property
    def reversed(self) -> Outline:
        """The same ring walked the other way; it still starts at the first vertex."""
        ring = self.vertices
        return Outline(tuple(Vertex(ring[-i].x, ring[-i].y, -ring[-i - 1].bulge) for i in range(len(ring))))

    @property
    def anticlockwise(self) -> Outline:
        """The ring walked with its inside to the left."""
        return self if self.is_anticlockwise else self.reversed

    @property
    def cleaned(self) -> Outline:
        """The ring without edges too short to have a direction; itself where there are none.

        Raises:
            GeometryError: nothing else is left.
        """
        return self if all(edge.length > SHORTEST_EDGE for edge in self.edges) else outline_of(self.edges)

    @property
    def circle(self) -> tuple[Point, float] | None:
        """Centre and radius when the ring is one full circle, else None."""
        first = self.edges[0]
        if not isinstance(first, Arc):
            return None
        for edge in self.edges[1:]:
            if not isinstance(edge, Arc) or edge.centre.distance(first.centre) > SHORTEST_EDGE:
                return None
            if abs(edge.radius - first.radius) > SHORTEST_EDGE or edge.sweep * first.sweep < 0:
                return None
        return first.centre, first.radius

    def contains(self, point: Point, within: float = COINCIDENT) -> bool:
        """Whether `point` is inside, or nearer than `within` to the ring itself."""
        (left, bottom, right, top), (x, y) = self.bounds, point
        if not (left - within <= x <= right + within and bottom - within <= y <= top + within):
            return False
        if self.winding(point) != 0:
            return True
        near = (edge for edge in self.edges if edge.may_reach(x, y, within))
        return any(distance_to(edge, point) <= within for edge in near)

    def winding(self, point: Point) -> int:
        """How many times the ring turns round `point`, anticlockwise positive; not for points on the ring."""
        return turns_about(self.edges, point)

    def distance(self, point: Point) -> float:
        """Distance from `point` to the nearest point of the ring."""
        return min(distance_to(edge, point) for edge in self.edges)


def distance_to(edge: Edge, point: Point) -> float:
    """Distance from `point` to the nearest point of `edge`."""
    if isinstance(edge, Line):
        return _distance_to_line(edge.start, edge.end, point)
    if edge.length and 0 <= edge.share_of(point) <= 1:
        return abs(point.distance(edge.centre) - edge.radius)
    return min(point.distance(edge.start), point.distance(edge.end))


def _distance_to_line(start: Point, end: Point, point: Point) -> float:
    """The same for a line, in plain numbers: this is asked more often than anything else."""
    x0, y0 = start
    dx, dy = end[0] - x0, end[1] - y0
    px, py = point[0] - x0, point[1] - y0
    square = dx * dx + dy * dy
    share = min(1.0, max(0.0, (px * dx + py * dy) / square)) if square > 0 else 0.0
    return hypot(px - share * dx, py - share * dy)


def turns_about(walk: Iterable[Edge], point: Point) -> int:
    """How many times a closed walk turns round `point`, anticlockwise positive.

    The chords that cross the ray from the point to the right, upward ones counted up; and for a point between an arc
    and its chord the turn that the arc makes beyond it. A point on a chord counts as lying just right of it, or just
    above, for both.
    """
    x, y = point
    turns = 0
    for edge in walk:
        (x0, y0), (x1, y1) = edge.start, edge.end
        if isinstance(edge, Line) and not (y0 <= y < y1 or y1 <= y < y0):
            continue
        left = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)
        if y0 <= y < y1:
            turns += 1 if left > 0 else 0
        elif y1 <= y < y0:
            turns -= 1 if left < 0 else 0
        if isinstance(edge, Arc) and hypot(x - edge.centre[0], y - edge.centre[1]) < edge.radius:
            right = left < 0 or (left == 0 and (y0 < y1 or (y0 == y1 and x1 < x0)))
            if right == (edge.sweep > 0):
                turns += 1 if right else -1
    return turns


def polygon(points: Iterable[tuple[float, float]]) -> Outline:
    """The outline of straight lines through `points`."""
    return Outline(tuple(Vertex(float(x), float(y)) for x, y in points))


def outline_through(vertices: Sequence[Vertex]) -> Outline:
    """The outline through `vertices`, without those that stand where the next one does."""
    pairs = zip(vertices, (*vertices[1:], vertices[0]), strict=True)
    return Outline(tuple(one for one, other in pairs if one.point.distance(other.point) > SHORTEST_EDGE))


def rectangle(left: float, bottom: float, right: float, top: float) -> Outline:
    """An upright rectangle, anticlockwise from its lower left corner."""
    return polygon(((left, bottom), (right, bottom), (right, top), (left, top)))


def circle(x: float, y: float, radius: float) -> Outline:
    """A full circle, anticlockwise, as two half turns."""
    return Outline((Vertex(x + radius, y, 1.0), Vertex(x - radius, y, 1.0)))


def outline_of(edges: Iterable[Edge]) -> Outline:
    """The outline that walks `edges` in order; each must start where the one before ends.

    Edges shorter than SHORTEST_EDGE are left out.
    """
    kept = [edge for edge in edges if edge.length > SHORTEST_EDGE]
    return Outline(tuple(Vertex(edge.start.x, edge.start.y, edge.bulge) for edge in kept))

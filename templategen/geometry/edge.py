"""Edges: a straight line or a true arc between two points, walked from start to end."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, atan2, cos, hypot, pi, sin, tan
from typing import Protocol

from templategen.geometry.bounds import Bounds
from templategen.geometry.point import Point, Vertex
from templategen.geometry.tolerance import COINCIDENT, FLAT_SAGITTA

TURN = 2 * pi


class Track(Protocol):
    """What a walk along edges is told to: a path of a file format, or whatever else takes lines and true arcs."""

    def line(self, line: Line) -> None:
        """Straight on."""

    def arc(self, arc: Arc) -> None:
        """Round."""


@dataclass(frozen=True, slots=True)
class Line:
    """A straight edge."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length along the edge."""
        return self.start.distance(self.end)

    @property
    def bulge(self) -> float:
        """0: a line doesn't turn."""
        return 0.0

    @property
    def bounds(self) -> Bounds:
        """Exact extents."""
        (x0, y0), (x1, y1) = self.start, self.end
        if x1 < x0:
            x0, x1 = x1, x0
        if y1 < y0:
            y0, y1 = y1, y0
        return Bounds(x0, y0, x1, y1)

    def may_reach(self, x: float, y: float, within: float) -> bool:
        """Whether a point so near to the edge may be: it lies in the edge's box, grown so far."""
        (x0, y0), (x1, y1) = self.start, self.end
        if x0 > x1:
            x0, x1 = x1, x0
        if y0 > y1:
            y0, y1 = y1, y0
        return x0 - within <= x <= x1 + within and y0 - within <= y <= y1 + within

    @property
    def swept_area(self) -> float:
        """Signed area between the edge and the origin, mm2 (Green's theorem)."""
        return self.start.cross(self.end) / 2

    @property
    def reversed(self) -> Line:
        """The same edge walked the other way."""
        return Line(self.end, self.start)

    def point_at(self, share: float) -> Point:
        """The point at `share` (0 to 1) of the length."""
        return self.start.plus(self.end.minus(self.start), share)

    def direction_at(self, share: float) -> Point:
        """Unit vector of travel at `share` of the length.

        Raises:
            GeometryError: a line without length, which has no direction.
        """
        return self.end.minus(self.start).unit

    def share_of(self, point: Point) -> float:
        """Where along the edge the foot of `point` lies: 0 at the start, 1 at the end; 0 on a line without length."""
        along = self.end.minus(self.start)
        square = along.dot(along)
        return point.minus(self.start).dot(along) / square if square else 0.0

    def between(self, first: float, last: float) -> Line:
        """The piece from share `first` to share `last`."""
        return Line(self.point_at(first), self.point_at(last))

    def walk(self, track: Track) -> None:
        """Tells a track of it."""
        track.line(self)


@dataclass(frozen=True, slots=True)
class Arc:
    """An edge round `centre`, turning by `sweep` radians (positive anticlockwise, at most pi either way)."""

    start: Point
    end: Point
    centre: Point
    radius: float
    sweep: float

    @property
    def length(self) -> float:
        """Length along the edge."""
        return self.radius * abs(self.sweep)

    @property
    def bulge(self) -> float:
        """Tangent of a quarter of the sweep."""
        return tan(self.sweep / 4)

    @property
    def start_angle(self) -> float:
        """Direction from the centre to the start, radians."""
        return atan2(self.start.y - self.centre.y, self.start.x - self.centre.x)

    @property
    def bounds(self) -> Bounds:
        """Exact extents, with the quarter points that the arc passes."""
        xs, ys = [self.start.x, self.end.x], [self.start.y, self.end.y]
        for quarter, (dx, dy) in enumerate(((1, 0), (0, 1), (-1, 0), (0, -1))):
            if 0 < self.share_of_angle(quarter * pi / 2) < 1:
                xs.append(self.centre.x + dx * self.radius)
                ys.append(self.centre.y + dy * self.radius)
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    def may_reach(self, x: float, y: float, within: float) -> bool:
        """Whether a point so near to the edge may be: it lies as far from the centre."""
        return abs(hypot(x - self.centre.x, y - self.centre.y) - self.radius) <= within + COINCIDENT

    @property
    def swept_area(self) -> float:
        """Signed area between the edge and the origin, mm2: the chord's triangle and the segment on it."""
        return self.start.cross(self.end) / 2 + self.radius**2 / 2 * (self.sweep - sin(self.sweep))

    @property
    def reversed(self) -> Arc:
        """The same edge walked the other way."""
        return Arc(self.end, self.start, self.centre, self.radius, -self.sweep)

    def point_at(self, share: float) -> Point:
        """The point at `share` (0 to 1) of the length."""
        if share in (0, 1):
            return self.end if share else self.start
        angle = self.start_angle + share * self.sweep
        return Point(self.centre.x + self.radius * cos(angle), self.centre.y + self.radius * sin(angle))

    def direction_at(self, share: float) -> Point:
        """Unit vector of travel at `share` of the length."""
        angle = self.start_angle + share * self.sweep
        sign = 1.0 if self.sweep > 0 else -1.0
        return Point(-sign * sin(angle), sign * cos(angle))

    def share_of_angle(self, angle: float) -> float:
        """Where direction `angle` lies on the arc, in shares of the sweep.

        0 to 1 on the arc; off it the value is the nearer way round, below 0 or above 1. On an arc that doesn't turn
        every share is 0.
        """
        ahead = (angle - self.start_angle) % TURN
        if self.sweep < 0:
            ahead = (TURN - ahead) % TURN
        size = abs(self.sweep)
        if ahead > size and TURN - ahead < ahead - size:
            ahead -= TURN
        return ahead / size if size else 0.0

    def share_of(self, point: Point) -> float:
        """Where along the edge the direction of `point` lies: 0 at the start, 1 at the end."""
        return self.share_of_angle(atan2(point.y - self.centre.y, point.x - self.centre.x))

    def between(self, first: float, last: float) -> Arc:
        """The piece from share `first` to share `last`."""
        ends = self.point_at(first), self.point_at(last)
        return Arc(*ends, self.centre, self.radius, self.sweep * (last - first))

    def walk(self, track: Track) -> None:
        """Tells a track of it."""
        track.arc(self)


Edge = Line | Arc
"""What an outline is made of."""


def edge_between(start: Vertex, end: Vertex) -> Edge:
    """The edge that leaves `start` and arrives at `end`.

    Centre and radius follow from the bulge b and the chord c: sagitta = b c / 2 and
    radius = c (1 + b^2) / (4 |b|).
    """
    first, last, bulge = start.point, end.point, start.bulge
    chord = hypot(last.x - first.x, last.y - first.y)
    if abs(bulge) * chord / 2 <= FLAT_SAGITTA:
        return Line(first, last)
    to_centre = (1 - bulge * bulge) / (4 * bulge)
    across = last.minus(first)
    centre = Point(
        (first.x + last.x) / 2 - across.y * to_centre,
        (first.y + last.y) / 2 + across.x * to_centre,
    )
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    return Arc(first, last, centre, radius, 4 * atan(bulge))


def arc_round(centre: Point, radius: float, start_angle: float, sweep: float) -> Arc:
    """The arc round `centre` that starts in direction `start_angle` and turns by `sweep` (radians)."""
    ends = [Point(centre.x + radius * cos(a), centre.y + radius * sin(a)) for a in (start_angle, start_angle + sweep)]
    return Arc(ends[0], ends[1], centre, radius, sweep)

"""What an outline is clipped by: a half-plane, or a disc of which the inside or the outside is kept."""

from dataclasses import dataclass
from math import atan2, inf, pi
from typing import Protocol

from templategen.geometry.cross import circle_crossings, line_crossings
from templategen.geometry.edge import TURN, Arc, Edge, Line
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


class Cutter(Protocol):
    """A side to keep, and the curve that bounds it, walked with the kept side to its left."""

    def depth(self, point: Point) -> float:
        """How far `point` is inside the kept side, negative outside."""

    def crossings(self, edge: Edge) -> tuple[float, ...]:
        """The shares, rising, at which the inside of `edge` crosses the curve."""

    def ahead(self, start: Point, end: Point) -> float:
        """How far `end` lies ahead of `start` along the curve; infinite where it lies behind for good."""

    def join(self, start: Point, end: Point) -> tuple[Edge, ...]:
        """The edges that follow the curve from `start` to `end`."""


@dataclass(frozen=True, slots=True)
class HalfPlane:
    """All that lies to the side of `point` to which the unit vector `inward` looks."""

    point: Point
    inward: Point

    def depth(self, point: Point) -> float:
        """How far `point` is inside, negative outside."""
        return (point.x - self.point.x) * self.inward.x + (point.y - self.point.y) * self.inward.y

    def crossings(self, edge: Edge) -> tuple[float, ...]:
        """The shares at which the inside of `edge` crosses the line."""
        return line_crossings(edge, self.point, self._along)

    def ahead(self, start: Point, end: Point) -> float:
        """How far `end` lies ahead of `start`, infinite where it lies behind."""
        gap = end.minus(start).dot(self._along)
        return gap if gap >= -COINCIDENT else inf

    def join(self, start: Point, end: Point) -> tuple[Edge, ...]:
        """The line from `start` to `end`."""
        return (Line(start, end),)

    @property
    def _along(self) -> Point:
        return Point(self.inward.y, -self.inward.x)


@dataclass(frozen=True, slots=True)
class Disc:
    """All that lies inside the circle, or outside it when `inside` is False."""

    centre: Point
    radius: float
    inside: bool = True

    def depth(self, point: Point) -> float:
        """How far `point` is on the kept side, negative on the other."""
        depth = self.radius - point.distance(self.centre)
        return depth if self.inside else -depth

    def crossings(self, edge: Edge) -> tuple[float, ...]:
        """The shares at which the inside of `edge` crosses the circle."""
        return circle_crossings(edge, self.centre, self.radius)

    def ahead(self, start: Point, end: Point) -> float:
        """The turn from `start` to `end`, radians, anticlockwise when the inside is kept, else clockwise."""
        turn = (self._angle(end) - self._angle(start)) * (1 if self.inside else -1) % TURN
        return 0.0 if TURN - turn <= COINCIDENT / self.radius else turn

    def join(self, start: Point, end: Point) -> tuple[Edge, ...]:
        """The arcs that follow the circle from `start` to `end`, each half a turn at most."""
        sweep = self.ahead(start, end) * (1 if self.inside else -1)
        if abs(sweep) * self.radius <= COINCIDENT:
            return ()
        whole = Arc(start, end, self.centre, self.radius, sweep)
        if abs(sweep) <= pi:
            return (whole,)
        return whole.between(0.0, 0.5), whole.between(0.5, 1.0)

    def _angle(self, point: Point) -> float:
        return atan2(point.y - self.centre.y, point.x - self.centre.x)

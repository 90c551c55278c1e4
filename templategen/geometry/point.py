"""Points and directions of the plane."""

from __future__ import annotations

from math import cos, hypot, sin
from typing import NamedTuple

from templategen.errors import Fault, GeometryError

_tuple = tuple.__new__
"""Makes a point a third sooner than its class does by the names of its fields: points are made by the million."""


class Point(NamedTuple):
    """A point or a vector, millimetres, y up."""

    x: float
    y: float

    def plus(self, other: Point, times: float = 1.0) -> Point:
        """This point moved by `times` the vector `other`."""
        return _tuple(Point, (self.x + times * other.x, self.y + times * other.y))

    def minus(self, other: Point) -> Point:
        """The vector from `other` to this point."""
        return _tuple(Point, (self.x - other.x, self.y - other.y))

    def times(self, factor: float) -> Point:
        """This vector stretched."""
        return _tuple(Point, (self.x * factor, self.y * factor))

    def dot(self, other: Point) -> float:
        """Scalar product, mm2."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """Signed area of the parallelogram of two vectors, mm2; positive when `other` is to the left."""
        return self.x * other.y - self.y * other.x

    @property
    def length(self) -> float:
        """Distance from the origin."""
        return hypot(self.x, self.y)

    @property
    def unit(self) -> Point:
        """This vector at length one.

        Raises:
            GeometryError: a vector without length, which points nowhere.
        """
        length = self.length
        if not length:
            raise GeometryError(Fault("direction", "two points that are one point nowhere", "tell them apart"))
        return Point(self.x / length, self.y / length)

    @property
    def left(self) -> Point:
        """This vector turned a quarter anticlockwise."""
        return _tuple(Point, (-self.y, self.x))

    def turned(self, angle: float) -> Point:
        """This vector turned anticlockwise about the origin by `angle` radians."""
        c, s = cos(angle), sin(angle)
        return Point(c * self.x - s * self.y, s * self.x + c * self.y)

    def distance(self, other: Point) -> float:
        """Distance between two points."""
        return hypot(self.x - other.x, self.y - other.y)


def polar(radius: float, angle: float) -> Point:
    """The point at `radius` from the origin in direction `angle` (radians, anticlockwise from x)."""
    return Point(radius * cos(angle), radius * sin(angle))


class Vertex(NamedTuple):
    """A corner of an outline and the bulge of the edge that leaves it.

    Bulge is the tangent of a quarter of the included angle, positive where the edge curves
    anticlockwise, as in DXF. 0 is a line, 1 half a circle, which is the most one edge may turn.
    """

    x: float
    y: float
    bulge: float = 0.0

    @property
    def point(self) -> Point:
        """Where the vertex is."""
        return Point(self.x, self.y)

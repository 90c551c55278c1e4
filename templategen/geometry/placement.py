"""Placements: turn over, turn, move."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, Vertex
from templategen.geometry.region import Region


@dataclass(frozen=True, slots=True)
class Placement:
    """Where a shape goes: turned over first when told (mirrored in its own y axis, x becomes -x),
    then turned anticlockwise by `turn` radians about its own origin, then moved by (x, y)."""

    x: float = 0.0
    y: float = 0.0
    turn: float = 0.0
    turned_over: bool = False

    def point(self, point: Point) -> Point:
        """The point carried along."""
        turned = self.direction(point)
        return Point(turned.x + self.x, turned.y + self.y)

    def direction(self, vector: Point) -> Point:
        """The vector turned, not moved."""
        over = Point(-vector.x, vector.y) if self.turned_over else vector
        return over.turned(self.turn)

    def edge(self, edge: Edge) -> Edge:
        """The edge carried along, walked in the same order."""
        if isinstance(edge, Line):
            return Line(self.point(edge.start), self.point(edge.end))
        sweep = -edge.sweep if self.turned_over else edge.sweep
        return Arc(self.point(edge.start), self.point(edge.end), self.point(edge.centre), edge.radius, sweep)

    def outline(self, outline: Outline) -> Outline:
        """The outline carried along; turning over reverses the walk, so inside stays on its side."""
        sign = -1 if self.turned_over else 1
        moved = (Vertex(*self.point(v.point), sign * v.bulge) for v in outline.vertices)
        ring = Outline(tuple(moved))
        return ring.reversed if self.turned_over else ring

    def region(self, region: Region) -> Region:
        """The region carried along."""
        return Region(self.outline(region.outer), tuple(self.outline(hole) for hole in region.holes))

    def then(self, after: Placement) -> Placement:
        """The one placement that does this one first and `after` next."""
        origin = after.point(Point(self.x, self.y))
        own = -self.turn if after.turned_over else self.turn
        return Placement(origin.x, origin.y, own + after.turn, self.turned_over != after.turned_over)

    @property
    def inverse(self) -> Placement:
        """The placement that takes the shape back."""
        turn = self.turn if self.turned_over else -self.turn
        back = Placement(0.0, 0.0, turn, self.turned_over).point(Point(-self.x, -self.y))
        return Placement(back.x, back.y, turn, self.turned_over)


QUARTER = pi / 2
HALF = pi


OVER = Placement(turned_over=True)
"""A face that lies down, as it is seen turned over left to right: its u runs against x."""

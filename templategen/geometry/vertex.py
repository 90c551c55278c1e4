"""The vertex of an outline."""

from typing import NamedTuple

from templategen.geometry.point import Point


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

"""The faces of a part, each with a flat frame of its own."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point


class Point3(NamedTuple):
    """A point or vector in space, millimetres, z up."""

    x: float
    y: float
    z: float


@dataclass(frozen=True, slots=True)
class Face:
    """A flat face, seen from outside: u to the right along `along`, v up along `up`, from `origin`.

    All three are in the part's own frame: x and y of its outline, z from its bottom face up.
    `outline` is the face itself in (u, v).
    """

    name: str
    origin: Point3
    along: Point3
    up: Point3
    outline: Outline

    @property
    def normal(self) -> Point3:
        """Unit vector out of the wood: along x up."""
        a, b = self.along, self.up
        return Point3(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x)

    def point(self, u: float, v: float, depth: float = 0.0) -> Point3:
        """The point of the part at (u, v) on the face, `depth` under its surface."""
        n = self.normal
        return Point3(
            self.origin.x + u * self.along.x + v * self.up.x - depth * n.x,
            self.origin.y + u * self.along.y + v * self.up.y - depth * n.y,
            self.origin.z + u * self.along.z + v * self.up.z - depth * n.z,
        )


def top_face(outline: Outline, thickness: float) -> Face:
    """The face the outline is drawn on: (u, v) are (x, y)."""
    return Face("top", Point3(0, 0, thickness), Point3(1, 0, 0), Point3(0, 1, 0), outline)


def bottom_face(outline: Outline) -> Face:
    """The far face as it is seen once the part is turned over in its own y axis: (u, v) are (-x, y)."""
    return Face("bottom", Point3(0, 0, 0), Point3(-1, 0, 0), Point3(0, 1, 0), OVER.outline(outline))


def side_face(name: str, edge: Line, thickness: float) -> Face:
    """The upright face over a straight edge of an anticlockwise outline: u along the edge, v up from the bottom."""
    along = edge.direction_at(0)
    origin = Point3(edge.start.x, edge.start.y, 0)
    outline = rectangle(0, 0, edge.length, thickness)
    return Face(name, origin, Point3(along.x, along.y, 0), Point3(0, 0, 1), outline)


def plan_point(face: Face, u: float) -> Point:
    """Where a point at `u` on a side face lies in plan."""
    at = face.point(u, 0)
    return Point(at.x, at.y)


def flat_faces(outline: Outline, thickness: float) -> tuple[Face, Face]:
    """Top and bottom of a part."""
    return top_face(outline, thickness), bottom_face(outline)


def side_faces(sides: Iterable[tuple[str, Point, Point]], thickness: float) -> tuple[Face, ...]:
    """Upright faces, each given as name, start and end of its edge in plan, walked anticlockwise."""
    return tuple(side_face(name, Line(start, end), thickness) for name, start, end in sides)

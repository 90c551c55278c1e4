"""The faces of a part, named from its outline."""

from collections.abc import Iterable

from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.face import Face, bottom_face, side_face, top_face


def flat_faces(outline: Outline, thickness: float) -> tuple[Face, Face]:
    """Top and bottom of a part."""
    return top_face(outline, thickness), bottom_face(outline)


def side_faces(sides: Iterable[tuple[str, Point, Point]], thickness: float) -> tuple[Face, ...]:
    """Upright faces, each given as name, start and end of its edge in plan, walked anticlockwise."""
    return tuple(side_face(name, Line(start, end), thickness) for name, start, end in sides)

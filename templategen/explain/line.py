"""Lines that bound a shape, where two of them meet, and the shape that they leave; no clipping anywhere.

A line is known by two quantities: the direction its outer side faces (degrees in the table's frame) and its distance
from the table's axis that way. Every corner of a slat or a tongue is the meeting of two such lines, by one formula.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, hypot, radians, sin

from templategen.catalogue import translated, worded
from templategen.explain.book import Book

NEAR = 1e-6
"""Corners nearer than this are one, and a corner this far past a line still lies within it, mm."""

PARALLEL = 1e-9
"""Lines whose directions' sine is smaller never meet."""

MEETING = "(d1 * sin(f2 - r) - d2 * sin(f1 - r)) / sin(f2 - f1)"
"""Where the lines at distances d1 and d2 that face f1 and f2 meet, measured along direction r: Cramer's rule."""

WHERE = "where two straight lines meet, by Cramer's rule"


@dataclass(frozen=True, slots=True)
class ExplainedLine:
    """One bounding line; `faces` and `distance` are quantities' names, the numbers their values (radians, mm)."""

    says: str
    faces: str
    distance: str
    angle: float
    reach: float
    kind: str = ""
    index: int = 0
    side: int = 0

    def past(self, x: float, y: float) -> float:
        """How far a point lies outside."""
        return x * cos(self.angle) + y * sin(self.angle) - self.reach


def line_of(
    book: Book, says: str, faces: str, distance: str, kind: str = "", index: int = 0, side: int = 0
) -> ExplainedLine:
    """A line whose two quantities are written in the book."""
    return ExplainedLine(says, faces, distance, radians(book.value(faces)), book.value(distance), kind, index, side)


@dataclass(frozen=True, slots=True)
class Corner:
    """Where `one` and `other` meet, with its place in the table's frame, mm."""

    one: ExplainedLine
    other: ExplainedLine
    x: float
    y: float

    def along(self, angle: float) -> float:
        """Its coordinate along a direction (radians)."""
        return self.x * cos(angle) + self.y * sin(angle)

    @property
    def says(self) -> str:
        """In words."""
        return worded("where {one} meets {other}", one=self.one.says, other=self.other.says)


def meeting(one: ExplainedLine, other: ExplainedLine) -> Corner | None:
    """The corner of two lines, or None when they are parallel."""
    turn = sin(other.angle - one.angle)
    if abs(turn) < PARALLEL:
        return None
    x = (one.reach * sin(other.angle) - other.reach * sin(one.angle)) / turn
    y = (other.reach * cos(one.angle) - one.reach * cos(other.angle)) / turn
    return Corner(one, other, x, y)


def corners(lines: Sequence[ExplainedLine]) -> tuple[Corner, ...]:
    """The corners of what lies inside all `lines`, each place once, of more lines through it the pair most square."""
    met = (meeting(one, other) for i, one in enumerate(lines) for other in lines[i + 1 :])
    inside = [corner for corner in met if corner and all(line.past(corner.x, corner.y) <= NEAR for line in lines)]
    found: list[Corner] = []
    for corner in sorted(inside, key=lambda c: -round(abs(sin(c.other.angle - c.one.angle)), 6)):
        if all(hypot(corner.x - known.x, corner.y - known.y) > NEAR for known in found):
            found.append(corner)
    return tuple(found)


def on(line: ExplainedLine, found: Sequence[Corner]) -> tuple[Corner, ...]:
    """The corners that lie on a line."""
    return tuple(corner for corner in found if abs(line.past(corner.x, corner.y)) <= NEAR)


def furthest(found: Sequence[Corner], angle: float) -> Corner:
    """The corner furthest along a direction (radians)."""
    most = max(corner.along(angle) for corner in found)
    return next(corner for corner in found if corner.along(angle) > most - 1e-9)


def area(found: Sequence[Corner]) -> float:
    """Area of the convex shape with these corners, mm2."""
    ring = around(found)
    return sum(a.x * b.y - b.x * a.y for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True)) / 2


def around(found: Sequence[Corner]) -> tuple[Corner, ...]:
    """The corners in anticlockwise order."""
    x, y = (sum(v) / max(1, len(found)) for v in ([c.x for c in found], [c.y for c in found]))
    return tuple(sorted(found, key=lambda c: atan2(c.y - y, c.x - x)))


def middle_of(found: Sequence[Corner]) -> tuple[float, float]:
    """The middle of area of the convex shape with these corners."""
    ring = around(found)
    pairs = [(a, b, a.x * b.y - b.x * a.y) for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True)]
    double = sum(cross for _, _, cross in pairs)
    x = sum((a.x + b.x) * cross for a, b, cross in pairs) / (3 * double)
    return x, sum((a.y + b.y) * cross for a, b, cross in pairs) / (3 * double)


def write_along(book: Book, name: str, says: str, corner: Corner, direction: str) -> str:
    """Writes down a corner's coordinate along the direction that the quantity `direction` holds."""
    one, other = corner.one, corner.other
    return book.add(
        name, f"{translated(says)}: {corner.says}", "mm", MEETING, WHERE,
        d1=one.distance, f1=one.faces, d2=other.distance, f2=other.faces, r=direction,
    )  # fmt: skip

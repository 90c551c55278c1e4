"""Moving and turning marks about a sheet."""

from collections.abc import Iterable

from templategen.drawing.drawing import Mark
from templategen.geometry.bounds import Bounds
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point


def moved(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """The marks, each shifted by the vector `by`; untouched to the last digit when that is nought."""
    return placed(marks, Placement(*by))


def placed(marks: Iterable[Mark], way: Placement) -> tuple[Mark, ...]:
    """The marks carried along, words turned with them; untouched to the last digit by a placement of nothing.

    The placement must not turn over: words would read from behind.
    """
    if way == Placement():
        return tuple(marks)
    return tuple(mark.placed(way) for mark in marks)


def placed_box(box: Bounds, way: Placement) -> Bounds:
    """The upright box round a box carried along."""
    corners = (way.point(Point(x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top))
    return Bounds.around(Bounds(x, y, x, y) for x, y in corners)

"""Moving and turning marks about a sheet."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import pi, sin

from templategen.drawing.drawing import Anchor, Mark, Words
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


def upended(marks: Iterable[Mark], level: float = 0.0) -> Iterator[Mark]:
    """The marks upside down about a level, level words the right way up."""
    way = Placement(0.0, 2 * level, pi, turned_over=True)
    for mark in marks:
        if isinstance(mark, Words):
            yield replace(mark, at=Point(mark.at.x, 2 * level - mark.at.y - mark.height))
        else:
            yield mark.placed(way)


def placed_box(box: Bounds, way: Placement) -> Bounds:
    """The upright box round a box carried along."""
    corners = (way.point(Point(x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top))
    return Bounds.around(Bounds(x, y, x, y) for x, y in corners)


MIRRORED: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def mirrored(marks: Iterable[Mark]) -> Iterator[Mark]:
    """The marks seen in a mirror, x becomes -x, their words still to be read."""
    for one in marks:
        if isinstance(one, Words):
            at = Point(one.height * sin(one.turn) - one.at.x, one.at.y)
            yield replace(one, at=at, anchor=MIRRORED[one.anchor])
        else:
            yield one.placed(Placement(turned_over=True))

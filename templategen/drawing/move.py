"""Moving and turning marks about a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import pi

from templategen.drawing.drawing import Mark, Shape, Stroke, Words
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
    return tuple(_placed(mark, way) for mark in marks)


def _placed(mark: Mark, way: Placement) -> Mark:
    if isinstance(mark, Shape):
        return replace(mark, outline=way.outline(mark.outline))
    if isinstance(mark, Stroke):
        return replace(mark, edge=way.edge(mark.edge))
    return upright(replace(mark, at=way.point(mark.at), turn=mark.turn + way.turn))


def upright(words: Words) -> Words:
    """Words in the middle of their place, turned end for end where they would read upside down."""
    turn = (words.turn + pi) % (2 * pi) - pi
    if words.anchor != "middle" or -pi / 2 + 1e-6 < turn <= pi / 2 + 1e-6:
        return words
    up = Point(0, words.height).turned(words.turn)
    return replace(words, at=words.at.plus(up), turn=turn + pi if turn < 0 else turn - pi)


def placed_box(box: Bounds, way: Placement) -> Bounds:
    """The upright box round a box carried along."""
    corners = (way.point(Point(x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top))
    return Bounds.around(Bounds(x, y, x, y) for x, y in corners)

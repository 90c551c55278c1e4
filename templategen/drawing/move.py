"""Moving marks about a sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point


def moved(marks: Iterable[Mark], by: Point) -> tuple[Mark, ...]:
    """The marks, each shifted by the vector `by`; untouched to the last digit when that is nought."""
    if by == (0.0, 0.0):
        return tuple(marks)
    shift = Placement(*by)
    return tuple(_moved(mark, shift) for mark in marks)


def _moved(mark: Mark, shift: Placement) -> Mark:
    if isinstance(mark, Shape):
        return Shape(mark.layer, shift.outline(mark.outline))
    if isinstance(mark, Stroke):
        return Stroke(mark.layer, shift.edge(mark.edge))
    return replace(mark, at=shift.point(mark.at))

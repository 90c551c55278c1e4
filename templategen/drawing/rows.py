"""Rows: a long picture cut across and set one piece under the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point

SHORTEST = 0.05
"""Shorter pieces of lines are left out, mm."""


def in_rows(marks: Sequence[Mark], length: float, rows: int, feed: float) -> Iterator[Mark]:
    """The marks of a picture from x = 0 to `length` in so many rows, `feed` mm from one to the next.

    Words go with the row that their foot stands in, lines and fills are divided; a ring that is crossed is drawn as
    the lines of it that each row holds. Arcs go whole with the row of their middle.
    """
    wide = length / rows
    for row in range(rows):
        low, high = row * wide, (row + 1) * wide
        shift = Point(-low, -row * feed)
        first, last = row == 0, row == rows - 1
        for mark in marks:
            for piece in _within(mark, -1e9 if first else low, 1e9 if last else high):
                yield _moved(piece, shift)


def _within(mark: Mark, low: float, high: float) -> Iterator[Mark]:
    """What of a mark lies between two upright lines."""
    if isinstance(mark, Stroke):
        yield from _lines(mark, low, high)
    elif not isinstance(mark, Shape):
        if low <= mark.at.x < high:
            yield mark
    elif low <= mark.outline.bounds.left and mark.outline.bounds.right <= high:
        yield mark
    elif mark.layer.filled:
        corners = _clipped(_clipped([*mark.outline.points], low, 1.0), high, -1.0)
        if len(corners) > 2:
            yield replace(mark, outline=polygon(corners))
    else:
        for edge in mark.outline.edges:
            yield from _lines(Stroke(mark.layer, edge, mark.part), low, high)


def _lines(stroke: Stroke, low: float, high: float) -> Iterator[Stroke]:
    edge = stroke.edge
    if isinstance(edge, Arc):
        if low <= edge.point_at(0.5).x < high:
            yield stroke
        return
    run = edge.end.x - edge.start.x
    if abs(run) < 1e-9:
        if low <= edge.start.x < high:
            yield stroke
        return
    shares = sorted(min(1.0, max(0.0, (at - edge.start.x) / run)) for at in (low, high))
    if (shares[1] - shares[0]) * edge.length > SHORTEST:
        yield replace(stroke, edge=Line(edge.point_at(shares[0]), edge.point_at(shares[1])))


def _clipped(corners: list[Point], at: float, sign: float) -> list[Point]:
    """A ring's corners on one side of an upright line, those on the line added."""
    kept: list[Point] = []
    for one, other in pairwise((*corners, *corners[:1])):
        here, there = sign * (one.x - at), sign * (other.x - at)
        if here >= 0:
            kept.append(one)
        if (here < 0 < there) or (there < 0 < here):
            kept.append(one.plus(other.minus(one), here / (here - there)))
    return kept


def _moved(mark: Mark, by: Point) -> Mark:
    from templategen.drawing.move import moved

    return next(iter(moved((mark,), by)))

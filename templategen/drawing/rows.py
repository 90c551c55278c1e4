"""Rows: a long picture cut across and set one piece under the other."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.move import moved
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point

SHORTEST = 0.05
"""Shorter pieces of lines are left out, mm."""


def in_rows(marks: Sequence[Mark], length: float, rows: int, feed: float) -> Iterator[Mark]:
    """The marks of a picture from x = 0 to `length` in so many rows, `feed` mm from one to the next.

    Words go with the row that their foot stands in, level ones moved so far that they end in it; lines and fills are
    divided; a ring that is crossed is drawn as the lines of it that each row holds. Arcs go whole with the row of
    their middle.
    """
    wide = length / rows
    for row in range(rows):
        low, high = row * wide, (row + 1) * wide
        first, last = row == 0, row == rows - 1
        strip = _Strip(-1e9 if first else low, 1e9 if last else high)
        for mark in marks:
            mark.draw(strip)
        yield from moved(strip.kept, Point(-low, -row * feed))


class _Strip:
    """A pen that keeps what of each mark lies between two upright lines."""

    def __init__(self, low: float, high: float) -> None:
        self.low, self.high = low, high
        self.kept: list[Mark] = []

    def ring(self, shape: Shape) -> None:
        box, low, high = shape.box, self.low, self.high
        if low <= box.left and box.right <= high:
            self.kept.append(shape)
        elif shape.layer.filled:
            corners = _clipped(_clipped([*shape.outline.points], low, 1.0), high, -1.0)
            if len(corners) > 2:
                self.kept.append(replace(shape, outline=polygon(corners)))
        else:
            for edge in shape.edges:
                self.stroke(Stroke(shape.layer, edge, shape.part))

    def stroke(self, stroke: Stroke) -> None:
        self.kept += _lines(stroke, self.low, self.high)

    def words(self, words: Words) -> None:
        if self.low <= words.at.x < self.high:
            self.kept.append(words if words.turn else self._within(words))

    def _within(self, words: Words) -> Words:
        box = words.box
        if box.width > self.high - self.low:
            return words
        aside = max(0.0, self.low - box.left) - max(0.0, box.right - self.high)
        return replace(words, at=words.at.plus(Point(aside, 0.0))) if aside else words


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

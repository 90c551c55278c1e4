"""Where the ink is: small boxes along every line, and one round each line of text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import ceil, floor

from templategen.drawing.drawing import Mark
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.point import Point

TRACE = 12.0
"""Length of the pieces of a curved or slanting line, mm."""

CELL = 3.0
"""Side of the squares by which free paper is found, mm."""


def pieces(marks: Iterable[Mark], length: float = TRACE) -> Iterator[Bounds]:
    """Boxes of the marks' pieces, half a line's width included."""
    for mark in marks:
        boxes = (box for edge in mark.edges for box in edge_pieces(edge, length)) if mark.edges else (mark.box,)
        yield from (box.grown(mark.layer.weight / 2) for box in boxes)


def edge_pieces(edge: Edge, length: float = TRACE) -> Iterator[Bounds]:
    """Boxes of pieces no longer than `length`; an upright or level line is its own box."""
    box = edge.bounds
    count = max(1, ceil(min(edge.length, 2 * (box.width + box.height)) / length))
    if isinstance(edge, Line) and min(box.width, box.height) < 1e-9:
        count = max(1, ceil(edge.length / (8 * length)))
    if count == 1:
        yield box
    elif isinstance(edge, Line):
        for (x0, y0), (x1, y1) in pairwise(edge.point_at(index / count) for index in range(count + 1)):
            yield Bounds(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
    else:
        for index in range(count):
            yield edge.between(index / count, (index + 1) / count).bounds


class Taken:
    """Paper that holds ink, in small squares; words and signs are put where there is none."""

    def __init__(self, boxes: Iterable[Bounds] = ()) -> None:
        self._cells: set[tuple[int, int]] = set()
        for box in boxes:
            self.take(box)

    def take(self, box: Bounds) -> None:
        """Marks a box as taken."""
        self._cells.update(_cells(box))

    def holds(self, at: Point) -> bool:
        """Whether a point's square is taken."""
        return (floor(at.x / CELL), floor(at.y / CELL)) in self._cells

    def meets(self, box: Bounds) -> bool:
        """Whether any of a box is taken."""
        taken = self._cells  # the loops of `_cells`, by themselves: this is asked of every place tried
        rows = range(floor(box.bottom / CELL), floor(box.top / CELL) + 1)
        for column in range(floor(box.left / CELL), floor(box.right / CELL) + 1):
            for row in rows:
                if (column, row) in taken:
                    return True
        return False


def _cells(box: Bounds) -> Iterator[tuple[int, int]]:
    rows = range(floor(box.bottom / CELL), floor(box.top / CELL) + 1)
    for column in range(floor(box.left / CELL), floor(box.right / CELL) + 1):
        for row in rows:
            yield column, row

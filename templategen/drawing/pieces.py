"""Where the ink is: small boxes along every line, and one round each line of text."""

from collections import defaultdict
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
        half, edges = mark.layer.weight / 2, mark.edges
        if not edges:
            yield mark.box.grown(half)
        for edge in edges:
            for box in edge_pieces(edge, length):
                yield box.grown(half)


def edge_pieces(edge: Edge, length: float = TRACE) -> Iterator[Bounds]:
    """Boxes of pieces no longer than `length`; an upright or level line is its own box."""
    box, long = edge.bounds, edge.length
    left, bottom, right, top = box
    width, height = right - left, top - bottom
    if isinstance(edge, Line) and (width < 1e-9 or height < 1e-9):
        count = ceil(long / (8 * length))
    else:
        count = ceil(min(long, 2 * (width + height)) / length)
    if count <= 1:
        yield box
    elif isinstance(edge, Line):
        for (x0, y0), (x1, y1) in pairwise(edge.point_at(index / count) for index in range(count + 1)):
            yield Bounds(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
    else:
        for index in range(count):
            yield edge.between(index / count, (index + 1) / count).bounds


class Taken:
    """Paper that holds ink, in small squares: a row of them is the bits of a number. Words are put where none is."""

    def __init__(self, boxes: Iterable[Bounds] = (), cell: float = CELL) -> None:
        self._rows: defaultdict[int, int] = defaultdict(int)
        self._cell = cell
        for box in boxes:
            self.take(box)

    def take(self, box: Bounds) -> None:
        """Marks a box as taken."""
        bits = self._bits(box)
        for row in range(floor(box.bottom / self._cell), floor(box.top / self._cell) + 1):
            self._rows[row] |= bits

    def holds(self, at: Point) -> bool:
        """Whether a point's square is taken."""
        row = self._rows.get(floor(at.y / self._cell), 0)
        return bool(row >> min(max(floor(at.x / self._cell) + HALF, 0), 2 * HALF) & 1)

    def meets(self, box: Bounds) -> bool:
        """Whether any of a box is taken."""
        bits, rows = self._bits(box), self._rows
        first, last = floor(box.bottom / self._cell), floor(box.top / self._cell)
        for row in range(first, last + 1):  # noqa: SIM110 - asked of every place tried
            if row in rows and rows[row] & bits:
                return True
        return False

    def meets_any(self, boxes: Iterable[Bounds], x: float, y: float) -> bool:
        """Whether any of the boxes, moved by x and y, is taken; written out, since it is asked a million times."""
        rows, cell = self._rows, self._cell
        for left, bottom, right, top in boxes:
            first = min(max(floor((left + x) / cell) + HALF, 0), 2 * HALF)
            last = min(max(floor((right + x) / cell) + HALF, 0), 2 * HALF)
            bits = (1 << last + 1) - (1 << first)
            for row in range(floor((bottom + y) / cell), floor((top + y) / cell) + 1):
                if row in rows and rows[row] & bits:
                    return True
        return False

    def _bits(self, box: Bounds) -> int:
        left, right = floor(box.left / self._cell) + HALF, floor(box.right / self._cell) + HALF
        return (1 << min(max(right, 0), 2 * HALF) + 1) - (1 << min(max(left, 0), 2 * HALF))


HALF = 2000
"""Squares told apart on either side of a drawing's origin; further out all are one."""

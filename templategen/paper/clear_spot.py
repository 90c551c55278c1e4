"""The clear spot: where on a page a block of words meets no ink."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor

from templategen.geometry.bounds import Bounds

CELL = 3.0
"""Side of the squares by which it is looked for, mm."""


def clear_spot(window: Bounds, taken: Iterable[Bounds], width: float, height: float) -> tuple[float, float] | None:
    """The lower left corner of a clear block, as high and then as far left as can be; None where there is none."""
    columns, rows = floor(window.width / CELL), floor(window.height / CELL)
    across, up = ceil(width / CELL) + 1, ceil(height / CELL) + 1
    if across > columns or up > rows:
        return None
    sums = _sums(window, taken, columns, rows)
    for row in range(rows - up, -1, -1):
        low, high = sums[row], sums[row + up]
        for column in range(columns - across + 1):
            if high[column + across] - high[column] - low[column + across] + low[column] == 0:
                return window.left + (column + 0.5) * CELL, window.bottom + (row + 0.5) * CELL
    return None


def _sums(window: Bounds, taken: Iterable[Bounds], columns: int, rows: int) -> list[list[int]]:
    """How many taken squares lie left of and below each corner."""
    full = [bytearray(columns) for _ in range(rows)]
    for box in taken:
        left = max(0, floor((box.left - window.left) / CELL))
        right = min(columns - 1, floor((box.right - window.left) / CELL))
        if right < left:
            continue
        bottom = max(0, floor((box.bottom - window.bottom) / CELL))
        for row in range(bottom, min(rows - 1, floor((box.top - window.bottom) / CELL)) + 1):
            full[row][left : right + 1] = b"\x01" * (right - left + 1)
    sums = [[0] * (columns + 1)]
    for row in range(rows):
        line, before, run = [0], sums[-1], 0
        for column in range(columns):
            run += full[row][column]
            line.append(before[column + 1] + run)
        sums.append(line)
    return sums

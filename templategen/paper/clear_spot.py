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
    inked = _rows(window, taken, columns, rows)
    for row in range(rows - up, -1, -1):
        free = (1 << columns) - 1
        for line in inked[row : row + up]:
            free &= ~line
        starts = _starts(free, across)
        if starts:
            column = (starts & -starts).bit_length() - 1
            return window.left + (column + 0.5) * CELL, window.bottom + (row + 0.5) * CELL
    return None


def _starts(free: int, across: int) -> int:
    """The squares of a row, as bits, from which that many are free; the free run is doubled as long as it may."""
    run = 1
    while free and run < across:
        step = min(run, across - run)
        free &= free >> step
        run += step
    return free


def _rows(window: Bounds, taken: Iterable[Bounds], columns: int, rows: int) -> list[int]:
    """The taken squares of each row from below, a bit for each column from the left."""
    inked = [0] * rows
    for box in taken:
        left = max(0, floor((box.left - window.left) / CELL))
        right = min(columns - 1, floor((box.right - window.left) / CELL))
        if right < left:
            continue
        bits = (1 << right + 1) - (1 << left)
        bottom = max(0, floor((box.bottom - window.bottom) / CELL))
        for row in range(bottom, min(rows - 1, floor((box.top - window.bottom) / CELL)) + 1):
            inked[row] |= bits
    return inked

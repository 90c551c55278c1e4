"""The bounded knapsack: sizes with values, so many copies of each at most, on a line of a given length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy

    Table = numpy.ndarray[Any, numpy.dtype[numpy.float64]]


def most_value(sizes: Sequence[int], values: Sequence[float], most: Sequence[int], room: int) -> Table:
    """For each length from 0 to `room`, in whole ticks, the greatest value that fits."""
    import numpy

    table = numpy.zeros(room + 1)
    for number, copies in _bundles(sizes, values, most, room):
        size, worth = sizes[number] * copies, values[number] * copies
        numpy.maximum(table[size:], table[:-size] + worth, out=table[size:])
    return table


def chosen(
    sizes: Sequence[int], values: Sequence[float], most: Sequence[int], rooms: Sequence[int]
) -> tuple[Table, list[dict[int, int]]]:
    """The same table up to the largest of `rooms`, and for each room one best choice: how many of which size."""
    import numpy

    table = numpy.zeros(max(rooms) + 1)
    marks = []
    for number, copies in _bundles(sizes, values, most, max(rooms)):
        size, worth = sizes[number] * copies, values[number] * copies
        more = numpy.zeros(len(table), dtype=bool)
        tried = table[:-size] + worth
        numpy.greater(tried, table[size:] + 1e-12, out=more[size:])
        table[size:] = numpy.where(more[size:], tried, table[size:])
        marks.append((number, copies, more))
    return table, [_walked(marks, sizes, room) for room in rooms]


def _walked(marks: Sequence[tuple[int, int, Any]], sizes: Sequence[int], room: int) -> dict[int, int]:
    picked: dict[int, int] = {}
    for number, copies, more in reversed(marks):
        if more[room]:
            picked[number] = picked.get(number, 0) + copies
            room -= sizes[number] * copies
    return picked


def _bundles(
    sizes: Sequence[int], values: Sequence[float], most: Sequence[int], room: int
) -> Iterator[tuple[int, int]]:
    """Each size in bundles of 1, 2, 4 ... copies, out of which every number up to the most can be made."""
    for number, (size, worth) in enumerate(zip(sizes, values, strict=True)):
        left, bundle = min(most[number], room // size) if size > 0 and worth > 0 else 0, 1
        while left > 0:
            yield number, min(bundle, left)
            left, bundle = left - min(bundle, left), bundle * 2

"""Scales are conservative, and limits by them never ask for more boards than a layout needs."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import pytest
import shapely

from templategen.geometry.outline import polygon, rectangle
from templategen.nesting.bound import bound
from templategen.nesting.line_limits import Effort
from templategen.nesting.scales import Scales, rectangles
from templategen.nesting.stock import Item, Piece

BOARD = Piece("b", 2400, 150)


def filled(sizes: list[int], room: int, first: int = 0) -> Iterator[list[int]]:
    """Every set of sizes, by number, that fits on a line and takes no more, each as often as may be."""
    more = [n for n in range(first, len(sizes)) if sizes[n] <= room]
    if not any(size <= room for size in sizes):
        yield []
    for n in more:
        yield from ([n, *rest] for rest in filled(sizes, room - sizes[n], n))


@pytest.mark.parametrize("seed", range(12))
def test_what_fits_on_a_line_fits_by_every_scale(seed: int) -> None:
    """All ways to fill a line are tried: none counts more than the whole line by a usual scale, or by one that a
    limit was sharpened to, where sizes come more often than they did there."""
    dice = Random(seed)
    items = [Item(f"i{n}", rectangle(0, 0, dice.randint(260, 1500), dice.randint(28, 120)), dice.randint(1, 4))
             for n in range(4)]  # fmt: skip
    scales = Scales(0, BOARD, 3.0, items, [True] * 4)
    tried = 0
    for axis in (0, 1):
        sizes = list(scales.sizes[axis])
        rows = [*scales.rows[axis]]
        for row in scales.rows[1 - axis][:9]:
            sharper = scales._sharpened(1 - axis, row, 0.4, [item.count for item in items], Effort(50))
            rows += [sharper[1]] if sharper else []
        tried += len(rows) - len(scales.rows[axis])
        for places in filled(sizes, scales.rooms[axis]):
            assert max(sum(float(row[scales.items.index(at)]) for at in places) for row in rows) <= 1 + 1e-9
    assert tried


@pytest.mark.parametrize(
    ("length", "width", "count", "least"), [(1100, 70, 5, 2), (790, 48, 10, 2), (1195, 145, 5, 3)]
)
def test_two_directions_at_once(length: int, width: int, count: int, least: int) -> None:
    """So many rows of so many parts are all that a board takes, though its area and every line hold one more."""
    items = [Item("p", rectangle(0, 0, length, width), count)]
    assert bound(items, [BOARD], 3.0).pieces == least
    assert bound(items[:1], [BOARD], 3.0, scaled=False).pieces <= least
    fewer = [Item("p", rectangle(0, 0, length, width), count - 1)]
    assert bound(fewer, [BOARD], 3.0).pieces == least - 1


def test_rectangles_lie_in_the_part() -> None:
    """Of a slat with one mitred end and one that leans the other way: each was laid in it by another library."""
    slat = polygon([(0, 0), (500, 0), (437, 85), (31, 85)])
    shape = shapely.Polygon([(0, 0), (500, 0), (437, 85), (31, 85)])
    found = rectangles(Item("s", slat, 1), 0.0)
    assert max(w for _, w in found) == pytest.approx(85, abs=0.01)
    assert max(length for length, w in found if w > 84.9) == pytest.approx(437 - 31, abs=0.1)
    assert len(found) == 8
    for length, width in found:
        start = 31 * width / 85
        assert shape.buffer(0.01).contains(shapely.box(start, 0, start + length, width))
    assert rectangles(Item("h", polygon([(0, 0), (90, 0), (90, 40), (50, 20), (0, 40)]), 1), 0.0) == []

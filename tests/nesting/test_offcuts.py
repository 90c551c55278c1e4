"""Offcuts and the used share."""

from __future__ import annotations

import pytest
from shapely import box

from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.nest import nest
from templategen.nesting.offcuts import offcuts, used_share
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from tests.nesting.cases import random_job

SLAT = [Item("slat", rectangle(0, 0, 400, 50), 2)]
SHEET = Sheet(Piece("board", 1010, 110, margin=5), 1, (Laid("slat", Placement(5, 5)),))


def test_the_largest_rectangles_are_kept() -> None:
    """One slat in a corner leaves the board's far end at full width and a strip above itself, a kerf away."""
    assert offcuts(SHEET, SLAT, 3) == [(408, 5, 597, 100), (5, 58, 400, 47)]


def test_small_rest_is_no_offcut() -> None:
    """Rests below the least length and width aren't listed."""
    assert offcuts(SHEET, SLAT, 3, (500, 90)) == [(408, 5, 597, 100)]


def test_the_used_share_counts_the_whole_piece() -> None:
    """A slat of 20,000 mm2 on a board of 111,100 is 18 per cent."""
    assert used_share(SHEET, SLAT) == pytest.approx(20000 / 111100)


@pytest.mark.parametrize("seed", range(12))
def test_offcuts_keep_clear_of_parts_knots_and_each_other(seed: int) -> None:
    """No offcut meets a part, a knot, a margin or another offcut, and parts are a kerf away."""
    items, pieces, spacing = random_job(seed)
    outline = {item.code: item.outline for item in items}
    for sheet in nest(items, pieces, spacing, 0.02).sheets:
        kept = [box(x, y, x + w, y + h) for x, y, w, h in offcuts(sheet, items, spacing)]
        parts = [box(*laid.placement.outline(outline[laid.code]).bounds) for laid in sheet.laid]
        m = sheet.piece.margin
        room = box(m, m, sheet.piece.length - m, sheet.piece.width - m).buffer(1e-9)
        for number, one in enumerate(kept):
            assert room.covers(one)
            assert all(one.distance(part) >= spacing - 1e-9 for part in parts)
            assert all(one.intersection(other).area == 0 for other in kept[:number])

"""Offcuts and the used share."""

from __future__ import annotations

import pytest
from shapely import box

from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.offcuts import keepers, offcut_piece, offcuts, used_share
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet
from tests.nesting.cases import random_job, random_workshop, soon, wrongs

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
    for sheet in soon(items, pieces, spacing).sheets:
        kept = [box(x, y, x + w, y + h) for x, y, w, h in offcuts(sheet, items, spacing)]
        parts = [box(*laid.placement.outline(outline[laid.code]).bounds) for laid in sheet.laid]
        m, (left, right) = sheet.piece.margin, sheet.piece.bad_ends
        room = box(max(m, left), m, sheet.piece.length - max(m, right), sheet.piece.width - m).buffer(1e-9)
        faults = [box(*fault) for fault in sheet.piece.defect_boxes]
        for number, one in enumerate(kept):
            assert room.covers(one)
            assert all(one.distance(part) >= spacing - 1e-9 for part in parts)
            assert all(one.intersection(other).area < 1e-6 for other in (*kept[:number], *faults))


def test_a_knot_may_lie_in_what_is_kept() -> None:
    """A knot near one end of what is left is carried along where enough clear wood lies beside it."""
    knotty = Sheet(Piece("board", 1010, 110, margin=5, defects=((700, 60, 40),)), 1, SHEET.laid)
    assert keepers(knotty, SLAT, 3) == [(408, 5, 597, 100), (5, 58, 400, 47)]
    hopeless = Sheet(
        Piece("board", 1010, 110, margin=5, defects=((500, 60, 90), (700, 60, 90), (850, 60, 90))), 1, ()
    )
    assert keepers(hopeless, SLAT, 3, (600, 30)) == []
    assert [round(one[2]) for one in keepers(hopeless, SLAT, 3, (400, 30))] == [1000]


def test_an_offcut_is_stock_with_its_faults_in_its_own_frame() -> None:
    """Knots move with the corner; what reaches in from outside becomes a rectangle; the rest stays behind."""
    board = Piece(
        "b", 1000, 100, 3, 9.0, ((700, 60, 40), (395, 50, 30), (100, 50, 20)), (5, 5, 2, 2), True,
        ((900, 90, 50, 10), (0, 0, 50, 50)), (30, 0), "sawn",
    )  # fmt: skip
    left = offcut_piece(board, (400, 5, 595, 90), "left over")
    assert (left.name, left.length, left.width, left.count, left.price) == ("left over", 595, 90, 1, 0.0)
    assert left.defects == ((300, 55, 40),)
    assert left.defect_areas == ((0, 30, 10, 30), (500, 85, 50, 5))
    assert (left.margins, left.bad_ends, left.mode, left.grain) == ((0, 0, 0, 0), (0, 0), "sawn", True)


@pytest.mark.parametrize("seed", range(7100, 7112))
def test_what_lies_on_an_offcut_lies_on_the_board(seed: int) -> None:
    """Parts nested on the offcuts of a layout, put back where these lay, make a layout of the boards that holds."""
    items, pieces, spacing = random_workshop(seed)
    layout = soon(items, pieces, spacing)
    more = [Item("more", rectangle(0, 0, 140, 28), 5)]
    sheets = []
    laid = 0
    for sheet in layout.sheets:
        between = sheet.piece.apart(spacing)
        whole = list(sheet.laid)
        for box_ in keepers(sheet, items, between):
            offcut = offcut_piece(sheet.piece, box_, "offcut")
            for one in soon(more, [offcut], between).sheets:
                move = Placement(box_[0], box_[1])
                whole += [Laid(part.code, part.placement.then(move)) for part in one.laid]
                laid += len(one.laid)
        sheets.append(Sheet(sheet.piece, sheet.number, tuple(whole)))
    both = [*items, Item("more", more[0].outline, laid)]
    assert wrongs(Layout(tuple(sheets), layout.unplaced), both, pieces, spacing) == []

"""The proof of a layout catches what is wrong."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from templategen.geometry.outline import circle, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet
from templategen.nesting.verify import verify
from tests.nesting.cases import crescent

BOARD = Piece("board", 1000, 120, 1, defects=((500, 60, 40),), margin=5)
ITEMS = [
    Item("slat", rectangle(0, 0, 300, 45), 2),
    Item("disc", circle(0, 0, 30), 2),
    Item("upright", rectangle(0, 0, 45, 200), 1, grain_turn=pi / 2),
]
GOOD = [
    Laid("slat", Placement(5, 5)),
    Laid("slat", Placement(305, 98, pi)),
    Laid("disc", Placement(600, 40)),
    Laid("disc", Placement(663, 40)),
    Laid("upright", Placement(900, 60, pi / 2)),
]


def said(laid: list[Laid], piece: Piece = BOARD, items: list[Item] = ITEMS, **unplaced: int) -> str:
    """The faults of a board with these parts, in one text."""
    layout = Layout((Sheet(piece, 1, tuple(laid)),), unplaced)
    return "\n".join(str(fault) for fault in verify(layout, items, [piece], 3.0))


def moved(index: int, **change: float | bool) -> list[Laid]:
    """The good layout with one part's placement changed."""
    laid = list(GOOD)
    laid[index] = replace(laid[index], placement=replace(laid[index].placement, **change))
    return laid


def test_a_good_layout_has_no_fault() -> None:
    """Parts exactly a kerf apart and exactly at the margin pass."""
    assert said(GOOD) == ""


@pytest.mark.parametrize(
    ("laid", "words"),
    [
        (moved(0, y=5.1), "slat and slat are 2.900 mm apart"),
        (moved(3, x=662.9), "disc and disc are 2.900 mm apart"),
        (moved(0, x=4.9), "slat reaches 0.100 mm over the margin"),
        (moved(1, y=115.1), "slat reaches 0.100 mm over the margin"),
        (moved(2, x=519.9), "disc lies"),
        (moved(2, x=500.0), "disc lies 20.000 mm over the fault at 500, 60"),
        (moved(4, turn=0.0), "upright is turned by 0.000 degrees, across the grain"),
        (moved(2, turn=0.001), "across the grain"),
        (moved(0, turned_over=True, x=305.0), "slat is turned over, but its faces differ"),
        (moved(0, x=float("nan")), "slat lies nowhere"),
        (GOOD[1:], "slat: 1 copies laid or left over, 2 wanted"),
        ([*GOOD, Laid("disc", Placement(800, 90))], "disc: 3 copies"),
        ([*GOOD, Laid("ghost", Placement(800, 90))], "ghost: 1 copies laid or left over, 0 wanted"),
    ],
)
def test_a_seeded_fault_is_caught(laid: list[Laid], words: str) -> None:
    """Each single thing wrong is named with its measure."""
    assert words in said(laid)


def test_rectangular_faults_and_bad_ends_are_kept_clear_of() -> None:
    """A part a tenth of a millimetre into either is caught, one that touches them passes."""
    item = [Item("slat", rectangle(0, 0, 300, 45), 1)]
    board = replace(BOARD, defects=(), defect_areas=((400, 5, 60, 30),), bad_ends=(50, 0))
    for x, words in ((50.0, ""), (49.9, "0.100 mm into a bad end"), (100.0, ""), (100.1, "over the fault at 400, 5")):
        told = said([Laid("slat", Placement(x, 5))], board, item)
        assert words in told and bool(told) is bool(words)


def test_each_edge_has_its_own_margin() -> None:
    """A tenth of a millimetre over any one margin is told with its edge; all four at once are kept to the last."""
    board = Piece("board", 1000, 120, 1, margin=(10.0, 20.0, 5.0, 15.0))
    fit = [Item("slat", rectangle(0, 0, 970, 100), 1)]
    assert said([Laid("slat", Placement(10, 5))], board, fit) == ""
    for x, y, edge in ((9.9, 5.0, "left"), (10.1, 5.0, "right"), (10.0, 4.9, "bottom"), (10.0, 5.1, "top")):
        assert said([Laid("slat", Placement(x, y))], board, fit).endswith(edge)


def test_a_piece_may_ask_for_another_distance() -> None:
    """A piece with a spacing of its own is proved with that, closer or wider than the job's."""
    pair = [Item("slat", rectangle(0, 0, 300, 45), 2)]
    cases = ((8.0, 8.0, True), (8.0, 7.9, False), (1.5, 1.5, True), (1.5, 1.4, False), (0.0, 2.9, False))
    for own, gap, good in cases:
        board = Piece("board", 1000, 120, 1, spacing=own)
        told = said([Laid("slat", Placement(0, 0)), Laid("slat", Placement(300 + gap, 0))], board, pair)
        assert (told == "") is good


def test_round_faults_are_round() -> None:
    """A corner may lie beside a knot where the box round the knot would meet it, up to the circle and no further."""
    board = Piece("board", 1000, 120, 1, defects=((500, 60, 60),))
    slat = [Item("slat", rectangle(0, 0, 100, 30), 1)]
    corner = 500 + 30 / 2**0.5, 60 + 30 / 2**0.5
    assert said([Laid("slat", Placement(corner[0] + 1e-4, corner[1] + 1e-4))], board, slat) == ""
    assert "over the fault" in said([Laid("slat", Placement(corner[0] - 0.1, corner[1] - 0.1))], board, slat)


def test_a_doubled_part_cannot_hide_behind_a_count_below_nought() -> None:
    """Copies left over may not be fewer than none."""
    assert "-1 copies left over" in said([*GOOD, Laid("disc", Placement(800, 90))], disc=-1)


def test_copies_left_over_count() -> None:
    """A copy named as left over isn't missing, and one both laid and left over is one too many."""
    assert said(GOOD[1:], slat=1) == ""
    assert "slat: 3 copies" in said(GOOD, slat=1)


def test_stock_is_counted() -> None:
    """More pieces than in stock, pieces of one number and pieces unknown are caught."""
    twice = Layout((Sheet(BOARD, 1, tuple(GOOD)), Sheet(BOARD, 1, ())))
    words = "\n".join(str(fault) for fault in verify(twice, ITEMS, [BOARD], 3.0))
    assert "2 pieces used, 1 in stock" in words
    assert "2 pieces of one number" in words
    assert "isn't in stock" in "\n".join(map(str, verify(twice, ITEMS, [], 3.0)))


def test_grain_follows_a_part_turned_over() -> None:
    """A part whose grain lies at 30 degrees lies right at -30 turned, and at 30 once turned over."""
    item = [Item("lens", circle(0, 0, 20), 1, grain_turn=-pi / 6, may_turn_over=True)]
    for turn, over, good in ((-pi / 6, False, True), (pi / 6, False, False), (pi / 6, True, True)):
        placement = Placement(100, 60, turn, over)
        assert (said([Laid("lens", placement)], BOARD, item) == "") is good


def test_hollow_and_bulging_arcs_are_held_from_outside() -> None:
    """Nested ring segments are proved apart at a little more than the kerf and caught at a little less."""
    sheet = Piece("sheet", 600, 600, grain=False)
    for gap, good in ((3.01, True), (2.99, False)):
        outer = crescent(240 + gap, 300, pi / 3)
        items = [Item("inner", crescent(200, 240, pi / 3), 1), Item("outer", outer, 1)]
        laid = [Laid("inner", Placement(100, 300)), Laid("outer", Placement(100, 300))]
        assert (said(laid, sheet, items) == "") is good


def test_without_a_kerf_parts_may_touch_but_not_overlap() -> None:
    """At a kerf of nought shared edges pass and a ten-thousandth of overlap doesn't."""
    item = [Item("slat", rectangle(0, 0, 300, 45), 2)]
    for x, good in ((305.0, True), (304.9999, False)):
        layout = Layout((Sheet(BOARD, 1, (Laid("slat", Placement(5, 5)), Laid("slat", Placement(x, 5)))),))
        board = replace(BOARD, defects=())
        layout = Layout((replace(layout.sheets[0], piece=board),))
        assert (verify(layout, item, [board], 0.0) == ()) is good

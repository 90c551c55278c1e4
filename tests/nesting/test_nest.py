"""Layouts: whole, legal, repeatable, cheap."""

from __future__ import annotations

from dataclasses import replace
from math import inf, nan, pi
from time import process_time

import pytest

from templategen.errors import StockError
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.nesting.bound import bound
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Layout, Piece
from tests.nesting.cases import random_job, trapezoid, wrongs

TABLE = [
    Item("rim", trapezoid(420, 140, 37.5), 12),
    Item("rail", polygon(((0, 0), (620, 0), (620, 25), (650, 25), (650, 60), (620, 60), (620, 84), (0, 84))), 6),
    Item("long", trapezoid(520, 45, 26), 12),
    Item("short", trapezoid(230, 45, 26), 24),
    Item("leg", rectangle(0, 0, 84, 690), 4, grain_turn=pi / 2),
    Item("spline", rectangle(0, 0, 26, 120), 12),
    Item("disc", circle(0, 0, 60), 2),
]
BOARDS = [
    Piece("wide", 2400, 200, None, 30.0, margin=5),
    Piece("narrow", 2100, 110, None, 14.0, margin=5),
    Piece("knotty", 2400, 200, 2, 20.0, ((800, 90, 60), (1500, 30, 40)), 5),
]


@pytest.mark.parametrize("seed", range(40))
def test_random_jobs_are_laid_legally(seed: int) -> None:
    """Every part lies clear of its neighbours, the edges and the knots, along the grain, or is named as left over."""
    items, pieces, spacing = random_job(seed)
    assert wrongs(nest(items, pieces, spacing, 0.03), items, pieces, spacing) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(1000, 1500))
def test_many_random_jobs_are_laid_legally(seed: int) -> None:
    """Five hundred jobs more keep the same promises."""
    items, pieces, spacing = random_job(seed)
    assert wrongs(nest(items, pieces, spacing, 0.1), items, pieces, spacing) == []


def test_a_table_is_laid_whole_soon_and_the_same_each_time() -> None:
    """Seventy-two parts take under a second of work, leave nothing over, and repeat to the last digit."""
    start = process_time()
    first = nest(TABLE, BOARDS, 3.2)
    assert process_time() - start < 5
    assert first.unplaced == {}
    assert wrongs(first, TABLE, BOARDS, 3.2) == []
    assert nest(TABLE, BOARDS, 3.2) == first


def test_no_layout_beats_the_bound() -> None:
    """The proved least cost and number of pieces stay at or below what the layout takes."""
    layout = nest(TABLE, BOARDS, 3.2, 0.2)
    least = bound(TABLE, BOARDS, 3.2)
    assert least.cost <= layout.cost <= 1.5 * least.cost
    assert least.pieces <= len(layout.sheets)


def test_mitred_blanks_lie_head_to_tail() -> None:
    """Ten blanks whose boxes need 4,027 mm fit on one board of 3,500 mm when every second one is turned."""
    items = [Item("rim", trapezoid(400, 150, 100), 10)]
    board = Piece("board", 3500, 150, 1)
    layout = nest(items, [board], 3.0, 0.1)
    assert layout.unplaced == {}
    assert wrongs(layout, items, [board], 3.0) == []
    turns = [round(laid.placement.turn / pi) % 2 for laid in layout.sheets[0].laid]
    assert sorted(turns) == [0] * 5 + [1] * 5


def test_a_part_as_large_as_its_board_fits() -> None:
    """A part of exactly the usable size is laid, one a hundredth longer is left over."""
    board = [Piece("board", 1010, 110, None, margin=5)]
    assert nest([Item("fit", rectangle(0, 0, 1000, 100), 2)], board, 3).unplaced == {}
    assert nest([Item("long", rectangle(0, 0, 1000.01, 100), 2)], board, 3).unplaced == {"long": 2}


def test_grain_decides_about_quarter_turns() -> None:
    """A part too long for a board's width is left over, while a sheet without grain takes it turned."""
    item = [Item("slat", rectangle(0, 0, 60, 400), 3)]
    board = Piece("board", 1000, 210)
    assert nest(item, [board], 3).unplaced == {"slat": 3}
    assert nest(item, [replace(board, grain=False)], 3).unplaced == {}
    assert nest([replace(item[0], grain_turn=pi / 2)], [board], 3).unplaced == {}


def test_what_the_stock_cannot_hold_is_named() -> None:
    """With one short board the copies that don't fit are counted as left over."""
    layout = nest([Item("leg", rectangle(0, 0, 700, 90), 5)], [Piece("board", 1500, 100, 1)], 3)
    assert layout.unplaced == {"leg": 3}


def test_the_cheaper_stock_is_taken_though_it_is_larger() -> None:
    """Price decides where it is given, area where it isn't."""
    item = [Item("leg", rectangle(0, 0, 700, 90), 1)]
    small, large = Piece("small", 800, 100, price=9.0), Piece("large", 2000, 200, price=7.0)
    assert nest(item, [small, large], 3).sheets[0].piece.name == "large"
    free = [replace(small, price=0.0), replace(large, price=0.0)]
    assert nest(item, free, 3).sheets[0].piece.name == "small"


def test_nothing_asked_is_nothing_laid() -> None:
    """No items, items of count 0 and no stock are all answered, none with an error."""
    leg = Item("leg", rectangle(0, 0, 700, 90), 2)
    assert nest([], BOARDS, 3) == Layout(())
    assert nest([replace(leg, count=0)], BOARDS, 3) == Layout(())
    assert nest([leg], [], 3).unplaced == {"leg": 2}
    assert nest([leg], [Piece("scrap", 8, 8, margin=5)], 3).unplaced == {"leg": 2}


@pytest.mark.parametrize(
    "board",
    [
        Piece("b", nan, 100), Piece("b", 100, inf), Piece("b", -1, 100), Piece("b", 100, 100, -1),
        Piece("b", 100, 100, price=-1.0), Piece("b", 100, 100, margin=-1),
        Piece("b", 100, 100, defects=((nan, 1, 1),)),
    ],
)  # fmt: skip
def test_impossible_stock_is_refused(board: Piece) -> None:
    """Sizes that no board has are an error that names the stock."""
    with pytest.raises(StockError, match="stock b"):
        nest([Item("leg", rectangle(0, 0, 50, 50), 1)], [board], 3)


def test_progress_runs_from_nought_to_one() -> None:
    """Progress never runs back, nor does the best cost it tells rise; it ends with the layout's."""
    told: list[float] = []
    costs: list[float | None] = []

    def tell(share: float, best: float | None) -> None:
        told.append(share)
        costs.append(best)

    found = nest(TABLE, BOARDS, 3.2, 0.1, tell)
    assert costs[-1] == found.cost
    whole = [best for best in costs if best is not None]
    assert whole == sorted(whole, reverse=True)
    assert told == sorted(told)
    assert told
    assert 0 <= told[0] <= told[-1] <= 1

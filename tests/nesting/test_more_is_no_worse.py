"""More never makes a layout worse: stock listed besides, a larger board, more of a board, more work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from random import Random
from time import process_time

import pytest

from templategen.geometry.outline import rectangle
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import nest
from templategen.nesting.offcuts import keepers, offcuts
from templategen.nesting.stock import Item, Piece, Sheet
from tests.bench.instance import Instance, of_table
from tests.nesting.cases import wrongs

SEEDS = (
    pytest.param(9, marks=pytest.mark.slow),
    *(pytest.param(one, marks=pytest.mark.wide) for one in (17, 28)),
    31,
)


@lru_cache(8)
def job(seed: int) -> Instance:
    """The slats of a table of chance."""
    found = of_table(seed, "sawn", "SLAT")
    assert found is not None
    return found


def asked(seed: int, pieces: Sequence[Piece]) -> tuple[int, float]:
    """Copies left over, and what the layout costs."""
    layout = nest(job(seed).items, pieces, job(seed).spacing)
    return sum(layout.unplaced.values()), round(layout.cost, 6)


@pytest.mark.parametrize("seed", SEEDS)
def test_stock_listed_besides_makes_no_layout_dearer(seed: int) -> None:
    """A dear board, a short one and one full of knots beside the others leave the cost as it was, or lower it."""
    pieces = job(seed).pieces
    long, wide = max(piece.length for piece in pieces), max(piece.width for piece in pieces)
    besides = (
        Piece("dear", long, wide, None, 900.0, mode="sawn"),
        Piece("stub", 260.0, 70.0, 3, 1.0, mode="sawn"),
        Piece(
            "knotty", long, wide, 2, 40.0, tuple((x, wide / 2, 30.0) for x in range(90, int(long), 160)), mode="sawn"
        ),
    )
    assert asked(seed, (*pieces, *besides)) <= asked(seed, pieces)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_larger_board_for_the_same_money_is_no_dearer(seed: int) -> None:
    """Boards 37 mm longer and 11 mm wider at their old price hold what the old ones held."""
    pieces = job(seed).pieces
    larger = [replace(piece, length=piece.length + 37, width=piece.width + 11) for piece in pieces]
    assert asked(seed, larger) <= asked(seed, pieces)


@pytest.mark.parametrize("seed", SEEDS)
def test_more_work_is_never_dearer(seed: int) -> None:
    """The same search, gone on with for longer, costs no more."""
    one = job(seed)
    costs = [Rectangles().nest(one.items, one.pieces, one.spacing, effort).cost for effort in (0.05, 0.2, 0.8)]
    assert costs == sorted(costs, reverse=True)


def test_a_rail_between_two_knots_finds_its_place() -> None:
    """Knots at both edges leave neither a full width as long as the rail nor a full length as wide; the one clear
    rectangle that holds it is found, by a saw and by a router."""
    rail = Item("rail", rectangle(0, 0, 900, 74), 1)
    knots = ((150.0, 60.0, 40.0), (560.0, 12.0, 30.0), (700.0, 118.0, 30.0), (1180.0, 66.0, 50.0))
    for mode in ("sawn", "routed"):
        board = Piece("board", 1330.0, 130.0, 1, 5.0, knots, mode=mode)
        layout = nest([rail], [board], 3.0)
        assert layout.unplaced == {}
        assert wrongs(layout, [rail], [board], 3.0) == []


def knotty(number: int) -> Sheet:
    """A long board with so many knots, nothing laid on it."""
    dice = Random(number)
    knots = tuple((dice.uniform(0, 4000), dice.uniform(0, 200), dice.uniform(4, 20)) for _ in range(number))
    return Sheet(Piece("board", 4000.0, 200.0, 1, 10.0, knots, 5.0, mode="sawn"), 1, ())


@pytest.mark.parametrize("number", [125, 3000])
def test_many_knots_are_soon_told(number: int) -> None:
    """Offcuts and pieces to keep of a board with 125 knots, and with 3,000, take seconds at the most."""
    start = process_time()
    sheet = knotty(number)
    left, kept = offcuts(sheet, [], 3.0), keepers(sheet, [], 3.0)
    assert process_time() - start < 4
    assert bool(left) == (number == 125)
    assert len(kept) <= 1 + len(left)

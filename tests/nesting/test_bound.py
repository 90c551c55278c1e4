"""The bound, against closed formulas and every set of pieces."""

from __future__ import annotations

from itertools import product
from math import pi
from random import Random

import pytest

from templategen.errors import StockError
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.nesting.bound import bound, by_area, grown_area, room_area
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import flat, random_job, random_outline


@pytest.mark.parametrize("seed", range(30))
def test_the_grown_area_is_never_too_large(seed: int) -> None:
    """It stays at or below the area of the shape grown by another library, and meets it for a rectangle."""
    outline = random_outline(Random(seed))
    assert grown_area(outline, 2) <= flat(outline, 2000).buffer(2, quad_segs=256).area * (1 + 1e-5)
    assert grown_area(rectangle(0, 0, 40, 30), 2) == pytest.approx(1200 + 280 + 4 * pi)


def test_a_star_is_not_taken_for_convex() -> None:
    """A five-pointed star, which turns left at every corner, gets the cautious area."""
    star = polygon([(0, 10), (-6, -8), (9.5, 3), (-9.5, 3), (6, -8)])
    disc = (abs(star.area) ** 0.5 + pi**0.5) ** 2
    assert grown_area(star, 1) == pytest.approx(disc)


def test_room_leaves_out_margins_and_knots() -> None:
    """A board's room is its inside grown by half a kerf, less the knots shrunk by as much."""
    board = Piece("b", 1000, 110, margin=5, defects=((300, 50, 44), (310, 50, 20), (2000, 0, 50)))
    assert room_area(board, 2) == pytest.approx(994 * 104 - pi * 20**2)


@pytest.mark.parametrize("seed", range(20))
def test_the_least_cost_is_that_of_the_best_set(seed: int) -> None:
    """By area, searching every set of pieces finds no cheaper one with enough room, and finds one as cheap."""
    dice = Random(seed)
    pieces = [
        Piece(f"b{k}", dice.randint(300, 900), 100, dice.randint(1, 4), float(dice.randint(3, 12))) for k in range(3)
    ]
    total = sum(piece.count * room_area(piece, 0) for piece in pieces if piece.count)
    item = [Item("p", rectangle(0, 0, total * dice.uniform(0.2, 0.9) / 100, 100), 1)]
    sets = product(*(range((piece.count or 0) + 1) for piece in pieces))
    need = item[0].outline.area
    enough = [
        (sum(n * p.price for n, p in zip(some, pieces, strict=True)), sum(some))
        for some in sets
        if sum(n * p.length * p.width for n, p in zip(some, pieces, strict=True)) >= need * (1 - 1e-9)
    ]
    least = by_area(item, pieces, 0, priced=True)
    assert least.cost == min(c for c, _ in enough)
    assert least.pieces == min(n for _, n in enough)


@pytest.mark.parametrize("seed", range(40, 50))
def test_layouts_stay_above_the_bound(seed: int) -> None:
    """No layout that leaves nothing over costs less than the bound."""
    items, pieces, spacing = random_job(seed)
    layout = nest(items, pieces, spacing, 0.02)
    if not layout.unplaced and any(p.price for p in pieces) == any(s.piece.price for s in layout.sheets):
        least = bound(items, pieces, spacing)
        assert least.cost <= layout.cost + 1e-9
        assert least.pieces <= len(layout.sheets)


def test_too_little_stock_is_said() -> None:
    """Stock with less area than the parts is an error."""
    with pytest.raises(StockError, match="more than all the stock has"):
        bound([Item("disc", circle(0, 0, 50), 100)], [Piece("b", 500, 500, 1)], 3)

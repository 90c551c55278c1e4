"""How many broad parts find room: against discs packed by formulas and discs found by another library."""

from __future__ import annotations

from math import floor, sqrt
from random import Random

import pytest
from shapely import maximum_inscribed_circle

from templategen.geometry.outline import circle
from templategen.nesting.bound import bound
from templategen.nesting.disc_limits import disc_limits, inscribed, most_apart
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import flat, random_outline, random_workshop, soon


@pytest.mark.parametrize("seed", range(20))
def test_the_disc_inside_a_part_lies_inside(seed: int) -> None:
    """The radius is no larger than that of the largest disc that shapely finds in the shape, and not much smaller."""
    shape = random_outline(Random(seed))
    spots = maximum_inscribed_circle(flat(shape, 400), tolerance=0.01)
    assert 0.5 * spots.length <= inscribed(shape) <= spots.length + 0.05


@pytest.mark.parametrize("seed", range(60))
def test_no_regular_packing_has_more(seed: int) -> None:
    """Rows of discs, in line or each row in the gaps of the last, never are more than is allowed."""
    dice = Random(seed)
    radius, spacing = dice.uniform(10, 80), dice.choice((0.0, 3.0, 8.0))
    piece = Piece("s", dice.uniform(200, 900), dice.uniform(200, 900), margin=5.0, grain=False)
    most, apart = most_apart(piece, radius, spacing), 2 * radius + spacing
    length, width = (max(0.0, size - 10 - 2 * radius) for size in (piece.length, piece.width))
    if min(piece.length, piece.width) < 2 * radius + 10:
        return
    in_line = (floor(length / apart) + 1) * (floor(width / apart) + 1)
    rows = floor(width / (apart * sqrt(3) / 2)) + 1
    in_gaps = sum(floor((length - (row % 2) * apart / 2) / apart) + 1 for row in range(rows) if length >= apart / 2)
    assert max(in_line, in_gaps) <= most


def test_known_numbers_are_met() -> None:
    """Four discs on a sheet of twice their breadth, one on a sheet of less, none on one too narrow."""
    assert most_apart(Piece("s", 620, 620, grain=False), 150, 4) == 4
    assert most_apart(Piece("s", 420, 420, grain=False), 150, 4) == 1
    assert most_apart(Piece("s", 620, 290, grain=False), 150, 4) == 0


def test_discs_take_the_sheets_they_must() -> None:
    """Nine discs of which four find room on a sheet take three sheets; by area two would do."""
    least = bound([Item("disc", circle(0, 0, 150), 9)], [Piece("s", 620, 620, grain=False)], 4.0)
    assert least.pieces == 3
    assert least.cost == pytest.approx(3 * 620 * 620)
    assert "discs" in least.how


@pytest.mark.parametrize("seed", range(4200, 4220))
def test_every_sheet_keeps_to_it(seed: int) -> None:
    """No sheet of a layout has more parts of any breadth than is allowed."""
    items, pieces, spacing = random_workshop(seed)
    for sheet in soon(items, pieces, spacing).sheets:
        held = [sum(laid.code == item.code for laid in sheet.laid) for item in items]
        for limit in disc_limits(0, sheet.piece, sheet.piece.apart(spacing), items):
            assert sum(worth * count for worth, count in zip(limit.values, held, strict=True)) <= limit.whole

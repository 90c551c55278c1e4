"""GuillotineSections, prices and mixes: worth most, priced right, the same each time."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import product
from random import Random

import pytest

from templategen.geometry.outline import polygon, rectangle
from templategen.nesting.engines.column_generation import ColumnGeneration, Master
from templategen.nesting.engines.column_mix import mixed
from templategen.nesting.engines.guillotine import GuillotineSections
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.job import NestingJob
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import proved, trapezoid, wrongs

SLAT = Item("slat", trapezoid(400, 45, 45), 200)
BOARD = Piece("board", 1800, 80, None, 10.0, mode="sawn")


def test_slanted_ends_slide_past_each_other_in_a_wide_lane() -> None:
    """In a lane 35 mm wider than its slats each further slat takes 35 mm less length, and all is still sawn."""
    level, staggered = (Interlock([SLAT], 4.0).advance("slat", play) for play in (0.0, 35.0))
    assert level == pytest.approx(400 - 45 + 4 * 2**0.5)
    assert staggered == pytest.approx(level - 35)
    layout = nest([replace(SLAT, count=5)], [replace(BOARD, count=1)], 4.0)
    assert layout.unplaced == {}
    assert proved(layout, [replace(SLAT, count=5)], [replace(BOARD, count=1)], 4.0) == ()


def test_five_slats_need_the_stagger() -> None:
    """The same five slats are too long for a board as wide as they are."""
    narrow = replace(BOARD, count=1, width=46)
    assert nest([replace(SLAT, count=5)], [narrow], 4.0).unplaced == {"slat": 1}


def test_a_row_is_set_off_only_where_that_helps() -> None:
    """Square blanks in a wide lane all lie at its edge."""
    row = Interlock([Item("bar", rectangle(0, 0, 100, 30), 4)], 3.0).row(["bar"] * 4, 12.0)
    assert {laid.placement.y for laid in row.laid} == {0.0}
    assert row.length == pytest.approx(4 * 100 + 3 * 3)


@pytest.mark.parametrize("seed", range(6))
def test_a_division_is_worth_what_trying_everything_finds(seed: int) -> None:
    """For rectangles of one width in one lane the best division is the best set, found by trying all sets."""
    dice = Random(seed)
    items = [Item(f"R{n}", rectangle(0, 0, dice.randint(8, 40) * 10, 50), dice.randint(1, 3)) for n in range(4)]
    values = {item.code: dice.randint(10, 90) for item in items}
    job = NestingJob(items, [], 3.0, 0)
    plan = GuillotineSections(Interlock(items, 3.0), job.demand, values, 1000.0)
    best = 0
    for picked in product(*(range(item.count + 1) for item in items)):
        length = sum(n * (item.outline.bounds.width + 3) for n, item in zip(picked, items, strict=True)) - 3
        if length <= 1000:
            best = max(best, sum(n * values[item.code] for n, item in zip(picked, items, strict=True)))
    assert int(plan.division(50.0).worth[-1]) == best


def test_prices_prove_their_own_mix() -> None:
    """On random covers no column is worth more than it costs, scarce stock costs nothing less than nothing, and what
    is wanted costs by its prices what the mix costs: by duality no mix can cost less."""
    dice = Random(3)
    for _ in range(12):
        codes = [f"c{n}" for n in range(dice.randint(2, 7))]
        demand = {code: dice.randint(1, 9) for code in codes}
        dear = {code: dice.uniform(20, 40) for code in codes}
        counts = [dice.choice((None, 1, 2, 4)) for _ in range(3)]
        master = Master(demand, dear, counts)
        columns = [(dear[code], {code: 1}, 0) for code in codes]
        for _ in range(25):
            kind, price = dice.randrange(3), dice.uniform(10, 30)
            held = {code: dice.randint(1, 4) for code in dice.sample(codes, dice.randint(1, len(codes)))}
            assert master.add(kind, price, held) == len(columns)
            columns.append((price, held, kind))
        master.solve()
        worth = dict(zip(codes, master.duals, strict=False))
        stock = dict(zip(master.stock, master.duals[len(codes) :], strict=True))
        assert min(worth.values()) >= -1e-9 and max(stock.values(), default=0.0) <= 1e-9
        for number, (price, held, kind) in enumerate(columns):
            scarce = stock.get(kind, 0.0) if number >= len(codes) else 0.0
            assert sum(worth[code] * count for code, count in held.items()) + scarce <= price + 1e-6
        laid = Counter[str]()
        for number, share in master.shares.items():
            laid.update({code: count * share for code, count in columns[number][1].items()})  # type: ignore[arg-type]
        assert all(laid[code] >= count - 1e-6 for code, count in demand.items())
        wanted = sum(worth[code] * count for code, count in demand.items())
        scarce = sum(price * (counts[kind] or 0) for kind, price in stock.items())
        spent = sum(columns[number][0] * share for number, share in master.shares.items())
        assert wanted + scarce == pytest.approx(spent, rel=1e-5) == pytest.approx(master.cost(), rel=1e-5)


def test_no_mix_of_whole_pieces_is_cheaper_than_the_prices_say() -> None:
    """ColumnGeneration of the copies wanted, less what scarce stock is worth, add up to what the mix costs."""
    items = [Item("a", rectangle(0, 0, 700, 90), 30), Item("b", trapezoid(420, 45, 45), 50)]
    pieces = [Piece("long", 2400, 100, None, 24.0), Piece("short", 1500, 100, 6, 12.0)]
    prices = ColumnGeneration(NestingJob(items, pieces, 3.0, 0))
    while prices.turn():
        pass
    master = prices.master
    paid = sum(price * value for price, value in zip(master.duals, [30, 50, 6], strict=True))
    assert paid == pytest.approx(master.cost(), rel=1e-5)
    assert min(prices.parts().values()) > 0


def test_a_batch_by_its_mix_is_whole_cheap_and_repeats() -> None:
    """Sixty tables' parts by the mix lie legally, cost no more than one board after another, and repeat."""
    items = [
        Item("leg", rectangle(0, 0, 690, 84), 120), Item("slat", trapezoid(520, 45, 45), 180),
        Item("pad", polygon(((0, 0), (110, 0), (110, 90), (90, 110), (0, 110))), 60),
    ]  # fmt: skip
    pieces = [Piece("wide", 2400, 200, None, 30.0), Piece("narrow", 2100, 110, 40, 13.0)]
    layout = mixed(items, pieces, 3.2)
    assert layout is not None
    assert layout.unplaced == {}
    assert wrongs(layout, items, pieces, 3.2) == []
    assert layout == mixed(items, pieces, 3.2)
    laid = Counter(one.code for sheet in layout.sheets for one in sheet.laid)
    assert laid == {item.code: item.count for item in items}
    assert nest(items, pieces, 3.2).cost <= layout.cost

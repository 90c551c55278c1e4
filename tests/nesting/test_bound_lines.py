"""The bound by lines: every limit holds on every sheet, no layout beats it, and it meets optima known by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import combinations_with_replacement, product
from random import Random

import pytest

from templategen.errors import StockError
from templategen.geometry.outline import polygon, rectangle
from templategen.nesting.bound import bound, by_area, sections_of
from templategen.nesting.knapsack import chosen, most_value
from templategen.nesting.line_systems import System, systems
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import random_job, random_workshop, soon, trapezoid


def systems_of(piece: Piece, items: Sequence[Item], spacing: float) -> list[System]:
    """All systems of a piece, every item known."""
    half = piece.apart(spacing) / 2
    shapes = [sections_of(item, half) if piece.grain else None for item in items]
    return list(systems(0, piece, piece.apart(spacing), items, shapes))


def random_worths(sizes: Sequence[int], dice: Random) -> list[float]:
    """By chance, by size, or 1 from some size on."""
    from_here = dice.choice(sizes)
    by_chance, by_size = [dice.random() for _ in sizes], [float(size) for size in sizes]
    return dice.choice((by_chance, by_size, [float(size >= from_here) for size in sizes]))


@pytest.mark.parametrize("seed", range(4000, 4016))
def test_every_limit_holds_on_every_sheet(seed: int) -> None:
    """Whatever the sizes on a line are said to be worth, no sheet of a proved layout passes the limit."""
    items, pieces, spacing = random_workshop(seed) if seed % 2 else random_job(seed)
    layout = soon(items, pieces, spacing)
    dice = Random(seed)
    for sheet in layout.sheets:
        held = Counter(laid.code for laid in sheet.laid)
        for system in systems_of(sheet.piece, items, spacing):
            for _ in range(4):
                values, whole = system.limit(random_worths(system.sizes, dice))
                asked = sum(worth * held[item.code] for worth, item in zip(values, items, strict=True))
                assert asked <= whole * (1 + 1e-6) + 1e-6


def test_a_limit_is_not_idle() -> None:
    """With one part more than a line can hold the limit is passed: three halves and a bit on a board of three."""
    items, board = [Item("leg", rectangle(0, 0, 700, 90), 5)], Piece("board", 1500, 100)
    (along,) = [one for one in systems_of(board, items, 3.0) if one.axis == 1 and not one.single]
    values, whole = along.limit([float(size == along.sizes[-1]) for size in along.sizes])
    assert 2 * values[0] <= whole < 3 * values[0]


@pytest.mark.parametrize("seed", range(4100, 4120))
def test_no_layout_of_a_workshop_beats_the_bound(seed: int) -> None:
    """Layouts that leave nothing over cost no less and take no fewer pieces."""
    items, pieces, spacing = random_workshop(seed) if seed % 2 else random_job(seed)
    priced = any(piece.price for piece in pieces)
    layout = soon(items, pieces, spacing)
    if layout.unplaced or priced != any(sheet.piece.price for sheet in layout.sheets):
        return
    least = bound(items, pieces, spacing)
    assert least.cost <= layout.cost * (1 + 1e-9)
    assert least.pieces <= len(layout.sheets)
    assert least.cost >= by_area(items, pieces, spacing, priced).cost * (1 - 1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6000, 6400))
def test_no_layout_of_many_workshops_beats_the_bound(seed: int) -> None:
    """Four hundred workshops more keep to it."""
    test_no_layout_of_a_workshop_beats_the_bound(seed)


@cache
def tiny_job(seed: int) -> tuple[list[Item], list[Piece], float, float]:
    """A tiny job, its least cost, and the bound on it."""
    sizes, pieces = tiny(seed)
    items = [Item(f"p{n}", rectangle(0, 0, *size), 1) for n, size in enumerate(sizes)]
    try:
        told = bound(items, pieces, 0.0).cost
    except StockError:
        told = float("inf")
    return items, pieces, optimum(sizes, pieces), told


def tiny(seed: int) -> tuple[list[tuple[int, int]], list[Piece]]:
    """A few small rectangles in whole millimetres, and boards of two sizes to cut them from."""
    dice = Random(seed)
    sizes = [(dice.randint(2, 7), dice.randint(1, 4)) for _ in range(dice.randint(2, 5))]
    pieces = []
    for name in "ab"[: dice.randint(1, 2)]:
        length, width = dice.randint(7, 9), dice.randint(4, 6)
        knot = ((float(dice.randint(1, length - 2)), float(dice.randint(0, width - 1)), 1.0, 1.0),)
        faults = knot if dice.random() < 0.4 else ()
        pieces.append(Piece(name, length, width, None, float(dice.randint(3, 9)), defect_areas=faults))
    return sizes, pieces


def packs(piece: Piece, sizes: Sequence[tuple[int, int]]) -> bool:
    """Whether the rectangles lie on the piece in some way, by trying every place in whole millimetres.

    Whole sizes can always be pushed down and left to whole places, or to the edges of a fault, which are whole too.
    """
    length, width = int(piece.length), int(piece.width)
    taken = {
        (x, y)
        for left, bottom, across, up in piece.defect_areas
        for x in range(int(left), int(left + across))
        for y in range(int(bottom), int(bottom + up))
    }

    def lay(number: int, taken: set[tuple[int, int]]) -> bool:
        if number == len(sizes):
            return True
        across, up = sizes[number]
        for x, y in product(range(length - across + 1), range(width - up + 1)):
            cells = {(x + i, y + j) for i in range(across) for j in range(up)}
            if not cells & taken and lay(number + 1, taken | cells):
                return True
        return False

    area = sum(across * up for across, up in sizes)
    return area <= length * width - len(taken) and lay(0, taken)


def divisions(count: int, kinds: int) -> Iterator[tuple[int, ...]]:
    """Every way of giving each part to one of so many boards."""
    yield from product(range(kinds), repeat=count)


def optimum(sizes: Sequence[tuple[int, int]], pieces: Sequence[Piece]) -> float:
    """The least cost by trying every set of boards and every division of the parts over it."""
    order = sorted(sizes, key=lambda size: -size[0] * size[1])
    sets = [
        boards for n in range(1, len(order) + 1) for boards in combinations_with_replacement(range(len(pieces)), n)
    ]
    sets.sort(key=lambda boards: sum(pieces[kind].price for kind in boards))
    known: dict[tuple[int, tuple[tuple[int, int], ...]], bool] = {}
    for boards in sets:
        for owners in divisions(len(order), len(boards)):
            groups = [tuple(s for s, o in zip(order, owners, strict=True) if o == b) for b in range(len(boards))]
            keys = [(kind, group) for kind, group in zip(boards, groups, strict=True)]
            for key in keys:
                if key not in known:
                    known[key] = packs(pieces[key[0]], key[1])
                if not known[key]:
                    break
            else:
                return sum(pieces[kind].price for kind in boards)
    return float("inf")


@pytest.mark.parametrize("seed", range(60))
def test_the_bound_is_never_above_the_true_least(seed: int) -> None:
    """On tiny jobs the least cost is found by trying everything; the bound stays at or below it."""
    _, _, least, told = tiny_job(seed)
    assert told <= least


@pytest.mark.wide
def test_the_bound_is_often_the_true_least() -> None:
    """On tiny jobs that one board can't hold it meets the least in most, and more often than areas alone do."""
    met = by_areas = jobs = 0
    for seed in range(60):
        items, pieces, least, told = tiny_job(seed)
        if least == float("inf"):
            continue
        jobs += 1
        met += told == least
        by_areas += by_area(items, pieces, 0.0, True).cost == least
    assert met >= 0.8 * jobs
    assert met > by_areas


KNOWN = [
    # Two legs of 700 lie behind each other on 1,500: five take three boards, by area two would do.
    ([Item("leg", rectangle(0, 0, 700, 90), 5)], [Piece("b", 1500, 200 - 100)], 3.0, 3),
    # Rails of 60 on boards of 100 can't lie beside each other, whatever their length.
    (
        [Item("r", rectangle(0, 0, 450, 60), 4), Item("s", rectangle(0, 0, 500, 55), 2)],
        [Piece("b", 1000, 100)], 4.0, 3,
    ),
    # A knot in the middle leaves two places of 480 each: one rail in each.
    ([Item("r", rectangle(0, 0, 450, 90), 4)], [Piece("b", 1000, 100, defects=((500, 50, 40),))], 4.0, 2),
    # The same with a rectangle across the board that leaves 300 and 620.
    ([Item("r", rectangle(0, 0, 310, 90), 4)], [Piece("b", 1000, 100, defect_areas=((300, 0, 80, 100),))], 4.0, 4),
    # Bad ends and margins leave 1,390 of 1,500: one leg instead of two.
    (
        [Item("leg", rectangle(0, 0, 700, 90), 2)],
        [Piece("b", 1500, 100, bad_ends=(100, 0), margin=(5, 10, 2, 2))], 3.0, 2,
    ),
    # Mitred blanks as wide as their board: ten of 400 and 300 need 10 x 353 - 3 = 3,527 along the middle.
    ([Item("rim", trapezoid(400, 150, 50), 10)], [Piece("b", 3520, 150)], 3.0, 2),
    # Upright grain counts too: legs drawn upright lie along the board.
    ([Item("leg", rectangle(0, 0, 90, 700), 3, grain_turn=1.5707963267948966)], [Piece("b", 1500, 100)], 3.0, 2),
]  # fmt: skip


@pytest.mark.parametrize(("items", "pieces", "spacing", "boards"), KNOWN)
def test_the_bound_meets_optima_known_by_hand(
    items: list[Item], pieces: list[Piece], spacing: float, boards: int
) -> None:
    """Where lanes decide the bound is the number of boards that a layout takes."""
    least = bound(items, pieces, spacing)
    layout = nest(items, pieces, spacing)
    assert not layout.unplaced
    assert least.pieces == len(layout.sheets) == boards
    assert least.cost == pytest.approx(layout.cost)


def test_the_dearer_board_is_asked_for_where_only_it_serves() -> None:
    """Wide parts must have the wide board though the narrow one is cheaper for its area."""
    wide, narrow = Piece("wide", 1000, 200, price=50.0), Piece("narrow", 1000, 110, price=5.0)
    items = [Item("w", rectangle(0, 0, 900, 150), 2), Item("n", rectangle(0, 0, 900, 100), 3)]
    least = bound(items, [wide, narrow], 3.0)
    assert (least.cost, least.pieces) == (2 * 50.0 + 3 * 5.0, 5)
    assert "no line" in least.how


def test_stock_that_lines_show_to_be_short_is_said() -> None:
    """Enough area in pieces too short is no stock."""
    with pytest.raises(StockError, match="can't hold all parts"):
        bound([Item("leg", rectangle(0, 0, 700, 60), 5)], [Piece("b", 1500, 100, 2)], 3.0)


def test_what_is_reached_is_not_sharpened() -> None:
    """A bound by area that a layout meets already is handed on as it is."""
    items, pieces = [Item("leg", rectangle(0, 0, 700, 90), 2)], [Piece("b", 1500, 100)]
    assert "no line" not in bound(items, pieces, 3.0, enough=(1, 150_000.0)).how


@pytest.mark.parametrize("seed", range(30))
def test_the_knapsack_finds_the_most(seed: int) -> None:
    """Its table is that of trying every choice, and the choice it names is worth what the table says."""
    dice = Random(seed)
    sizes = [dice.randint(1, 9) for _ in range(3)]
    values, most = [dice.random() for _ in sizes], [dice.randint(0, 4) for _ in sizes]
    every = [
        (sum(n * s for n, s in zip(some, sizes, strict=True)), sum(n * w for n, w in zip(some, values, strict=True)))
        for some in product(*(range(n + 1) for n in most))
    ]
    table = most_value(sizes, values, most, 20)
    for room in range(21):
        assert table[room] == pytest.approx(max(worth for size, worth in every if size <= room))
    again, ways = chosen(sizes, values, most, [7, 20])
    for room, way in zip((7, 20), ways, strict=True):
        assert sum(n * sizes[place] for place, n in way.items()) <= room
        assert all(n <= most[place] for place, n in way.items())
        assert sum(n * values[place] for place, n in way.items()) == pytest.approx(again[room]) == table[room]


def test_slanted_parts_count_with_their_slants() -> None:
    """Wedges that fill a board two by two need as many boards as pairs."""
    wedge = polygon(((0, 0), (900, 0), (900, 40), (0, 90)))
    board = Piece("b", 910, 133)
    assert bound([Item("w", wedge, 6)], [board], 3.0).pieces == 3

"""Shortage: what is told to be bought is bought, and holds everything."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from templategen.geometry.outline import rectangle
from templategen.nesting.nest import nest
from templategen.nesting.shortage import NoRoom, Shortage, shortage
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import random_workshop


@pytest.fixture(autouse=True, scope="module")
def quickly() -> Iterator[None]:
    """A tenth of the usual work on layouts."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 300)
        yield


LEG = Item("leg", rectangle(0, 0, 700, 90), 5)


def told(items: Sequence[Item], pieces: Sequence[Piece], spacing: float = 3.0) -> Shortage:
    """What is short of a job."""
    return shortage(nest(items, pieces, spacing), items, pieces, spacing)


def bought(pieces: Sequence[Piece], short: Shortage) -> list[Piece]:
    """The stock with what was told to be bought; pieces without the faults come as an entry of their own."""
    more = []
    for piece in pieces:
        extra = short.buy.get(piece.name, 0)
        if extra and piece.name in short.clean:
            more.append(
                replace(
                    piece, name=f"new {piece.name}", count=extra, defects=(), defect_areas=(), bad_ends=(0.0, 0.0)
                )
            )
        more.append(
            piece if piece.count is None or piece.name in short.clean else replace(piece, count=piece.count + extra)
        )
    return more


def test_three_legs_left_over_take_two_boards_more() -> None:
    """With one board of two legs there and five wanted, two boards more do, and they are named with their price."""
    short = told([LEG], [Piece("b", 1500, 100, 1, 16.0)])
    assert (short.buy, short.cost, short.never, short.clean) == ({"b": 2}, 32.0, (), ())


def test_the_cheapest_set_may_be_of_several_kinds() -> None:
    """Three legs more are cheapest on a board of two and a board of one."""
    pieces = [Piece("two", 1500, 100, 1, 16.0), Piece("one", 720, 100, 0, 9.0)]
    short = told([LEG], pieces)
    assert (short.buy, short.cost) == ({"two": 1, "one": 1}, 25.0)


def test_room_that_is_left_is_counted_in() -> None:
    """Where what is there takes more once parts move over, fewer pieces are bought."""
    items = [Item("a", rectangle(0, 0, 980, 90), 1), Item("b", rectangle(0, 0, 480, 90), 2)]
    short = told(items, [Piece("long", 1000, 100, 1)])
    assert short.buy == {"long": 1}


def test_a_part_that_fits_nowhere_is_said_to() -> None:
    """A part longer than all stock is named apart from those that more stock would hold."""
    items = [LEG, Item("beam", rectangle(0, 0, 3000, 50), 1)]
    short = told(items, [Piece("b", 1500, 100, 1, 16.0)])
    assert (short.buy, short.never) == ({"b": 2}, ("beam",))
    assert short.no_room == (NoRoom("beam", 3000, 50, "b", 1500, 100),)


def test_new_pieces_may_have_to_be_clear() -> None:
    """Where a knot in every listed board stands in the way, boards without it are asked for."""
    short = told([replace(LEG, count=1)], [Piece("b", 720, 100, 1, 16.0, ((300, 50, 40),))])
    assert (short.buy, short.clean) == ({"b": 1}, ("b",))


def test_nothing_is_short_where_all_is_laid() -> None:
    """A whole layout asks for nothing."""
    assert told([LEG], [Piece("b", 1500, 100)]) == Shortage()


@pytest.mark.parametrize("seed", range(5000, 5012))
def test_with_what_is_bought_everything_is_laid(seed: int) -> None:
    """The job runs again with the pieces told and leaves nothing but what was said to fit nowhere."""
    items, pieces, spacing = random_workshop(seed)
    pieces = [replace(piece, count=piece.count and 1) for piece in pieces]
    layout = nest(items, pieces, spacing)
    short = shortage(layout, items, pieces, spacing)
    if not layout.unplaced or not (short.buy or short.never):
        assert bool(layout.unplaced) or short == Shortage()
        return
    left = nest(items, bought(pieces, short), spacing).unplaced
    assert set(left) <= set(short.never) if short.buy else True


def test_what_fits_between_two_knots_is_laid_there_and_bought_with_them() -> None:
    """A rail that only the stretch between two knots takes is possible, and no clean boards are asked for."""
    rail = Item("rail", rectangle(0, 0, 1149, 92), 3)
    board = Piece("rail board", 2400, 110, 1, 16.5, defects=((600, 55, 60), (1800, 55, 30)))
    found = told([rail], [board])
    assert (dict(found.buy), found.clean, found.never) == ({"rail board": 2}, (), ())

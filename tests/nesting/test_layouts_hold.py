"""Layouts of random workshops: legal by another library's reckoning, and every change for the worse is caught."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from math import pi
from random import Random

import pytest

from templategen.geometry.outline import rectangle
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Laid, Layout, Mode, Piece
from templategen.nesting.verify import verify
from tests.nesting.cases import proved, random_workshop, soon, wrongs


@lru_cache(64)
def shown(seed: int, seconds: float) -> tuple[Layout, list[Item], list[Piece], float]:
    """A random workshop and what is laid in it."""
    items, pieces, spacing = random_workshop(seed)
    return soon(items, pieces, spacing, seconds), items, pieces, spacing


@pytest.mark.parametrize("seed", range(2000, 2060))
def test_random_workshops_are_laid_legally(seed: int) -> None:
    """Margins, faults, bad ends, grain, both kerfs and counts are kept, and what finds no place is named."""
    layout, items, pieces, spacing = shown(seed, 0.01)
    assert wrongs(layout, items, pieces, spacing) == []


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3000, 3500))
def test_many_random_workshops_are_laid_legally(seed: int) -> None:
    """Five hundred workshops more keep the same promises."""
    items, pieces, spacing = random_workshop(seed)
    layout = nest(items, pieces, spacing, 0.1)
    assert wrongs(layout, items, pieces, spacing) == []


def changed(layout: Layout, sheet: int, laid: int, **change: float | bool) -> Layout:
    """The layout with one part's place changed."""
    sheets = list(layout.sheets)
    parts = list(sheets[sheet].laid)
    parts[laid] = replace(parts[laid], placement=replace(parts[laid].placement, **change))
    sheets[sheet] = replace(sheets[sheet], laid=tuple(parts))
    return replace(layout, sheets=tuple(sheets))


def spoilt(layout: Layout, dice: Random) -> Iterator[tuple[str, Layout]]:
    """A layout changed in one way after another."""
    places = [(s, n) for s, sheet in enumerate(layout.sheets) for n in range(len(sheet.laid))]
    s, n = dice.choice(places)
    sheet = layout.sheets[s]
    at = sheet.laid[n].placement
    for side, name in ((-1, "back"), (1, "on")):
        yield f"moved {name}", changed(layout, s, n, x=at.x + 0.1 * side)
        yield f"moved {name} across", changed(layout, s, n, y=at.y + 0.1 * side)
        yield f"moved far {name}", changed(layout, s, n, x=at.x + 120 * side, y=at.y + 35 * side)
    yield "turned by 90 degrees", changed(layout, s, n, turn=at.turn + pi / 2)
    yield "turned a little", changed(layout, s, n, turn=at.turn + 0.002)
    yield "turned over", changed(layout, s, n, turned_over=not at.turned_over)
    lost = (*sheet.laid[:n], *sheet.laid[n + 1 :])
    yield "lost", replace(layout, sheets=tuple(replace(sheet, laid=lost) if sheet is o else o for o in layout.sheets))
    twice = (*sheet.laid, Laid(sheet.laid[n].code, at))
    yield "doubled", replace(layout, sheets=tuple(replace(o, laid=twice) if o is sheet else o for o in layout.sheets))


@pytest.mark.parametrize("seed", range(2000, 2012))
def test_the_proof_catches_what_another_library_catches(seed: int) -> None:
    """Parts moved, turned, turned over, lost and doubled are told by the proof whenever shapely finds them wrong."""
    layout, items, pieces, spacing = shown(seed, 0.01)
    if not layout.sheets:
        return
    assert verify(layout, items, pieces, spacing) == ()
    for what, bad in spoilt(layout, Random(seed)):
        found = wrongs(bad, items, pieces, spacing)
        told = verify(bad, items, pieces, spacing)
        assert not found or told, (what, found)


def test_the_changes_are_mostly_wrong() -> None:
    """The changes above would not be worth much were they legal: nearly all of them are told."""
    told = count = 0
    for seed in range(2000, 2006):
        layout, items, pieces, spacing = shown(seed, 0.01)
        for _, bad in spoilt(layout, Random(seed)) if layout.sheets else ():
            told, count = told + bool(verify(bad, items, pieces, spacing)), count + 1
    assert told / count > 0.7


@pytest.mark.parametrize("seed", range(2130, 2140))
def test_sawn_stock_keeps_the_kerf_and_routed_stock_the_bit(seed: int) -> None:
    """Where both lie side by side each sheet is proved with its own distance, the sawing too."""
    layout, items, pieces, spacing = shown(seed, 0.03)
    assert proved(layout, items, pieces, spacing) == ()
    wider = [replace(piece, spacing=0.0) for piece in pieces]
    one = replace(layout, sheets=tuple(replace(s, piece=wider[pieces.index(s.piece)]) for s in layout.sheets))
    narrow = wrongs(one, items, wider, spacing)
    assert bool(verify(one, items, wider, spacing)) == bool(narrow)


@pytest.mark.parametrize("across", [0.5, 4.7, 7.9])
def test_a_knot_narrower_than_the_bit_keeps_nothing_apart(across: float) -> None:
    """Parts on both sides of a small knot are a bit's width from each other, not a knot's."""
    items = [Item("p", rectangle(0, 0, 140, 90), 6)]
    board = Piece("b", 1000, 100, 1, defects=((300, 50, across),), defect_areas=((650, 0, across, 100),))
    for mode in ("sawn", "routed"):
        layout = nest(items, [replace(board, mode=mode)], 8.0)
        assert layout.unplaced == {}
        assert wrongs(layout, items, [replace(board, mode=mode)], 8.0) == []


@pytest.mark.parametrize("end", [340, 1160])
@pytest.mark.parametrize("mode", ["sawn", "routed"])
def test_a_board_is_crosscut_beside_its_knot(end: int, mode: Mode) -> None:
    """A rim blank that leaves no room beside the knot is sawn off one end, a rail passes the knot in the rest: all
    three boards are full, whichever end the knot is near. A blank that lay against the knot took a board alone."""
    items = [Item("rim", rectangle(0, 0, 827, 161), 1), Item("short", rectangle(0, 0, 615, 161), 2)]
    items += [Item("rail", rectangle(0, 0, 658, 101), 3)]
    board = Piece("b", 1500, 200, 3, margin=5, defects=((end, 32, 60),), mode=mode)
    layout = nest(items, [board], 3.0)
    assert layout.unplaced == {} and len(layout.sheets) == 3
    assert wrongs(layout, items, [board], 3.0) == []

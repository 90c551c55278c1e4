"""Sheets for jigs: pieces in each other's hollows where that saves a sheet, and never a dearer layout."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from math import fsum

import pytest

from templategen.errors import DesignError
from templategen.geometry.outline import polygon, rectangle
from templategen.nesting.engines.job import costs_of
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import AT_ONCE, nest_at_once
from templategen.nesting.stock import Item, Layout, Piece
from templategen.packet.shipped import shipped_text
from templategen.packet.stages import ORDERS
from templategen.packet.supply import Supply, joint_supplies
from templategen.packet.table_stages import begun
from templategen.table.profile.read import profile_from_text
from tests.nesting.cases import random_job, wrongs
from tests.random_profiles import profile_text

SHEETS = """
[[stock]]
name = "plywood"
kind = "sheet"
wood = "plywood"
length = "{length} mm"
width = "1220 mm"
thickness = "12 mm"
price = {price}
"""
RANDOM = '[jigs]\nthickness = "12 mm"\n' + SHEETS.format(length=2440, price=40)
HALF = SHEETS.format(length=1220, price=24).replace('"plywood"\nkind', '"half a sheet"\nkind')


@cache
def of_jigs(text: str, name: str) -> tuple[Supply, ...]:
    """The sheets that the jigs of a table are cut from, with their pieces."""
    profile = profile_from_text(text, name)
    served, _ = joint_supplies(begun(profile, ("stock", "jigs"))[ORDERS], profile.stock)
    return tuple(one for one in served if one.only_jigs)


def spent(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece]) -> tuple[float, float, int]:
    """What counts, the weightiest first: wood of parts left over, cost (nothing for the rack's), number of pieces."""
    costs, area = costs_of(pieces), {item.code: abs(item.outline.area) for item in items}
    missing = fsum(area[code] * count for code, count in layout.unplaced.items())
    cost = fsum(costs[pieces.index(sheet.piece)] for sheet in layout.sheets)
    return round(missing, 3), round(cost, 6), len(layout.sheets)


def no_dearer(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
    """By outline nothing is dearer than with every piece in its box, all is laid, and legally."""
    boxed, found = Rectangles(plain=True).nest(items, pieces, spacing, AT_ONCE), nest_at_once(items, pieces, spacing)
    assert spent(found, items, pieces) <= spent(boxed, items, pieces)
    assert wrongs(found, items, pieces, spacing) == []


@pytest.mark.parametrize(("name", "sheets"), [("towpath-inch", 2)])
def test_jigs_of_a_large_table_come_out_of_two_sheets(name: str, sheets: int) -> None:
    """In boxes they take three; all that is cut lies clear of its neighbours and the edges."""
    (supply,) = of_jigs(shipped_text(name), name)
    no_dearer(supply.items, supply.pieces, supply.spacing)
    assert len(nest_at_once(supply.items, supply.pieces, supply.spacing).sheets) == sheets


@pytest.mark.wide
@pytest.mark.parametrize("name", ["towpath-side", "towpath-hex", "towpath-dining"])
@pytest.mark.parametrize("more", [RANDOM, RANDOM + HALF], ids=["whole", "half"])
def test_no_shipped_table_has_dearer_sheets(name: str, more: str) -> None:
    """Whole sheets, or halves too."""
    text = shipped_text(name)
    text = text.replace("[jigs]", "") + more if "[jigs]" not in text else text + more.replace("[jigs]\n", "")
    for supply in of_jigs(text, name):
        no_dearer(supply.items, supply.pieces, supply.spacing)


@pytest.mark.wide
@pytest.mark.parametrize("seed", range(20))
def test_no_random_table_has_dearer_sheets(seed: int) -> None:
    """The same of tables that a maker could want."""
    try:
        supplies = of_jigs(profile_text(seed) + RANDOM + (HALF if seed % 2 else ""), f"random-{seed}")
    except DesignError:
        return
    for supply in supplies:
        no_dearer(supply.items, supply.pieces, supply.spacing)


@pytest.mark.parametrize("seed", range(30))
def test_random_jobs_are_no_dearer_and_legal(seed: int) -> None:
    """Knots, bad ends, grain, prices and counts of pieces are kept, as by the other engines."""
    items, pieces, spacing = random_job(seed)
    no_dearer(items, [replace(piece, mode="routed") for piece in pieces], spacing)


def test_angles_lie_in_each_other() -> None:
    """Two thin angles and a chip in one piece, which take three in boxes; sawn stock stays in boxes."""
    angle = polygon(((0, 0), (300, 0), (300, 40), (40, 40), (40, 300), (0, 300)))
    items = [Item("angle", angle, 2), Item("chip", rectangle(0, 0, 100, 100), 1)]
    piece = Piece("sheet", 360, 360, None, 10.0, grain=False)
    assert len(nest_at_once(items, [piece], 5.0).sheets) == 1
    assert len(nest_at_once(items, [replace(piece, mode="sawn")], 5.0).sheets) == 3


def test_half_a_sheet_takes_the_place_of_a_whole_one() -> None:
    """A cheaper piece that holds the rest is taken, and one of the rack that costs nothing before all others."""
    angle = polygon(((0, 0), (300, 0), (300, 40), (40, 40), (40, 300), (0, 300)))
    items = [Item("angle", angle, 2)]
    whole, half = Piece("whole", 720, 360, None, 20.0, grain=False), Piece("half", 360, 360, None, 12.0, grain=False)
    assert [one.piece.name for one in nest_at_once(items, [whole, half], 5.0).sheets] == ["half"]
    rack = replace(half, name="rack", price=0.0, count=1)
    assert [one.piece.name for one in nest_at_once(items, [whole, half, rack], 5.0).sheets] == ["rack"]

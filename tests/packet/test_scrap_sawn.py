"""Scrap of a size comes out of what parts and test strips leave of the boards; the page says which rest gives it."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from templategen.packet.offcut_list import BOUGHT, Offcut
from templategen.packet.page.buy import at_hand, buying
from templategen.packet.page.sizes import size
from templategen.packet.scrap_sawn import scrap_sawn
from templategen.packet.stages import LAID, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.packet.trial_offcuts import strips_sawn
from templategen.shop.trial_wood import trial_wood
from templategen.work.tool import Tool
from templategen.work.tools import tools_of
from tests.table.made import profile_of

NAMES = ("towpath-dining", "towpath-side", "towpath-inch", "towpath-hex")


@cache
def sawn(
    name: str,
) -> tuple[tuple[Offcut, ...], tuple[Tool, ...], tuple[tuple[str, ...], ...], tuple[str, ...]]:
    """What is left of the boards, the rows, the wood of each row's pieces, and the page's lines."""
    worked = begun(profile_of(name=name), shares=("stock", "lists"))
    table, laid, work = worked[TABLE], worked[LAID], worked[WORK]
    shop, stock = table.profile.shop, table.profile.stock
    left = strips_sawn(shop, stock, laid, trial_wood(table, work.set_ups)).left
    boards = {one.name for one in stock if one.kind == "board"}
    tools = tools_of(table, work)
    found = scrap_sawn(shop, stock, left, tools)
    return tuple(one for one in left if one.stock in boards), tools, found, at_hand(table, laid, work).short


@pytest.mark.parametrize("name", NAMES)
def test_each_piece_of_scrap_has_wood_that_holds_it(name: str) -> None:
    """Of that name and large enough, no more out of it than it is; what none holds is told as to be found."""
    left, tools, found, lines = sawn(name)
    taken, rooms, given = Counter[str](), Counter[str](), 0
    for one in left:
        rooms[one.piece.name] += round(one.piece.length * one.piece.width * one.thickness)
    for tool, names, line in zip(tools, found, lines, strict=True):
        assert len(names) == (tool.count if tool.scrap else 0)
        if not tool.scrap:
            assert ", out of " not in line
            continue
        long, *section = tool.scrap
        for wood in names:
            holding = [
                one for one in left
                if one.piece.length >= long - 1e-6
                and any(one.piece.width >= across - 1e-6 and one.thickness >= through - 1e-6
                        for across, through in (section, section[::-1]))
            ]  # fmt: skip
            assert not wood or any(one.piece.name == wood for one in holding), (tool, wood)
            given += bool(wood)
            taken[wood] += round(long * section[0] * section[1])
        assert ("scrap to be found" in line) == ("" in names)
        assert all(wood in line for wood in names)
    assert all(volume <= rooms[wood] for wood, volume in taken.items() if wood)
    assert given >= 10


def test_battens_come_out_of_the_plank_that_one_short_strip_was_bought_for() -> None:
    """It was whole, for a strip of 430 mm; six battens 50 mm high are sawn out of its rest."""
    left, tools, found, _ = sawn("towpath-dining")
    (at,) = (at for at, tool in enumerate(tools) if tool.item == "battens of one height")
    assert set(found[at]) == {"base planks, one more"} and len(found[at]) == 6
    assert any(one.piece.name == "base planks, one more" and one.piece.length > 1500 for one in left)


def test_what_no_rest_holds_is_to_be_found() -> None:
    """Balks as wide as a router's base needs, longer than any rest of that width."""
    _, tools, found, lines = sawn("towpath-hex")
    (at,) = (at for at, tool in enumerate(tools) if tool.item == "balks")
    assert found[at] == ("", "") and "scrap to be found" in lines[at]


@pytest.mark.parametrize("name", NAMES)
def test_what_is_bought_for_strips_tells_its_rest(name: str) -> None:
    """Each board's, by its length and width, where it is bought."""
    worked = begun(profile_of(name=name), shares=("stock", "lists"))
    table, laid, work = worked[TABLE], worked[LAID], worked[WORK]
    strips = trial_wood(table, work.set_ups)
    (told,) = [line for line in buying(table, laid, (), strips).words if "leaves" in line]  # type: ignore[union-attr]
    left, _, _, _ = sawn(name)
    bought = [one for one in left if one.number == BOUGHT]
    units = table.profile.units
    assert bought and told.count(" x ") == 2 * len(bought)
    for one in bought:
        assert all(size(each, units).split(" ")[0] in told for each in (one.piece.length, one.piece.width))

"""Buying: boards by wood and thickness, board feet as yards tally them, hardware, finish."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

import pytest

from templategen.fit.plan import Plan, plan_assembly
from templategen.output.packet_json import part_json
from templategen.output.table_csv import csv_bytes
from templategen.packet.shipped import shipped_names
from templategen.shop.boards import SAWN_MM, boards_list, boards_of, rough_thickness, tally
from templategen.shop.explained import explained
from templategen.shop.finish import finish_of, litres, surface
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.hardware import hardware, hardware_list
from templategen.shop.rough import rough_of
from templategen.table.assembly import Table
from tests.random_profiles import tables
from tests.table.made import table_of

UNPLANNED = Plan((), "locked")


@lru_cache
def shipped(name: str) -> Table:
    """A shipped table."""
    return table_of(name=name)


def rows(listed: tuple[list[str], list[list[Any]]]) -> list[dict[str, Any]]:
    """A list's rows as mappings."""
    header, lines = listed
    assert csv_bytes(header, lines)
    return [dict(zip(header, line, strict=True)) for line in lines]


@pytest.mark.parametrize("name", shipped_names())
def test_every_part_is_among_the_boards_once(name: str) -> None:
    """Each kind of part comes out of one thickness, with all its copies, and net volumes are the blanks' own."""
    table = shipped(name)
    boards = boards_of(table, tables=3)
    codes = [code for one in boards for code in one.codes]
    assert sorted(codes) == sorted(part.code for part in table.parts)
    assert sum(one.pieces for one in boards) == 3 * sum(part.count for part in table.parts)
    net = sum(3 * p.count * p.size[0] * p.size[1] * p.size[2] for p in table.parts) / 1e9
    assert sum(one.net for one in boards) == pytest.approx(net)
    for one in boards:
        assert all(table.part(code).thickness <= one.bought + 0.05 for code in one.codes)
        assert one.volume > one.net


def test_what_to_ask_for_is_reckoned_by_hand() -> None:
    """Six legs of 675 by 70 by 70 from 75 mm posts: 25 mm longer, 5 mm wider, a fifth on top."""
    (legs,) = [one for one in boards_of(shipped("towpath-dining")) if one.codes == ("LEG",)]
    assert (legs.bought, legs.rough) == (75.0, 100.0)
    assert legs.volume == pytest.approx(6 * 700 * 75 * 75 * 1.2 / 1e9)
    more = boards_of(table_of({"shop.waste": 50.0}))
    assert next(one for one in more if one.codes == ("LEG",)).volume == pytest.approx(legs.volume / 1.2 * 1.5)


def test_planed_boards_are_asked_for_as_sawn() -> None:
    """Oak listed planed to 1-1/2 in is reckoned by 8/4, what is bought thicker than its part by its own thickness."""
    boards = boards_of(shipped("towpath-inch"))
    for one in boards:
        assert one.sawn >= one.bought and one.board_feet > one.net_board_feet
    (rails,) = [one for one in boards if "RAIL-LOW" in one.codes]
    assert (rails.bought / 25.4, rails.quarters, rails.sawn / 25.4) == (pytest.approx(1.5), "8/4", pytest.approx(2.0))
    assert rails.volume * 1e9 / 25.4**3 / 144 == pytest.approx(rails.board_feet)
    (legs,) = [one for one in boards_of(shipped("towpath-dining")) if one.codes == ("LEG",)]
    assert legs.sawn == legs.bought


def test_an_inch_table_is_told_its_glue_and_finish_in_american_units() -> None:
    """The amount keeps the unit of the rates; beside it stand pounds and quarts, no litre or gram in the words."""
    table = shipped("towpath-inch")
    for one in hardware(table, gluing_plan(table, UNPLANNED)):
        if one.unit in ("kg", "l"):
            assert float(one.size.split()[0]) == pytest.approx(
                one.amount * {"kg": 1 / 0.45359237, "l": 1 / 0.946352946}[one.unit], abs=0.06
            )
            assert not any(f" {unit} " in f"{one.use} {one.assumed}" for unit in ("g", "l", "kg", "m2", "litre"))


def test_without_stock_boards_are_bought_as_yards_saw_them() -> None:
    """A profile without stock asks for the thinnest sawn thickness from which a part can be planed."""
    table = shipped("towpath-dining")
    bare = replace(table, profile=replace(table.profile, stock=()))
    by_code = {code: one.bought for one in boards_of(bare) for code in one.codes}
    assert (by_code["RIM-A"], by_code["SLAT-01"], by_code["BASE-LOW"], by_code["LEG"]) == (44, 27, 75, 100)
    assert all(row["stock"] == row["yield"] == "" for row in rows(boards_list(bare, {})))


@pytest.mark.parametrize("thickness", [9.9, 18.0, 22.0, 38.0, 45.0, 50.0, 58.0, 68.0])
def test_rough_boards_leave_enough_to_plane(thickness: float) -> None:
    """Of the sawn thicknesses that leave 5 mm to plane, 7 mm over 50 mm, the thinnest is named."""
    least = thickness + (5 if thickness <= 50 else 7)
    assert rough_thickness(thickness, "mm") == min(sawn for sawn in SAWN_MM if sawn >= least)


def test_quarters_are_named_for_inches() -> None:
    """An inch board is planed from 5/4, inch and a half from 8/4; nothing is sawn for half a metre."""
    assert rough_thickness(25.4, "in") == 1.25 * 25.4 and rough_thickness(38.1, "in") == 2 * 25.4
    assert rough_thickness(500, "mm") == 0.0
    quarters = {code: one.quarters for one in boards_of(shipped("towpath-inch")) for code in one.codes}
    assert (quarters["RIM-A"], quarters["SLAT-01L"]) == ("8/4", "5/4")


def test_yards_tally_whole_feet() -> None:
    """Surface measure is rounded to whole feet before it's multiplied; under an inch counts as an inch."""
    stock = shipped("towpath-inch").profile.stock[0]

    def of(length: float, width: float, thickness: float) -> float:
        return tally(replace(stock, length=length * 25.4, width=width * 25.4, thickness=thickness * 25.4), 2)

    assert of(96, 5.5, 1) == pytest.approx(2 * 4 * 1)
    assert of(96, 6, 1.5) == pytest.approx(2 * 4 * 1.5)
    assert of(96, 6, 0.5) == pytest.approx(2 * 4 * 1)


def test_stock_in_use_stands_beside() -> None:
    """Pieces the layouts take are counted with their volume and cost, in the row of their thickness alone."""
    told = rows(boards_list(shipped("towpath-dining"), {"rim boards": 2, "rail boards": 1}))
    (row,) = [row for row in told if row["stock"]]
    assert row["stock"] == "rim boards, rail boards" and row["stock_pieces"] == "3"
    assert float(row["stock_m3"]) == pytest.approx((2 * 2.4 * 0.15 + 2.4 * 0.11) * 0.038, abs=5e-5)
    assert float(row["stock_cost"]) == 2 * 21.50 + 16.5
    assert float(row["yield"]) == pytest.approx(float(row["net_m3"]) / float(row["stock_m3"]), abs=2e-3)


def sharp(table: Table) -> Table:
    """The table with no rounded or eased edges, and no pin slots: out of a solid they leave skins of no thickness
    where their end lies in the tongue's."""
    parts = (
        replace(p, features=tuple(f for f in p.features if not f.traits.arris and f.kind != "pin-slot"))
        for p in table.parts
    )
    return replace(table, parts=tuple(parts))


@pytest.mark.wide
def test_surface_is_that_of_the_solids() -> None:
    """The parts' faces with sharp edges have the surface of their solids: each within 2 %, all of a table 0.5 %."""
    pytest.importorskip("manifold3d")
    from tests.solids import solid

    made = [shipped(name) for name in shipped_names()] + list(tables(range(4)))
    for table in map(sharp, made):
        ours, theirs = 0.0, 0.0
        for part in table.parts:
            own, true = surface(part), solid(part_json(part, [])).surface_area()
            assert own == pytest.approx(true, rel=0.02), (table.profile.name, part.code)
            ours, theirs = ours + part.count * own, theirs + part.count * true
        assert ours == pytest.approx(theirs, rel=0.005), table.profile.name


def test_eased_edges_have_less_surface() -> None:
    """Easing takes off a little, under a fortieth."""
    table = shipped("towpath-dining")
    assert 0.975 < finish_of(table).faces / finish_of(sharp(table)).faces < 1


def test_litres_follow_area_and_coats() -> None:
    """One coat of 14 m2 takes one litre at least, 1.4 at most; the second coat goes 1.3 to 1.5 times as far."""
    assert litres(14, 1) == pytest.approx((1.0, 1.4))
    assert litres(14, 2) == pytest.approx((1 + 1 / 1.5, 1.4 * (1 + 1 / 1.3)))


@pytest.mark.parametrize("name", shipped_names())
def test_hardware_is_what_the_design_needs(name: str) -> None:
    """A pin for each end of each slat, glue for what is spread, finish; each with what is assumed."""
    table = shipped(name)
    told = {one.item: one for one in hardware(table, gluing_plan(table, UNPLANNED))}
    assert set(told) == {"slat pins", "finish"}
    slats = sum(part.count for part in table.parts if part.kind == "slat")
    ends = {joint.placed[1] for joint in table.joints if joint.kind == "tongue-and-groove"}
    assert len(ends) <= told["slat pins"].amount <= 2 * slats
    assert all(one.assumed and one.use for one in told.values())


@pytest.mark.parametrize("name", shipped_names())
def test_buying_is_explained(name: str) -> None:
    """Boards to ask for, bare faces, litres and a pin's length have quantities of the same value."""
    table = shipped(name)
    pages = explained(table, gluing=False)
    for number, boards in enumerate(boards_of(table), 1):
        assert pages[f"boards.{number}.to_buy"].value == pytest.approx(boards.volume)
    for part in table.parts:
        rough = rough_of(table.profile.shop, part)
        told = [pages[f"part.{part.code}.rough_{what}"].value for what in ("length", "width", "count")]
        assert told == pytest.approx([rough.length, rough.width, rough.count], abs=1e-6), part.code
    finish = finish_of(table)
    assert pages["finish.bare"].value == pytest.approx(finish.bare)
    told = (pages["finish.least.litres"].value, pages["finish.most.litres"].value)
    assert told == pytest.approx(finish.litres)
    groove = table.sizes.slat_groove
    assert pages["hardware.pin_length"].value == pytest.approx(groove.bottom + groove.tongue_thickness - 2)


def test_a_pin_never_shows() -> None:
    """A pin ends under the upper face of the tongue, and above what the drill's point leaves."""
    told = rows(hardware_list(hardware(shipped("towpath-dining"), gluing_plan(shipped("towpath-dining"), UNPLANNED))))
    groove = shipped("towpath-dining").sizes.slat_groove
    assert told[0]["size"] == "4 mm thick, 29 mm long"
    assert groove.bottom + groove.tongue_thickness - 2 == pytest.approx(30.69, abs=0.001)


def test_glue_is_bought_for_a_quarter_more() -> None:
    """Glue to buy is a quarter more than is spread, in whole ten grams, for all tables."""
    table = shipped("towpath-side")
    plan = gluing_plan(table, plan_assembly(table))
    for many in (1, 7):
        (glue,) = [one for one in hardware(table, plan, many) if one.unit == "kg"]
        wanted = plan.grams * many * 1.25 / 1000
        assert wanted <= glue.amount < wanted + 0.010001

"""Sheets carry the caution where the work is."""

from __future__ import annotations

import re

import pytest

from templategen.drawing.cautions import cautions, sawing
from templategen.drawing.drawing import Words
from templategen.drawing.part_sheet import part_drawing
from templategen.fit.plan import plan_assembly
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.shop.cautions import DEFER, DUST, general
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from templategen.work.plan import work_plan
from tests.table.made import table_of


@pytest.mark.wide
@pytest.mark.parametrize("name", shipped_names())
def test_every_part_defers_to_manual_law_and_person(name: str) -> None:
    """Each part's sheet ends with the dust and the deferring line, whatever the part."""
    for part in build_table(profile_from_text(shipped_text(name), name)).parts:
        words = [mark.text for mark in part_drawing(part, "t").marks if isinstance(mark, Words)]
        assert DUST in words and words[-1] == DEFER


def test_cautions_follow_the_work() -> None:
    """A segment is warned of grooves, mitres and round sawing, a spline of its shortness, a rail of boring."""
    table = build_table(profile_from_text(shipped_text("towpath-dining"), "dining"))
    told = {code: " ".join(cautions(table.part(code))) for code in ("RIM-A", "SPLINE", "RAIL-LOW", "LEG")}
    assert all(word in told["RIM-A"] for word in ("Grooves", "Mitres", "Sawing round"))
    assert "Short piece" in told["SPLINE"] and "Short piece" not in told["RAIL-LOW"]
    assert "Boring" in told["RAIL-LOW"] and "Boring" not in told["LEG"]


OF_MACHINES = re.compile(
    r"guard|riving|featherboard|spindle|unplug|push stick|extract|machine|router:|bandsaw:|stop must|\bcord\b|sled",
    re.IGNORECASE,
)


def test_a_shop_of_hand_tools_is_warned_of_no_machine() -> None:
    """Neither at an operation nor on a part's sheet, a board's or a jig's; a hand saw is minded at each."""
    table = table_of({"shop.machines": ()}, "towpath-side")
    plan, shop = work_plan(table, plan_assembly(table)), table.profile.shop
    told = [line for one in plan.operations for line in (*one.operation.cautions, *one.operation.tells)]
    told += [line for one in plan.set_ups for line in one.cautions]
    told += [line for part in table.parts for line in cautions(part, shop.machines)]
    told += [line for jig in plan.jigs.jigs for line in (*jig.cautions, *jig.use, *jig.proof)]
    told += [*sawing(shop.machines, shop.hand_tools), *general(shop.machines)]
    assert len(told) > 300 and sum(line.startswith("Hand saw") for line in told) > 30
    assert {line for line in told if OF_MACHINES.search(line)} == set()


def test_a_board_is_sawn_with_the_cautions_of_its_saw() -> None:
    """Those of the saws that the plan names, one for along the grain, one for across it."""
    assert [line.partition(":")[0] for line in sawing(("bandsaw", "mitre saw"), ("tenon saw",))[:2]] == [
        "Bandsaw", "Crosscuts"
    ]  # fmt: skip
    assert sawing((), ("rip saw",))[0].startswith("Hand saw")

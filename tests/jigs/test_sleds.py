"""Sleds, wooden fences and packing: made where a set-up asks for one, as large as what is worked on them."""

from __future__ import annotations

from functools import cache
from math import cos, degrees, sin

import pytest

from templategen.fit.plan import plan_assembly
from templategen.jigs.fences import BEYOND, PAST, lap_sled, slot_fence
from templategen.jigs.jig import Jig
from templategen.jigs.packing import tongue_packing
from templategen.jigs.push_block import end_sled
from templategen.jigs.sled import sled, sled_of
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from tests.table.made import table_of

ASKED = {"sled": ("LAP-SLED", "END-SLED"), "tall fence": ("TALL-FENCE",), "wooden face": ("FENCE-FACE",)}
"""Words of a machine or a warning, and the jigs of which one is then named."""


@cache
def planned(name: str) -> tuple[Table, WorkPlan]:
    """A shipped table and its plan."""
    table = table_of({}, name)
    return table, work_plan(table, plan_assembly(table))


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex"])
def test_what_a_set_up_asks_for_is_a_jig_that_it_names(name: str) -> None:
    """And it is made in the first operation, before the one that uses it."""
    _, plan = planned(name)
    first, *rest = (one.operation for one in plan.operations)
    for one in rest:
        if not one.set_up:
            continue
        words = " ".join((one.set_up.machine, *one.set_up.warnings))
        for word, codes in ASKED.items():
            if word in words:
                assert set(codes).intersection(one.jigs, first.jigs), (one.does, word)
        for code in ("SLED", "PACK-TONGUE"):
            if any(f" {code}" in f" {told}" for told in (*one.set_up.does, *one.set_up.warnings)):
                assert code in one.jigs, (one.does, code)


def test_a_shop_without_the_machines_has_none() -> None:
    """By hand nothing slides and no fence is wooden."""
    table = table_of({"shop.machines": ()})
    plan = work_plan(table, plan_assembly(table))
    named = {jig.code for jig in plan.jigs.jigs}
    assert named.isdisjoint({"SLED", "LAP-SLED", "END-SLED", "TALL-FENCE", "SLOT-FENCE", "FENCE-FACE"})


def sizes(jig: Jig) -> dict[str, tuple[float, float, float]]:
    """Length, width and thickness of its pieces."""
    return {part.code: part.size for part in jig.parts}


def test_the_saws_sled_takes_the_piece_and_its_stop() -> None:
    """The slat that ends at 60 degrees: base, fence and piece all lie within it."""
    table, _ = planned("towpath-dining")
    (jig,), own = sled(table), sled_of(table)
    ((angle, codes),) = own.angles
    assert degrees(angle) == pytest.approx(60) and codes == ("SLAT-07",)
    long, wide, _ = table.part("SLAT-07").size
    box, corner = own.base.bounds, own.corner
    far = corner.x + long * cos(angle), corner.y + long * sin(angle)
    assert sizes(jig)["SLED-FENCE-1"][0] > long
    assert far[0] < box.right and far[1] + wide * cos(angle) < box.top - own.bridge
    assert own.fence(angle, codes).bounds.right < box.right


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_fences_hold_the_stop_wherever_it_is_told(name: str) -> None:
    """The last pass of a lap sets it a trench's width back, a slanting end lies past the piece's point: the stop's
    60 mm are on the fence all the same."""
    table, plan = planned(name)
    lap, sawn = next(iter(lap_sled(table))), next(iter(sled(table)), None)
    for one in plan.set_ups:
        for cut in one.cuts:
            if one.operation == "lap" and "LAP-SLED" in one.jigs:
                told = one.value("stop", cut) + max(one.value("width", cut) - one.value("cutter", cut), 0.0)
                assert max(sizes(lap).values())[0] - BEYOND >= told + PAST
            elif sawn is not None and "SLED" in one.jigs and one.setting("stop", cut):
                assert (
                    max(sizes(sawn)[code][0] for code in sizes(sawn) if "FENCE" in code)
                    >= one.value("stop", cut) + 60
                )


def test_a_lap_sled_is_higher_than_the_cut() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = lap_sled(table)
    high = max(sizes(jig).values())[1]
    assert high > max(feature.depth for part in table.parts for feature in part.cuts("lap"))


def test_blocks_are_higher_than_the_cut_and_one_for_each_angle() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = end_sled(table)
    deepest = max(f.depth for part in table.parts for f in part.cuts("tongue", "tenon"))
    assert [round(one.value) for one in jig.figures if one.unit == "deg"] == [0, 30, 60]
    assert all(part.count * part.thickness > deepest for part in jig.parts)


def test_a_fence_backs_two_thirds_of_what_stands_at_it() -> None:
    table, _ = planned("towpath-dining")
    (jig,) = slot_fence(table)
    standing = max(part.size[0] for part in table.parts if part.cuts("spline-slot"))
    assert sizes(jig)["SLOT-FENCE-FACE"][1] == pytest.approx(standing * 2 / 3)


def test_packing_is_as_thick_as_the_cut_is_deep() -> None:
    table, _ = planned("towpath-dining")
    (tongues,) = tongue_packing(table)
    assert [part.thickness for part in tongues.parts] == [
        pytest.approx(table.part("SLAT-01").cuts("tongue")[0].depth)
    ]

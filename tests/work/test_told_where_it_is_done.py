"""What a maker asks at the place: which edge runs on the fence, which finish, which way the bit is fed."""

from __future__ import annotations

from functools import cache
from math import tan

import pytest

from templategen.fit.plan import Plan, plan_assembly
from templategen.packet.page.machines import machines
from templategen.packet.page.steps import steps
from templategen.shop.cautions import FACING, FEED, PLANING, RIPPING, in_short, of_the_way
from templategen.shop.closing.study import closing_study
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from tests.table.made import table_of


@cache
def planned(name: str) -> tuple[Table, Plan, WorkPlan]:
    table = table_of({}, name)
    assembly = plan_assembly(table)
    return table, assembly, work_plan(table, assembly)


def test_the_plan_tells_edge_finish_and_feed() -> None:
    operations = [one.operation for one in planned("towpath-dining")[2].operations]
    set_ups = [one.set_up for one in operations if one.set_up]
    rips = [one for one in set_ups if one.operation == "rip"]
    assert rips and all("straight edge to the fence" in one.kerf_side for one in rips)
    (first,) = (one for one in operations if one.does == "first finish")
    assert "soaks in" in first.tells[0] and "maker" in first.tells[0] and "european larch" in first.tells[0]
    eased = [one for one in set_ups if one.operation in ("chamfer", "round-over", "edge round-over")]
    assert eased and all(FEED in of_the_way(one) for one in eased)
    assert all(in_short(one) for one in set_ups)


def test_planing_and_ripping_tell_what_takes_fingers() -> None:
    assert all(word in FACING for word in ("guard over", "push blocks", "shorter or thinner"))
    assert all(word in PLANING for word in ("never reach in", "shorter or thinner")) and "push blocks" not in PLANING
    assert all(word in RIPPING for word in ("riving knife", "two passes", "thin strip"))


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_a_step_s_own_sheet_tells_what_the_plan_does(name: str) -> None:
    """One who glues by the sheet alone turns over, sets the rails on, lays the sand on and leaves overnight too."""
    table, assembly, work = planned(name)
    sheets = {
        sheet.name: " ".join(map(str, sheet.words))
        for sheet in steps(table, assembly, work, closing_study(table.sizes)).sheets
    }
    for one in (planned.operation for planned in work.operations):
        for line in one.tells if one.step else ():
            if not line.startswith(("its sheet shows", "glue ")) or line.startswith("glue the middle"):
                assert one.step and line[1:] in sheets[f"step-{one.step.number}"], line


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_what_proves_a_step_stands_on_its_sheet(name: str) -> None:
    """Where a figure is measured by which the next part is set, whoever glues reads it beside the step."""
    table, assembly, work = planned(name)
    sheets = {one.name: one.words for one in steps(table, assembly, work, closing_study(table.sizes)).sheets}
    proved = [one.operation for one in work.operations if one.operation.step and one.operation.measure]
    assert proved
    for one in proved:
        assert one.step and f"Measure: {one.measure}." in sheets[f"step-{one.step.number}"]


def test_a_groove_cutters_machine_is_named_where_work_with_it_begins() -> None:
    """Not every saw takes one: the first card with it says which machine, on which side its fence, and what else."""
    table, _, work = planned("towpath-dining")
    heads = [
        one for one in machines(table, work).sheets if any("table saw whose manual" in line for line in one.words)
    ]
    at = [one.number for one in work.set_ups if "groove cutter" in one.needs]
    assert at and [head.name for head in heads] == [f"at-{at[0]}"]


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side", "towpath-hex"])
def test_the_push_block_bears_on_what_leans_and_passes_under_a_featherboard(name: str) -> None:
    """Its slanting end lies along a segment's edge as that stands on its mitre; no higher than what it pushes."""
    table, _, work = planned(name)
    for jig in (jig for jig in work.jigs.jigs if jig.code == "TALL-FENCE"):
        block = next(part for part in jig.parts if part.code == "TALL-FENCE-PUSH").outline.bounds
        slope = next(
            edge for edge in next(p for p in jig.parts if p.code == "TALL-FENCE-PUSH").outline.edges
            if abs(edge.start.x - edge.end.x) > 1 and abs(edge.start.y - edge.end.y) > 1
        )  # fmt: skip
        assert abs(slope.start.x - slope.end.x) / block.height == pytest.approx(tan(table.sizes.mitre), abs=1e-5)
        assert all(block.height <= table.part(code).size[1] + 1e-6 for code in jig.serves)


def test_test_pieces_are_told_of_before_they_are_wanted() -> None:
    first, strips = (
        next(one.operation for one in planned("towpath-dining")[2].operations if one.operation.does == does)
        for does in ("make the jigs", "saw out the test strips")
    )
    assert any("TEST-TENON, TEST-LAP, TEST-BASE" in line for line in first.tells) and "TEST-LAP" not in first.jigs
    assert any("other ends" in line for line in strips.tells)


def test_a_slats_step_tells_how_high_it_is_packed_up() -> None:
    """From the sheet alone: a slat that lies too low doesn't enter its groove."""
    table, assembly, work = planned("towpath-side")
    sheets = steps(table, assembly, work, closing_study(table.sizes)).sheets
    told = [" ".join(map(str, one.words)) for one in sheets if "add SLAT" in one.title]
    assert told and all(f"packed up by {table.sizes.slat_underside:g} mm" in words for words in told)

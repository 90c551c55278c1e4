"""What a maker asks at the place: which edge runs on the fence, which finish, which way the bit is fed."""

from __future__ import annotations

import re
from functools import cache
from math import tan

import pytest

from templategen.checks.stiffness import cantilever, load_overhang, rail_stiffness
from templategen.fit.plan import Plan, plan_assembly
from templategen.jigs.angle_gauge import slat_gauge
from templategen.jigs.assembly_board import assembly_board
from templategen.packet.page.machines import machines
from templategen.packet.page.steps import steps
from templategen.shop.cautions import FACING, FEED, PLANING, RING_CLAMPED, RIPPING, in_short, of_the_way
from templategen.shop.closing.study import closing_study
from templategen.table.assembly import Table
from templategen.work.glued import tried_with
from templategen.work.plan import WorkPlan, work_plan
from templategen.work.tools import tools_of
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
    (first,) = (
        one.operation for one in planned("towpath-dining")[2].operations if one.operation.does == "make the jigs"
    )
    assert any("TEST-TENON, TEST-LAP, TEST-BASE" in line for line in first.tells) and "TEST-LAP" not in first.jigs


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_a_second_angle_names_the_card_whose_pieces_serve_it_too(name: str) -> None:
    """A pair of test pieces has two pairs of ends: strips are as long as that asks, so the card of every second angle
    says whose pieces are turned end for end; the list of the plan tells the same."""
    plan = planned(name)[2]
    kept = [one for one in plan.operations if one.operation.set_up and one.operation.set_up.proof.is_kept]
    free: dict[str, list[int]] = {}
    for one in kept:
        set_up = one.operation.set_up
        assert set_up is not None and set_up.proof.test_piece in one.operation.measure
        for piece in set_up.proof.test_piece.split("; "):
            again = re.search(r"the two pieces of (\S+) kept from set-up (\d+), their other ends", piece)
            fresh = re.search(r"two pieces of (\S+), each", piece)
            if again:
                assert free[again[1]].pop() == int(again[2])
            elif fresh:
                assert not free.get(fresh[1]), "the ends that are left come first"
                free.setdefault(fresh[1], []).append(set_up.number)
    assert name == "towpath-side" or any("their other ends" in one.operation.measure for one in kept)


def test_a_slats_step_tells_how_high_it_is_packed_up() -> None:
    """From the sheet alone: a slat that lies too low doesn't enter its groove."""
    table, assembly, work = planned("towpath-side")
    sheets = steps(table, assembly, work, closing_study(table.sizes)).sheets
    told = [" ".join(map(str, one.words)) for one in sheets if "add SLAT" in one.title]
    assert told and all(f"packed up by {table.sizes.slat_underside:g} mm" in words for words in told)


def test_slats_are_packed_up_by_what_their_rails_came_out_at() -> None:
    """Grooves are measured from the top, packing from below: in a rail that came out thinner than drawn slats on
    packing of one height jam their tongues against the groove's wall."""
    table, assembly, work = planned("towpath-side")
    less = f"less {table.profile.top.thickness - table.sizes.slat_underside:g} mm"
    sheets = steps(table, assembly, work, closing_study(table.sizes)).sheets
    told = [" ".join(map(str, one.words)) for one in sheets if "add SLAT" in one.title]
    (board,) = (one.use for one in work.jigs.jigs if one.code == "ASSEMBLY")
    assert told and all(less in words for words in (*told, *(one for one in board if "Pack the slats" in one)))
    assert any("Pack the slats" in one for one in board)


def test_strips_are_resawn_and_flattened_so_that_none_tips_or_flies() -> None:
    """At a bandsaw against its fence with a tall block and a push stick; by hand to the line alone; so thin
    afterwards they are flattened by hand, and pass a planer on a board."""
    (sawn,) = (one.operation for one in planned("towpath-side")[2].operations if one.operation.does == "saw flatwise")
    told = " ".join(sawn.tells)
    assert "bandsaw and its fence" in sawn.way and all(word in told for word in ("a block as tall", "push stick"))
    assert "flat again by hand" in told and "on a flat board as long, a stop behind it" in told
    table = table_of({"shop.machines": (), "shop.hand_tools": ("rip saw", "tenon saw")}, "towpath-side")
    plan = work_plan(table, plan_assembly(table))
    (sawn,) = (one.operation for one in plan.operations if one.operation.does == "saw flatwise")
    assert "gauged line" in sawn.way and not any("push stick" in line or "board" in line for line in sawn.tells)


def test_a_routers_base_on_a_pad_is_carried_by_another() -> None:
    """On the strip that both are taped to: nothing beside it is as high; a rail has a second piece beside it."""
    table = table_of(name="towpath-dining")
    plan = work_plan(table, plan_assembly(table))
    eased = [one for one in plan.set_ups if one.operation == "chamfer" and "FOOT" in one.codes]
    told = [
        any("FOOT: another, or scrap as thick, taped behind it carries the base" in line for line in one.does)
        for one in eased
    ]
    assert eased and all(told) and all(one.way == "hand-held" for one in eased)
    others = (one for one in plan.set_ups if one.operation == "chamfer" and "FOOT" not in one.codes)
    assert not any("taped behind it" in line for one in others for line in one.does)


def test_a_cross_turned_over_for_its_pads_lies_on_battens() -> None:
    """A clamp's jaw goes in under it at every step of its glue, and the list of tools names all of these."""
    table, _, plan = planned("towpath-side")
    over = [one for one in plan.gluing.steps if one.joints.keys() & {"lap", "pad", "leg tenon"} and not one.lets_down]
    pads = next(one.operation for one in plan.operations if one.operation.step and "pad" in one.operation.step.joints)
    assert any("on the battens again" in line for line in pads.tells)
    (battens,) = (one for one in tools_of(table, plan) if one.item == "battens of one height")
    assert battens.scrap and battens.scrap[2] == 50
    assert [one.number for one in over] == [2, 3, 4, 6] and "2 to 4, 6" in battens.use


def test_the_rim_sinks_by_what_the_bags_laid_on_it_weigh() -> None:
    """Told of the weight that is let down, which is rounded up to whole bags, not of the load that it stands for."""
    table, _, plan = planned("towpath-side")
    (tried,) = (one.operation for one in plan.operations if one.operation.does == "try the table")
    sinks = cantilever(tried_with(table) * 9.80665, load_overhang(table), rail_stiffness(table))
    told = re.search(r"sinks by about ([\d.]+) mm", tried.measure)
    assert told and float(told[1]) == pytest.approx(sinks, abs=0.06) and float(told[1]) == 0.5


def test_a_glued_ring_on_the_bench_is_clamped_down() -> None:
    """For a router in the hand: no ring slides away under it, and clamps move on before it comes."""
    rings = [one for one in planned("towpath-side")[2].set_ups if one.operation == "edge round-over"]
    assert rings and all(RING_CLAMPED in of_the_way(one) for one in rings if one.way == "hand-held")


def test_words_of_jigs_count_their_own_pieces() -> None:
    """A board in one piece is joined of none, and a gauge with one triangle doesn't ask to choose among them."""
    table = table_of({}, "towpath-side")
    (board,) = assembly_board(table)
    assert board.proof[0].startswith("On its bearers") and "seam" not in " ".join(board.cautions)
    (gauge,) = slat_gauge(table)
    assert len(gauge.parts) == 1 and not any("differ" in line for line in gauge.use)
    (gauge,) = slat_gauge(table_of({}, "towpath-inch"))
    assert any("differ" in line for line in gauge.use) is (len(gauge.parts) > 1)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch"])
def test_the_block_of_a_pin_lies_where_it_bears(name: str) -> None:
    """Slats lie lower than rails and rim: a block along one of them would tip, so its way is told."""
    told = " ".join(line for one in planned(name)[2].operations for line in one.operation.tells)
    assert "taped along the rail or the rim's edge" in told


def test_a_dry_ring_that_lies_face_down_says_why() -> None:
    ring = next(one.operation for one in planned("towpath-inch")[2].operations if one.operation.does == "dry ring")
    assert "upper faces down, since those must come level" in ring.tells[0]


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_work_on_two_edges_is_told_in_the_plural(name: str) -> None:
    """A slat is eased along both its edges on either face; its `lower edge` is one of them."""
    for part in (one for one in planned(name)[0].parts if one.kind == "slat"):
        for face in ("top", "bottom"):
            eased = [one for one in part.features_on(face) if one.traits.arris]
            told = {one.operation for one in eased}
            assert len(eased) >= 2 and len(told) == 1 and all("both" in one for one in told), part.code

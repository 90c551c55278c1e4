"""The order of assembly: how the ring closes, proved again by moving solids in steps."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest

from templategen.fit.bench import Bench
from templategen.fit.plan import Plan, Step, plan_assembly
from templategen.fit.ring import in_two_halves
from templategen.output.packet_json import part_json, placed_json
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables

pytest.importorskip("manifold3d")
from tests.solids import standing

STEPS = (0.5, 1.5, 3, 6, 10, 15, 22, 30, 45, 70, 110, 180, 300)
"""How far from home a part is tried, mm."""


def shipped(name: str, *changes: tuple[str, str]) -> Table:
    """A shipped table, some of its lines changed."""
    text = shipped_text(name)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return build_table(profile_from_text(text, name))


THROUGH, STOPPED = 'spline = "through"', 'spline = "stopped"'


def free(bodies: list[Any], moving: Iterable[tuple[int, tuple[float, float, float]]], fixed: set[int]) -> bool:
    """Whether copies come home from afar without meeting the fixed ones, nor each other."""
    moving = list(moving)
    for far in STEPS:
        moved = {index: bodies[index].translate([-far * c for c in way]) for index, way in moving}
        for index, body in moved.items():
            box = body.bounding_box()
            others = [bodies[i] for i in fixed] + [b for i, b in moved.items() if i > index]
            for other in others:
                there = other.bounding_box()
                near = all(box[k] < there[k + 3] and there[k] < box[k + 3] for k in range(3))
                if near and (body ^ other).volume() > 0.5:
                    return False
    return True


def proved(table: Table, plan: Plan) -> bool:
    """Every step of the plan, replayed with solids."""
    bodies = standing(
        {"parts": [part_json(p, []) for p in table.parts], "placed": [placed_json(s) for s in table.placed]}
    )
    kinds = {part.code: part.kind for part in table.parts}
    ground = {i for i, s in enumerate(table.placed) if kinds[s.code] in ("leg", "base-rail", "foot")}
    home: set[int] = set()
    for step in plan.steps:
        if not _replayed(step, bodies, home, ground):
            return False
    return len(home) == len(table.placed)


def _replayed(step: Step, bodies: list[Any], home: set[int], ground: set[int]) -> bool:
    moved = {move.index for move in step.moves}
    bench = {i for i in home if (i in ground) == bool(moved & ground)}
    apart = "half ring" in step.does and not step.together
    if apart:
        bench = set()
    if step.does.startswith("let the top down"):
        return free(bodies, [(m.index, m.way) for m in step.moves], ground)
    if step.together:
        ways = {m.index: (m.pace * m.way[0], m.pace * m.way[1], m.pace * m.way[2]) for m in step.moves}
        home |= moved
        return free(bodies, ways.items(), bench - moved)
    for move in step.moves:
        if not free(bodies, [(move.index, move.way)], bench):
            return False
        bench.add(move.index)
        if not apart:
            home.add(move.index)
    return True


@pytest.mark.parametrize("name", shipped_names())
def test_plans_of_shipped_tables_hold_with_solids(name: str) -> None:
    """Each part of a shipped table comes home along its way without passing through another."""
    table = shipped(name)
    plan = plan_assembly(table)
    assert not plan.locked and proved(table, plan)


def test_through_splines_let_segments_come_one_by_one() -> None:
    """With through splines the ring of the dining table closes a segment at a time, splines last."""
    plan = plan_assembly(shipped("towpath-dining"))
    assert plan.ring == "one by one"
    assert {move.code for move in plan.steps[-2].moves} == {"SPLINE"}


@pytest.mark.wide
def test_stopped_splines_make_the_ring_close_at_once() -> None:
    """With stopped splines the dining table's ring can only be drawn in whole, and that holds with solids."""
    table = shipped("towpath-dining", (THROUGH, STOPPED))
    plan = plan_assembly(table)
    assert plan.ring == "all together" and in_two_halves(Bench.of(table)) is None
    assert proved(table, plan)


@pytest.mark.wide
def test_two_halves_are_found_where_grooves_let_them() -> None:
    """The hexagon table's ring closes in two halves, and that holds with solids."""
    table = shipped("towpath-hex")
    plan = plan_assembly(table)
    assert plan.ring == "two halves" and proved(table, plan)
    one, other, splines, close = [step for step in plan.steps if "half" in step.does]
    assert [step.last for step in (one, other, splines, close)] == [False, False, True, False]
    assert [step.together for step in (one, other, splines, close)] == [False, False, False, True]
    kinds = [[table.part(move.code).kind for move in step.moves] for step in (one, other, splines, close)]
    assert [(part.count("rim-segment"), part.count("spline")) for part in kinds] == [(3, 2), (3, 2), (0, 2), (6, 6)]
    ways = {move.index: move.way for move in close.moves}
    first, second = ({ways[move.index] for move in step.moves} for step in (one, other))
    assert len(first) == len(second) == 1 and next(iter(first))[:2] == tuple(-c + 0.0 for c in next(iter(second))[:2])
    assert {ways[move.index] for move in splines.moves} == second


def test_a_false_plan_is_not_proved() -> None:
    """The replay itself refuses a ring that closes before the slats are in."""
    table = shipped("towpath-dining")
    plan = plan_assembly(table)
    ring = next(step for step in plan.steps if any(move.code == "RIM-A" for move in step.moves))
    rest = [step for step in plan.steps if step is not ring]
    early = next(i for i, step in enumerate(rest) if step.does == "add SLAT-01")
    wrong = (*rest[:early], ring, *rest[early:])
    assert not proved(table, Plan(wrong, plan.ring))


def test_every_copy_and_glued_joint_comes_once() -> None:
    """Over all steps each copy is brought home once (the top's again as a whole) and each glued joint closed once."""
    table = shipped("towpath-dining")
    plan = plan_assembly(table)
    glued = [number for step in plan.steps for number in step.glued]
    wanted = [n for n, joint in enumerate(table.joints) if joint.kind != "tongue-and-groove"]
    assert sorted(glued) == wanted
    moves = [move.index for step in plan.steps[:-1] for move in step.moves]
    assert sorted(moves) == list(range(len(table.placed)))


def go_together(seeds: range) -> int:
    """How many random tables have a plan that holds with solids; the others say what locks."""
    done = 0
    for table in tables(seeds):
        plan = plan_assembly(table)
        assert plan.locked or proved(table, plan), table.profile.title
        done += not plan.locked
    return done


@pytest.mark.wide
def test_random_tables_go_together() -> None:
    """Some random tables have such a plan."""
    assert go_together(range(300, 303)) >= 1


@pytest.mark.slow
def test_many_random_tables_go_together() -> None:
    """So have most of many."""
    assert go_together(range(300, 360)) >= 20

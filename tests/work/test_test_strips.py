"""Strips that set-ups are tried on: sawn flatwise before the night that their wood needs, never after."""

from __future__ import annotations

from dataclasses import replace

import pytest

from templategen.fit.plan import plan_assembly
from templategen.shop.set_ups.tolerances import STRIPS
from templategen.table.assembly import build_table
from templategen.work.plan import Planned, WorkPlan, work_plan
from tests.table.made import profile_of
from tests.work.test_plan import planned

SAWN = "saw out the test strips"


def of_strips(plan: WorkPlan) -> tuple[Planned, Planned, Planned]:
    """The strips' operation, the one after it, and the first set-up that works or is tried on such a section."""
    at = next(place for place, one in enumerate(plan.operations) if one.operation.does == SAWN)
    tried = next(
        one
        for one in plan.operations
        if one.operation.set_up and any(code in one.operation.set_up.proof.test_piece for code in STRIPS.values())
    )
    return plan.operations[at], plan.operations[at + 1], tried


@pytest.mark.parametrize("name", ("towpath-side", "towpath-dining", "towpath-inch", "towpath-hex"))
def test_strips_share_the_night_of_what_is_sawn_flatwise(name: str) -> None:
    """They are there before it, and it tells so; no thicknessing and no trial on the day on which they are sawn."""
    made, flatwise, tried = of_strips(planned(name=name)[2])
    assert flatwise.operation.does == "saw flatwise" and flatwise.operation.wait == 12.0
    assert made.operation.wait == 0.0 and any("the next operation's pieces" in told for told in made.operation.tells)
    assert "test strips out of thicker stock likewise" in flatwise.operation.tells
    first = next(one for one in planned(name=name)[2].operations if one.operation.does == "plane")
    assert tried.number > first.number > flatwise.number and first.day > flatwise.day


@pytest.mark.parametrize("thick", (True, False))
def test_strips_have_a_night_of_their_own_where_nothing_else_is_sawn_flatwise(thick: bool) -> None:
    """Where boards are thick enough that one is sawn flatwise the plan's days follow, else nothing waits."""
    profile = profile_of({"joints.spline": "none", "base.feet": "relieved"}, "towpath-side")
    stock = [*profile.stock]
    if not thick:
        sections = {part.thickness for part in build_table(profile).parts}
        stock = [replace(stock[0], thickness=max(sections))]
        profile = replace(profile, shop=replace(profile.shop, planing=max(sections) - min(sections)))
    table = build_table(replace(profile, stock=tuple(stock)))
    plan = work_plan(table, plan_assembly(table))
    made, _, tried = of_strips(plan)
    assert not any(one.operation.does == "saw flatwise" for one in plan.operations)
    assert any("lie on sticks overnight" in told for told in made.operation.tells)
    assert made.operation.wait == (12.0 if thick else 0.0) and tried.number > made.number
    assert tried.day > made.day or not thick

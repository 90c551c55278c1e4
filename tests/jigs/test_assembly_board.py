"""The assembly board names what is joined on it: joints by their letters, arms by their numbers, seams apart."""

import pytest

from templategen.fit.plan import plan_assembly
from templategen.packet.shipped import shipped_names
from templategen.work.plan import work_plan
from tests.table.made import table_of


@pytest.mark.parametrize("name", shipped_names())
def test_the_board_has_letters_and_arms(name: str) -> None:
    """Every mitre and every rail's end once, on the piece where it lies; all arms; no seam has a letter."""
    table = table_of(name=name)
    plan = work_plan(table, plan_assembly(table))
    board = next(jig for jig in plan.jigs.jigs if jig.code == "ASSEMBLY")
    told = [one.words for one in board.scribes if one.words.startswith("(")]
    marks = [mark for step in plan.gluing.steps for mark in step.marks if mark.kind in ("mitre", "rail-tenon")]
    assert sorted(one[1 : one.index(")")] for one in told) == sorted(mark.letter for mark in marks)
    arms = [one.partition(" ")[2] for one in told if " " in one]
    assert sorted(arms) == sorted(f"arm {arm + 1}" for arm in range(table.sizes.arms))
    assert not any(len(one.words) == 1 for one in board.scribes)


def test_straight_slats_of_the_other_fields_are_half_a_turn_off() -> None:
    """They run one way in all fields: turned as the rails are they would lie across; beside their rail they stand off
    it by card, and spacers begin from there."""
    table = table_of({"slats.run": "straight", "slats.apex": "closed"})
    plan = work_plan(table, plan_assembly(table))
    board = next(jig for jig in plan.jigs.jigs if jig.code == "ASSEMBLY")
    assert any("slats by half a turn" in one for one in board.use)
    laid = {told for step in plan.gluing.steps for told in step.advice if "card of that thickness" in told}
    assert len(laid) == 1 and laid.pop().startswith("the slats beside RAIL-LOW first, 1.11 mm off it")

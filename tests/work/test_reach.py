"""What is sanded and finished lies so that a hand comes to it: nothing that stands on its face is worked there."""

from __future__ import annotations

import pytest

from templategen.fit.plan import plan_assembly
from templategen.packet.shipped import shipped_names
from templategen.work.plan import work_plan
from tests.table.made import table_of


@pytest.mark.parametrize("name", shipped_names())
def test_undersides_are_sanded_and_finished_upside_down(name: str) -> None:
    """Whoever works on top and pedestal turns both over, each time, since feet stand on the floor."""
    table = table_of(name=name)
    plan = work_plan(table, plan_assembly(table))
    over = [one.operation for one in plan.operations if one.operation.works_on.startswith("top and pedestal")]
    assert [one.does.split(",")[0] for one in over] == ["sand"] + ["finish"] * table.profile.shop.coats
    for one in over:
        told = " ".join(one.tells)
        assert "face down and the pedestal feet up" in told and "then both over" in told
        assert one.persons == 2 or one.does == "sand"

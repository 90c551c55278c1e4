"""What a maker asks at the place: which edge runs on the fence, which finish, which way the bit is fed."""

from __future__ import annotations

from templategen.fit.plan import plan_assembly
from templategen.shop.cautions import FEED, PLANING, RIPPING, in_short, of_the_way
from templategen.work.plan import work_plan
from tests.table.made import table_of


def test_the_plan_tells_edge_finish_and_feed() -> None:
    table = table_of({}, "towpath-dining")
    operations = [one.operation for one in work_plan(table, plan_assembly(table)).operations]
    set_ups = [one.set_up for one in operations if one.set_up]
    rips = [one for one in set_ups if one.operation == "rip"]
    assert rips and all("straight edge to the fence" in one.kerf_side for one in rips)
    (first,) = (one for one in operations if one.does == "first finish")
    assert "soaks in" in first.tells[0] and "maker" in first.tells[0] and "european larch" in first.tells[0]
    eased = [one for one in set_ups if one.operation in ("chamfer", "round-over", "edge round-over")]
    assert eased and all(FEED in of_the_way(one) for one in eased)
    assert all(in_short(one) for one in set_ups)


def test_planing_and_ripping_tell_what_takes_fingers() -> None:
    assert all(word in PLANING for word in ("guard over", "push blocks", "shorter or thinner"))
    assert all(word in RIPPING for word in ("riving knife", "two passes", "thin strip"))

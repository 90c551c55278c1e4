"""A ring that its last segment closes, fitted to the opening: what waits, what stands for it, how it is scribed."""

from __future__ import annotations

from templategen.fit.plan import RING_WAYS
from templategen.shop.rough import pitch, rough_of
from templategen.work.glued import LAST_ON
from tests.work.test_plan import planned


def test_a_segment_that_waits_keeps_wood_for_any_opening() -> None:
    """It comes last off its strip, where the end to hold that by stays on it; a filler is sawn for its place."""
    table, _, plan = planned("measure", name="towpath-side")
    mitre = next(one for one in plan.set_ups if one.operation == "mitre")
    told = " ".join(mitre.warnings)
    assert "the last off its strip, with what is left of that" in told and "FILLER" in told
    code = next(lay.code for one in plan.set_ups[::-1] if one.operation == "mitre" for lay in one.cuts[0].lays)
    part, shop = table.part(code), table.profile.shop
    rough = rough_of(shop, part, 1)
    assert rough.length - rough.pieces * pitch(shop, part) > 20.0
    slots = next(one for one in plan.set_ups if one.operation == "spline slot")
    assert slots.warnings[-1] == f"leave uncut for now: both ends of the marked {code}"


def test_an_open_ring_is_drawn_up_with_what_fills_it() -> None:
    """By the band and a caul at every corner, the filler dry in the last place, in time, and with no clamp across it,
    dry as it will be glued."""
    for name in ("towpath-side", "towpath-dining"):
        table, assembly, plan = planned("measure", name=name)
        rings = [one for one in plan.gluing.steps if one.joints.get("mitre")]
        assert [one.joints["mitre"] for one in rings] == [table.sizes.segments - 2, 2]
        for one in rings:
            assert one.hold.band and one.hold.clamps == 0 and one.hold.cauls == table.sizes.segments
            assert one.until_held[1] <= plan.glue.closed_time
        assert [any("FILLER last, dry" in told for told in one.advice) for one in rings] == [True, False]
        tells = [one.operation.tells for one in plan.operations if one.operation.step in rings]
        assert [LAST_ON in told for told in tells] == [False, True]
        assert [RING_WAYS["one by one"] in told for told in tells] == [True, False]
        dry = next(one.operation for one in plan.operations if one.operation.does == "dry ring")
        assert dry.works_on == f"{table.sizes.segments - 1} rim segments"
        assert "band" in dry.way and "clamp" not in dry.way and any("FILLER" in told for told in dry.tells)
        assert next(step for step in assembly.steps if step.last)

"""A ring that its last segment closes, fitted to the opening: what waits, what stands for it, how it is scribed."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import atan2, cos, floor, hypot, pi, tan

import pytest
from shapely import LineString

from templategen.fit.plan import RING_WAYS
from templategen.geometry.point import Point
from templategen.jigs.caul import cauls
from templategen.packet.page.machines import machines
from templategen.shop.rough import pitch, rough_of
from templategen.shop.set_ups.words import is_scribed
from templategen.shop.trial_wood import trial_wood
from templategen.table.assembly import Table
from templategen.table.slat import base_fields, fit_slats
from templategen.work.glued import LAST_ON, laid_on
from templategen.work.plan import _dated, plan_list
from tests.table.made import table_of
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
            assert one.until_held[1] <= plan.glue.open_time, "slow hands too are home before the cauls go on"
        assert [any("FILLER last, dry" in told for told in one.advice) for one in rings] == [True, False]
        tells = [one.operation.tells for one in plan.operations if one.operation.step in rings]
        assert [LAST_ON in told for told in tells] == [False, True]
        assert [RING_WAYS["one by one"] in told for told in tells] == [True, False]
        dry = next(one.operation for one in plan.operations if one.operation.does == "dry ring")
        assert dry.works_on == f"{table.sizes.segments - 1} rim segments"
        assert "band" in dry.way and "clamp" not in dry.way and any("FILLER" in told for told in dry.tells)
        assert next(step for step in assembly.steps if step.last)


def seats(table: Table) -> list[LineString]:
    """Where the cauls of two neighbouring joints lie on the blank between them, the corners a blank's edge apart."""
    (caul,) = cauls(table)
    box, mitre = caul.parts[0].outline.bounds, pi / table.sizes.segments
    reach = hypot(box.right, box.bottom)
    assert abs(box.bottom / box.right) == pytest.approx(tan(mitre))
    long = table.sizes.outer_length
    return [LineString(((0, 0), (reach, 0))), LineString(((long - reach, 0), (long, 0)))]


def test_the_filler_has_a_row_on_its_card() -> None:
    """Set as the segment is that it stands for, at both ends, in both pictures; no other card has one."""
    table, _, plan = planned("measure", name="towpath-side")
    cards = [one for one in machines(table, plan).sheets if one.grids]
    rows = [(one.name, row) for one in cards for row in one.grids[-1].rows if row[0].startswith("FILLER")]
    mitre = next(one for one in plan.set_ups if one.operation == "mitre")
    apart, stop = (next(iter(cut.settings)).figure.value for cut in mitre.cuts)
    told = f"apart {apart:.2f} mm; stop {stop:.2f} mm"
    assert rows == [(str(mitre.number), ("FILLER x 1: both ends", told, "A, then B"))]


def test_the_filler_gives_way_to_tongues() -> None:
    """Where slats or a rail end in the last segment they are in before FILLER is: it loses more of its inner edge
    than they stand into it; where none does it is as wide as a segment."""
    back = {}
    for name in ("towpath-inch", "towpath-side"):
        table, _, plan = planned("measure", name=name)
        told = [one for up in plan.set_ups for one in up.warnings if "off FILLER's inner edge" in one]
        back[name] = told
    assert back["towpath-side"] == [] and len(back["towpath-inch"]) == 1
    assert back["towpath-inch"][0].startswith("plane 5/8 in off")
    table = table_of(name="towpath-inch")
    reach = [edge for slat in fit_slats(base_fields(table.sizes)[0], table.spacing) for edge in slat.outline.points]
    into = (
        max(hypot(*point) * cos(_off_middle(point, table.sizes.mitre)) for point in reach) - table.sizes.inner_apothem
    )
    assert 0.25 * 25.4 < into < 0.625 * 25.4


def _off_middle(point: Point, mitre: float) -> float:
    """By what angle a point lies off the middle of the segment that it faces."""
    return (atan2(point.y, point.x) + mitre) % (2 * mitre) - mitre


def test_the_hold_between_goes_is_in_the_plan() -> None:
    """The work stands still until one go holds and the next may be spread: on the same day, before its own night."""
    _, _, plan = planned("measure", name="towpath-side")
    (ring,) = (one for one in plan.operations if one.operation.step and one.operation.step.goes > 1)
    done, hold = ring.operation, plan.glue.clamped[0]
    assert done.step and done.between == (done.step.goes - 1) * hold > 0 and done.waits == 12 + done.between
    rows = {row[0]: row for row in plan_list(plan)[1]}
    assert rows[str(ring.number)][plan_list(plan)[0].index("wait_hours")] == f"{12 + done.between:.0f}"
    others = [one.operation for one in plan.operations if one is not ring]
    assert not any(one.between for one in others)
    long = [replace(done, minutes=10.0, wait=0.0), replace(done, minutes=10.0, between=7.0, wait=1.0), done]
    assert [one.day for one in _dated(long, 8 * 60.0)] == [1, 2, 3], "a day with no room for the hold isn't begun"


def test_the_last_segment_is_scribed_by_sharp_arrises() -> None:
    """Its inner arrises are taken off after it is fitted, all others' before; every one of them once."""
    table, _, plan = planned("measure", name="towpath-side")
    done = [one.operation for one in plan.operations]
    at = {one.does: place for place, one in enumerate(done)}
    rim = {part.code: part.count for part in table.parts if part.kind == "rim-segment"}
    eased = [
        (place, lay)
        for place, one in enumerate(done)
        if one.set_up and one.set_up.operation == "chamfer"
        for cut in one.set_up.cuts
        for lay in cut.lays
        if lay.code in rim
    ]
    (last,) = {lay.code for place, lay in eased if place > at["fit the last segment"]}
    for code, count in rim.items():
        for face in ("top", "bottom"):
            before, after = (
                sum(lay.pieces for place, lay in eased if (lay.code, lay.worked) == (code, face)
                    and (place > at["scribe the last segment"]) is late)
                for late in (False, True)
            )  # fmt: skip
            assert (before, after) == ((count - 1, 1) if code == last else (count, 0))
    early = next(one for one in plan.set_ups if one.operation == "chamfer" and last in one.codes)
    assert f"leave the marked {last} sharp for now: it is scribed by its inner arrises" in early.warnings


def test_what_scribing_asks_for_is_there() -> None:
    """What fills the place has wood of its own and screws to be drawn out by, no slat lets a hammer in behind it; a
    bag that the table is tried with holds the piece, and a rule stands where a square's stock doesn't go in."""
    table, _, plan = planned("measure", name="towpath-side")
    ring = [one for one in trial_wood(table, plan.set_ups) if one.code == "SCRAP-RING"]
    without = trial_wood(table, [one for one in plan.set_ups if not is_scribed(one)])
    less = [one for one in without if one.code == "SCRAP-RING"]
    extra = sum(one.length * one.count for one in ring) - sum(one.length * one.count for one in less)
    assert extra >= table.sizes.outer_length
    sawn = next(one.operation for one in plan.operations if one.operation.does == "saw out the test strips")
    assert all(any(f"{one.code}: {one.count} strip" in told and f"{one.length:.0f} mm long" in told
                   for told in sawn.tells) for one in ring)  # fmt: skip
    mitre = " ".join(next(one for one in plan.set_ups if one.operation == "mitre").warnings)
    free = floor(min(one.distance(other) for one, other in combinations(seats(table), 2)))
    assert "off SCRAP-RING's rest" in mitre and f"two screws into the middle {free} mm of its outer edge" in mitre
    scribed = next(one.operation for one in plan.operations if one.operation.does == "scribe the last segment")
    told = " ".join(scribed.tells)
    assert "by its screws" in told and "a steel rule on end against the inner corner" in told
    assert f"a sandbag of {laid_on(table)} on it" in told and scribed.way.startswith("sandbag")

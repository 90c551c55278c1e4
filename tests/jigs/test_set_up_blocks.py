"""Set-up blocks and test pieces: the cut made by their sizes is the joint's."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import pi, sin
from pathlib import Path

import pytest

from templategen.jigs.bore_block import bore_block, end_block
from templategen.jigs.jig import Jig
from templategen.jigs.lap_sled import lap_sled, set_back
from templategen.jigs.setup_block import PROVED, height_bridges, stop_blocks
from templategen.jigs.trial_piece import trial_laps, trial_tenon
from templategen.packet.shipped import shipped_names
from templategen.parts.volume import volume
from templategen.table.assembly import Table
from tests.jigs.written import tables, written
from tests.table.made import table_of

pytest.importorskip("pyogrio")


@cache
def made() -> tuple[Table, ...]:
    """Five random tables."""
    return tuple(tables(range(60, 120), most=5))


def test_a_bridge_has_an_opening_for_every_depth(tmp_path: Path) -> None:
    """The roofs in the written file are the depths of tenons, tongues, laps, grooves and slots, each once."""
    for table in made():
        (jig,) = height_bridges(table)
        found = set()
        for part in jig.parts:
            ring = written(jig, table, tmp_path).outline(jig, part.code).exterior.coords
            top = max(y for _, y in ring)
            found |= {round(y, 3) for _, y in ring if 0.01 < y < top - 1}
        legs, top_, joints = table.profile.legs, table.profile.top, table.profile.joints
        third = top_.thickness / top_.rails
        wanted = {(legs.section - legs.tenon[0]) / 2, joints.groove_depth, top_.thickness - third, third}
        for depth in wanted:
            assert min(abs(depth - roof) for roof in found) < 2 * PROVED, depth
        depths = {round(f.depth, 3) for p in table.parts for f in p.features if f.kind in BRIDGED}
        assert all(min(depth - roof for roof in found if roof < depth + 2e-3) < 2 * PROVED for depth in depths)
        assert all(b - a >= 2 * PROVED - 2e-3 for a, b in pairwise(sorted(found)))
        assert all(min(abs(depth - roof) for depth in depths) < 2e-3 for roof in found)


BRIDGED = ("tenon", "tongue", "lap", "groove", "spline-slot", "relief", "drip-groove")


def block(jig: Jig, code: str) -> float:
    """Length of a block."""
    return next(part.outline.bounds.width for part in jig.parts if part.code == code)


def test_a_block_and_a_cutter_make_the_lap() -> None:
    """Moved by the block along a slanting rail, two cuts as wide as the cutter bound its lap."""
    for table in made():
        (jig,) = stop_blocks(table)
        play = table.sizes.clearances
        for code, width in (
            ("STOPS-LAP", table.profile.top.rail_width + play.lap),
            ("STOPS-BASE", table.profile.base.rail_width + play.base_lap),
        ):
            across = block(jig, code) * sin(pi / table.profile.top.rails) + table.profile.shop.groove_cutter
            assert across == pytest.approx(width)


@pytest.mark.parametrize("rails", [2, 3])
def test_a_block_on_edge_meets_the_end_itself(rails: int) -> None:
    """Laps come after tenons: on every lap's face the block, level with the stop's outer side, is higher than where
    the rail's tenon begins and thinner than the stop stands out past what its end is set back."""
    shipped = [table_of(name=name) for name in shipped_names()]
    thick = table_of({"top.thickness": 70, "jigs.strip": 20, "jigs.thickness": 18})
    for table in (one for one in (*made(), *shipped, thick) if one.sizes.rails == rails):
        blocks = {part.code: part for jig in stop_blocks(table) for part in jig.parts}
        stop = next(part for jig in lap_sled(table) for part in jig.parts if part.code == "LAP-SLED-STOP")
        for rail in (part for part in table.parts if part.cuts("lap")):
            own = blocks["STOPS-LAP" if rail.kind == "rail" else "STOPS-BASE"]
            assert stop.count * stop.thickness - own.thickness >= set_back(rail) - 1e-6, rail.code
            for face in {lap.face for lap in rail.cuts("lap")}:
                begins = max((tenon.depth for tenon in rail.cuts("tenon") if tenon.face == face), default=0.0)
                assert own.outline.bounds.height >= begins + 5 and stop.outline.bounds.height >= begins + 5


def test_the_test_tenon_fits_the_test_mortise() -> None:
    """Tenon and mortise differ by the glue clearance across and the end clearance down, as in the table."""
    for table in made():
        (jig,) = trial_tenon(table)
        leg, rail, *_ = jig.parts
        mortise = next(f for f in rail.features if f.kind == "mortise")
        length, width, *_ = (edge.length for edge in leg.features[0].outline.edges)
        thick = leg.thickness - 2 * leg.features[0].depth
        joints = table.profile.joints
        assert mortise.outline.bounds.width - width == pytest.approx(table.sizes.clearances.tenon)
        assert mortise.outline.bounds.height - thick == pytest.approx(joints.glue_clearance)
        assert mortise.depth - length == pytest.approx(joints.end_clearance)


def test_the_test_laps_share_out_the_crossing() -> None:
    """What the pieces lose together is all but one of them over the crossing, the top's and the base's: nothing void,
    nothing claimed twice."""
    kinds = {"TEST-LAP": "rail", "TEST-BASE": "base-rail"}
    for table in made():
        jigs = list(trial_laps(table))
        assert [jig.code for jig in jigs] == list(kinds)
        for jig in jigs:
            lost = sum(part.outline.area * part.thickness - volume(part) for part in jig.parts)
            rails = [part for part in table.parts if part.kind == kinds[jig.code]]
            laps = sum(f.outline.area * f.depth for part in rails for f in part.features if f.kind == "lap")
            assert lost == pytest.approx(laps, rel=1e-9)


RAKED = {"legs.top_joint": "bolted", "legs.base_centre_distance": 231.0, "legs.bolt": (8.0, 22.0, 6.0)}


def test_a_block_stands_its_bit_where_the_legs_hole_is() -> None:
    """As far from the tenon's edges and cheeks as the part's own hole, as wide, high enough to guide; its cheeks hold
    to the tenon and stay off the shoulders."""
    table = table_of({**RAKED, "legs.tenon": (34.0, 44.0, 24.0)})
    leg = table.part("LEG")
    (bore,), end = leg.cuts("bolt-hole"), leg.face("end-2").outline.bounds
    assert bore.outline.circle is not None
    middle, radius = bore.outline.circle
    cheek = max(one.depth for one in leg.cuts("tenon"))
    (jig,) = end_block(table)
    plate, side = jig.parts
    box, (hole,) = plate.outline.bounds, plate.holes
    assert hole.circle is not None
    at, across = hole.circle
    assert (at.x - box.left, box.right - at.x) == pytest.approx((middle.x - end.left, end.right - middle.x))
    assert (at.y - box.bottom, box.top - at.y) == pytest.approx((middle.y - cheek, leg.thickness - cheek - middle.y))
    assert across == pytest.approx(radius)
    high, tenon = plate.count * plate.thickness, table.profile.legs.stub
    assert high >= 6 * radius and 0 < side.outline.bounds.height - high < tenon


def test_a_block_for_each_bore_of_a_bolted_top() -> None:
    """As wide as its bit, its lines through the hole's middle; nothing for a top that is glued on."""
    table = table_of(RAKED)
    rail, leg = table.part("RAIL-LOW"), table.part("LEG")
    bores = (rail.cuts("counterbore")[0], leg.cuts("bolt-hole")[0], leg.cuts("cross-bore")[0])
    (jig,) = bore_block(table)
    widths = [hole.area for one in jig.parts for hole in one.holes]
    assert widths == pytest.approx([one.outline.area for one in bores])
    assert all(abs(one.edge.start.x * one.edge.start.y) < 1e-9 for one in jig.scribes) and len(jig.scribes) == 12
    stops = [one.value for one in jig.figures if "stop on the bit" in one.name]
    deep = [rail.cuts("counterbore")[0].depth, leg.cuts("cross-bore")[0].depth]
    high = [one.count * one.thickness for one in (jig.parts[0], jig.parts[2])]
    assert stops == pytest.approx([one + other for one, other in zip(deep, high, strict=True)])
    assert not list(bore_block(table_of())) and not list(end_block(table_of()))

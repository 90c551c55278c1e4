"""Templates for the router: windows out of the written files, and the cut that the bush allows in them, simulated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from math import sqrt, tan
from pathlib import Path
from random import Random
from typing import Any

import pytest
import shapely
from shapely.affinity import translate
from shapely.geometry import box

from templategen.errors import DesignError
from templategen.geometry.edge import Arc
from templategen.jigs.bush import guide_of
from templategen.jigs.edge_template import groove_templates, slot_templates
from templategen.jigs.jig import Jig
from templategen.jigs.leg_corner import leg_corners, section
from templategen.jigs.mortise_template import mortise_templates
from templategen.jigs.rounding import rounding_templates
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table, build_table
from tests.drawing.flat import flat
from tests.jigs.written import tables, written
from tests.table.made import table_of

pytest.importorskip("pyogrio")

NEAR = 0.01
"""How near the simulated cut comes to the finished outline, mm."""


@cache
def shops() -> tuple[Table, ...]:
    """Random tables for random bits, bushes and bearings, all of which fit their own grooves."""
    return tuple(map(_tooled, range(8), tables(range(60), most=8)))


def narrowest(table: Table) -> float:
    """The least width or length of a groove or slot that wants a template."""
    return min(min(f.outline.bounds.width, f.outline.bounds.height) for _, f in narrow_cuts(table))


def _tooled(number: int, table: Table) -> Table:
    rng, profile = Random(number), table.profile
    narrow = narrowest(table)
    bit = rng.choice([b for b in (2.0, 3.0, 4.0, 6.0, 8.0, 10.0) if b <= narrow])
    jigs = replace(profile.jigs, guide=rng.choice(("bush", "bush", "bearing")), thickness=rng.uniform(9, 18))
    shop = replace(profile.shop, router_bit=bit, guide_bush=bit + rng.choice((3.0, 4.5, 9.0)))
    return build_table(replace(profile, shop=shop, jigs=jigs))


def routed(window: Any, table: Table) -> Any:
    """What the bit's circle sweeps while the bush moves everywhere in the window."""
    guide, slack = guide_of(table.profile), 1e-4
    return window.buffer(-guide.bush / 2 + slack, quad_segs=90).buffer(guide.bit / 2 - slack, quad_segs=90)


def rounded(wanted: Any, bit: float) -> Any:
    """The wanted shape as a round bit leaves it."""
    return wanted.buffer(-bit / 2 + 1e-4, quad_segs=90).buffer(bit / 2 - 1e-4, quad_segs=90)


def windows(jig: Jig, table: Table, folder: Path) -> Any:
    """The window of the jig's plate, out of its DXF: the largest hole."""
    holes = written(jig, table, folder).on(jig, f"{jig.code}-PLATE", "THROUGH_INSIDE")
    return max((shapely.Polygon(hole.exterior) for hole in holes if hole.geom_type == "Polygon"), key=len_of)


def len_of(shape: Any) -> float:
    """Extent in x, which tells a window from the plug's hole."""
    _, low, right, high = shape.bounds
    return right if high - low < 2 * right else 0.0


def test_a_mortise_window_is_the_mortise_and_the_offset_all_round(tmp_path: Path) -> None:
    """Out of the written file: centre distance plus and minus half a mortise and (bush - bit) / 2."""
    for table in shops()[:5]:
        legs, joints = table.profile.legs, table.profile.joints
        offset = guide_of(table.profile).offset
        for jig in mortise_templates(table):
            base = any(code.startswith("BASE") for code in jig.serves)
            away = legs.base_centre_distance if base else legs.centre_distance
            along, across = legs.tenon[1] + table.sizes.clearances.tenon, legs.tenon[0] + joints.glue_clearance
            found = windows(jig, table, tmp_path).bounds
            wanted = (
                away - along / 2 - offset, -across / 2 - offset, away + along / 2 + offset, across / 2 + offset
            )  # fmt: skip
            assert found == pytest.approx(wanted, abs=2e-4)


def test_the_bit_cuts_the_mortise_but_for_its_corners(tmp_path: Path) -> None:
    """The sweep of the bit in the window is the mortise with corners of the bit's radius, within 0.01 mm."""
    for table in shops()[3:7]:
        for jig in mortise_templates(table):
            part = table.part(jig.serves[0])
            mortise = next(f for f in part.features if f.kind == "mortise" and f.outline.bounds.centre.x > 0)
            cut = routed(windows(jig, table, tmp_path), table)
            wanted = rounded(flat(mortise.outline), table.profile.shop.router_bit)
            assert cut.boundary.hausdorff_distance(wanted.boundary) < NEAR


def narrow_cuts(table: Table) -> Iterator[tuple[Part, Feature]]:
    """Every groove that stops in its face, and every spline slot."""
    for part in table.parts:
        for feature in part.features:
            whole = part.face(feature.face).outline.bounds
            inside = feature.outline.bounds.left > 1e-6 or feature.outline.bounds.right < whole.right - 1e-6
            if feature.kind == "spline-slot" or (feature.kind == "groove" and inside):
                yield part, feature


def on_template(part: Part, feature: Feature, table: Table, jig: Jig) -> Iterator[tuple[Any, Any]]:
    """The face's wood and the wanted cut in the template's frame, for each of its stops."""
    whole, cut = part.face(feature.face).outline.bounds, feature.outline.bounds
    past = table.sizes.tongue_length if part.kind == "rail" else 0.0
    wood = box(whole.left - past, -part.thickness, whole.right + past, 0)
    wanted = box(cut.left, cut.bottom - part.thickness, cut.right, cut.top - part.thickness)
    # A groove that leaves a rail at its shoulder goes on through what becomes the tenon.
    ends = (cut.left <= 1e-6, cut.right >= whole.right - 1e-6)
    wanted = box(
        wanted.bounds[0] - past * ends[0], wanted.bounds[1], wanted.bounds[2] + past * ends[1], wanted.bounds[3]
    )
    for scribe in jig.scribes:
        if scribe.words in ("left stop", "right stop"):
            at = scribe.edge.start.x
            by = at - wood.bounds[0] if scribe.words == "left stop" else at - wood.bounds[2]
            yield translate(wood, by), translate(wanted, by)


@pytest.mark.wide
def test_every_stopped_groove_and_slot_is_cut_by_a_template_against_one_of_its_stops(tmp_path: Path) -> None:
    """Laid with its top face on the fence and its end on a stop, each part gets its own cut within 0.01 mm."""
    for table in shops()[:4]:
        made = [*slot_templates(table), *groove_templates(table)]
        cuts = {jig.code: routed(windows(jig, table, tmp_path), table) for jig in made}
        for part, feature in narrow_cuts(table):
            tries = [
                (cuts[jig.code].intersection(wood), rounded_inside(wanted, wood, table))
                for jig in made
                if part.code in jig.serves
                for wood, wanted in on_template(part, feature, table, jig)
            ]
            apart = [cut.boundary.hausdorff_distance(wanted.boundary) for cut, wanted in tries if not cut.is_empty]
            assert min(apart) < NEAR, (part.code, feature.kind, feature.face)


def rounded_inside(wanted: Any, wood: Any, table: Table) -> Any:
    """The wanted cut as a round bit leaves it in the wood: open ends run out, closed ones are round."""
    low, high = wanted.bounds[0], wanted.bounds[2]
    far = 50.0
    first = low - far if low <= wood.bounds[0] + 1e-6 else low
    last = high + far if high >= wood.bounds[2] - 1e-6 else high
    run = box(first, wanted.bounds[1], last, wanted.bounds[3])
    return rounded(run, table.profile.shop.router_bit).intersection(wood)


def test_a_stop_leans_as_the_end_of_the_segment_does() -> None:
    """The mitre stands pi / N off square to the faces it meets, and so does the edge of the stop that bears on it."""
    for table in shops():
        for jig in slot_templates(table):
            stop = next(part for part in jig.parts if part.code.endswith("-STOP"))
            top = [p.x for p in stop.outline.points if p.y > -1]
            foot = [p.x for p in stop.outline.points if p.y < -1]
            assert max(top) == pytest.approx(0.0, abs=1e-9)
            assert abs(max(foot)) == pytest.approx(stop.outline.bounds.height * tan(table.sizes.mitre), abs=1e-9)


def test_the_nose_leaves_the_rounded_end_of_the_rail(tmp_path: Path) -> None:
    """What the bit leaves standing round the nose is the finished end within 0.01 mm."""
    seen = 0
    for table in shops():
        guide, base = guide_of(table.profile), table.profile.base
        if base.end_round < guide.offset or base.end_round <= 0:
            continue
        (jig,) = rounding_templates(table)
        plate = written(jig, table, tmp_path).outline(jig, "ROUND-PLATE")
        left = plate.buffer(guide.bush / 2, quad_segs=90).buffer(-guide.bit / 2, quad_segs=90)
        rail = next(part for part in table.parts if part.kind == "base-rail")
        ahead = box(-base.end_round - 1, -base.rail_width, 10, base.rail_width)
        finished = translate(flat(rail.outline), -base.length / 2).intersection(ahead)
        assert left.intersection(ahead).boundary.hausdorff_distance(finished.boundary) < NEAR
        seen += 1
    assert seen >= 2


def test_the_router_stands_on_its_template_wherever_the_bit_is() -> None:
    """The base's circle round every place of the bit's centre lies on the plate."""
    for table in shops():
        base = table.profile.jigs.router_base
        for jig in (*mortise_templates(table), *slot_templates(table), *groove_templates(table)):
            plate = next(part for part in jig.parts if part.code.endswith("-PLATE"))
            window = max((flat(hole) for hole in plate.holes), key=lambda hole: hole.bounds[2])
            centres = window.buffer(-guide_of(table.profile).bush / 2 + 1e-6)
            assert flat(plate.outline).buffer(1e-3).covers(centres.buffer(base / 2))


def test_the_gauge_of_a_leg_closes_on_its_corner() -> None:
    """Gauge and eased section share no area, and their faces meet all along the corner."""
    for table in shops():
        legs = table.profile.legs
        for jig in leg_corners(table):
            gauge = next(part for part in jig.parts if part.code == "LEG-CORNER-GAUGE")
            half = legs.section / 2
            leg, tool = translate(flat(section(legs)), half, half), flat(gauge.outline)
            assert leg.intersection(tool).area < 0.02
            reach = legs.corner_size
            corner = leg.exterior.intersection(box(-1, -1, reach, reach))
            assert tool.buffer(1e-3).covers(corner)
            if legs.corner == "rounded":
                arc = next(edge for edge in gauge.outline.edges if isinstance(edge, Arc))
                assert arc.radius == pytest.approx(legs.corner_size)
            else:
                bevel = next(f for f in jig.figures if f.name == "width of the bevel")
                assert bevel.value == pytest.approx(legs.corner_size * sqrt(2))


BUILDERS = (mortise_templates, slot_templates, groove_templates, rounding_templates)


def test_tools_that_cannot_make_a_shape_are_refused_with_those_that_could() -> None:
    """Each refusal names the key and a size; with that size the template is made."""
    table = next(one for one in shops() if one.profile.joints.spline != "none" and narrowest(one) > 5)
    profile = table.profile
    end_round = max(profile.base.end_round, 6.0)
    profile = replace(
        profile, base=replace(profile.base, end_round=end_round), jigs=replace(profile.jigs, guide="bush")
    )
    narrow, slot = min(profile.joints.tongue, profile.joints.spline_thickness), profile.joints.spline_thickness
    for bit, bush, key in ((slot + 1, slot + 5, "shop.router_bit"), (8.0, 9.0, "shop.guide_bush"),
                           (4.0, 4.0 + 2 * end_round + 1, "shop.guide_bush")):  # fmt: skip
        shop = replace(profile.shop, router_bit=bit, guide_bush=bush)
        faults = []
        for build in BUILDERS:
            try:
                tuple(build(build_table(replace(profile, shop=shop))))
            except DesignError as refusal:
                faults += refusal.faults
        assert faults and all(fault.where == key and fault.found and fault.remedy for fault in faults)
    good = replace(profile.shop, router_bit=min(narrow, 4.0), guide_bush=min(narrow, 4.0) + min(2 * end_round, 9.0))
    for build in BUILDERS:
        tuple(build(build_table(replace(profile, shop=good))))


@pytest.mark.slow
def test_templates_of_many_random_tables_cut_their_grooves_and_slots() -> None:
    """The same as from the written files, from the outlines themselves, over a few hundred profiles."""
    for number, table in enumerate(map(_tooled, range(200), tables(range(100, 600), most=200))):
        made = [*slot_templates(table), *groove_templates(table)]
        cuts = {jig.code: routed(flat(jig.parts[0].holes[0]), table) for jig in made}
        for part, feature in narrow_cuts(table):
            tries = [
                (cuts[jig.code].intersection(wood), rounded_inside(wanted, wood, table))
                for jig in made
                if part.code in jig.serves
                for wood, wanted in on_template(part, feature, table, jig)
            ]
            apart = [cut.boundary.hausdorff_distance(wanted.boundary) for cut, wanted in tries if not cut.is_empty]
            assert min(apart) < NEAR, (number, part.code, feature.kind, feature.face)


def test_what_a_saw_leaves_of_a_corner_is_told_as_a_rule_shows_it() -> None:
    """Nobody saws to thousandths of an inch."""
    (jig,) = rounding_templates(table_of(name="towpath-inch"))
    assert any("to within 5/64 in of the round" in line for line in jig.use)


def test_no_pad_goes_to_the_bandsaw_for_its_corners() -> None:
    """A pad shorter than the template's plate is pared where it is clamped; the rails alone are sawn."""
    (jig,) = rounding_templates(table_of(name="towpath-inch"))
    sawn = [line for line in jig.use if "saw the corners off" in line.lower()]
    assert sawn and all("BASE" in line and "FOOT" not in line for line in sawn)
    assert any(line.startswith("FOOT: pare the corners straight down on waste") for line in jig.use)

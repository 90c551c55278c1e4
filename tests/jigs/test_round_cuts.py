"""The bandsaw's pivot and the router's trammel: distances out of the written files, and the cut itself, simulated."""

from __future__ import annotations

import re
from dataclasses import replace
from math import acos, cos, degrees, hypot, pi, sin
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.geometry import Point, Polygon, box

from templategen.errors import DesignError
from templategen.jigs.pivot import pivot
from templategen.jigs.tear_out import tear_out
from templategen.jigs.trammel import trammel
from templategen.packet.build import built
from templategen.packet.shipped import shipped_folder
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.jigs.written import Written, middle, tables, written

pytest.importorskip("pyogrio")
SEEDS = range(40, 70)
STEPS = 2400
"""Chords to a full turn: at a metre they leave the arc by less than a thousandth."""

TRUE = 1e-3
"""DXF holds six decimals; what GDAL turns into chords is less exact. mm."""


def uprights(shapes: list[Any]) -> list[tuple[float, float, float]]:
    """Upright lines as (x, low, high)."""
    return [(s.bounds[0], s.bounds[1], s.bounds[3]) for s in shapes if s.bounds[2] - s.bounds[0] < 1e-6]


def polygon_about(sides: int, apothem: float, turn: float = 0.0) -> Polygon:
    """A regular polygon about the origin, a corner in direction `turn`."""
    reach = apothem / cos(pi / sides)
    return Polygon(
        [(reach * cos(turn + 2 * pi * i / sides), reach * sin(turn + 2 * pi * i / sides)) for i in range(sides)]
    )


def swept(inner: float, outer: float, steps: int = STEPS) -> Polygon:
    """What a cutting edge from `inner` to `outer` takes while the work turns once about the origin in small steps."""
    rings = [
        [(r * cos(2 * pi * i / steps), r * sin(2 * pi * i / steps)) for i in range(steps)] for r in (outer, inner)
    ]
    return Polygon(rings[0], [rings[1]])


def finished(table: Table, radius: float) -> Polygon:
    """The ring as the profile wants it: a fine circle less the inner polygon."""
    disc = Polygon([(radius * cos(2 * pi * i / STEPS), radius * sin(2 * pi * i / STEPS)) for i in range(STEPS)])
    apothem = table.profile.top.diameter / 2 + table.profile.top.saw_allowance - table.profile.top.rim_width
    return disc.difference(polygon_about(table.profile.top.segments, apothem))


def kept_after(ring: Polygon, *cuts: Polygon) -> Polygon:
    """The largest piece that the cuts leave of the ring."""
    left = ring.difference(shapely.union_all(cuts))
    return max(getattr(left, "geoms", [left]), key=lambda piece: piece.area)


def pivot_figures(table: Table, folder: Path) -> tuple[Written, float, float]:
    """The pivot's sheet, and out of it: pin to the near face of the cut and to the middle of the blade."""
    (jig,) = pivot(table)
    read = written(jig, table, folder)
    pin_x, pin_y = middle(shapely.union_all(read.on(jig, "PIVOT-BASE", "SCRIBE_POINT")))
    lines = read.on(jig, "PIVOT-BASE", "SCRIBE_LINE")
    behind = max(uprights(lines), key=lambda line: line[2])[0]
    before = min(uprights(lines), key=lambda line: line[1])[0]
    hole = max((middle(h) for h in read.on(jig, "PIVOT-SLIDE", "THROUGH_INSIDE")), key=lambda at: at[0])
    assert hole == pytest.approx((pin_x, pin_y), abs=TRUE), "the pin's hole stands off its mark"
    level = [s for s in lines if s.bounds[3] - s.bounds[1] < 1e-6]
    assert [s.bounds[1] for s in level] == pytest.approx([pin_y], abs=1e-6), "the pin is off the tooth line"
    return read, pin_x - before, pin_x - behind


def test_pin_stands_the_finished_radius_from_the_cut(tmp_path: Path) -> None:
    """Out of the DXF: pin to the near face is D/2, to the blade's middle D/2 + kerf/2, the pin on the tooth line."""
    done = 0
    for table in tables(SEEDS, sawn=True):
        _, near, centre = pivot_figures(table, tmp_path)
        assert near == pytest.approx(table.profile.top.diameter / 2, abs=TRUE)
        assert centre - near == pytest.approx(table.profile.shop.bandsaw_blade[1] / 2, abs=TRUE)
        done += 1
    assert done >= 3


def test_stop_halts_the_slide_with_its_pin_on_the_tooth_line(tmp_path: Path) -> None:
    """Pushed along its track, the runner meets the track's end where the slide is drawn, and fits before."""
    for table in tables(SEEDS, sawn=True):
        (jig,) = pivot(table)
        read = written(jig, table, tmp_path)
        base, runner, slide = (read.outline(jig, f"PIVOT-{code}") for code in ("BASE", "RUNNER", "SLIDE"))
        assert base.intersection(runner).area < 1e-6
        assert base.intersection(shapely.affinity.translate(runner, 0, 0.01)).area > 0.01 * 5
        assert base.intersection(shapely.affinity.translate(runner, 0, -50)).area < 1e-6
        width, kerf = table.profile.shop.bandsaw_blade
        blade = box(-kerf, 0, 0, width)
        assert min(base.distance(blade), slide.distance(blade)) >= table.profile.jigs.blade_gap - 1e-6
        pair = [sorted(middle(h) for h in read.on(jig, f"PIVOT-{c}", "THROUGH_INSIDE"))[0] for c in ("BASE", "SLIDE")]
        assert pair[0] == pytest.approx(pair[1], abs=TRUE), "the lock's two holes aren't one"
        (x, y), top = pair[0], table.profile.top
        corner = (top.diameter / 2 + top.saw_allowance) / cos(pi / top.segments)
        assert hypot(x - top.diameter / 2, y) > corner + 20, "the top comes over the lock as it turns"
        assert y < -150 and box(x - 20, y - 20, x + 20, y + 20).within(base.intersection(slide).buffer(TRUE))


def test_simulated_bandsaw_leaves_the_finished_ring(tmp_path: Path) -> None:
    """Slid in at a joint and turned once, the blade leaves the finished ring within 0.01 mm, cutting only waste."""
    for table in tables(SEEDS, sawn=True):
        _read, near, centre = pivot_figures(table, tmp_path)
        far = 2 * centre - near
        top, (jig,) = table.profile.top, pivot(table)
        apothem = top.diameter / 2 + top.saw_allowance
        blank = polygon_about(top.segments, apothem).difference(polygon_about(top.segments, apothem - top.rim_width))
        run = next(f.value for f in jig.figures if f.name.startswith("run of the slide"))
        slid = box(-far, 0, -near, run)
        kept = kept_after(blank, slid, swept(near, far))
        wanted = finished(table, top.diameter / 2)
        assert kept.hausdorff_distance(wanted) < 0.01
        assert kept.symmetric_difference(wanted).area < 0.01 * wanted.length
        assert not blank.intersects(box(-far, run - 1, -near, run + 500)), "the blank starts on the teeth"


def test_bearers_lie_clear_of_the_runner() -> None:
    """The slot is open at the front: along the back a bearer goes past its end, in front one begins beyond it."""
    done = 0
    for table in tables(SEEDS, sawn=True):
        (jig,) = pivot(table)
        pieces = {part.code.removeprefix("PIVOT-"): part for part in jig.parts}
        if "BEARER-BACK" in pieces:
            base, runner = pieces["BASE"].outline.bounds, pieces["RUNNER"].outline.bounds
            assert base.top - runner.top > pieces["BEARER-BACK"].thickness
            assert base.right - pieces["BEARER-FRONT"].outline.bounds.width > runner.right
            done += 1
    assert done >= 3


def test_the_first_arc_goes_on_an_offcut() -> None:
    """An arc and wood inside it to screw it by; no quarter of a circle, which no sheet or board leaves over."""
    for table in (one for one in tables(SEEDS, sawn=True) if one.profile.units == "mm"):
        (jig,), radius = pivot(table), table.profile.top.diameter / 2
        long, wide = (float(told) for told in re.findall(r"([0-9.]+) mm (?:long|wide)", jig.proof[0]))
        assert long < 0.6 * radius and radius - (radius**2 - (long / 2) ** 2) ** 0.5 + 20 < wide < 0.1 * radius + 40


def test_a_scale_of_radii_tells_its_ends_and_its_step() -> None:
    """Figures 5 mm apart lay over each other and over the outline."""
    for table in tables(SEEDS, sawn=True):
        (jig,) = pivot(table)
        scale = [one.words for one in jig.scribes if one.part == "PIVOT-SLIDE" and one.kind == "scale"]
        first, *between, last, finished = scale
        assert first and not any(between) and ", every " in last and finished.startswith("finished")


def test_entry_lies_where_the_blade_meets_the_blank() -> None:
    """The entry along the outer edge and the flat are those of a line at R across a polygon's corner."""
    for table in tables(SEEDS, sawn=True):
        top, (jig,) = table.profile.top, pivot(table)
        blank = polygon_about(top.segments, top.diameter / 2 + top.saw_allowance)
        across = blank.intersection(shapely.LineString([(top.diameter / 2, -2000), (top.diameter / 2, 2000)]))
        figures = {figure.name: figure.value for figure in jig.figures}
        assert figures["the whole flat"] == pytest.approx(across.length, abs=1e-6)
        corner = (top.diameter / 2 + top.saw_allowance) / cos(pi / top.segments)
        entry = hypot(corner - across.coords[1][0], across.coords[1][1])
        assert figures["first entry, from the blank's corner along its outer edge"] == pytest.approx(entry, abs=1e-6)


def test_corner_gauge_fits_the_blank(tmp_path: Path) -> None:
    """Out of the DXF: laid on a joint's corner, the gauge covers just what lies outside the flat at R."""
    for table in tables(SEEDS, sawn=True):
        (jig,) = pivot(table)
        top = table.profile.top
        gauge = written(jig, table, tmp_path).outline(jig, "PIVOT-CORNER")
        corner = shapely.affinity.translate(shapely.affinity.rotate(gauge, -90, origin=(0, 0)), top.diameter / 2, 0)
        blank = polygon_about(top.segments, top.diameter / 2 + top.saw_allowance)
        outside = blank.intersection(box(top.diameter / 2, -2000, 2000, 2000))
        assert corner.symmetric_difference(outside).area < 1e-3 * outside.length
        assert corner.hausdorff_distance(outside) < 1e-3


def test_trammel_reaches_by_half_the_bit(tmp_path: Path) -> None:
    """Out of the DXF: pivot to bit is D/2 + d/2, the rough one as much more as is left; wood between the holes."""
    for table in tables(SEEDS, sawn=True):
        (jig,) = trammel(table)
        holes = written(jig, table, tmp_path).on(jig, "TRAMMEL", "THROUGH_INSIDE")
        bit = max(holes, key=lambda h: h.area)
        pivots = sorted(
            (h for h in holes if h is not bit), key=lambda h: Point(middle(h)).distance(Point(middle(bit)))
        )
        reach = [Point(middle(h)).distance(Point(middle(bit))) for h in pivots]
        out = table.profile.top.diameter / 2 + table.profile.jigs.trammel_bit / 2
        leave = table.profile.jigs.leave
        assert reach == pytest.approx([out, out + leave] if leave else [out], abs=TRUE)
        assert len(pivots) == 1 or pivots[0].distance(pivots[1]) > 5


def test_simulated_router_leaves_the_finished_ring(tmp_path: Path) -> None:
    """A bit swept about the rough pivot, then about the other, leaves the outline, the first what is trued."""
    for table in tables(SEEDS, sawn=True, most=2):
        (jig,) = trammel(table)
        holes = written(jig, table, tmp_path).on(jig, "TRAMMEL", "THROUGH_INSIDE")
        bit = Point(middle(max(holes, key=lambda h: h.area)))
        true, *rest = sorted(bit.distance(Point(middle(h))) for h in holes)[1:]
        rough = rest[0] if rest else true
        half, radius = table.profile.jigs.trammel_bit / 2, table.profile.top.diameter / 2
        left = kept_after(finished(table, radius + 30), swept(rough - half, rough + half))
        assert left.hausdorff_distance(finished(table, radius + table.profile.jigs.leave)) < 0.01
        kept = kept_after(left, swept(true - half, true + half))
        assert kept.hausdorff_distance(finished(table, radius)) < 0.01


def test_hatching_lies_where_the_cutter_lifts_the_grain(tmp_path: Path) -> None:
    """Every hatched line of the strip lies where an anticlockwise cutter climbs out of the grain, none elsewhere."""
    for table in tables(SEEDS, sawn=True):
        if table.profile.jigs.leave <= 0:
            assert not list(tear_out(table))
            continue
        (jig,) = tear_out(table)
        hatches = written(jig, table, tmp_path).on(jig, "TEAR-OUT", "SCRIBE_HATCH")
        assert hatches
        for shape in hatches:
            x, y = middle(shape)
            feed = (-y, x)  # anticlockwise about the centre of the table
            rising = feed[1]  # the grain runs along x, the wood lies below: an edge that rises lifts its fibres
            assert rising > -0.02 * hypot(x, y)
        turns = [degrees(acos(min(1.0, abs(middle(s)[1]) / hypot(*middle(s))))) for s in hatches]
        assert max(turns) <= 180 / table.profile.top.segments + 1


@pytest.mark.wide
def test_faceted_rings_have_no_round_jigs() -> None:
    """A ring with straight outer edges gets no pivot, no trammel and no tear-out map."""
    flat = [table for table in tables(range(40, 90), most=20) if not table.sizes.is_sawn]
    assert flat
    for table in flat[:3]:
        assert not [jig for build in (pivot, trammel, tear_out) for jig in build(table)]


def test_the_slide_is_pinned_beside_a_blade_that_stands() -> None:
    """No hand leaves the top for a dowel while the blade runs."""
    (jig,) = pivot(built(shipped_folder() / "towpath-inch.toml"))
    (told,) = (line for line in jig.use if "dowel" in line)
    assert told.index("stop the saw") < told.index("blade stands") < told.index("dowel") < told.index("start again")


def test_pin_that_comes_through_is_refused() -> None:
    """A pin deeper than the plug or bridge it stands in is an error that names the key and what would do."""
    text = "format = 1\n[jigs]\npin_depth = 15\nthickness = 12\n"
    table = build_table(profile_from_text(text, "deep"))
    with pytest.raises(DesignError) as refusal:
        list(pivot(table))
    assert refusal.value.faults[0].where == "jigs.pin_depth" and "12 mm" in refusal.value.faults[0].remedy


def test_router_base_that_covers_the_pivot_is_refused() -> None:
    """A router's base that reaches the pivot can't be swung about it."""
    table = built(shipped_folder() / "towpath-dining.toml")
    wide = replace(table.profile, jigs=replace(table.profile.jigs, router_base=1300.0))
    with pytest.raises(DesignError, match="router_base"):
        list(trammel(replace(table, profile=wide)))


def test_bridge_stands_in_two_mortises(tmp_path: Path) -> None:
    """Without a pole hole the pin stands in a bridge whose two feet are the leg's tenon and lie at its mortises."""
    done = 0
    for table in tables(range(40, 90), sawn=True, most=30):
        if table.profile.top.pole_hole > 0:
            continue
        (jig,) = pivot(table)
        read, legs = written(jig, table, tmp_path), table.profile.legs
        feet = sorted(middle(s)[0] for s in read.on(jig, "PIVOT-BRIDGE", "SCRIBE_POINT"))
        pin = middle(read.on(jig, "PIVOT-BRIDGE", "THROUGH_INSIDE")[0])
        assert pin == pytest.approx((0, 0), abs=TRUE)
        assert {round(abs(x), 3) for x in feet} == {round(legs.centre_distance, 3)}
        foot = read.outline(jig, "PIVOT-FOOT").bounds
        assert (foot[2] - foot[0], foot[3] - foot[1]) == pytest.approx((legs.tenon[1], legs.tenon[0]), abs=TRUE)
        done += 1
        if done == 2:
            break
    assert done == 2

"""Triangles, strips, spacers and story sticks: written files against closed formulas."""

from __future__ import annotations

import re
from fractions import Fraction
from math import acos, atan2, cos, degrees, hypot, pi, radians, sin, tan
from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import Polygon

from templategen.drawing.drawing import Shape, words_of
from templategen.drawing.jig_in_use import strip as strip_in_use
from templategen.jigs.angle_gauge import bevel_gauge, slat_gauge
from templategen.jigs.mitre_gauge import mitre_gauge
from templategen.jigs.sled import sled_of
from templategen.jigs.spacers import grows, spacers
from templategen.jigs.stop_strip import stop_strip
from templategen.jigs.story_stick import story_sticks
from templategen.packet.build import built
from templategen.packet.shipped import shipped_folder, shipped_names
from templategen.parts.part import Part
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.tolerances import LAST_GAP
from templategen.table.assembly import Table
from templategen.table.seasons import board_swing, seasons_of
from templategen.wood.movement import equilibrium_moisture
from templategen.work.closing import mitring, scrap_ring
from tests.jigs.written import svg_lines, tables, written
from tests.table.made import TIGHT, table_of

pytest.importorskip("pyogrio")
SEEDS = range(100, 130)
WORKED = TIGHT | {"slats.hold": "width"}
"""The worked table: seven slats of 58 mm, shoulders against their rails."""
TRUE = 1e-4
"""Straight lines come back from a DXF to its last digits, mm."""


def angles_of(shape: Polygon) -> list[float]:
    """The angles at the corners of a polygon, degrees, smallest first."""
    ring = list(shape.exterior.coords)[:-1]
    found = []
    for i, (x, y) in enumerate(ring):
        one, other = ring[i - 1], ring[(i + 1) % len(ring)]
        a, b = (one[0] - x, one[1] - y), (other[0] - x, other[1] - y)
        found.append(degrees(acos((a[0] * b[0] + a[1] * b[1]) / (hypot(*a) * hypot(*b)))))
    return sorted(found)


def places(shapes: list[Any]) -> list[float]:
    """Where upright lines stand, from the left."""
    return sorted(s.bounds[0] for s in shapes if s.bounds[2] - s.bounds[0] < 1e-6)


def test_mitre_triangles_hold_to_a_thousandth_of_a_degree(tmp_path: Path) -> None:
    """Out of the DXF: the set triangle has 180/N beside its square corner, the check triangle 180 - 360/N on top."""
    for table in tables(SEEDS):
        (jig,) = mitre_gauge(table)
        read, mitre = written(jig, table, tmp_path), 180 / table.profile.top.segments
        wanted = sorted([mitre, 90 - mitre, 90])
        assert angles_of(read.outline(jig, "MITRE-SET")) == pytest.approx(wanted, abs=1e-3)
        assert angles_of(read.outline(jig, "MITRE-CHECK")) == pytest.approx(
            sorted([mitre, mitre, 180 - 2 * mitre]), abs=1e-3
        )


def test_scrap_ring_table_is_what_a_bent_ring_gapes() -> None:
    """Segments laid head to tail each mitre off by the table's error, leave its gap at the last joint."""
    for table in tables(SEEDS, most=3):
        (jig,) = mitre_gauge(table)
        count, width = table.profile.top.segments, table.profile.top.rim_width
        for figure in (f for f in jig.figures if f.name.startswith("scrap ring")):
            turned = sum(2 * (180 / count - figure.value) for _ in range(count))
            open_by = radians(360 - turned) * width / cos(pi / count)
            gap = figure.name.split("last gap ")[1].split(":")[0]
            size, unit = gap.split()
            assert open_by == pytest.approx(float(size) * (25.4 if unit == "in" else 1), abs=0.013)


def test_the_set_triangles_legs_give_its_angle_as_they_are_told() -> None:
    """Rounded as a rule reads they are off by less than a mitre of the ring may be."""
    table = table_of(name="towpath-inch")
    (jig,) = mitre_gauge(table)
    (told,) = (line for line in jig.proof if line.startswith("Measure the set"))
    long, short = (_length(words) for words in re.findall(r"[\d./-]+ (?:mm|in)\b", told)[:2])
    mitred = next(one for one in set_ups(table) if one.operation == "mitre" and "RIM-A" in one.codes)
    borne = next(check.tolerance for check in mitred.proof.checks if check.tolerance.figure.unit == "deg")
    assert abs(degrees(atan2(short, long)) - 15) < borne.figure.value


def test_what_slats_grow_by_is_what_the_year_tells() -> None:
    """The sheet's figure for each %, times the way to the wettest, is the year's."""
    table = table_of(name="towpath-inch")
    seasons, swing = seasons_of(table.profile), board_swing(table.profile)
    told = grows(table) * (seasons.wettest - seasons.built)
    assert told == pytest.approx(table.spacing.width * swing.wet, rel=0.02)


def test_a_layer_of_foil_turns_every_cut_by_what_the_gap_asks() -> None:
    """Segments whose mitres are each off by a layer's thickness over the slips' distance gape by the gap told; no
    ring needs a finer one to come within what its last gap may be, and both slips lie under every piece."""
    shipped = [table_of(name=name) for name in shipped_names()]
    for table in (*tables(SEEDS, most=3), *shipped):
        mitred = mitring(table, set_ups(table))
        assert mitred
        (told,) = (line for line in scrap_ring(table, mitred, set_ups(table)).tells if "foil" in line)
        far, gap, ten = (_length(words) for words in re.findall(r"[\d./-]+ (?:mm|in)\b", told)[:3])
        count, width = table.profile.top.segments, table.profile.top.rim_width
        open_by = 2 * count * atan2(ten / 10, far) * width / cos(pi / count)
        assert open_by == pytest.approx(gap, rel=0.03, abs=0.03)
        assert gap / 2 < LAST_GAP or table not in shipped
        rim = min(part.size[0] - 2 * width * tan(pi / count) for part in table.parts if part.kind == "rim-segment")
        assert far < min(table.profile.shop.holding, rim)
        assert "°" not in told


def _length(words: str) -> float:
    size, unit = words.split()
    return float(sum(Fraction(one) for one in size.split("-"))) * (25.4 if unit == "in" else 1)


def borders(table: Table) -> set[float]:
    """Every angle off square at which a slat can meet an arm or a flat of the rim, degrees."""
    top, run = table.profile.top, table.profile.slats.run
    field = 180 / top.rails
    found = set()
    for number in range(top.rails):
        way = {"straight": 0.0, "along": (number + 0.5) * field, "across": (number + 0.5) * field + 90}[run]
        edges = [number * field, (number + 1) * field, (number + 0.5) * field + 90]  # the last behind the apex
        edges += [360 * i / top.segments + 90 for i in range(top.segments)]
        for edge in edges:
            between = abs((edge - way + 90) % 180 - 90)
            found.add(90 - between)
    return found


def test_slat_triangles_fit_the_borders_of_the_fields(tmp_path: Path) -> None:
    """Out of the DXF: each slat triangle has an angle at which a slat meets an arm or the rim, to 0.001 degrees."""
    done = 0
    for table in tables(SEEDS, most=6):
        known = borders(table)
        for jig in slat_gauge(table):
            read = written(jig, table, tmp_path)
            for part, figure in zip(jig.parts, jig.figures, strict=True):
                angle = figure.value
                wanted = sorted([angle, 90 - angle, 90])
                assert angles_of(read.outline(jig, part.code)) == pytest.approx(wanted, abs=1e-3)
                assert min(abs(angle - one) for one in known) < 1e-3
                done += 1
            served = set(jig.serves)
            slanted = {p.code for p in table.parts if p.kind == "slat" and _slants_anywhere(p)}
            lapped = {p.code for p in table.parts if p.cuts("lap")} if table.sizes.rails > 2 else set()
            assert served == slanted | lapped
    assert done >= 6


def _slants_anywhere(part: Part) -> bool:
    return any(_slants(shape.points) for shape in (part.body, part.outline) if shape)


def _slants(points: tuple[Any, ...]) -> bool:
    """Whether some side is neither level nor upright."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return any(min(abs(a[0] - b[0]), abs(a[1] - b[1])) > 0.05 * hypot(a[0] - b[0], a[1] - b[1]) / 50
               and hypot(a[0] - b[0], a[1] - b[1]) > 1 for a, b in pairs)  # fmt: skip


def test_bevel_board_shows_every_angle(tmp_path: Path) -> None:
    """Out of the SVG: the lines leave the lower edge at the mitre, the slats' angles and the legs' rake."""
    for table in tables(SEEDS):
        (jig,) = bevel_gauge(table)
        lines = svg_lines(jig, table, tmp_path, "SCRIBE_LINE")
        drawn = sorted(degrees(acos(abs((b - a).imag) / abs(b - a))) for a, b in lines)
        assert drawn == pytest.approx(sorted(figure.value for figure in jig.figures), abs=1e-3)
        assert min(abs(angle - 180 / table.profile.top.segments) for angle in drawn) < 1e-3
        legs, top, base = table.profile.legs, table.profile.top, table.profile.base
        pads = base.foot_thickness if base.feet == "pads" else 0.0
        rise = top.height - top.thickness - base.thickness - pads
        rake = degrees(acos(rise / hypot(rise, legs.centre_distance - legs.base_centre_distance)))
        assert rake < 0.02 or min(abs(angle - rake) for angle in drawn) < 1e-3


def test_the_strip_is_screwed_to_the_fence() -> None:
    """Slats are clamped against it: its sheet on the page says first what holds it, and which way it faces whatever
    side of the fence one stands on."""
    (jig,) = stop_strip(table_of(name="towpath-dining"))
    assert jig.use[0].startswith("Screw it on edge to the saw's fence")
    assert "lined face to the slats" in jig.use[0] and not re.search(r"\byou\b|\bleft\b", jig.use[0])


def test_no_strip_covers_the_paper_of_the_sled() -> None:
    """What is sawn on SLED is held by the paper of its fence: nothing smooth comes between."""
    for name in shipped_names():
        table = table_of(name=name)
        on_sled = {round(degrees(angle), 3) for angle, _ in sled_of(table).angles}
        assert on_sled.isdisjoint(round(jig.angle or 0.0, 3) for jig in stop_strip(table))
    assert on_sled


def test_the_name_of_a_low_strip_lies_on_no_fence() -> None:
    """The strip is no higher than a slat, less than its name: that stands beside it, and beside the fence."""
    table = table_of(name="towpath-inch")
    (jig,) = stop_strip(table)
    marks = list(strip_in_use(jig, table))
    (name,) = (mark for mark in words_of(marks) if mark.text == "strip")
    rings = [mark.outline.bounds for mark in marks if isinstance(mark, Shape)]
    assert all(room.right < name.at.x for room in rings if room.bottom < name.at.y + name.height and room.top > 0)


def test_stop_strip_has_the_worked_lengths(tmp_path: Path) -> None:
    """Out of the DXF: the stops of the dining table are the worked table's lengths with tongues."""
    table = table_of(WORKED)
    (jig,) = stop_strip(table)
    ticks = places(written(jig, table, tmp_path).on(jig, "STOP-STRIP", "SCRIBE_SCALE"))
    worked = [105.511, 180.999, 256.488, 331.976, 407.465, 482.954]  # the seventh has two edges at each end
    assert ticks == pytest.approx(worked, abs=6e-4)
    assert jig.angle == pytest.approx(30)


def test_stop_strip_has_each_length_of_random_tables(tmp_path: Path) -> None:
    """Every stop at which set-ups of its angle cut a slat with one edge at either end stands on the strip, and no
    other; there is none where the sled is used."""
    for table in tables(SEEDS[:3]):
        ups = [one for one in set_ups(table) if one.operation in ("crosscut", "mitre")]
        ends: dict[str, set[str]] = {p.code: set() for p in table.parts if p.kind == "slat"}
        for one in ups:
            for lay in (lay for cut in one.cuts for lay in cut.lays if lay.code in ends):
                ends[lay.code].add(lay.worked)
        plain = {code for code, own in ends.items() if own == {"left", "right"}}
        found = stops_by_angle(ups, plain)
        strips = {round(jig.angle or 0.0, 3): jig for jig in stop_strip(table)}
        assert strips.keys() == found.keys() - {round(degrees(angle), 3) for angle, _ in sled_of(table).angles}
        for angle, jig in strips.items():
            assert set(jig.serves) <= plain
            ticks = places(written(jig, table, tmp_path).on(jig, jig.code, "SCRIBE_SCALE"))
            assert all(min(abs(t - length) for t in ticks) < 0.011 for length in found[angle])
            assert all(min(abs(t - length) for length in found[angle]) < TRUE for t in ticks)


def stops_by_angle(ups: list[SetUp], codes: set[str]) -> dict[float, set[float]]:
    """Where the stop stands for these parts, by the angle that the saw is set to."""
    found: dict[float, set[float]] = {}
    for one in ups:
        for cut in one.cuts:
            if one.setting("stop", cut) and codes.intersection(cut.codes):
                found.setdefault(round(one.value("angle"), 3), set()).add(one.value("stop", cut))
    return found


def test_spacers_are_the_solved_gap(tmp_path: Path) -> None:
    """Out of the DXF: the tongue is what n slats and n + 1 gaps leave of the worked field: 7.375 mm."""
    table = table_of(WORKED)
    (jig,) = spacers(table)
    tee = written(jig, table, tmp_path).outline(jig, "SPACER")
    low = sorted(x for x, y in tee.exterior.coords[:-1] if abs(y - tee.bounds[1]) < 1e-6)
    start, end = 42 / sin(pi / 6), 549.0
    assert low[-1] - low[0] == pytest.approx((end - start - 7 * 58) / 8, abs=TRUE) == pytest.approx(7.375, abs=TRUE)


def test_slats_of_another_width_keep_the_pitch() -> None:
    """Read out of the steps: a gap is the pitch less the slat's width, and slats grow with moisture as the wood does;
    nothing that no saw cuts is asked for."""
    table = table_of(WORKED)
    (jig,) = spacers(table)
    assert [part.code for part in jig.parts] == ["SPACER"]
    pitch = float(re.search(r"each gap is ([\d.]+) mm less that width", jig.use[0])[1])  # type: ignore[index]
    assert pitch == pytest.approx(58 + 7.375, abs=0.006)
    built = float(re.search(r"than ([\d.]+) %", jig.use[1])[1])  # type: ignore[index]
    grows = float(re.search(r"rip them ([\d.]+) mm wider", jig.use[1])[1])  # type: ignore[index]
    air = table.profile.shop
    mean = sum(equilibrium_moisture(h, air.temperature) for h in air.humidity) / 2
    assert built == pytest.approx(air.build_moisture or mean, abs=0.06)
    share = table.profile.limits.movement_factor * 0.078 / 30
    assert grows == pytest.approx(58 * share / (1 - 0.078 * (30 - built) / 30), abs=0.006)


def test_a_stick_tells_where_its_figures_count_from() -> None:
    """Those of rails from their middle, those of legs from the lower end, as they are."""
    for jig in story_sticks(table_of(name="towpath-inch")):
        leg = "LEG" in jig.serves
        assert any("from the middle, a leg's from its lower end" in told for told in jig.use)
        spans = [one.span for one in jig.figures if one.span and one.name != "end to end"]
        middle = 0.0 if not leg else min(point.x for one in jig.figures if one.span for point in one.span)
        assert spans and all(start.x == pytest.approx(middle) for start, _ in spans)


def test_story_sticks_hold_shoulders_and_mortises(tmp_path: Path) -> None:
    """Out of the DXF: shoulders at the inner apothem, tenon ends past them, every mortise's sides, leg shoulders."""
    for table in tables(SEEDS, most=3):
        profile, sizes = table.profile, table.sizes
        apothem = (
            profile.top.diameter / 2 + (profile.top.saw_allowance if sizes.is_sawn else 0) - profile.top.rim_width
        )
        reach = apothem + profile.joints.groove_depth - profile.joints.end_clearance
        half = (profile.legs.tenon[1] + sizes.clearances.tenon) / 2
        seen = set()
        for jig in story_sticks(table):
            (part,) = jig.parts
            read = written(jig, table, tmp_path)
            ticks = places(read.on(jig, part.code, "SCRIBE_SCALE") + read.on(jig, part.code, "SCRIBE_WITNESS"))
            kinds = {p.kind for p in table.parts if p.code in jig.serves}
            seen |= kinds
            wanted = []
            if "rail" in kinds:
                away = profile.legs.centre_distance
                wanted = [s * v for s in (-1, 1) for v in (apothem, reach, away - half, away + half)]
            elif "base-rail" in kinds:
                away = profile.legs.base_centre_distance
                wanted = [s * v for s in (-1, 1) for v in (profile.base.length / 2, away - half, away + half)]
            elif abs(profile.legs.centre_distance - profile.legs.base_centre_distance) < 1e-9:
                tenon = profile.legs.tenon[2]
                wanted = [0, tenon, tenon + sizes.leg_height, 2 * tenon + sizes.leg_height]
            for place in wanted:
                assert min(abs(tick - place) for tick in ticks) < 0.011, (jig.code, place)
        assert seen == {"rail", "base-rail", "leg"}


def test_sticks_say_which_lap_is_in_which_face_and_fit_the_sawn_leg() -> None:
    """Letters of one stick lie in different faces of two rails; a leg's end lines are the points to which it is sawn,
    its shoulders told by the edges of its drawing."""
    table = built(shipped_folder() / "towpath-hex.toml")
    sticks = {code: jig for jig in story_sticks(table) for code in jig.serves}
    (faces,) = [told for told in sticks["RAIL-MID"].use if told.startswith("Which are a trench")]
    low, middle = (
        min(cut.depth for cut in table.part(code).cuts("lap") if cut.face == face)
        for code, face in (("RAIL-LOW", "top"), ("RAIL-MID", "top"))
    )
    assert f"RAIL-LOW: s, t, u, v in the top, {low:.4g} mm deep" in faces
    assert f"RAIL-MID: s, u in the top, {middle:.4g} mm deep, t, v in the underside" in faces
    (high,) = [told for told in sticks["RAIL-HIGH"].use if "RAIL-HIGH: " in told]
    deep = {
        letter: size
        for letters, size in re.findall(r"([a-z](?:, [a-z])*) in the underside, ([0-9.]+) mm deep", high)
        for letter in letters.split(", ")
    }
    assert len(deep) == 4 and len(set(deep.values())) == 2
    for jig in sticks.values():
        assert not any("end" in mark.words and "shoulder" in mark.words for mark in jig.scribes), jig.code
    leg = table.part("LEG")
    ends = next(figure for figure in sticks["LEG"].figures if figure.name == "end to end")
    assert ends.value == pytest.approx(leg.blank.bounds.width) and ends.value > leg.outline.bounds.width
    shoulders = {figure.name.partition(" to ")[2] for figure in sticks["LEG"].figures if "shoulder" in figure.name}
    assert shoulders == {"shoulder upper edge", "shoulder lower edge"}


def test_gauges_of_inch_tables_count_in_inches() -> None:
    """A table in inches has inches on its gauges."""
    table = built(shipped_folder() / "towpath-inch.toml")
    (jig,) = mitre_gauge(table)
    assert any(" in:" in figure.name for figure in jig.figures)
    assert tan(radians(jig.figures[0].value)) == pytest.approx(tan(pi / table.profile.top.segments))

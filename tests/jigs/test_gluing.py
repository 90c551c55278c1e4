"""Cauls, wedges and the assembly board, out of the written files where there is a distance to measure."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos, degrees, pi, tan
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.affinity import rotate, translate
from shapely.geometry import LineString, Polygon, box

from templategen.geometry.edge import Line
from templategen.jigs.assembly_board import assembly_board
from templategen.jigs.board_pieces import usable_sheet
from templategen.jigs.caul import NOTCH, Caul, cauls
from templategen.jigs.jig import Jig
from templategen.jigs.wedge_board import wedge_board
from templategen.packet.shipped import shipped_names
from templategen.packet.stages import WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model_of_shop import Stock
from templategen.work.tools import tools_of
from tests.jigs.written import tables, written
from tests.table.made import profile_of

pytest.importorskip("pyogrio")


@cache
def made() -> tuple[Table, ...]:
    """Six random tables."""
    return tuple(tables(range(60), most=6))


def ring_of_blanks(table: Table) -> Any:
    """The ring before it is sawn: a polygon of flats at the blanks' apothem, joints at odd multiples of pi / N."""
    sizes = table.sizes
    corner = (table.sizes.radius + (table.profile.top.saw_allowance if sizes.is_sawn else 0)) / cos(
        pi / sizes.segments
    )
    turns = [(2 * i + 1) * pi / sizes.segments for i in range(sizes.segments)]
    return Polygon([(corner * cos(t), corner * cos(t - pi / 2)) for t in turns]), corner


def round_the_ring(outline: Any, corner: float, count: int) -> list[Any]:
    """The caul at every joint: its own origin on the ring's corner, its y outwards."""
    return [
        rotate(translate(outline, 0, corner), degrees((2 * i + 1) * pi / count) - 90, origin=(0, 0))
        for i in range(count)
    ]


def test_cauls_seat_on_the_blanks_and_pull_in_parallel(tmp_path: Path) -> None:
    """From the written outline: no bite into the ring, both seats on it, opposite backs parallel."""
    for table in made()[:3]:
        (jig,) = cauls(table)
        ring, corner = ring_of_blanks(table)
        caul, count = Caul(table.sizes), table.sizes.segments
        outline = written(jig, table, tmp_path).outline(jig, "CAUL")
        placed = round_the_ring(outline, corner, count)
        for one, other in zip(placed, [*placed[1:], placed[0]], strict=True):
            assert one.intersection(ring).area < 0.05
            seated = ring.exterior.intersection(one.buffer(1e-3))
            assert seated.length == pytest.approx(2 * (caul.seat - caul.notch), abs=0.05)
            assert one.distance(other) > 0
        for one, opposite in zip(placed[: count // 2], placed[count // 2 :], strict=True):
            backs = [longest_far_side(shape) for shape in (one, opposite)]
            assert heading(backs[0]) == pytest.approx(heading(backs[1]), abs=1e-5)
            assert backs[0].distance(backs[1]) == pytest.approx(2 * (corner + caul.back), abs=1e-3)


def test_cauls_ride_on_no_spline() -> None:
    """Nowhere round the ring does a caul touch a spline that lies in its slot before the ring is sawn: level with the
    ring's corner, to either side by its play, or standing out by that much besides."""
    shipped = tuple(build_table(profile_of(name=name)) for name in shipped_names())
    through = [table for table in (*shipped, *made()) if table.profile.joints.spline == "through"]
    assert len(through) > 3
    for table in through:
        caul, play = Caul(table.sizes), table.profile.joints.end_clearance
        (jig,) = cauls(table)
        outline = Polygon([edge.point_at(s) for edge in jig.parts[0].outline.edges for s in (0, 0.25, 0.5, 0.75)])
        placed = round_the_ring(outline, caul.corner, table.sizes.segments)
        splines = [copy for copy in table.placed if table.part(copy.code).kind == "spline"]
        assert len(splines) == len(placed)
        for copy in splines:
            for shift, out in ((0, 0), (play, 0), (-play, 0), (play, play), (-play, play)):
                corners = [copy.point(p.x + shift, p.y + out, 0) for p in table.part(copy.code).blank.points]
                shape = Polygon([(p.x, p.y) for p in corners])
                near = min(placed, key=shape.distance)
                assert near.distance(shape) > 1, (table.profile.title, shift, out)
        assert caul.seat - caul.notch > NOTCH, "what a seat is left"


def test_a_notch_over_deep_slots_leaves_a_seat() -> None:
    """Slots that almost meet in short segments: the caul still presses beside its notch, clear of the next one."""
    table = build_table(profile_of({"top.segments": 24, "joints.spline": "through", "joints.spline_depth": 70.0},
                                   "towpath-dining"))  # fmt: skip
    caul = Caul(table.sizes)
    assert caul.notch > 70 and caul.seat - caul.notch >= 8 and 2 * caul.seat < table.sizes.outer_length
    (jig,) = cauls(table)
    assert jig.parts[0].outline.area > 0


def longest_far_side(shape: Any) -> Any:
    """The side of a caul that lies furthest from the table's axis."""
    points = list(shape.exterior.coords)
    sides = [LineString(pair) for pair in pairwise(points)]
    return max(sides, key=lambda side: side.interpolate(0.5, normalized=True).distance(shapely.Point(0, 0)))


def heading(line: Any) -> float:
    """Direction of a line, half a turn being none; told as twice the angle's sine and cosine in one number."""
    (x0, y0), (x1, y1) = line.coords
    length = line.length
    return ((x1 - x0) * (y1 - y0) / length**2) + 10 * ((x1 - x0) / length) ** 2


def test_two_wedges_fill_the_room_between_back_and_stop(tmp_path: Path) -> None:
    """Slopes together, three quarters overlapped, a pair is as wide as the gap, its outer sides parallel."""
    table = made()[0]
    (jig,) = wedge_board(table)
    one = written(jig, table, tmp_path).outline(jig, "WEDGE")
    length, gap = one.bounds[2], figure(jig, "caul's back to the stop, joints closed")
    other = translate(rotate(one, 180, origin=(length / 2, 0)), -length / 4, gap)
    assert one.intersection(other).area < 0.05
    assert one.distance(other) < 1e-3
    assert other.bounds[3] - one.bounds[1] == pytest.approx(gap, abs=1e-3)


def figure(jig: Jig, name: str) -> float:
    """A figure of the jig by its name."""
    return next(one.value for one in jig.figures if one.name == name)


def lines_of(jig: Jig, kind: str) -> list[Any]:
    """The scribed lines of a kind."""
    return [LineString([scribe.edge.start, scribe.edge.end]) for scribe in jig.scribes if scribe.kind == kind]


def test_the_board_marks_every_part_where_it_lies_and_no_line_twice() -> None:
    """Every edge of a blank, a rail between its shoulders and a slat's body lies on a scribed line; none overlap."""
    for table in made():
        (jig,) = assembly_board(table)
        lines = lines_of(jig, "line")
        marks = shapely.union_all([line.buffer(1e-3, cap_style="square") for line in lines])
        for placed in table.placed:
            part = table.part(placed.code)
            shape = part.blank if part.kind == "rim-segment" else part.body if part.kind == "slat" else None
            if shape is None:
                continue
            spots = [placed.point(p.x, p.y, 0) for p in shape.points]
            ring = LineString([(p.x, p.y) for p in (*spots, spots[0])])
            assert ring.difference(marks).length < 1e-6, part.code
        assert sum(line.length for line in lines) == pytest.approx(shapely.union_all(lines).length, abs=1e-3)


def test_each_part_of_the_top_has_its_code_on_itself() -> None:
    """As many codes as copies (two on a rail), each within the part's own outline."""
    for table in made()[:3]:
        (jig,) = assembly_board(table)
        codes = {part.code for part in table.parts if part.kind in ("rim-segment", "rail", "slat")}
        named = [scribe for scribe in jig.scribes if scribe.words in codes]
        wanted = [p.code for p in table.placed if p.code in codes]
        rails = [code for code in wanted if table.part(code).kind == "rail"]
        assert sorted(scribe.words for scribe in named) == sorted([*wanted, *rails])
        shapes = [(placed.code, in_plan(table, placed)) for placed in table.placed if placed.code in codes]
        for scribe in named:
            middle = shapely.Point(scribe.edge.point_at(0.5))
            assert any(code == scribe.words and shape.contains(middle) for code, shape in shapes)


def in_plan(table: Table, placed: Any) -> Any:
    """A part's blank as it lies in the table."""
    points = [placed.point(p.x, p.y, 0) for p in table.part(placed.code).blank.points]
    return Polygon([(p.x, p.y) for p in points])


def test_the_board_comes_in_pieces_that_fit_a_sheet_and_tile_it() -> None:
    """No overlap, no hole, each within the sheet; every seam has marks of one letter that meet on both pieces."""
    for table in made():
        (jig,) = assembly_board(table)
        pieces = [part for part in jig.parts if part.code != "ASSEMBLY-BATTEN"]
        shapes = [Polygon(part.outline.points) for part in pieces]
        whole = shapely.union_all(shapes)
        assert whole.geom_type == "Polygon" and not whole.interiors
        assert whole.area == pytest.approx(sum(shape.area for shape in shapes), rel=1e-9)
        corner = ring_of_blanks(table)[1]
        assert whole.contains(shapely.Point(0, 0).buffer(corner))
        length, width = usable_sheet(table.profile)
        for part in pieces:
            assert part.outline.bounds.width <= length + 1e-6 and part.outline.bounds.height <= width + 1e-6
        letters: dict[str, list[Any]] = {}
        for scribe in jig.scribes:
            if scribe.kind == "witness" and len(scribe.words) == 1:
                letters.setdefault(scribe.words, []).append(scribe)
        assert len(letters) == 3 * (len(pieces) - 1) or any(p.outline.bounds.width > length / 2 for p in pieces)
        for pair in letters.values():
            assert len({scribe.part for scribe in pair}) == 2
            assert pair[0].edge.start.distance(pair[1].edge.start) < 1e-6


def test_stops_on_the_board_stand_one_pair_of_wedges_from_the_cauls() -> None:
    """Opposite stop lines lie 2 (corner + back + gap) apart, square to the joint's ray."""
    for table in made()[:3]:
        (board,), (wedges,) = assembly_board(table), wedge_board(table)
        caul, corner = Caul(table.sizes), ring_of_blanks(table)[1]
        gap = figure(wedges, "caul's back to the stop, joints closed")
        assert figure(board, "stop line to opposite stop line") == pytest.approx(2 * (corner + caul.back + gap))
        lines = shapely.union_all(lines_of(board, "line")).buffer(1e-3)
        for joint in range(table.sizes.segments):
            turn = degrees((2 * joint + 1) * pi / table.sizes.segments) - 90
            face = LineString([(-60, corner + caul.back + gap), (60, corner + caul.back + gap)])
            assert rotate(face, turn, origin=(0, 0)).difference(lines).length < 1e-6


def test_a_small_sheet_parts_the_board_in_more_pieces() -> None:
    """Where the maker's sheet is half as large, each piece still fits it."""
    table = made()[0]
    wood, thick = table.profile.jigs.wood, table.profile.jigs.thickness
    stock = Stock("half", "sheet", wood, 1220.0, 610.0, thick, None, 0.0, (), 5.0, mode="routed")
    smaller = build_table(replace(table.profile, stock=(stock,)))
    (jig,) = assembly_board(smaller)
    assert len(jig.parts) > len(next(iter(assembly_board(table))).parts)
    for part in jig.parts:
        if part.code != "ASSEMBLY-BATTEN":
            assert box(0, 0, 1210, 600).area >= part.outline.area
            assert part.outline.bounds.width <= 1210 + 1e-6 and part.outline.bounds.height <= 600 + 1e-6


def test_the_angle_between_the_seats_is_that_of_the_polygon() -> None:
    """180 - 360 / N degrees, from the outline's own edges."""
    for table in made():
        (jig,) = cauls(table)
        edges = [edge for edge in jig.parts[0].outline.edges if isinstance(edge, Line)]
        slopes = [e for e in edges if min(abs(e.direction_at(0).x), abs(e.direction_at(0).y)) > 1e-6]
        assert len(slopes) == 2
        fall = [abs(e.direction_at(0).y / e.direction_at(0).x) for e in slopes]
        assert fall == pytest.approx([tan(pi / table.sizes.segments)] * 2, abs=1e-9)
        assert figure(jig, "between the two seats") == pytest.approx(180 - 360 / table.sizes.segments)


def test_the_band_on_the_list_goes_round_all_cauls_and_through_its_ratchet() -> None:
    """As long as the hull of every caul in its place, and a tenth longer; one line tells it for every step."""
    for name in ("towpath-hex", "towpath-dining", "towpath-inch"):
        worked = begun(profile_of(name=name))
        table, caul = worked[TABLE], Caul(worked[TABLE].sizes)
        corners = Polygon([(edge.start.x, edge.start.y) for edge in caul.outline.edges])
        placed = round_the_ring(corners, caul.corner, table.sizes.segments)
        hull = shapely.unary_union(placed).convex_hull.length
        assert caul.around == pytest.approx(hull)
        (band,) = (row for row in tools_of(table, worked[WORK]) if row.item == "band with a ratchet, corner guards")
        long = float(re.findall(r"[0-9.]+", band.size)[0]) * (25.4 if table.profile.units == "in" else 1)
        assert 1.1 * hull <= long < 1.1 * hull + 500

"""Which is which on a jig: each word stands at the hole, line or division that it tells of."""

from __future__ import annotations

from math import atan2, degrees

import pytest

from templategen.drawing.drawing import Words
from templategen.drawing.jig_sheet import jig_sheet
from templategen.jigs.angle_gauge import bevel_gauge
from templategen.jigs.stop_strip import stop_strip
from templategen.jigs.story_stick import story_sticks
from templategen.jigs.trammel import trammel
from tests.table.made import table_of


def test_each_hole_is_named_for_its_own_cut() -> None:
    """The hole that says finished stands half a bit more than the radius from the bit, the rough one as much
    further as is to be trued; figures and the lines between holes say the same."""
    table = table_of()
    radius, half = table.profile.top.diameter / 2, table.profile.jigs.trammel_bit / 2
    reach = {"finished": radius + half, "rough": radius + half + table.profile.jigs.leave}
    (jig,) = trammel(table)
    *pivots, bit = (hole.circle[0] for hole in sorted(jig.parts[0].holes, key=lambda ring: ring.area) if hole.circle)
    words = {m.text: m.at for m in jig_sheet(jig, "t").drawing.marks if isinstance(m, Words)}
    figures = {figure.name: figure for figure in jig.figures}
    lines = {scribe.words: scribe.edge for scribe in jig.scribes if scribe.kind == "line"}
    for name, wanted in reach.items():
        hole = min(pivots, key=lambda at: at.distance(words[name]))
        assert hole.distance(bit) == pytest.approx(wanted, abs=1e-9)
        figure = figures[f"{name} pivot to the middle of the bit"]
        assert figure.value == pytest.approx(wanted) and figure.span is not None
        assert figure.span[0].distance(hole) + figure.span[1].distance(bit) < 1e-9
        edge = lines[f"{name} pivot to the middle of the bit"]
        along = bit.minus(hole).unit
        assert all(abs(end.minus(hole).cross(along)) < 1e-9 for end in (edge.start, edge.end))
    assert figures["finished pivot to the near cutting edge"].value == radius


def test_each_stop_has_the_name_of_its_own_slat() -> None:
    """No two slats of a field are of one length: each code stands at its own part's length."""
    table = table_of()
    (jig,) = stop_strip(table)
    lengths = {part.code: part.outline.bounds.width for part in table.parts if part.code in jig.serves}
    told = {scribe.words: scribe.edge.start.x for scribe in jig.scribes if scribe.kind == "scale"}
    assert len(told) == len(lengths) == len({round(length, 2) for length in lengths.values()})
    for words, at in told.items():
        name, _, figure = words.partition(": ")
        assert at == pytest.approx(lengths[name.upper().replace(" ", "-")], abs=1e-6)
        assert float(figure) == pytest.approx(at, abs=0.006)


def test_each_division_of_a_stick_is_named_for_the_work_that_ends_there() -> None:
    """Mortise at a mortise's side, hole at the hole's, on the right stick, on the right half."""
    table = table_of()
    for jig in story_sticks(table):
        part = table.part(jig.serves[0])
        if part.kind == "leg":
            continue
        over = {"top": 1.0, "bottom": -1.0}
        for scribe in jig.scribes:
            name, _, figure = scribe.words.rpartition(" ")
            at = scribe.edge.start.x
            if name in ("mortise", "pole hole"):
                rings = [
                    (over[f.face] * v.x)
                    for f in part.features
                    if f.kind == name.rpartition(" ")[2] and f.face in over
                    for v in f.outline.vertices
                ] + [edge for hole in part.holes for edge in (hole.bounds.left, hole.bounds.right) if "hole" in name]
                assert min(abs(at - x) for x in rings) < 1e-6, (jig.code, scribe.words)
            if figure and figure[0].isdigit():
                assert float(figure) == pytest.approx(abs(at), abs=0.006)
        (middle,) = (s for s in jig.scribes if s.words == "middle")
        assert middle.edge.start.x == pytest.approx(0, abs=1e-9)


def test_each_line_of_the_bevel_board_leans_as_its_words_say() -> None:
    """Off square to the edge that the stock lies along."""
    table = table_of()
    (jig,) = bevel_gauge(table)
    lines = [scribe for scribe in jig.scribes if scribe.kind == "line"]
    assert len(lines) == len({scribe.words for scribe in lines}) > 2
    for scribe in lines:
        way = scribe.edge.end.minus(scribe.edge.start)
        assert float(scribe.words.partition("°")[0]) == pytest.approx(degrees(atan2(way.x, way.y)), abs=0.006)
    assert any(scribe.words == "15°, rim mitre" for scribe in lines)

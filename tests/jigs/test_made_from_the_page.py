"""Each piece of a jig can be made from its picture on the page: every corner, hole and line has its place told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from math import cos, pi, sin

import pytest
from shapely import LineString

from templategen.drawing.drawing import Stroke, Words, words_of
from templategen.drawing.layers import DIMENSION, TEXT
from templategen.drawing.scribe_words import SCRIBES
from templategen.drawing.scribed import muddled
from templategen.geometry.edge import Edge, Line
from templategen.geometry.point import Point as Spot
from templategen.jigs.jig import Jig, jigs_that_go
from templategen.jigs.piece import sizes_of
from templategen.jigs.push_block import push_blocks
from templategen.jigs.setup_block import ARCH
from templategen.jigs.story_stick import story_sticks
from templategen.packet.page.jigs import _is_told, _picture, _piece, _sheet
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.work.jigs import BY
from templategen.work.plan import work_plan
from tests.drawing.shipped_tables import plan_of, table_of, text_shape
from tests.drawing.test_sizes_suffice import EDGE, NEAR, figures

SCALES = ("STICK-", "STOP-STRIP")
"""Their divisions tell what they are; each is drawn in rows."""

A_LINE = 1.5
"""Figures one over the other or side by side lie further apart, in capital heights: closer ones read as one."""


def _places(part: Part) -> Iterator[tuple[str, float]]:
    """A disc and a triangle are told by size and angle."""
    box = part.outline.bounds
    if part.outline.circle or len(part.outline.points) == 3:
        return
    points = [*part.outline.points, *(hole.bounds.centre for hole in part.holes if hole.circle)]
    for at in points:
        for size, whole in ((at.x - box.left, box.width), (at.y - box.bottom, box.height)):
            if EDGE < size < whole - EDGE:
                yield f"{at.x:.2f}, {at.y:.2f}", size


def _slants(jig: Jig, part: Part) -> Iterator[tuple[str, float]]:
    """Both ends of the bevel's lines and, where no slat lies level or upright, of those of one field's slats."""
    box = part.outline.bounds
    for one in (one for one in jig.scribes if one.part == part.code and one.placed):
        for end in (one.edge.start, one.edge.end):
            for size, whole in ((end.x - box.left, box.width), (end.y - box.bottom, box.height)):
                if EDGE < size < whole - EDGE:
                    yield f"{one.words} {end.x:.2f}, {end.y:.2f}", size


def _drawn(name: str) -> Iterator[tuple[Jig, Part]]:
    """As the plan has them: its letters stand on the assembly board."""
    for jig in work_plan(table_of(name), plan_of(name)).jigs.jigs:
        for part in jig.parts:
            if _is_told(jig, part) and not part.code.startswith(SCALES):
                yield jig, part


@pytest.mark.parametrize("name", shipped_names())
def test_every_corner_and_hole_of_a_piece_has_its_place_told(name: str) -> None:
    """From its left end and its lower edge, as the picture on the page tells it; nothing lies on anything else."""
    units = table_of(name).profile.units
    unit, near = (25.4 if units == "in" else 1.0), NEAR[units]
    for jig, part in _drawn(name):
        marks = _piece(jig, part, units).marks
        told = {unit * value for words in words_of(marks) for value in figures(words.text)}
        missing = [(where, round(size, 3)) for where, size in (*_places(part), *_slants(jig, part))
                   if not any(abs(size - one) < near for one in told)]  # fmt: skip
        assert missing == [], part.code
        assert muddled(marks) == 0, part.code
        sizes = [one for one in words_of(marks) if one.layer is DIMENSION]
        for one, other in combinations(sizes, 2):
            apart = abs(one.at.x - other.at.x if one.turn else one.at.y - other.at.y)
            assert one.turn != other.turn or apart > A_LINE * one.height, (part.code, one.text, other.text)


def test_sticks_stand_in_the_order_of_their_numbers() -> None:
    """Whoever looks for the second finds it behind the first."""
    for name in shipped_names():
        sticks = tuple(story_sticks(table_of(name)))
        told = [one.caption.split(",")[0] for one in _sheet(sticks, table_of(name).profile.units, ()).pictures]
        assert told == [stick.code for stick in sticks]


@pytest.mark.parametrize("name", shipped_names())
def test_a_sticks_words_stand_in_the_order_of_their_marks(name: str) -> None:
    """Row by row from the left, those over the stick as the page prints it: a mark is read by the words that its
    leader ends at, and few are told elsewhere."""
    units, seen = table_of(name).profile.units, 0
    for jig in jigs_that_go(table_of(name), BY)[0]:
        for part in (part for part in jig.parts if part.code.startswith("STICK-")):
            over = [one for one in words_of(_piece(jig, part, units).marks) if one.turn > 1 and one.anchor == "start"]
            over = sorted((one for one in over if any(map(str.isalpha, one.text))), key=lambda one: -one.at.y)
            rows = [over[:1]]
            for one, other in pairwise(over):
                rows += [[]] if one.at.y - other.at.y > 8 * one.height else []
                rows[-1].append(other)
            told = "; ".join(words.text for row in rows for words in sorted(row, key=lambda words: words.at.x))
            labels = told.replace(",; ", ", ").split("; ")
            marks = [mark.words for mark in sorted(jig.scribes, key=lambda scribe: scribe.edge.start.x)]
            left = iter(marks)
            assert all(label in left for label in labels), (part.code, labels, marks)
            assert len(labels) >= len(marks) - 2, labels
            seen += 1
    assert seen


def test_words_that_a_line_runs_through_and_leaders_that_cross_are_seen() -> None:
    """Words at a slant, too; a line past their end or under them strikes nothing."""
    name = Words(TEXT, Spot(10.0, 10.0), 4.0, "SLAT-03", "start", pi / 3)
    along = Spot(cos(pi / 3), sin(pi / 3))
    middle, aside = name.at.plus(along, 12.0).plus(along.left, 2.0), along.left.times(3.0)
    across = Stroke(SCRIBES["line"], Line(middle.plus(aside), middle.plus(aside, -1.0)))
    under = Stroke(
        SCRIBES["line"], Line(name.at.plus(along.left, -1.0), name.at.plus(along, 40.0).plus(along.left, -1.0))
    )
    assert muddled((name, across)) == 1 and muddled((name, under)) == 0
    leaders = [Stroke(SCRIBES["scale"], Line(Spot(-9.0, low), Spot(-1.0, -low))) for low in (-3.0, 3.0)]
    assert muddled(leaders) == 1 and muddled((leaders[0], replace(leaders[1], layer=SCRIBES["line"]))) == 0
    assert muddled((name, replace(name, at=name.at.plus(along.left, 2.0)))) == 1


def test_how_wide_a_piece_is_bored_is_told_under_it() -> None:
    jig = next(one for one in jigs_that_go(table_of("towpath-dining"), BY)[0] if one.code == "PIVOT")
    bored = [part for part in jig.parts if part.holes]
    assert len(bored) >= 3 and all(_picture(jig, part, "mm").caption.endswith("; bored 6 mm") for part in bored)


def test_the_saws_table_and_the_stop_are_drawn_on_the_pivots_base() -> None:
    """What it hooks over is told from the blade: both edges of the table that the sizes are reckoned for."""
    jig = next(one for one in jigs_that_go(table_of("towpath-dining"), BY)[0] if one.code == "PIVOT")
    base = next(part for part in jig.parts if part.code == "PIVOT-BASE")
    drawn = {words.text for words in words_of(_piece(jig, base, "mm").marks)}
    edges = [scribe for scribe in jig.scribes if scribe.words.endswith("edge of the saw's table")]
    assert len(edges) == 2
    left, low = base.outline.bounds.left, base.outline.bounds.bottom
    upright, level = sorted((one.edge for one in edges), key=lambda edge: abs(edge.direction_at(0.0).x))
    assert {f"{upright.start.x - left:g}", f"{level.start.y - low:g}"} <= drawn


def test_the_board_tells_where_slats_and_rails_lie() -> None:
    """A level line's height and an upright one's distance stand beside each piece of the assembly board."""
    jig = next(one for one in jigs_that_go(table_of("towpath-dining"), BY)[0] if one.code == "ASSEMBLY")
    for part in (one for one in jig.parts if _is_told(jig, one)):
        told = {value for words in words_of(_piece(jig, part, "mm").marks) for value in figures(words.text)}
        low = part.outline.bounds.bottom
        lines = [one.edge for one in jig.scribes if one.part == part.code and one.kind == "line"]
        level = [edge.start.y - low for edge in lines if abs(edge.direction_at(0.0).y) < 1e-9]
        assert level and all(any(abs(height - one) < 0.006 for one in told) for height in level), part.code


@pytest.mark.parametrize("name", shipped_names())
def test_no_name_lies_over_a_line_of_a_scale_in_rows(name: str) -> None:
    """Where its picture is divided, the code of a stick or a strip stands clear of what is scribed on it."""
    for jig in (one for one in jigs_that_go(table_of(name), BY)[0] if one.code.startswith(SCALES)):
        for part in jig.parts:
            marks = _piece(jig, part, table_of(name).profile.units).marks
            names = [one for one in words_of(marks) if one.text == part.code]
            lines = [edge for mark in marks if isinstance(mark, Stroke) for edge in mark.edges]
            assert names and not [
                edge for one in names for edge in lines if text_shape(one).intersects(_drawn_line(edge))
            ], part.code


def _drawn_line(edge: Edge) -> LineString:
    return LineString([edge.start, edge.end])


@pytest.mark.parametrize("name", shipped_names())
def test_a_strip_that_lies_aslant_is_listed_along_its_edge(name: str) -> None:
    """The block of the ends' sled is as wide as its strip, and as long as its longer edge."""
    jig = next(one for one in jigs_that_go(table_of(name), BY)[0] if one.code == "END-SLED")
    leaning = [
        (part, one) for part, one in zip(jig.parts, push_blocks(table_of(name)), strict=True) if one.lean > 0.01
    ]
    assert leaning
    for part, one in leaning:
        long, wide, _ = sizes_of(part)
        assert wide == pytest.approx(one.back), part.code
        assert long == pytest.approx(max(edge.length for edge in part.outline.edges)), part.code


@pytest.mark.parametrize("name", shipped_names())
def test_a_bevel_is_set_by_lines_with_places(name: str) -> None:
    """Each runs from the lower edge at its angle, its words beside it and not led away. The side table's slats, all
    aslant, have the lines of one field placed."""
    jigs = {jig.code: jig for jig in work_plan(table_of(name), plan_of(name)).jigs.jigs}
    bevel, board = jigs["BEVEL"], jigs["ASSEMBLY"]
    assert bevel.scribes and all(one.placed and one.edge.start.y == 0 for one in bevel.scribes)
    marks = _piece(bevel, bevel.parts[0], table_of(name).profile.units).marks
    assert not [mark for mark in marks if isinstance(mark, Stroke) and mark.layer is SCRIBES["scale"]]
    slats = len([part for part in table_of(name).parts if part.kind == "slat"])
    placed = len([one for one in board.scribes if one.placed])
    assert placed == 0 if name != "towpath-side" else placed >= 2 * slats - 1


@pytest.mark.parametrize("name", shipped_names())
def test_codes_and_letters_stand_on_what_they_name(name: str) -> None:
    """On the assembly board: no line lies between a name's words and the middle of its place, save where the part
    shows too little of itself; the letter of a joint on a ring that shows is never led away."""
    board = next(jig for jig in work_plan(table_of(name), plan_of(name)).jigs.jigs if jig.code == "ASSEMBLY")
    led, names = [], [one for one in board.scribes if one.kind == "name"]
    for part in (one for one in board.parts if _is_told(board, one)):
        marks = _piece(board, part, table_of(name).profile.units).marks
        own = [one for one in names if one.part == part.code]
        ticks = {mark.edge for mark in marks if isinstance(mark, Stroke) and mark.layer is SCRIBES["name"]}
        led += [one.words for one in own if one.edge in ticks]
    assert len(led) <= (0 if name == "towpath-side" else len(names) / 3), led
    assert len([words for words in led if words.startswith("(")]) <= (2 if name == "towpath-hex" else 1), led


@pytest.mark.parametrize("name", shipped_names())
def test_each_height_stands_over_its_own_opening(name: str) -> None:
    """Seen from the bridge's feet, the figure's middle lies between the opening's sides, over its roof and inside the
    wood; there are just the heights that a set-up's cutter is set to."""
    plan = work_plan(table_of(name), plan_of(name))
    jig = next(one for one in plan.jigs.jigs if one.code == "HEIGHTS")
    units = table_of(name).profile.units
    unit, near = (25.4 if units == "in" else 1.0), NEAR[units]
    ups = [one.operation.set_up for one in plan.operations if jig.code in one.operation.jigs]
    set_to = [one.value("height", cut) for one in ups if one for cut in one.cuts]
    for figure in jig.figures:
        assert any(abs(figure.value - one) < 0.01 for one in set_to), figure.name
    for part in jig.parts:
        top = part.outline.bounds.top
        words = words_of(_piece(jig, part, units).marks)
        for figure in (one for one in jig.figures if one.part == part.code and one.span):
            x, roof = figure.span[1]
            spots = [(one, text_shape(one).centroid) for one in words]
            over = [one for one, at in spots if abs(at.x - x) < ARCH / 2 and roof < at.y < top]
            told = [value for one in over if one.text != part.code for value in figures(one.text)]
            assert len(told) == 1 and abs(told[0] * unit - figure.value) < near, (figure.name, told)

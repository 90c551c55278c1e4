"""What a sheet tells directly: middles, round ends, stopped arrises, fits, angles, sizes that are alike."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import pytest
import shapely

from templategen.drawing.drawing import words_of
from templategen.drawing.edge_sizes import edge_sizes
from templategen.drawing.jig_sheet import jig_sheet
from templategen.drawing.joint_letters import pointed_of
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import face_views
from templategen.drawing.title_block import tolerance_lines
from templategen.drawing.view import top_view
from templategen.drawing.work_sizes import describe_centres, set_out_from, work_sizes
from templategen.english import spoken
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.jigs.jig import jigs_that_go
from templategen.packet.shipped import shipped_names
from templategen.parts.face import top_face
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.gluing.marks import every_mark
from templategen.work.jigs import BY
from tests.drawing.shipped_tables import crossed, overlapping, plan_of, table_of, text_shape

MANNER = Manner(2.5)
WOOD = polygon(((-31, -7), (173, -7), (173, 52), (-31, 52)))
SLOT = Outline((Vertex(173, 11), Vertex(173, 17), Vertex(140, 17, 1.0), Vertex(140, 11)))


def cut(*features: Feature) -> Part:
    """A bar with that work on top."""
    return Part("BAR", "bar", "slat", 3, "iroko", 19.0, WOOD, WOOD, features, faces=(top_face(WOOD, 19.0),))


def told(*features: Feature) -> tuple[str, ...]:
    """What is told of work that is alike."""
    return work_sizes(features, WOOD, cut(*features), MANNER)


def test_a_slot_is_set_out_from_the_middle_of_its_round_end() -> None:
    """Its width and that middle are told, from the lower left of the wood; no corner of it is a stop."""
    slot = Feature("pin-slot", "top", SLOT, 8.0, "slot")
    assert told(slot) == ("6 mm wide", "round end's middle 171 from the left, 21 from below")
    assert set_out_from(slot) == Point(140, 14)
    assert {at.x for at in top_view(cut(slot), MANNER).stops} == {140, -31, 173}


def test_middles_tell_once_what_they_have_in_common() -> None:
    """One row, one column, neither."""
    row = describe_centres([Point(80, 3), Point(12, 3)], WOOD, MANNER)
    column = describe_centres([Point(12, 30), Point(12, 3)], WOOD, MANNER)
    both = describe_centres([Point(80, 30), Point(12, 3)], WOOD, MANNER)
    assert row == "middles 43 and 111 from the left, 10 from below"
    assert column == "middles 43 from the left, 10 and 37 from below"
    assert both == "middles 43 from the left, 10 from below and 111 from the left, 37 from below"


def test_an_arris_that_stops_short_tells_where() -> None:
    """From where to where, unless its ends are corners of the wood or other work's edges."""
    short = Feature("chamfer", "top", rectangle(-12, -7, 61, -5), 2.0, "ease")
    whole = Feature("chamfer", "top", rectangle(-31, -7, 173, -5), 2.0, "ease")
    lap = Feature("lap", "top", rectangle(61, -7, 173, 52), 9.0, "lap")
    to_lap = Feature("chamfer", "top", rectangle(-31, -7, 61, -5), 2.0, "ease")
    assert told(short) == ("19 to 92 from the left",)
    assert told(whole) == ()
    assert work_sizes((to_lap,), WOOD, cut(to_lap, lap), MANNER) == ()
    assert work_sizes((to_lap,), WOOD, cut(to_lap), MANNER) == ("0 to 92 from the left",)


def test_arrises_that_go_on_in_each_other_tell_no_ends() -> None:
    """Two strips that meet are one way round."""
    left = Feature("chamfer", "top", rectangle(-31, -7, 70, -5), 2.0, "ease")
    right = Feature("chamfer", "top", rectangle(70, -7, 173, -5), 2.0, "ease")
    assert work_sizes((left, right), WOOD, cut(left, right), MANNER) == ()


def test_what_no_rule_shows_is_not_told() -> None:
    """An edge of a fifth of a millimetre has neither length nor angle, and its corner no running size."""
    ring = polygon(((0, 0), (150, 0), (149.9, 0.2), (90, 50), (0, 50)))
    part = replace(cut(), outline=ring, blank=ring, faces=(top_face(ring, 19.0),))
    (view,) = face_views(part)
    told = [words.text for words in words_of(view.drawing.marks)]
    assert not [text for text in told if text.startswith(("0.", "149."))], told


@pytest.mark.parametrize("name", shipped_names())
def test_sizes_of_edges_stand_clear_of_running_sizes_and_of_work(name: str) -> None:
    """No line comes nearer than a good third of a letter to what stands under the wood, or runs through a radius."""
    for part in table_of(name).parts:
        marks, low = face_views(part, by=0.0)[0].drawing.marks, part.outline.bounds.bottom
        lines = [
            shapely.LineString([edge.point_at(k / 9) for k in range(10)]) for mark in marks for edge in mark.edges
        ]
        for words in (one for one in words_of(marks) if one.turn == 0.0):
            under = words.anchor == "middle" and low - 3 * words.height < words.box.top < low and len(words.text) > 1
            room = text_shape(words).buffer(words.height * (0.4 if under else -0.05), join_style="mitre")
            if (under and "long" not in words.text) or "R " in words.text:
                assert not any(room.intersects(line) for line in lines), (part.code, words.text)


def test_a_groove_right_along_a_face_and_a_three_cornered_lap_say_so() -> None:
    """The groove may reach on past the face, as it does behind a mitre."""
    groove = Feature("groove", "top", rectangle(-39, 3, 181, 15), 6.0, "groove")
    lap = Feature("lap", "top", polygon(((5, 0), (47, 0), (30, 25))), 6.0, "lap")
    assert told(groove) == ("12 mm wide, from end to end",)
    assert told(lap) == ("three-cornered, 42 x 25 mm",)


def test_sizes_alike_stand_once_at_the_right() -> None:
    """Two ends that slope alike are told by one callout on the right one, with their number; another has its own."""
    ring = polygon(((0, 0), (90, 0), (110, 40), (-20, 40)))
    _, led = edge_sizes(ring, Manner(6.0), 2.0)
    assert [one.lines for one in led] == [("2 x 44.72 long", "26.565° off square (gauge 63.435°)")]
    assert led[0].foot.x > 90
    _, both = edge_sizes(polygon(((0, 0), (90, 0), (110, 40), (-30, 40))), Manner(6.0), 2.0)
    assert sorted(one.lines[0] for one in both) == ["44.72 long", "50 long"]


def test_a_page_without_overrun_draws_no_work_on_the_edge_of_the_wood() -> None:
    """Of a rebate that is open at three sides its shoulder alone is drawn."""
    rebate = Feature("tongue", "top", rectangle(150, -7, 173, 52), 5.0, "rebate")
    drawn = [mark for mark in top_view(cut(rebate), MANNER).marks if mark.layer.name.startswith("TOP_TONGUE")]
    assert [mark.box for mark in drawn] == [Bounds(150, -7, 150, 52)]


@pytest.mark.parametrize("name", ["towpath-hex", "towpath-side"])
def test_the_joint_of_a_mitre_stands_half_way_along_it(name: str) -> None:
    """Not at the height of the middle of the whole segment, which is higher."""
    table = table_of(name)
    part = next(one for one in table.parts if one.kind == "rim-segment")
    box, crosses = part.outline.bounds, pointed_of(table, part, every_mark(table, plan_of(name)).values())
    ends = [edge.bounds.centre for edge in part.outline.anticlockwise.edges if abs(edge.direction_at(0).y) > 0.5]
    for side in (box.left, box.right):
        end = min(ends, key=lambda at: abs(at.x - side))
        assert any(one.at.y == pytest.approx(end.y) and abs(one.at.x - end.x) < 5 for one in crosses)


def test_fits_and_angles_of_parts_without_a_joint_of_their_own() -> None:
    """A spline tells the play in its slots, slanting parts how far off angles may be, a ring how it is proved."""
    table = table_of("towpath-side")
    lines = {part.kind: list(tolerance_lines(part, replace(table.profile.joints, glue_clearance=0.17), "mm"))
             for part in table.parts}  # fmt: skip
    assert lines["spline"][0] == "Fits, glued: play 0.17; each ±0.09 across, depths ±0.5."
    assert lines["slat"][-1].endswith("; angles ±0.1°.")
    assert lines["rim-segment"][-1].endswith("; mitres as a ring of scraps closes.")
    assert "angles" not in lines["leg"][-1]


@pytest.mark.parametrize("language", ["british", pytest.param("german", marks=pytest.mark.wide)])
@pytest.mark.parametrize("name", shipped_names())
def test_jigs_tell_their_distances_clear_of_words(name: str, language: Literal["british", "german"]) -> None:
    """On every sheet no line runs through a word, in longer ones either, a short distance has its figure before its
    line, and pockets tell their sizes."""
    table = table_of(name)
    with spoken(language, ()):
        sheets = {
            jig.code: jig_sheet(jig, "t", units=table.profile.units).drawing for jig in jigs_that_go(table, BY)[0]
        }
    for code, sheet in sheets.items():
        marks = sheet.marks
        assert not [*crossed(marks), *overlapping(sheet)], code
        if code == "TEST-TENON" and language == "british":
            told = " ".join(words.text for words in words_of(marks))
            assert "play" in told and "from the left" in told


def test_letters_of_work_are_as_large_as_the_rest_and_no_line_runs_through_them() -> None:
    """Those that find no room where they belong are led out of there."""
    table = table_of("towpath-side")
    for code in ("RAIL-LOW", "LEG"):
        for view in face_views(table.part(code)):
            letters = [words for words in words_of(view.drawing.marks) if words.text in ("A", "B", "C", "D")]
            struck = {text for text, _ in crossed(view.drawing.marks)}
            tallest = max(words.height for words in words_of(view.drawing.marks))
            assert bool(letters) == (view.title != "blank")
            assert not struck & {words.text for words in letters}, (code, view.title)
            assert all(words.height > 0.84 * tallest for words in letters)

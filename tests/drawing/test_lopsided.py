"""Lopsided samples: what is swapped, mirrored or counted from the wrong end shows."""

from __future__ import annotations

from itertools import pairwise
from math import pi

import pytest

from templategen.drawing.callout import led_out
from templategen.drawing.dimension import overall, running
from templategen.drawing.drawing import Mark, Shape, Stroke, Words, edges_of, words_of
from templategen.drawing.edge_sizes import edge_sizes
from templategen.drawing.layers import CUT_NUMBER, DIMENSION, FAULT, HIDDEN, SAW_CUT, TRIM_MARGIN, VIEW_TITLE
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.roomy import clear_run, roomiest
from templategen.drawing.rows import in_rows
from templategen.drawing.stock_picture import stock_picture
from templategen.drawing.stock_sheet import stock_drawing
from templategen.drawing.view import side_view, top_view
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, circle, distance_to, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import Cut
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.parts.face import bottom_face, side_face, top_face
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from tests.drawing.shipped_tables import crossed

MANNER = Manner(3.5, 0.0)
RING = polygon(((-31, -7), (173, -7), (166, 52), (-31, 43)))
ABOVE = rectangle(9, 4, 36, 17)
BELOW = rectangle(-142, 6, -121, 25)
"""In the frame of the underside: under (121 to 142, 6 to 25) of the part."""


ALONG, ACROSS = Point(1, 0), Point(0, 1)


def part(grain: Point = ALONG) -> Part:
    """A bar with a pocket above near its left end, another below near its right, and one in its front edge."""
    front = RING.edges[0]
    assert isinstance(front, Line)
    faces = (top_face(RING, 19.0), bottom_face(RING), side_face("edge-1", front, 19.0))
    features = (
        Feature("mortise", "top", ABOVE, 7.0, "mortise"),
        Feature("mortise", "bottom", BELOW, 11.0, "mortise"),
        Feature("groove", "edge-1", rectangle(23, 4, 71, 12), 6.0, "groove"),
    )
    return Part("BAR", "bar", "rail", 3, "iroko", 19.0, RING, RING, features, faces=faces, grain=grain)


def said(marks: tuple[Mark, ...]) -> dict[str, Words]:
    """The words by what they say; no two say the same."""
    found = {words.text: words for words in words_of(marks)}
    assert len(found) == len(words_of(marks))
    return found


def test_sizes_too_close_are_spread_in_their_order() -> None:
    """Figures stand in the order of their stops and at least a line apart, those with room where they belong."""
    marks = running(Bounds(0, 0, 200, 10), [Point(x, 5) for x in (20, 21, 22.5, 140)], MANNER, 8.0)
    words = words_of(marks)[:4]
    places = [one.at.x - MANNER.height / 2 for one in words]
    assert [one.text for one in words] == ["20", "21", "22.5", "140"]
    assert all(b - a >= MANNER.height * 1.4 - 1e-9 for a, b in pairwise(places))
    assert places[3] == pytest.approx(140)
    assert places[0] == pytest.approx(20)


def test_the_length_stands_below_and_the_width_to_the_left() -> None:
    """The overall figure under a view is its length, read level; the one beside it its width, read from the right."""
    found = said(overall(Bounds(10, 20, 117, 63), MANNER, 9.0, 14.0))
    assert set(found) == {"107", "43"}
    assert found["107"].at.x == pytest.approx(63.5) and found["107"].at.y < 20
    assert found["43"].at.y == pytest.approx(41.5) and found["43"].at.x < 10
    assert (found["107"].turn, found["43"].turn) == (0.0, pytest.approx(pi / 2))


def test_every_slanting_edge_says_its_own_length_and_angle() -> None:
    """Of two edges off square each carries its own figure, outside the wood: along it where there is room, or on a
    line led out to where there is."""
    sizes, (led,) = edge_sizes(RING, Manner(2.5), 2.0)
    found = said(sizes)
    assert set(found) == {"50", "197.21, 2.616° off the length"}
    assert found["50"].at.x < -31
    back = found["197.21, 2.616° off the length"]
    assert back.at.y > 43 and -31 < back.at.x < 166
    assert led.lines == ("59.41 long", "6.766° off square (gauge 83.234°)")
    line, *words = led_out((led,), (Shape(DIMENSION, RING), *sizes), 2.5)
    assert isinstance(line, Stroke)
    assert line.edge.start.distance(Point(168.45, 31.35)) < 1e-9 and line.edge.end.x > 170
    assert [one.text for one in words_of(words)] == list(led.lines)
    assert all(one.box.left > 166 or one.box.bottom > 52 for one in words_of(words))


def test_the_top_shows_work_below_where_it_lies() -> None:
    """From above the pocket of the underside is dashed under its own place, not where its frame has it."""
    view = top_view(part(), MANNER)
    lines = [mark for mark in view.marks if mark.layer == HIDDEN]
    right = Bounds.around(mark.box for mark in lines if mark.box.left > 75)
    assert right == pytest.approx(Bounds(121, 6, 142, 25))
    groove = Bounds.around(mark.box for mark in lines if mark.box.right < 75)
    assert groove == pytest.approx(Bounds(-8, -7, 40, -1))


def test_a_side_is_seen_from_outside() -> None:
    """The front edge has its length along its walk and the groove as far from its start and from below as it is."""
    worked = part()
    view = side_view(worked, worked.face("edge-1"), MANNER)
    assert view.wood.bounds == pytest.approx(Bounds(0, 0, 204, 19))
    (groove,) = [mark for mark in view.marks if isinstance(mark, Shape) and mark.layer.name == "EDGE1_GROOVE_6MM"]
    assert groove.box == pytest.approx(Bounds(23, 4, 71, 12))
    assert view.title.startswith("edge 1 (")


def test_views_stand_in_the_sheet_as_they_were_made() -> None:
    """On the sheet the underside's pocket keeps its place in its view: nearer the left end, as turned over."""
    sheet = part_drawing(part(), "Bar", "r", 0.001)
    titles = {w.text: w.at for w in words_of(sheet.marks) if w.layer == VIEW_TITLE}
    (below,) = [mark for mark in sheet.shapes if mark.layer.name == "BOTTOM_MORTISE_11MM"]
    left = titles["underside (turned over left to right)"].x
    assert below.box.left - left == pytest.approx(173 - 142)


BOARD = Piece("board", 900.0, 210.0, margin=(13.0, 29.0, 7.0, 3.0), bad_ends=(41.0, 0.0), mode="sawn",
              defects=((700.0, 60.0, 22.0),), defect_areas=((310.0, 150.0, 50.0, 20.0),))  # fmt: skip
CUTS = (
    Cut(1, "crosscut", Point(520, 0), Point(520, 210), Point(200, 80)),
    Cut(2, "rip", Point(0, 95), Point(520, 95), Point(200, 80)),
    Cut(3, "crosscut", Point(247, 0), Point(247, 95), Point(200, 80)),
)
SHEET = Sheet(BOARD, 4, (Laid("BAR", Placement(80, 20)), Laid("BAR", Placement(330, 25))))
ITEMS = {"BAR": Item("BAR", RING, 2)}


@pytest.mark.parametrize("picture", [False, True])
def test_every_cut_carries_its_own_number(picture: bool) -> None:
    """Each number is on its saw cut's line in the picture, on the sheet on a line from it, which no line crosses."""
    if picture:
        marks = stock_picture(SHEET, ITEMS, cuts=CUTS).drawing.marks
    else:
        marks = stock_drawing(SHEET, ITEMS, "t", cuts=CUTS).marks
    lines = [mark.edge for mark in marks if isinstance(mark, Stroke) and mark.layer == SAW_CUT]
    assert [(line.start, line.end) for line in lines] == [(cut.start, cut.end) for cut in CUTS]
    numbers = {w.text: w for w in words_of(marks) if w.layer == CUT_NUMBER}
    assert set(numbers) == {"1", "2", "3"}
    led = [mark.edge.start for mark in marks if isinstance(mark, Stroke) and mark.layer == CUT_NUMBER]
    if not picture:
        assert not list(crossed(marks))
        assert all(distance_to(line, at) < 1e-9 for line, at in zip(lines, led, strict=True))
    for cut in CUTS if picture else ():
        words = numbers[str(cut.number)]
        middle = words.at.plus(Point(0, words.height / 2).turned(words.turn))
        apart = {c.number: Line(c.start, c.end) for c in CUTS}
        off = {n: abs(line.direction_at(0).cross(middle.minus(line.start))) for n, line in apart.items()}
        assert off[cut.number] < words.height and off[cut.number] == min(off.values())


def test_trim_faults_and_bad_ends_lie_on_their_own_sides() -> None:
    """Margins of four sizes, a bad left end, a knot and a bad area stand where the board has them."""
    sheet = stock_drawing(SHEET, ITEMS, "t")
    (trim,) = [shape for shape in sheet.shapes if shape.layer == TRIM_MARGIN]
    assert trim.box == Bounds(13, 7, 871, 207)
    faults = [mark for mark in sheet.marks if mark.layer == FAULT]
    assert [mark.box for mark in faults if isinstance(mark, Shape)] == [
        pytest.approx(Bounds(689, 49, 711, 71)), Bounds(310, 150, 360, 170),
    ]  # fmt: skip
    assert [mark.edge.start.x for mark in faults if isinstance(mark, Stroke)][-1] == 41
    assert any("trim left 13, right 29, bottom 7, top 3 mm" in words.text for words in words_of(sheet.marks))


def test_overall_sizes_of_a_board_are_its_length_below_and_width_beside() -> None:
    """900 stands under the board and 210 to its left."""
    words = {w.text: w for w in words_of(stock_drawing(SHEET, ITEMS, "t").marks) if w.layer == DIMENSION}
    assert words["900"].at.y < 0 and words["900"].at.x == pytest.approx(450)
    assert words["210"].at.x < 0 and words["210"].at.y == pytest.approx(105)


def test_rows_go_down_from_the_left_end() -> None:
    """The first row holds the left end; each piece stands shifted by its row, cut at the break and nowhere else;
    words that would run past a row end in it."""
    layer = DIMENSION
    marks = (Stroke(layer, Line(Point(10, 1), Point(130, 5))), Words(layer, Point(107, 3), 3.5, "right"),
             Shape(layer, rectangle(40, 2, 47, 6)), Words(layer, Point(99, 2), 3.5, "left"))  # fmt: skip
    found = list(in_rows(marks, 200.0, 2, 50.0))
    lines = edges_of(mark for mark in found if isinstance(mark, Stroke))
    assert [tuple(line.start) + tuple(line.end) for line in lines] == [
        pytest.approx((10, 1, 100, 4)), pytest.approx((0, -46, 30, -45)),
    ]  # fmt: skip
    places = {words.text: words.at for words in words_of(found)}
    ends = Point(100 - text_width("left", 3.5), 2)
    assert places == {"left": pytest.approx(ends), "right": Point(7, -47)}


def test_the_roomiest_spot_is_the_middle_of_the_largest_gap() -> None:
    """In a room parted once, off its middle, the spot stands as far from the wall as from the partition."""
    room = rectangle(3, 5, 153, 45)
    wall = Line(Point(48, 5), Point(48, 45))
    at, clear = roomiest(room, [wall])
    assert at.x > 48 and clear == pytest.approx(min(at.x - 48, 153 - at.x, at.y - 5, 45 - at.y))
    assert clear > 0.4 * 40
    hole = circle(103, 24, 12)
    beside, least = roomiest(room, [wall, *hole.edges])
    assert least == pytest.approx(min(abs(beside.distance(Point(103, 24)) - 12), beside.y - 5, 45 - beside.y,
                                      abs(beside.x - 48), beside.x - 3, 153 - beside.x))  # fmt: skip


def test_a_run_goes_as_far_as_its_room_both_ways() -> None:
    """From a place off the middle a run ends where the nearer end leaves no room; outside the wood there is none."""
    room = rectangle(0, 0, 100, 30)
    run = clear_run(Point(30, 14), Point(1, 0), room, (), 6.0, 80.0)
    assert 24 - 3 < run <= 24
    assert clear_run(Point(30, 14), Point(1, 0), room, (), 6.0, 13.0) == 12
    assert clear_run(Point(130, 14), Point(1, 0), room, (), 6.0, 20.0) == 0
    near = Line(Point(44, 0), Point(44, 30))
    assert clear_run(Point(30, 14), Point(1, 0), room, (near,), 6.0, 80.0) <= 8


def outlines(marks: tuple[Mark, ...]) -> list[Outline]:
    return [mark.outline for mark in marks if isinstance(mark, Shape)]


def test_parts_lie_on_their_board_where_they_were_laid() -> None:
    """Two copies, neither in the middle, in the order of the layout."""
    sheet = stock_drawing(SHEET, ITEMS, "t")
    laid = [shape.outline for shape in sheet.shapes if shape.layer.name == "BLANK_OUTLINE"]
    assert laid == [Placement(80, 20).outline(RING), Placement(330, 25).outline(RING)]

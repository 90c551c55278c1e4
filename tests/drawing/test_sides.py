"""Left from right, length from width, first from last: a part that is its own mirror in nothing, drawn."""

from __future__ import annotations

from math import hypot, pi

import pytest

from templategen.drawing.dimension import running
from templategen.drawing.drawing import Drawing, Stroke, Words
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import face_views, part_drawing
from templategen.drawing.stock_sheet import stock_drawing
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import Cut
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.parts.face import bottom_face, side_face, top_face
from templategen.parts.feature import Feature
from templategen.parts.part import Part

THICK = 22.0
ALONG = Point(1, 0)
WOOD = polygon(((-130, -20), (170, -20), (150, 50), (-130, 50)))
"""Square at its left end, sloping at its right one, its origin off its middle both ways."""

TOP = rectangle(-100, -5, -60, 30)
BELOW = rectangle(20, -12, 95, 1)
"""As the underside's frame has it: in plan it lies from -95 to -20."""

SIDE = rectangle(25, 3, 70, 9)


def lopsided(grain: Point = ALONG) -> Part:
    """A board with one pocket on the top, one on the underside, one in its long edge, no two of a size."""
    edge = WOOD.edges[0]
    assert isinstance(edge, Line)
    faces = (top_face(WOOD, THICK), bottom_face(WOOD), side_face("edge-1", edge, THICK))
    features = (
        Feature("mortise", "top", TOP, 6, "mortise"),
        Feature("mortise", "bottom", BELOW, 9, "mortise"),
        Feature("groove", "edge-1", SIDE, 4, "groove"),
    )
    return Part("BD", "board", "rail", 3, "iroko", THICK, WOOD, WOOD, features, faces=faces, grain=grain)


def figures(drawing: Drawing) -> list[tuple[float, Point, float]]:
    """Every plain size: value, where it stands, how it is turned."""
    words = [m for m in drawing.marks if isinstance(m, Words) and m.layer.name == "DIMENSION"]
    return [(float(m.text), m.at, m.turn) for m in words if m.text.replace(".", "").isdecimal()]


def shapes(drawing: Drawing, layer: str) -> list[Outline]:
    """The rings on a layer."""
    return [shape.outline for shape in drawing.shapes if shape.layer.name == layer]


def test_running_sizes_count_from_the_left_and_from_below() -> None:
    """Each stands under or beside the place it measures, in the order of the places."""
    box, stops = Bounds(100, -50, 400, 70), (Point(130, 20), Point(350, -41), Point(400, 70))
    words = [m for m in running(box, stops, Manner(3.5), 10) if isinstance(m, Words)]
    across = [(m.text, m.at.x) for m in words if m.turn]
    up = [(m.text, m.at.y) for m in words if not m.turn]
    assert [text for text, _ in across] == ["30", "250"] and [text for text, _ in up] == ["9", "70"]
    assert [x for _, x in across] == pytest.approx([130, 350], abs=3.5)
    assert [y for _, y in up] == pytest.approx([-41, 20], abs=3.5)
    assert all(m.at.y < box.bottom for m in words if m.turn), "sizes along the length stand below"
    assert all(m.at.x > box.right for m in words if not m.turn), "sizes across stand to the right"


@pytest.mark.parametrize(
    ("number", "across", "up"),
    [(0, [50, 130, 280], [20, 32.5]), (1, [57.5 + 170], [14.5]), (2, [25, 70], [3, 9])],
    ids=["top", "underside", "edge"],
)
def test_sizes_of_each_face_are_those_of_its_own_work(number: int, across: list[float], up: list[float]) -> None:
    """Worked by hand: the top counts from its left end, the underside from its own, which is the top's right.

    Mortises are told by their middles; the top tells where the rail's centre lines, through its origin, run too.
    """
    views = face_views(lopsided())
    drawing = views[number].drawing
    assert ["top", "underside", "edge"][number] == views[number].title.split()[0]
    wood = shapes(drawing, "THROUGH_OUTSIDE" if number == 0 else "FACE_OUTLINE")[0].bounds
    told = figures(drawing)
    below = [value for value, at, turn in told if turn and at.y < wood.bottom and at.x > wood.left]
    beside = [value for value, at, turn in told if not turn and at.x > wood.right]
    assert below == pytest.approx(across) and beside == pytest.approx(up)
    length, width = ([300, 70], [300, 70], [300, THICK])[number]
    lowest = min((at.y, v) for v, at, turn in told if not turn and at.x < wood.right)
    assert lowest[1] == pytest.approx(length) and lowest[0] < wood.bottom
    assert [v for v, at, turn in told if turn and at.x < wood.left] == pytest.approx([width])


def test_the_underside_is_turned_over_left_to_right() -> None:
    """Its outline leans at its left end, its pocket lies where the turned frame has it; the top shows it dashed at
    minus its x."""
    top, under, _ = (view.drawing for view in face_views(lopsided()))
    (wood,) = shapes(under, "FACE_OUTLINE")
    assert {(v.x, v.y) for v in wood.vertices} == {(130, -20), (-170, -20), (-150, 50), (130, 50)}
    (pocket,) = shapes(under, "BOTTOM_MORTISE_9MM")
    assert (pocket.bounds.left, pocket.bounds.right, pocket.bounds.bottom, pocket.bounds.top) == (20, 95, -12, 1)
    (own,) = shapes(top, "TOP_MORTISE_6MM")
    assert (own.bounds.left, own.bounds.right) == (-100, -60)
    for drawing, low, high in ((top, -95, -20), (under, 60, 100)):
        dashed = [m.edge for m in drawing.marks if isinstance(m, Stroke) and m.layer.name == "HIDDEN"]
        upright = [e.start.x for e in dashed if abs(e.start.x - e.end.x) < 1e-9 and e.length > 12]
        assert {low, high} <= {round(x, 6) for x in upright}


def test_the_header_tells_length_before_width_before_thickness() -> None:
    """As the list has it: along the grain, across it, thick."""
    for grain, sizes in ((Point(1, 0), "300 x 70 x 22 mm"), (Point(0, 1), "70 x 300 x 22 mm")):
        said = [m.text for m in part_drawing(lopsided(grain), "t").marks if isinstance(m, Words)]
        assert f"iroko; blank {sizes}, length along the grain" in said
        assert any(text.startswith("BD  board, 3 to make") for text in said)


@pytest.mark.parametrize("grain", [Point(1, 0), Point(0, 1)])
def test_the_grain_arrow_points_along_the_fibres(grain: Point) -> None:
    """On the sheet and on the screen, whichever way they run."""
    part = lopsided(grain)
    for drawing in (part_drawing(part, "t"), face_views(part)[0].drawing):
        strokes = [m.edge for m in drawing.marks if isinstance(m, Stroke) and m.layer.name == "GRAIN"]
        shaft = max(strokes, key=lambda edge: edge.length)
        assert abs(shaft.end.minus(shaft.start).unit.dot(grain)) == pytest.approx(1)
        heads = [edge for edge in strokes if edge is not shaft]
        assert all(shaft.length > 3.5 * head.length for head in heads)
        assert [min(hypot(h.start.x - e.x, h.start.y - e.y) for e in (shaft.start, shaft.end)) for h in heads] == [
            0
        ] * 4


PIECE = Piece("ash 140", 2000, 140, margin=(7, 0, 4, 11), bad_ends=(60, 25), defect_areas=((500, 20, 90, 30),))
CUTS = (
    Cut(4, "rip", Point(7, 100), Point(1975, 100), Point(300, 50)),
    Cut(7, "crosscut", Point(900, 4), Point(900, 100), Point(300, 50)),
)


def stock() -> Drawing:
    """A board with another margin at every edge, both ends bad by different lengths, two cuts, three pieces."""
    item = Item("BD", WOOD, 3)
    laid = (Laid("BD", Placement(300, 30)), Laid("BD", Placement(1200, 70, pi)))
    return stock_drawing(Sheet(PIECE, 5, laid), {"BD": item}, "t", cuts=CUTS, offcuts=((1300, 8, 400, 77),))


def test_each_cut_carries_its_own_number() -> None:
    """On a line from its own cut, a rip's from near its beginning."""
    drawing = stock()
    words = [m for m in drawing.marks if isinstance(m, Words) and m.layer.name == "CUT_NUMBER"]
    assert [m.text for m in words] == ["4", "7"]
    feet = [m.edge.start for m in drawing.marks if isinstance(m, Stroke) and m.layer.name == "CUT_NUMBER"]
    assert feet[0].y == pytest.approx(100) and feet[0].x < 200
    assert feet[1] == Point(900, 52) and words[1].at.x < 900
    lines = [m.edge for m in drawing.marks if isinstance(m, Stroke) and m.layer.name == "SAW_CUT"]
    assert [(e.start, e.end) for e in lines] == [(cut.start, cut.end) for cut in CUTS]


def test_what_is_no_good_is_told_at_its_own_edge() -> None:
    """Margins and bad ends, each on its side; a fault with its corner, its length along the board."""
    drawing = stock()
    (trim,) = shapes(drawing, "TRIM_MARGIN")
    assert trim == rectangle(7, 4, 2000, 129)
    said = " ".join(m.text for m in drawing.marks if isinstance(m, Words))
    assert "trim left 7, bottom 4, top 11 mm" in said and "ash 140, piece 5, 2000 x 140 mm" in said
    assert "BD x 2" in said and "offcut 1: 400 x 77" in said
    ends = [m.edge.start.x for m in drawing.marks if isinstance(m, Stroke) and m.layer.name == "FAULT"]
    assert ends[-2:] == [60, 1975]
    (fault,) = [s for s in shapes(drawing, "FAULT") if s.circle is None]
    assert fault == rectangle(500, 20, 590, 50)
    assert shapes(drawing, "OFFCUT") == [rectangle(1300, 8, 1700, 85)]


def test_the_board_s_grain_runs_along_it() -> None:
    """From left to right, under the board."""
    strokes = [m.edge for m in stock().marks if isinstance(m, Stroke) and m.layer.name == "GRAIN"]
    shaft = max(strokes, key=lambda edge: edge.length)
    assert shaft.start.y == shaft.end.y < 0 and shaft.length > 40

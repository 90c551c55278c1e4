"""The sheet of one part."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import hypot

import pytest

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layers import feature_layer
from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.view import named_face
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge
from templategen.geometry.outline import rectangle
from templategen.geometry.overrun import OVERRUN, adjoins
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.face import bottom_face, top_face
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.router.pockets import STAGGER
from tests.drawing import samples
from tests.drawing.flat import flat, flat_edge

PARTS = {make.__name__: make() for make in samples.ALL}
SHEETS = {name: part_drawing(part, "Towpath table", "2") for name, part in PARTS.items()}
every_part = pytest.mark.parametrize("name", PARTS)


def shapes_on(sheet: Drawing, layer: str) -> list[Shape]:
    return [shape for shape in sheet.shapes if shape.layer.name == layer]


def texts(sheet: Drawing) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, Words)]


def lines(sheet: Drawing, *but: str) -> list[tuple[str, Edge]]:
    found: list[tuple[str, Edge]] = []
    for mark in sheet.marks:
        if isinstance(mark, Words) or mark.layer.name in but:
            continue
        edges = mark.outline.edges if isinstance(mark, Shape) else (mark.edge,)
        found += [(mark.layer.name, edge) for edge in edges]
    return found


@every_part
def test_the_outline_stands_at_the_part_s_own_coordinates(name: str) -> None:
    """There is one line that cuts the part out, equal to the part's outline to the last digit."""
    (outside,) = shapes_on(SHEETS[name], "THROUGH_OUTSIDE")
    assert outside.outline == PARTS[name].outline
    assert [s.outline for s in shapes_on(SHEETS[name], "THROUGH_INSIDE")] == list(PARTS[name].holes)


@every_part
def test_each_worked_face_is_a_view_with_a_name(name: str) -> None:
    """Every face that carries work has its title, and no other face has."""
    part = PARTS[name]
    titles = [mark.text for mark in SHEETS[name].marks if mark.layer.name == "VIEW_TITLE" and isinstance(mark, Words)]
    wanted = {"top": "top face", "bottom": "underside (turned over left to right)"}
    expected = {wanted.get(face.name) or named_face(part, face) for face in part.worked_faces}
    if flat(part.blank).symmetric_difference(flat(part.outline)).area > 1e-6:
        expected.add("blank")
    assert sorted(titles) == sorted(expected)
    assert titles[0] == "top face"


@every_part
def test_every_pocket_takes_the_wood_its_feature_takes(name: str) -> None:
    """Cut to the face it is drawn on, each pocket covers the feature's own area, on the feature's own layer."""
    part, sheet = PARTS[name], SHEETS[name]
    faces = [*shapes_on(sheet, "THROUGH_OUTSIDE"), *shapes_on(sheet, "FACE_OUTLINE")]
    grounds = [flat(shape.outline) for shape in faces]
    for layer in {feature_layer(f).name for f in part.features if feature_layer(f).cuts}:
        features = [f for f in part.features if feature_layer(f).name == layer]
        drawn = shapes_on(sheet, layer)
        if features[0].kind == "hole":
            assert not drawn
            continue
        assert len(drawn) == len(features)
        clipped = sorted(max(flat(d.outline).intersection(g).area for g in grounds) for d in drawn)
        own = sorted(flat(f.outline).intersection(flat(part.face(f.face).outline)).area for f in features)
        for found, wanted in zip(clipped, own, strict=True):
            assert found >= wanted - 1e-6
            assert found == pytest.approx(wanted, abs=1e-6) or _beside_deeper(part, features)


def _beside_deeper(part: Part, features: list[Feature]) -> bool:
    return any(
        other.depth > f.depth and other.face == f.face and adjoins(f.outline, other.outline)
        for f in features
        for other in part.features
    )


@every_part
def test_no_line_is_drawn_on_another(name: str) -> None:
    """No two lines of any layers run along each other for as much as a hundredth of a millimetre, but where a pocket
    runs straight on along the line that cuts the part out, as far as it runs out."""
    found = lines(SHEETS[name], "DIMENSION", "CENTRE", "FRAME", "GRAIN")
    strips = [(layer, edge, flat_edge(edge)) for layer, edge in found]
    for (first, one, a), (second, other, b) in combinations(strips, 2):
        if one.bounds.meets(other.bounds, 1e-3):
            direction = one.direction_at(0.5).cross(other.direction_at(0.5))
            if abs(direction) < 0.01:
                most = (
                    OVERRUN + 3 * STAGGER
                    if first in ("THROUGH_OUTSIDE", "FACE_OUTLINE") and second != first
                    else 0.01
                )
                assert a.intersection(b.buffer(1e-5)).length < most, (one, other)


@every_part
def test_views_keep_apart(name: str) -> None:
    """Faces, blanks, the square and their pockets group into views whose boxes don't meet."""
    sheet = SHEETS[name]
    bases = [
        s.outline.bounds
        for s in sheet.shapes
        if s.layer.name in ("THROUGH_OUTSIDE", "FACE_OUTLINE", "BLANK_OUTLINE", "SIZE_CHECK")
        and s.outline.circle is None
    ]
    assert all(not a.meets(b, 10) for a, b in combinations(bases, 2))


@every_part
def test_titles_stand_clear_of_lines(name: str) -> None:
    """No title, note or header touches a line of the drawing or another of them."""
    sheet = SHEETS[name]
    long = [
        m for m in sheet.marks if isinstance(m, Words) and m.layer.name in ("TEXT", "VIEW_TITLE") and " " in m.text
    ]
    boxes = [words.box for words in long]
    for box in boxes:
        for _, edge in lines(sheet, "FRAME"):
            assert not box.meets(edge.bounds) or not flat_edge(edge).intersects(_rectangle(box))
    feed = [_shrunk(box) for box in boxes]
    assert all(not a.meets(b) for a, b in combinations(feed, 2))


@every_part
def test_sizes_don_t_run_into_each_other(name: str) -> None:
    """No two figures on the sheet cover each other."""
    figures = [m for m in SHEETS[name].marks if isinstance(m, Words) and m.layer.name == "DIMENSION"]
    level = [_shrunk(words.box) for words in figures if abs(words.turn) in (0.0, 1.5707963267948966)]
    assert all(not a.meets(b) for a, b in combinations(level, 2))


def _rectangle(box: Bounds):  # type: ignore[no-untyped-def]
    import shapely

    return shapely.box(*box)


def _shrunk(box: Bounds) -> Bounds:
    """Without the room above and below the letters that lines of text may share."""
    return Bounds(box.left + 0.8, box.bottom + 1.4, box.right - 0.8, box.top - 0.4)


@every_part
def test_the_frame_holds_everything(name: str) -> None:
    """Every line and every word lies inside the frame of the sheet; the other one is the title block's."""
    sheet = SHEETS[name]
    block, frame = shapes_on(sheet, "FRAME")
    assert block.outline.area < frame.outline.area
    box = frame.outline.bounds
    assert sheet.bounds == box
    for mark in sheet.marks:
        if isinstance(mark, Words):
            inner = mark.box
            assert box.left < inner.left < inner.right < box.right
            assert box.bottom < inner.bottom < inner.top < box.top


@every_part
def test_the_square_measures_100_mm(name: str) -> None:
    """One square of 100 mm stands on a layer of its own and says so."""
    (square,) = shapes_on(SHEETS[name], "SIZE_CHECK")
    assert (square.outline.bounds.width, square.outline.bounds.height) == pytest.approx((100, 100), abs=1e-9)
    words = [m.text for m in SHEETS[name].marks if isinstance(m, Words) and m.layer.name == "SIZE_CHECK"]
    assert " ".join(words).startswith("this square measures 100 mm")


@every_part
def test_the_maker_finds_code_count_wood_and_thickness(name: str) -> None:
    """Header lines name the table, the part, how many, of what and how thick; letters are 3.5 mm or more."""
    part, said = PARTS[name], " ".join(texts(SHEETS[name]))
    for wanted in ("Towpath table", part.code, part.name, f"{part.count} to make", part.wood, "Revision 2"):
        assert wanted in said
    assert f"x {part.thickness:g} mm" in said
    assert all(mark.height >= 3.5 for mark in SHEETS[name].marks if isinstance(mark, Words))


@every_part
def test_the_grain_arrow_lies_in_the_wood_along_the_grain(name: str) -> None:
    """The arrow has two heads, runs along the fibres and stays inside the outline."""
    part = PARTS[name]
    strokes = [m for m in SHEETS[name].marks if isinstance(m, Stroke) and m.layer.name == "GRAIN"]
    assert len(strokes) == 5
    shaft = max(strokes, key=lambda stroke: stroke.edge.length).edge
    assert shaft.direction_at(0).cross(part.grain) == pytest.approx(0, abs=1e-9)
    assert all(part.outline.contains(end) for end in (shaft.start, shaft.end))


@every_part
def test_overall_sizes_are_the_outline_s(name: str) -> None:
    """Length and width of the finished outline stand on the sheet as figures."""
    box = PARTS[name].outline.bounds
    figures = [m.text for m in SHEETS[name].marks if isinstance(m, Words) and m.layer.name == "DIMENSION"]
    for size in (box.width, box.height):
        assert any(abs(float(f) - size) < 0.006 for f in figures if f.replace(".", "").isdecimal())


def test_running_sizes_place_the_work_from_the_left_end() -> None:
    """A spline slot's ends and cheeks stand on its view as distances from the corner."""
    figures = [m.text for m in SHEETS["rim_segment"].marks if isinstance(m, Words) and m.layer.name == "DIMENSION"]
    joint = PARTS["rim_segment"].outline.edges[1].length
    assert {"20", f"{joint - 16:.2f}", "16", f"{joint - 20:.2f}", "10", "18"} <= set(figures)
    assert "R 670" in figures
    assert any("15° off square" in figure for figure in figures)


def test_work_under_the_face_is_dashed_where_nothing_covers_it() -> None:
    """Grooves and slots show dashed in plan; a slat's equal rebates on both faces show once."""
    groove, *_ = [e for layer, e in lines(SHEETS["rim_segment"]) if layer == "HIDDEN"]
    assert groove.length > 0
    assert not [e for layer, e in lines(SHEETS["slat"]) if layer == "HIDDEN"]
    depths = [
        e for layer, e in lines(SHEETS["rim_segment"])
        if layer == "HIDDEN" and abs(e.start.y - 563) < 1e-6 and abs(e.end.y - 563) < 1e-6
    ]  # fmt: skip
    assert sum(edge.length for edge in depths) == pytest.approx(2 * 549 * 0.2679491924311227, abs=1e-6)


def test_the_underside_is_mirrored() -> None:
    """Mortises of the underside stand at minus their plan x, moved as one with the face."""
    part = PARTS["top_rail"]
    (face,) = [
        s.outline for s in shapes_on(SHEETS["top_rail"], "FACE_OUTLINE")
        if hypot(s.outline.bounds.width - 1124, s.outline.bounds.height - 84) < 1e-6
    ]  # fmt: skip
    shift = Point(face.bounds.centre.x, face.bounds.centre.y)
    trench = next(f for f in part.features_on("bottom"))
    (drawn,) = shapes_on(SHEETS["top_rail"], feature_layer(trench).name)
    back = Placement(-shift.x, -shift.y).outline(drawn.outline)
    cut = flat(back).intersection(flat(part.face("bottom").outline))
    assert cut.symmetric_difference(flat(trench.outline)).area < 1e-6


def test_like_features_share_a_letter_and_a_note() -> None:
    """Two mortises are one note with '2 places', lettered twice in the drawing."""
    said = texts(SHEETS["rail"])
    (note,) = [text for text in said if "BOTTOM_MORTISE_18MM" in text]
    letter = note.partition(":")[0]
    assert "2 places" in note
    assert "meets LG" in note
    assert said.count(letter) >= 2


@pytest.mark.parametrize("factor", [0.1, 30.0])
def test_lettering_grows_with_the_part_but_stays_legible(factor: float) -> None:
    """A tiny part keeps 3.5 mm letters, a huge one gets 10 mm."""
    ring = rectangle(0, 0, 100 * factor, 40 * factor)
    part = Part("X", "board", "template", 1, "ply", 9, ring, ring, faces=(top_face(ring, 9), bottom_face(ring)))
    heights = {
        m.height for m in part_drawing(part, "t").marks if isinstance(m, Words) and m.layer.name == "VIEW_TITLE"
    }
    assert heights == {3.5 if factor < 1 else 10.0}


def test_a_bare_part_without_faces_is_drawn_too() -> None:
    """A jig's board with an outline only still gets its top view, square and frame."""
    part = replace(PARTS["spline"], faces=(), features=())
    assert [s.outline for s in shapes_on(part_drawing(part, ""), "THROUGH_OUTSIDE")] == [part.outline]


def test_marks_are_marks() -> None:
    """Every mark is one of the three kinds writers know."""
    kinds: set[type] = {type(mark) for sheet in SHEETS.values() for mark in sheet.marks}
    known: tuple[type[Mark], ...] = (Shape, Stroke, Words)
    assert kinds == set(known)


def test_inches_are_figures_only() -> None:
    """A sheet in inches shows the nearest 64th of 13.654 in and says so; no line moves from its place."""
    part = PARTS["rim_segment"]
    sheet = part_drawing(part, "t", units="in")
    said = texts(sheet)
    assert f"{part.outline.bounds.width / 25.4:.3f}" == "13.654" and "13-21/32" in said
    assert any("figures in inches" in text for text in said)
    assert any("0.551 in deep" in text for text in said)
    assert sheet.shapes[0].outline == part.outline


def test_a_nested_pocket_keeps_its_own_outer_edge() -> None:
    """A lap inside a relief, both open at both edges of the rail, shares no line with it."""
    base = PARTS["top_rail"]
    relief = Feature("relief", "bottom", rectangle(-300, -42, 300, 42), 6, "rebate")
    sheet = part_drawing(replace(base, features=(*base.features, relief)), "t")
    pockets = [shape for shape in sheet.shapes if shape.layer.name.startswith(("BOTTOM_LAP", "BOTTOM_RELIEF"))]
    assert len(pockets) == 4
    for one, other in combinations(pockets, 2):
        for a in one.outline.edges:
            for b in other.outline.edges:
                assert flat_edge(a).intersection(flat_edge(b).buffer(1e-4)).length < 0.01


def test_a_face_of_the_blank_says_so() -> None:
    """An end face longer than the finished edge is told to be worked before the outline is cut."""
    part = PARTS["rim_segment"]
    long = [
        replace(face, outline=rectangle(0, 0, face.outline.bounds.right + 20, part.thickness))
        if face.name == "end-1"
        else face
        for face in part.faces
    ]
    warned = "This face is the blank's: work it before the finished outline is cut."
    assert texts(part_drawing(replace(part, faces=tuple(long)), "t")).count(warned) == 1
    assert warned not in texts(SHEETS["rim_segment"])


def test_the_underside_shows_top_work_mirrored() -> None:
    """A trench at the right end of the top shows dashed at the left end of the turned view."""
    ring = rectangle(-300, -40, 300, 40)
    both = (top_face(ring, 20), bottom_face(ring))
    cuts = (
        Feature("lap", "top", rectangle(200, -40, 250, 40), 8, "saw"),
        Feature("mortise", "bottom", rectangle(-20, -10, 20, 10), 8, "mortise"),
    )
    part = Part("X", "board", "template", 1, "ash", 20, ring, ring, cuts, faces=both)
    sheet = part_drawing(part, "t")
    (under,) = shapes_on(sheet, "FACE_OUTLINE")
    left = under.outline.bounds.left
    upright = [e.start.x - left for layer, e in lines(sheet) if layer == "HIDDEN" and e.start.y < -100]
    assert sorted({round(x, 6) for x in upright}) == [50, 100]

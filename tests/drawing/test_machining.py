"""Marks for a routing machine: tabs keep off joints as the table itself has them, order and entries as promised."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from templategen.drawing.drawing import Shape, Words
from templategen.drawing.machining import ENTRY, ORDER, TABS, ZERO, Routed, contours
from templategen.drawing.stock_sheet import stock_drawing
from templategen.drawing.tabs import APART, LEAST_TABS, TAB_WIDTH, joint_lines, tabs
from templategen.drawing.tidy import tidied
from templategen.geometry.outline import circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.parts.faces import flat_faces
from templategen.parts.part import Part
from tests.drawing.flat import flat
from tests.random_profiles import tables

BIT = 8.0


def in_plan(table: Any, placed: Any) -> Any:
    """A part as it lies in the table."""
    spots = [placed.point(p.x, p.y, 0) for p in table.part(placed.code).blank.points]
    return shapely.Polygon([(p.x, p.y) for p in spots])


def test_no_tab_stands_where_a_mate_does() -> None:
    """Just outside each tab of a segment, rail or slat there is no part that it is joined to, in any copy's place."""
    seen = 0
    for table in list(tables(range(12)))[:5]:
        lying = {
            i: p for i, p in enumerate(table.placed) if table.part(p.code).kind in ("rim-segment", "rail", "slat")
        }
        shapes = {i: in_plan(table, placed) for i, placed in lying.items()}
        for joint in table.joints:
            for one, other in (joint.placed, joint.placed[::-1]):
                if one not in lying or other not in lying or joint.kind in ("half-lap", "three-way-lap"):
                    continue
                part, placed = table.part(lying[one].code), lying[one]
                for tab in tabs(part.blank, joint_lines(part)):
                    out = tab.at.plus(tab.along.left, -0.5)
                    spot = placed.point(out.x, out.y, 0)
                    assert not shapes[other].contains(shapely.Point(spot.x, spot.y)), (part.code, joint.kind)
                    seen += 1
    assert seen > 500


def test_tabs_are_three_at_least_apart_and_on_the_line() -> None:
    """On every part that has any; segments, base rails and feet all have them."""
    for table in list(tables(range(40, 48)))[:3]:
        for part in table.parts:
            held = tabs(part.blank, joint_lines(part))
            assert held or part.kind not in ("rim-segment", "base-rail", "foot"), part.code
            assert not held or len(held) >= LEAST_TABS
            for i, tab in enumerate(held):
                assert part.blank.distance(tab.at) < 1e-6
                assert all(tab.at.distance(other.at) >= APART * TAB_WIDTH - 1e-9 for other in held[:i])


def sheet() -> Any:
    """A sheet with a plate with two holes, a small plate turned over, and a ring that only curves bound."""
    plate = made("PLATE", rectangle(0, 0, 300, 160), (circle(60, 80, 20), rectangle(150, 60, 220, 100)))
    wedge = made("WEDGE", polygon(((0, 0), (120, 0), (120, 30), (0, 12))))
    coin, tiny = made("COIN", circle(0, 0, 70)), made("TINY", circle(0, 0, 15))
    parts = {part.code: part for part in (plate, wedge, coin, tiny)}
    laid = (
        Laid("PLATE", Placement(20, 20)), Laid("WEDGE", Placement(500, 20, 0.0, True)),
        Laid("COIN", Placement(420, 200)), Laid("TINY", Placement(40, 250)),
    )  # fmt: skip
    items = {code: Item(code, part.outline, 1) for code, part in parts.items()}
    piece = Piece("ply", 600, 300, margin=5, grain=False, mode="routed")
    return stock_drawing(Sheet(piece, 1, laid), items, "Towpath", routed=Routed(parts, BIT)), parts


def made(code: str, outline: Any, holes: Any = ()) -> Part:
    """A piece of sheet."""
    return Part(code, code.lower(), "jig", 1, "plywood", 12.0, outline, outline, (), holes, flat_faces(outline, 12.0))


def test_inside_is_cut_before_outside_and_small_before_large() -> None:
    """The numbers count every contour once, holes first, each kind by rising area."""
    drawing, _ = sheet()
    numbers = [int(mark.text) for mark in drawing.marks if isinstance(mark, Words) and mark.layer is ORDER]
    assert numbers == [1, 2, 3, 4, 5, 6]
    entries = [shapely.Point(s.outline.bounds.centre) for s in drawing.shapes if s.layer is ENTRY]
    cuts = [flat(s.outline) for s in drawing.shapes if s.layer.name in ("THROUGH_INSIDE", "THROUGH_OUTSIDE")]
    nearest = [min(cuts, key=lambda cut, at=at: cut.exterior.distance(at)) for at in entries]
    holes = [s for s in drawing.shapes if s.layer.name == "THROUGH_INSIDE"]
    inside = [any(flat(hole.outline).equals(cut) for hole in holes) for cut in nearest]
    assert inside == [True, True, False, False, False, False]
    areas = [cut.area for cut in nearest]
    assert areas[:2] == sorted(areas[:2]) and areas[2:] == sorted(areas[2:])


def test_the_bit_enters_in_the_waste_half_its_width_from_the_line() -> None:
    """Outside parts and inside holes, with the whole bit off the wood that is kept."""
    for part in sheet()[1].values():
        kept = flat(part.outline).difference(shapely.union_all([flat(hole) for hole in part.holes]))
        for contour in contours(part, BIT):
            bit = shapely.Point(contour.entry).buffer(BIT / 2 - 0.01)
            assert kept.intersection(bit).area < 1e-6
            assert contour.outline.distance(contour.entry) == pytest.approx(BIT / 2)


def test_curves_are_held_where_they_are_wide_and_told_where_not() -> None:
    """A disc of 140 mm has tabs; one of 30 mm is named under the sheet, with what to do."""
    drawing, parts = sheet()
    assert len(tabs(parts["COIN"].outline, ())) >= LEAST_TABS
    assert not tabs(parts["TINY"].outline, ())
    words = [mark.text for mark in drawing.marks if isinstance(mark, Words)]
    assert any("No tabs on TINY" in text for text in words)


def test_no_machine_follows_the_marks_and_nothing_is_lost_in_tidying() -> None:
    """Tabs, entries, order and zero are on layers that don't cut; every tab's mark lies over a cut line."""
    drawing, _ = sheet()
    marks = {layer.name: layer for layer in drawing.layers}
    assert all(not marks[layer.name].cuts for layer in (TABS, ENTRY, ORDER, ZERO))
    shapes = [s for s in tidied(drawing).shapes if s.layer is TABS]
    assert len(shapes) == len([s for s in drawing.shapes if s.layer is TABS]) >= 9
    cuts = shapely.union_all([flat(s.outline).exterior for s in drawing.shapes if s.layer.name == "THROUGH_OUTSIDE"])
    assert all(isinstance(s, Shape) and flat(s.outline).intersects(cuts) for s in shapes)


def test_the_zero_lies_on_the_sheet_s_lower_left_corner() -> None:
    """The ring's centre is the board's own origin."""
    drawing, _ = sheet()
    (ring,) = [s for s in drawing.shapes if s.layer is ZERO]
    assert ring.outline.circle is not None and ring.outline.circle[0] == (0.0, 0.0)
    assert any("X0 Y0" in mark.text for mark in drawing.marks if isinstance(mark, Words) and mark.layer is ZERO)

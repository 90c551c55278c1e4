"""The sheet of one piece of stock."""

from __future__ import annotations

from math import pi

import pytest

from templategen.drawing.drawing import Shape, Stroke, Words, words_of
from templategen.drawing.stock_sheet import stock_drawing
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.table.profile.choices import Units
from tests.drawing import samples
from tests.drawing.flat import flat
from tests.drawing.shipped_tables import text_shape

PIECE = Piece("iroko 150", 2400, 150, None, 30, ((600, 70, 30), (1500, 30, 18)), 8)
ITEMS = {
    "RS": Item("RS", samples.rim_segment().blank, 12),
    "SL-3": Item("SL-3", samples.slat().outline, 24),
    "X": Item("X", rectangle(0, 0, 6, 6), 1),
}
LAID = (
    Laid("RS", Placement(200, -539)),
    Laid("SL-3", Placement(1800, 100, pi)),
    Laid("SL-3", Placement(1300, 20, 0, True)),
    Laid("X", Placement(2300, 20)),
)
SHEET = stock_drawing(Sheet(PIECE, 2, LAID), ITEMS, "Towpath table")


def on(layer: str) -> list[Shape]:
    return [shape for shape in SHEET.shapes if shape.layer.name == layer]


def test_each_part_lies_where_it_was_laid() -> None:
    """Outlines are the items' own, turned over, turned and moved, in order, inside the board."""
    drawn = [shape.outline for shape in on("BLANK_OUTLINE")]
    assert drawn == [laid.placement.outline(ITEMS[laid.code].outline) for laid in LAID]
    board = flat(on("STOCK_OUTLINE")[0].outline)
    assert all(board.contains(flat(outline)) for outline in drawn)


def test_board_margin_and_knots_are_drawn() -> None:
    """The board starts at the origin, the trim line is 8 mm inside it, knots are crossed circles."""
    (board,), (trim,) = on("STOCK_OUTLINE"), on("TRIM_MARGIN")
    assert board.outline == rectangle(0, 0, 2400, 150)
    assert trim.outline == rectangle(8, 8, 2392, 142)
    circles = [shape.outline.circle for shape in on("FAULT")]
    assert circles == [((600, 70), 15), ((1500, 30), 9)]
    assert sum(isinstance(m, Stroke) and m.layer.name == "FAULT" for m in SHEET.marks) == 4


def test_every_part_is_named_inside_its_outline() -> None:
    """Each code stands in its part; the list above counts them."""
    words = [m for m in SHEET.marks if isinstance(m, Words)]
    for laid, shape in zip(LAID, on("BLANK_OUTLINE"), strict=True):
        named = [w for w in words if w.text == laid.code and shape.outline.bounds.grown(2).meets(_spot(w))]
        assert len(named) == 1
    assert any("SL-3 x 2" in w.text and "RS" in w.text for w in words)
    assert any("2400 x 150" in w.text and "piece 2" in w.text for w in words)


def _spot(words: Words):  # type: ignore[no-untyped-def]
    from templategen.geometry.bounds import Bounds

    return Bounds(words.at.x, words.at.y, words.at.x, words.at.y)


@pytest.mark.parametrize(("grain", "strokes"), [(True, 5), (False, 0)])
def test_the_grain_is_shown_where_there_is_one(grain: bool, strokes: int) -> None:
    """A board has its arrow, a sheet without grain has none."""
    sheet = stock_drawing(Sheet(Piece("ply", 900, 600, grain=grain), 1, ()), {}, "t")
    assert sum(isinstance(m, Stroke) and m.layer.name == "GRAIN" for m in sheet.marks) == strokes


def test_the_test_square_is_there() -> None:
    """A 100 mm square stands clear of the board."""
    (square,) = on("SIZE_CHECK")
    assert square.outline.area == pytest.approx(1e4)
    assert not square.outline.bounds.meets(on("STOCK_OUTLINE")[0].outline.bounds)


@pytest.mark.parametrize(("units", "told"), [("mm", "offcut 1: 914 x 107"), ("in", "offcut 1: 36 x 4-1/8")])
def test_offcuts_are_told_in_the_units_of_the_sheet(units: Units, told: str) -> None:
    """Never longer than they are: 914.9 x 107.9 mm."""
    sheet = stock_drawing(Sheet(PIECE, 2, LAID), ITEMS, "t", units, offcuts=((900.0, 5.0, 914.9, 107.9),))
    assert told in [mark.text for mark in sheet.marks if isinstance(mark, Words)]


ELBOW = polygon(((0, 0), (76, 0), (76, 30), (40, 30), (30, 40), (30, 76), (0, 76)))
"""A gauge of two arms, roomiest in its corner, whose name goes along one of them alone."""


def test_names_and_offcuts_stand_inside_their_lines() -> None:
    """Upright in a narrow offcut, along an arm of an angled piece; offcuts in the numbers that lists name them by."""
    items = {"CORNER-GAUGE": Item("CORNER-GAUGE", ELBOW, 1)}
    piece = Piece("ply", 2440, 1220, grain=False)
    offcuts = ((1000.0, 500.0, 42.0, 300.0), (1200.0, 500.0, 300.0, 42.0))
    laid = (Laid("CORNER-GAUGE", Placement(30, 30)), Laid("CORNER-GAUGE", Placement(500, 600, pi)))
    sheet = stock_drawing(Sheet(piece, 1, laid), items, "t", offcuts=offcuts)
    rings = [shape.outline for shape in sheet.shapes if shape.layer.name in ("BLANK_OUTLINE", "OFFCUT")]
    named = [mark for mark in words_of(sheet.marks) if mark.text == "CORNER-GAUGE" or mark.text.startswith("offcut")]
    assert len(rings) == len(named) == 4
    assert [words.text[:9] for words in named[2:]] == ["offcut 1:", "offcut 2:"]
    for ring, words in zip(rings, named, strict=True):
        assert flat(ring).contains(text_shape(words)), words
    assert [bool(words.turn) for words in named] == [False, False, True, False]

"""Slender boards as pictures: words stay on the row they stand on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import LineString, box
from shapely import Point as ShapelyPoint

from templategen.drawing.drawing import Stroke, Words
from templategen.drawing.layers import CUT_NUMBER
from templategen.drawing.stock_picture import stock_picture
from templategen.drawing.tones import LEADER
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.stock import Cut, Item, Laid, Piece, Sheet

BOARD = Piece("strips", 1800, 100)
ROWS = 3


@pytest.mark.parametrize("start", [10.0, 60.0, 110.0, 170.0, 230.0])
@pytest.mark.parametrize("code", ["SLAT", "terrace/SLAT-03", "the-long-terrace/SLAT-03-2-A"])
def test_no_name_is_cut_by_the_end_of_a_row(start: float, code: str) -> None:
    """Wherever breaks between rows cross the parts, each is told by its code, or by a letter that the key explains,
    and what tells it lies inside its row."""
    item = Item(code, polygon(((0, 0), (500, 0), (460, 40), (40, 40))), 3)
    laid = tuple(Laid(code, Placement(start + 505 * number, 10)) for number in range(3))
    found = stock_picture(Sheet(BOARD, 1, laid), {code: item})
    names = [mark for mark in found.drawing.marks if isinstance(mark, Words) and mark.part == code]
    assert len(names) == len(laid)
    for name in names:
        assert name.text == code or found.key[name.text] == code
        room = name.box
        assert room.left >= 0
        assert room.right <= BOARD.length / ROWS


def test_an_offcut_is_told_on_one_row() -> None:
    """The size of an offcut whose middle is a break lies on one row, too."""
    drawing = stock_picture(Sheet(BOARD, 1, ()), {}, offcuts=[(350.0, 10.0, 500.0, 80.0)]).drawing
    (told,) = [mark for mark in drawing.marks if isinstance(mark, Words) and mark.text.startswith("offcut")]
    room = told.box
    assert told.text.startswith("offcut 1: ")
    assert room.left >= 0
    assert room.right <= BOARD.length / ROWS


def test_numbers_stand_clear_of_other_cuts() -> None:
    """Where short cuts crowd each number covers no other number, no other cut, and most of its own cut shows: it
    stands on a long one, beside a short one, or is led out to where there is room."""
    ends = [((300, 10), (300, 80)), ((306, 10), (306, 80)), ((280, 80), (300, 45)), ((306, 45), (326, 80))]
    ends += [((303, 10), (303, 80)), ((0, 45), (300, 45)), ((306, 47), (1800, 47)), ((303, 80), (309, 92))]
    cuts = [Cut(n, "mitre", Point(*a), Point(*b), Point(5, 5)) for n, (a, b) in enumerate(ends, 1)]
    marks = stock_picture(Sheet(replace(BOARD, length=1000), 1, ()), {}, cuts=cuts).drawing.marks
    numbers = {m.text: box(*m.box) for m in marks if isinstance(m, Words) and m.layer == CUT_NUMBER}
    assert set(numbers) == {str(cut.number) for cut in cuts}
    for text, spot in numbers.items():
        assert not any(spot.intersects(other) for number, other in numbers.items() if number != text)
        for cut in cuts:
            line = LineString([cut.start, cut.end])
            most = line.length * 0.65 if str(cut.number) == text else 0.0
            assert line.intersection(spot).length <= most, (text, cut)
    assert any(isinstance(mark, Stroke) and mark.layer == CUT_NUMBER for mark in marks)


def test_a_letter_of_a_thin_part_stands_beside_it() -> None:
    """On a line from a dot on the part, clear of all outlines, and once for its kind; a wider strip has its code."""
    items = {code: Item(code, rectangle(0, 0, 400, wide), 2) for code, wide in (("CLEAT", 8), ("STICK", 40))}
    laid = [Laid(code, Placement(20.0, low)) for code, low in (("CLEAT", 10), ("CLEAT", 30), ("STICK", 55))]
    found = stock_picture(Sheet(Piece("ply", 1000, 500), 1, tuple(laid)), items)
    ((letter, code),) = found.key.items()
    (told,) = [mark for mark in found.drawing.marks if isinstance(mark, Words) and mark.text == letter]
    (line,) = [mark.edge for mark in found.drawing.marks if isinstance(mark, Stroke) and mark.layer is LEADER]
    assert code == "CLEAT" and any(isinstance(mark, Words) and mark.text == "STICK" for mark in found.drawing.marks)
    assert any(box(20, low, 420, high).intersects(ShapelyPoint(line.start)) for low, high in ((10, 18), (30, 38)))
    for low, high in ((10, 18), (30, 38), (55, 95)):
        assert not box(*told.box).intersects(box(20, low, 420, high).exterior)

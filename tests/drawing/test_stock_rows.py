"""Slender boards as pictures: words stay on the row they stand on."""

from __future__ import annotations

import pytest

from templategen.drawing.drawing import Words
from templategen.drawing.stock_picture import stock_picture
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Laid, Piece, Sheet

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
        box = name.box
        assert box.left >= 0
        assert box.right <= BOARD.length / ROWS


def test_an_offcut_is_told_on_one_row() -> None:
    """The size of an offcut whose middle is a break lies on one row, too."""
    drawing = stock_picture(Sheet(BOARD, 1, ()), {}, offcuts=[(350.0, 10.0, 500.0, 80.0)]).drawing
    (told,) = [mark for mark in drawing.marks if isinstance(mark, Words) and mark.text.startswith("offcut")]
    box = told.box
    assert box.left >= 0
    assert box.right <= BOARD.length / ROWS

"""The sheet for whoever gets the table, on paper: picture and facts above, sentences in two columns below."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from templategen.catalogue import translated
from templategen.drawing.drawing import Drawing
from templategen.drawing.pattern import Pattern
from templategen.english import tag
from templategen.output.customer_sheet import CustomerSheet
from templategen.output.maker_mark import MARK as OF_MAKER
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_marks import plain_code
from templategen.output.typeset import wrapped

EDGE, GUTTER = 15.0, 8.0
"""White round the sheet and between its columns, mm."""

TITLE, HEAD, BODY = 4.6, 2.4, 1.95
"""Heights of capitals, mm."""

BOLDER = 0.85
"""Bold letters are wider: so much of a line's room is reckoned with."""

FEED = 4.0
"""From line to line, mm."""

PICTURE = 78.0
"""Width, and height at most, that the picture takes, mm."""

MARK = 18.0
"""Height of the maker's mark at most, mm; it is at most twice as wide."""

WORD = 24.0
"""Room for the word before a fact, mm."""


@dataclass(frozen=True, slots=True)
class PlacedPicture:
    """A drawing as a PDF draws it, in its own millimetres, and the box that it fills: left, bottom, width, height."""

    code: str
    box: tuple[float, float, float, float]


NO_PICTURE = PlacedPicture("", (0.0, 0.0, 1.0, 0.01))


def placed_picture(drawing: Drawing) -> PlacedPicture:
    """The drawing's lines; where there are none an empty picture."""
    if not drawing.marks:
        return NO_PICTURE
    box = Pattern(drawing.marks).box
    scale = PICTURE / max(box.width, box.height)
    return PlacedPicture(plain_code(drawing.marks, scale), (box.left, box.bottom, box.width, box.height))


def customer_pdf(sheet: CustomerSheet, picture: PlacedPicture, paper: tuple[float, float]) -> bytes:
    """The file: one page, more only where the words need them."""
    width, height = paper
    ink = Ink(width, height, sheet.title, tag(of_catalogue=True))
    ink.begin_page()
    y = _head(ink, sheet, height - EDGE)
    y = min(_picture(ink, picture, y), _facts(ink, sheet, y, width))
    column = (width - 2 * EDGE - GUTTER) / 2
    _columns(ink, list(_set(sheet, column)), y - FEED, (width, height))
    ink.end_page()
    return ink.finish()


def _head(ink: Ink, sheet: CustomerSheet, y: float) -> float:
    """Maker and title; where they end."""
    room = (ink.size[0] - 2 * EDGE) * BOLDER
    if sheet.mark:
        high = min(MARK, 2 * MARK * sheet.mark.box[3] / sheet.mark.box[2])
        wide = high * sheet.mark.box[2] / sheet.mark.box[3]
        room -= (wide + GUTTER) * BOLDER
        with ink.tagged("Figure", translated(OF_MAKER)):
            ink.code(sheet.mark.code(ink.size[0] - EDGE - wide, y, high))
    for number, said in enumerate(sheet.maker):
        height = HEAD if number == 0 else BODY
        for line in wrapped(said, height, room):
            ink.text(EDGE, y - HEAD, line, height, bold=number == 0)
            y -= FEED
    with ink.tagged("H1"):
        for line in wrapped(sheet.title, TITLE, room):
            y -= 2 * TITLE
            ink.text(EDGE, y, line, TITLE, bold=True)
    if sheet.mark:
        y = min(y, ink.size[1] - EDGE - high)
    ink.pen(0.25, GREY)
    ink.line(EDGE, y - FEED, ink.size[0] - EDGE, y - FEED)
    ink.pen(0.25)
    return y - 1.5 * FEED


def _picture(ink: Ink, picture: PlacedPicture, y: float) -> float:
    _, _, wide, high = picture.box
    scale = min(PICTURE / wide, PICTURE / high)
    with ink.tagged("Figure", translated("The table")):
        _put(ink, picture, y, scale)
    return y - high * scale


def _put(ink: Ink, picture: PlacedPicture, y: float, scale: float) -> None:
    left, bottom, wide, high = picture.box
    ink.canvas.saveState()
    ink.canvas.translate(EDGE + (PICTURE - wide * scale) / 2, y - high * scale)
    ink.canvas.scale(scale, scale)
    ink.canvas.translate(-left, -bottom)
    ink.code(picture.code)
    ink.canvas.restoreState()


def _facts(ink: Ink, sheet: CustomerSheet, y: float, width: float) -> float:
    left = EDGE + PICTURE + GUTTER
    for word, what in sheet.facts:
        lines = wrapped(what, BODY, width - EDGE - left - WORD)
        ink.text(left, y - BODY - 1, word, BODY, bold=True)
        for line in lines:
            ink.text(left + WORD, y - BODY - 1, line, BODY)
            y -= FEED
        y -= 1.0
    return y


def _set(sheet: CustomerSheet, column: float) -> Iterator[tuple[tuple[str, bool], ...]]:
    """The sentences as blocks of lines that stay together, each line with whether it is a heading."""
    for heading, lines in sheet.chapters:
        for number, line in enumerate(lines):
            block = [(one, False) for one in _hung(wrapped(line, BODY, column - 3.0))]
            yield (("", False), (heading, True), *block) if number == 0 else tuple(block)


def _hung(lines: Iterable[str]) -> Iterator[str]:
    for number, line in enumerate(lines):
        yield line if number else f"- {line}"


def _columns(ink: Ink, blocks: list[tuple[tuple[str, bool], ...]], top: float, paper: tuple[float, float]) -> None:
    """The blocks in two columns of like length; what finds no room goes on overleaf."""
    width, height = paper
    column = (width - 2 * EDGE - GUTTER) / 2
    while blocks:
        room = int((top - EDGE) / FEED)
        lines = min(room, (sum(map(len, blocks)) + 1) // 2 + 2)
        for x in (EDGE, EDGE + column + GUTTER):
            y, left = top, lines if x == EDGE else room
            while blocks and len(blocks[0]) <= left:
                block = blocks.pop(0)
                for words, bold in block[1:] if y == top and not block[0][0] else block:
                    y -= FEED
                    at = x + (0.0 if bold or words.startswith("- ") else 2.2)
                    ink.text(at, y, words, BODY, bold=bold, kind="H2" if bold else "P")
                left -= len(block)
        if blocks:
            ink.end_page()
            ink.begin_page()
            top = height - EDGE

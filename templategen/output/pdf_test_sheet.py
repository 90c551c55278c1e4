"""The printer's test sheet: what to measure once, so that every template comes out true."""

from math import sqrt

from templategen.catalogue import fault_of, figured, translated, worded
from templategen.errors import OutputError
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_furniture import INCH, MEDIUM, SMALL, THIN, TITLE, ruler
from templategen.output.pdf_tags import ARTIFACT
from templategen.output.typeset import fitted, text_length
from templategen.paper.correction import Correction
from templategen.paper.grid import FOOT, SIDE, paper_size
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Paper
from templategen.table.profile.printer import SQUARES
from templategen.units import length_figure, show_length

SIXTEENTH = INCH / 16
EDGES: dict[Units, tuple[float, ...]] = {
    "mm": (3, 4, 5, 6, 8, 10, 12, 15), "in": tuple(n * SIXTEENTH for n in (2, 3, 4, 5, 6, 8, 10))
}  # fmt: skip
"""Distances from the edge of the paper at which a line shows what the printer reaches, mm."""

WORDS_ROOM = 38.0
"""Height of the words above the square, mm."""

LINES = (
    "Print at 100 %, never fitted to the page, on the paper you will use.",
    "Measure to {fine}, from line to line: across and down ({true} if true), both diagonals ({diagonal}).",
    "Write under [paper] in the profile: measured = [across, down, rising diagonal, falling diagonal].",
    "Scale and skew are worked out from it; by hand, scale_x = {true} / across and scale_y = {true} / down.",
    "Grey lines stand {offs} from the edge: margin = {third} if that is the first whole one.",
)

LETTERS = 2.5
FEED = 4.4


def test_sheet_pdf(paper: Paper, title: str, inches: bool = False) -> bytes:
    """One page, upright, always without correction: a square with its diagonals, rulers, and lines at the edges.

    Raises:
        OutputError: paper too small or unknown.
    """
    width, height = _page(paper)
    units: Units = "in" if inches else "mm"
    side = _side(paper, width, height, units)
    ink = Ink(width, height, worded("Printer's test sheet {title}", title=title))
    ink.begin_page()
    with ink.tagged(ARTIFACT):
        _edges(ink, units)
    left = max(paper.margin + SIDE + 6, (width - side) / 2)
    bottom = paper.margin + FOOT + 4
    _words(ink, left, bottom + side, width - left - paper.margin, side, title, units)
    with ink.tagged(
        "Figure",
        worded("A square of {side} with both diagonals, and two rulers", side=figured(show_length(side, units))),
    ):
        _square(ink, left, bottom, side, units)
        ink.pen(THIN)
        ruler(ink, (left, bottom - 8), _ruler(side), Correction(), False, inches)
        ruler(ink, (left - 6, bottom), _ruler(side), Correction(), True, inches)
    ink.end_page()
    return ink.finish()


test_sheet_pdf.__test__ = False  # type: ignore[attr-defined]


def _page(paper: Paper) -> tuple[float, float]:
    width, height = paper_size(paper)
    if height is None:
        return width, width + WORDS_ROOM
    return min(width, height), max(width, height)


def _side(paper: Paper, width: float, height: float, units: str) -> float:
    room = min(width - 2 * paper.margin - SIDE - 8, height - 2 * paper.margin - FOOT - WORDS_ROOM - 6)
    for side in SQUARES[units]:
        if side <= room:
            return side
    raise OutputError(
        fault_of(
            "paper.margin",
            "a page of {width:g} x {height:g} mm with a margin of {margin:g} mm has no room for a test square",
            "use a smaller margin or larger paper", width=width, height=height, margin=paper.margin,
        )
    )  # fmt: skip


def _ruler(side: float) -> float:
    return 100.0 if side >= 100 else 50.0


def _edges(ink: Ink, units: Units) -> None:
    """Short lines near each edge, with their distance: the first one missing is the least margin."""
    width, height = ink.size
    ink.pen(THIN, GREY)
    edges = EDGES[units]
    for number, off in enumerate(edges):
        for x in (width * 0.62 + number * 7, width * 0.62 + number * 7 - 0.42 * width):
            if x + 5 < width - edges[-1]:
                ink.line(x, off, x + 5, off)
                ink.line(x, height - off, x + 5, height - off)
                ink.text(x + 2.5, height - off - 2.4, length_figure(off, units), SMALL, "middle")
        for y in (height * 0.75 + number * 6, height * 0.75 + number * 6 - 0.4 * height):
            if y + 5 < height - edges[-1]:
                ink.line(off, y, off, y + 4)
                ink.line(width - off, y, width - off, y + 4)


def _square(ink: Ink, left: float, bottom: float, side: float, units: str) -> None:
    ink.pen(MEDIUM)
    ink.rectangle(left, bottom, side, side)
    ink.pen(THIN)
    ink.line(left, bottom, left + side, bottom + side)
    ink.line(left, bottom + side, left + side, bottom)
    told = figured(show_length(side, units))
    ink.text(left + side / 2, bottom + 2, worded("across: {size}", size=told), TITLE, "middle")
    ink.text(left + side - 2, bottom + side / 2, worded("down: {size}", size=told), TITLE, "middle", 90)
    ink.text(left + side * 0.72, bottom + side * 0.72 + 2, translated("rising diagonal"), LETTERS, "middle", 45)
    ink.text(left + side * 0.28, bottom + side * 0.72 + 2, translated("falling diagonal"), LETTERS, "middle", -45)


def _words(ink: Ink, left: float, top: float, room: float, side: float, title: str, units: Units) -> None:
    y = top + WORDS_ROOM - 6
    ink.pen(THIN)
    ink.text(
        left,
        y,
        fitted(worded("Printer's test sheet · {title}", title=title), TITLE, room, bold=True),
        TITLE,
        bold=True,
        kind="H1",
    )
    diagonal = f"{side * sqrt(2) / INCH:.3f} in" if units == "in" else f"{side * sqrt(2):.1f} mm"
    true, fine = show_length(side, units), "1/100 in" if units == "in" else "0.2 mm"
    offs = ", ".join(length_figure(off, units) for off in EDGES[units])
    fields = {
        "fine": figured(fine), "true": true, "diagonal": figured(diagonal), "offs": f"{offs} {units}",
        "third": f'"{length_figure(EDGES[units][2], units)} {units}"',
    }  # fmt: skip
    lines = tuple(worded(line, **fields) for line in LINES)
    height = min(LETTERS, *(LETTERS * room / text_length(line, LETTERS) for line in lines))
    for number, line in enumerate(lines):
        ink.text(left, y - 6 - number * FEED, line, height)

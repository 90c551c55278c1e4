"""The printer's test sheet: its square is as large as it says, its other lines stand where they tell."""

from collections.abc import Iterator, Sequence
from functools import partial

from templategen.catalogue import read_as, translated
from templategen.errors import OutputError
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.paper_files import ON_PAPER, distances, one_array
from templategen.proof.read_pdf import Ink, Page, Printed, read_pdf

SIXTEENTH = 25.4 / 16

AT_EDGES = {
    "mm": (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0),
    "in": tuple(n * SIXTEENTH for n in (2, 3, 4, 5, 6, 8, 10)),
}
"""How far lines of the test sheet stand from the edges of the paper, mm, by the unit that its sides are told in."""

ACROSS = "across: {size}"

UNITS = {"mm": 1.0, "in": 25.4}

Spot = tuple[float, float]


def printer_sheet_differences(path: str, data: bytes) -> Iterator[Difference]:
    """The printer's test sheet: its square is as large as it says, both ways."""
    try:
        printed: Printed = read_pdf(data)
    except OutputError as trouble:
        yield Difference(path, "", str(trouble))
        return
    sheet = printed.pages[0].ink or Ink()
    told = next((told["size"] for words in sheet.words[""] if (told := read_as(translated(ACROSS), words))), "")
    figure, _, unit = told.partition(" ")
    side = float(figure.replace(",", ".")) * UNITS[unit] if unit in UNITS else 0.0
    lines = one_array(sheet.chords.values())
    sides = [
        (x0, y0) for x0, y0, x1, y1 in lines.tolist() if max(abs(x1 - x0 - side), abs(y1 - y0 - side)) <= ON_PAPER
    ]
    square = [_square(x, y, side) for x, y in sides]
    if side <= 0 or not any((distances(points, lines) <= ON_PAPER).all() for points in square):
        yield Difference(path, translated("test square"), translated("isn't drawn as large as the sheet says"))
    corner = sides[0] if sides else (0.0, 0.0)
    known = (partial(_at_edge, AT_EDGES.get(unit, AT_EDGES["mm"])), _long, _on_ruler)
    if not all(any(one(line, printed.pages[0], side, corner) for one in known) for line in lines.tolist()):
        yield Difference(
            path,
            "edges",
            translated("a line doesn't stand where the sheet says, by the edge of the paper or on a ruler"),
        )


def _at_edge(edges: Sequence[float], line: Sequence[float], page: Page, side: float, corner: Spot) -> bool:
    """Whether a short line stands along an edge of the paper at one of the distances that are told."""
    (x0, y0, x1, y1), (width, height) = line, (page.width, page.height)
    offs = (x0, width - x0) if _near(x0, x1) else (y0, height - y0) if _near(y0, y1) else ()
    return any(_near(off, told) for off in offs for told in edges)


def _long(line: Sequence[float], page: Page, side: float, corner: Spot) -> bool:
    """Whether a line is a side or a diagonal of the square."""
    across, up = abs(line[2] - line[0]), abs(line[3] - line[1])
    offs = (value - corner[i % 2] for i, value in enumerate(line))
    ends = all(_near(0.0, off) or _near(side, off) for off in offs)
    return ends and all(_near(way, 0.0) or _near(way, side) for way in (across, up)) and across + up > side / 2


def _on_ruler(line: Sequence[float], page: Page, side: float, corner: Spot) -> bool:
    """Whether a line is a ruler below or to the left of the square, or a tick of it: millimetres, or inches in 16."""
    x0, y0, x1, y1 = (value - corner[i % 2] for i, value in enumerate(line))
    if min(y0, y1, x0, x1) > -ON_PAPER:
        return False
    along = (x0, x1) if y0 < x0 else (y0, y1)
    return any(all(_near(at / step, round(at / step)) for at in along) for step in (1.0, SIXTEENTH))


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= ON_PAPER


def _square(x: float, y: float, side: float) -> list[Point]:
    """Corners and middles of the sides and diagonals of a square."""
    shares = (0.0, 0.5, 1.0)
    return [Point(x + u * side, y + v * side) for u in shares for v in shares]

"""Seams in ink: trim and glue lines, crosses, half diamonds with letters, the diagonal over every seam."""

from templategen.geometry.bounds import Bounds
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_furniture import MEDIUM, NOTE, SMALL, THIN, Page
from templategen.output.typeset import text_length
from templategen.paper.seams import ARM, WEDGE, Seam

TEETH = 4.0
"""Distance between the strokes along a glue strip's edge, mm."""


def draw_seams(ink: Ink, page: Page) -> None:
    """Every seam of the page: as the page that is cut and laid over, or as the one that lies under.

    Cutting edge: a full line. Glue strip: strokes along its outer edge and a dashed line up to which the other
    page is laid.
    """
    taken = list(page.inked)
    for seam in page.seams:
        if page.tile == seam.over:
            _draw(ink, page, seam, seam.low - 40, seam.high, taken)
        else:
            _draw(ink, page, seam, seam.low, seam.high + 40, taken)


def _draw(ink: Ink, page: Page, seam: Seam, first: float, last: float, taken: list[Bounds]) -> None:
    is_over = page.tile == seam.over
    window = page.tile.window
    ends = window[1 - seam.axis], window[3 - seam.axis]
    ink.pen(MEDIUM if is_over else THIN, GREY, () if is_over else (1.5, 1.0))
    _line(ink, page, seam, (seam.high, ends[0]), (seam.high, ends[1]))
    if not is_over and seam.lap > 2:
        _comb(ink, page, seam, ends)
    middle = (seam.low + seam.high) / 2
    reach = seam.lap / 2 + ARM
    for along in seam.crosses:
        ink.pen(THIN)
        _line(ink, page, seam, (max(middle - reach, first), along), (min(middle + reach, last), along))
        _line(ink, page, seam, (middle, along - ARM), (middle, along + ARM))
        _wedge(ink, page, seam, along, -1 if is_over else 1, taken)
    _witness(ink, page, seam, first, last)


def _line(ink: Ink, page: Page, seam: Seam, start: tuple[float, float], end: tuple[float, float]) -> None:
    ink.line(*page.at(*seam.spot(*start)), *page.at(*seam.spot(*end)))


def _comb(ink: Ink, page: Page, seam: Seam, ends: tuple[float, float]) -> None:
    """Short strokes along the edge that is covered."""
    count = int((ends[1] - ends[0]) / TEETH)
    size = min(1.6, seam.lap / 3)

    def draw() -> None:
        ink.pen(THIN, GREY)
        teeth = ((seam.spot(0, i * TEETH), seam.spot(size, i * TEETH + size)) for i in range(count))
        ink.lines((*start, *end) for start, end in teeth)

    ink.stamp(f"comb-{seam.axis}-{count}", page.at(*seam.spot(seam.low, ends[0])), draw)


def _wedge(ink: Ink, page: Page, seam: Seam, along: float, side: int, taken: list[Bounds]) -> None:
    """Half a diamond on the line, and the seam's letter by it: both halves must make one diamond."""
    ink.pen(THIN)
    base, tip = seam.high, seam.high + side * WEDGE
    corners = ((base, along - WEDGE * 0.75), (tip, along), (base, along + WEDGE * 0.75))
    ink.ring(*(page.at(*seam.spot(*corner)) for corner in corners))
    ink.pen(THIN, GREY)
    if place := _letter_place(seam, along, side, page.tile.window, taken):
        ink.text(*page.at(*place), seam.name, NOTE, "middle")


LETTER_SPOTS = tuple((across, along) for across in (4.2, 7.0, 9.5) for along in (3.0, -3.0, 6.5, -6.5, 10.0, -10.0))
"""Where a seam's letter may stand, from the line and from the wedge's middle, mm; the first that is clear."""


def _letter_place(
    seam: Seam, along: float, side: int, window: Bounds, taken: list[Bounds]
) -> tuple[float, float] | None:
    """A clear place in the page's window for a seam's letter by its wedge, taken from then on; None where there is
    none, since each seam has another wedge."""
    half = text_length(seam.name, NOTE) / 2 + 0.4
    for off, beside in LETTER_SPOTS:
        x, y = seam.spot(seam.high + side * off, along + beside)
        y -= SMALL / 2 if seam.axis else 0.0
        box = Bounds(x - half, y - 0.5, x + half, y + NOTE + 0.4)
        if Bounds.around((window, box)) == window and not any(box.meets(other) for other in taken):
            taken.append(box)
            return x, y
    return None


def _witness(ink: Ink, page: Page, seam: Seam, first: float, last: float) -> None:
    """The diagonal over the seam: it is broken wherever the pages lie wrong, either way."""
    middle, reach = (seam.low + seam.high) / 2, seam.lap / 2 + 9
    low, high = max(-reach, first - middle), min(reach, last - middle)
    ink.pen(MEDIUM, GREY)
    _line(ink, page, seam, (middle + low, seam.witness + low), (middle + high, seam.witness + high))

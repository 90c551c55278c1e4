"""The book of part sheets: contents, then a page for each part at a stated scale."""

from collections.abc import Sequence

from templategen.catalogue import meant, translated, worded
from templategen.drawing.book_page import BookPage
from templategen.drawing.drawing import Mark, marks_box
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_marks import draw_marks
from templategen.output.typeset import fitted

TITLE, LINE, SMALL = 5.0, 2.5, 1.8
"""Capital heights, mm."""

FEED = 5.0
"""From line to line of the contents, mm."""

FINER = 2.0
"""Lines are so much finer than on the sheets full size, as letters are smaller."""

BAR_AT = 0.55
"""Where on the foot the scale bar begins, as a share of the page's width."""

FOOT = 8.0
"""Room for the line at the foot of a page, mm."""

HEADINGS = {
    "part": "part", "name": "name", "wanted": "number wanted", "scale": "scale", "revision": "revision",
    "page": "page",
}  # fmt: skip
HOW = "revision {revision}; for the bench, print at 100 %: scale bars must measure true"
COLUMNS = (0.0, 0.16, 0.5, 0.58, 0.68, 0.86)
"""Where code, name, number, scale, revision and page stand, as shares of the width."""


def room_of(size: tuple[float, float], margin: float) -> tuple[float, float]:
    """What a page has for a part, mm."""
    return size[0] - 2 * margin, size[1] - 2 * margin - FOOT


def book_pdf(
    pages: Sequence[BookPage],
    revisions: Sequence[str],
    title: str,
    revision: str,
    size: tuple[float, float],
    margin: float,
) -> bytes:
    """The file; `revisions` are those of the parts, `revision` that of all."""
    ink = Ink(*size, worded("Part sheets of {title}", title=title))
    rows = max(1, int((size[1] - 2 * margin - FOOT - 5 * FEED) / FEED))
    starts = range(0, len(pages), rows)
    of = len(starts) + len(pages)
    numbered = list(zip(pages, revisions, range(len(starts) + 1, of + 1), strict=True))
    for number, first in enumerate(starts, 1):
        ink.begin_page()
        ink.bookmark(translated("Contents"))
        _contents(ink, numbered[first : first + rows], title, revision, size, margin)
        _foot(ink, title, number, of, size, margin)
        ink.end_page()
    for page, own, number in numbered:
        across = size[::-1] if page.lying else size
        ink.begin_page(across)
        ink.bookmark(f"{page.part.code} {page.part.name}")
        _part(ink, page, across, margin)
        told = worded("{title}: {code}, scale {scale}, revision {revision}", title=title, code=page.part.code,
                      scale=page.scale, revision=own)  # fmt: skip
        _foot(ink, told, number, of, across, margin)
        ink.end_page()
    return ink.finish()


def _part(ink: Ink, page: BookPage, size: tuple[float, float], margin: float) -> None:
    """The drawing, its upper left corner at that of the page's room, and the scale bar at the foot."""
    box = marks_box(page.marks)
    told = worded("{code}, {name}, {count} to make, scale {scale}", code=page.part.code, name=page.part.name,
                  count=page.part.count, scale=page.scale)  # fmt: skip
    with ink.tagged("Figure", told):
        _scaled(ink, page.marks, page.times, (margin, size[1] - margin), (box.left, box.top))
        _scaled(ink, page.bar, page.times, (size[0] * BAR_AT, margin + LINE), (0.0, 0.0))


def _scaled(
    ink: Ink, marks: Sequence[Mark], times: float, at: tuple[float, float], corner: tuple[float, float]
) -> None:
    """Marks so many times smaller, a point of theirs at a place of the page."""
    ink.canvas.saveState()
    ink.canvas.translate(*at)
    ink.canvas.scale(1 / times, 1 / times)
    ink.canvas.translate(-corner[0], -corner[1])
    draw_marks(ink, marks, FINER / times)
    ink.canvas.restoreState()


def _contents(
    ink: Ink,
    rows: Sequence[tuple[BookPage, str, int]],
    title: str,
    revision: str,
    size: tuple[float, float],
    margin: float,
) -> None:
    width, y = size[0] - 2 * margin, size[1] - margin - TITLE
    ink.text(margin, y, fitted(worded("Part sheets of {title}", title=title), TITLE, width), TITLE, kind="H1")
    y -= 1.6 * FEED
    how = worded(
        "revision {revision}; for the bench, print at 100 %: scale bars must measure true", revision=revision
    )
    ink.text(margin, y, how, LINE)
    told = [tuple(meant(head, asked) for head, asked in HEADINGS.items())]
    told += [(page.part.code, page.part.name, str(page.part.count), page.scale, own, str(number))
             for page, own, number in rows]  # fmt: skip
    for row in told:
        y -= FEED
        for share, words, after in zip(COLUMNS, row, (*COLUMNS[1:], 1.0), strict=True):
            ink.text(margin + share * width, y, fitted(words, LINE, (after - share) * width - 1), LINE)


def _foot(ink: Ink, words: str, number: int, of: int, size: tuple[float, float], margin: float) -> None:
    ink.pen(0.13, GREY)
    ink.text(margin, margin, fitted(words, SMALL, size[0] * BAR_AT - margin - 4), SMALL)
    ink.text(size[0] - margin, margin, worded("{number} of {all}", number=number, all=of), SMALL, "end")

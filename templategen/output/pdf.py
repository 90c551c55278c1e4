"""Paper at true size: patterns on as many pages as they need, to be laid together."""

from collections.abc import Iterator, Sequence
from functools import partial

from templategen.catalogue import translated, worded
from templategen.drawing.pattern import Pattern
from templategen.output.pdf_canvas import Ink
from templategen.output.pdf_first_pages import Front
from templategen.output.pdf_furniture import Heading, Page, furnish, head
from templategen.output.pdf_marks import draw_pattern
from templategen.output.pdf_seams import draw_seams
from templategen.output.pdf_tags import ARTIFACT
from templategen.paper.grid import ink_by_tile
from templategen.paper.seams import seam_boxes, seams_of
from templategen.paper.tiling import Tiled

MARKS = "page: marks and words"
"""The layer of all that belongs to a page, not to what it shows."""


def tiled_pdf_of(sheets: Sequence[tuple[Tiled, Heading]], title: str, front: Front | None = None) -> bytes:
    """One file of several tiled patterns, each with its own heading; a bookmark leads to every page.

    Lower pages lie on upper ones and left ones on right ones: the right and top edges are cut off along the line,
    so that nothing of the furniture shows. `front` are pages of words before them.
    """
    first = sheets[0][0].grid
    ink = Ink(first.page_width, first.page_height, title)
    for number, (laid, _) in enumerate(sheets):
        _form(ink, f"drawing-{number}", laid.pattern)
    count = front.pages if front else 0
    of = sum(laid.pages for laid, _ in sheets) + count
    if front:
        front.draw(ink, of)
    for number, (laid, heading) in enumerate(sheets):
        for page in _pages(laid, len(sheets) > 1, count, of):
            _page(ink, f"drawing-{number}", laid, page, heading, "H2" if front else "H1")
        count += laid.pages
    return ink.finish()


def _pages(laid: Tiled, is_one_of_several: bool, before: int, of: int) -> Iterator[Page]:
    inked = ink_by_tile(laid.grid, laid.inked)
    seams = seams_of(laid.grid, inked)
    for index, tile in enumerate(laid.grid.tiles):
        number = before + index + 1
        name = f"{number}" if is_one_of_several and laid.pages == 1 else tile.name
        near = tuple(inked.get((tile.column, tile.row), ()))
        mine = tuple(seam for seam in seams if tile in (seam.over, seam.under))
        yield Page(laid.grid, tile, mine, near, name, number, of, laid.correction)


def _page(ink: Ink, form: str, laid: Tiled, page: Page, heading: Heading, level: str) -> None:
    ink.begin_page((page.grid.page_width, page.grid.page_height))
    ink.bookmark(f"{page.name} {heading.code} {heading.title}")
    ink.begin_layer(translated(MARKS))
    with ink.tagged(level):
        head(ink, page, heading)
    ink.end_layer()
    with ink.tagged("Figure", _shown(page, heading)):
        _window(ink, form, laid, page)
    ink.begin_layer(translated(MARKS))
    with ink.tagged(ARTIFACT):
        draw_seams(ink, page)
    marks = [box for seam in page.seams for box in seam_boxes(seam)]
    furnish(ink, page, heading, [*page.inked, *marks])
    ink.end_layer()
    ink.end_page()


def _shown(page: Page, heading: Heading) -> str:
    """What a sheet shows, in words."""
    wanted = worded(", {count} wanted", count=heading.count) if heading.count else ""
    what = " · ".join(word for word in (heading.code, heading.note, heading.title) if word)
    return worded("Sheet {number} of {all}, full size: {what}{wanted}", number=page.number, all=page.of, what=what,
                  wanted=wanted)  # fmt: skip


def _form(ink: Ink, name: str, pattern: Pattern) -> None:
    """The drawing once, in its own frame; every page shows it through its window."""
    ink.keep(name, pattern.box.grown(25.0), partial(draw_pattern, ink, pattern))


def _window(ink: Ink, form: str, laid: Tiled, page: Page) -> None:
    grid = page.grid
    left, bottom = grid.corner
    canvas = ink.canvas
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(left, bottom, grid.window_width, grid.window_height)
    canvas.clipPath(path, stroke=0, fill=0)
    canvas.translate(left - page.tile.window.left, bottom - page.tile.window.bottom)
    canvas.transform(*laid.correction.matrix)
    canvas.doForm(form)
    canvas.restoreState()

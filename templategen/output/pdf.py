"""Tiled paper: a drawing at true size on as many pages as it needs."""

from __future__ import annotations

from math import isfinite

from templategen.drawing.drawing import Drawing
from templategen.drawing.lettering import marks_box
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.output.pdf_canvas import Ink
from templategen.output.pdf_furniture import Heading, furnish
from templategen.output.pdf_marks import draw_marks, traces
from templategen.output.tiles import Grid, Tile, tile_grid
from templategen.table.profile.model import Paper

FORM = "drawing"


def tiled_pdf(
    drawing: Drawing,
    paper: Paper,
    title: str,
    code: str = "",
    count: int = 0,
    revision: str = "",
    note: str = "",
    inches: bool = False,
) -> bytes:
    """The drawing 1:1 (times the printer's correction) on pages to be laid together.

    Lower pages lie on upper ones and left ones on right ones: the right and top edges are cut off along the
    line, so that nothing of the furniture shows. `inches` adds inches to the rulers.

    Raises:
        OutputError: paper too small or unknown, nothing to draw, sizes that aren't finite.
    """
    scale = _scale(paper)
    if not drawing.marks:
        raise OutputError(Fault("drawing", f"{drawing.title!r} holds nothing to print"))
    inked = [_stretched(box, scale) for box in traces(drawing)]
    if not all(isfinite(value) for box in inked for value in box):
        raise OutputError(Fault("drawing", "sizes that aren't finite", "check the sizes of the part"))
    grid = tile_grid(_stretched(marks_box(drawing.marks), scale), paper, inked)
    heading = Heading(title, code, count, revision, note, scale, inches)
    ink = Ink(grid.page_width, grid.page_height, f"{code} {title}")
    _form(ink, drawing)
    for tile in grid.tiles:
        ink.begin_page()
        _window(ink, grid, tile, scale)
        near = [box for box in inked if box.meets(tile.window)]
        furnish(ink, grid, tile, heading, near)
        ink.end_page()
    return ink.finish()


def _scale(paper: Paper) -> tuple[float, float]:
    for key, value in (("paper.scale_x", paper.scale_x), ("paper.scale_y", paper.scale_y)):
        if not (isfinite(value) and 0.5 <= value <= 2):
            raise OutputError(Fault(key, f"{value}", "give the correction from the test sheet, near 1"))
    return paper.scale_x, paper.scale_y


def _stretched(box: Bounds, scale: tuple[float, float]) -> Bounds:
    return Bounds(box.left * scale[0], box.bottom * scale[1], box.right * scale[0], box.top * scale[1])


def _form(ink: Ink, drawing: Drawing) -> None:
    """The drawing once, in its own frame; every page shows it through its window."""
    box = marks_box(drawing.marks).grown(5.0)
    ink.canvas.beginForm(FORM, *box)
    draw_marks(ink, drawing)
    ink.canvas.endForm()


def _window(ink: Ink, grid: Grid, tile: Tile, scale: tuple[float, float]) -> None:
    left, bottom = grid.corner
    canvas = ink.canvas
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(left, bottom, grid.window_width, grid.window_height)
    canvas.clipPath(path, stroke=0, fill=0)
    canvas.translate(left - tile.window.left, bottom - tile.window.bottom)
    canvas.scale(*scale)
    canvas.doForm(FORM)
    canvas.restoreState()

"""One drawing by itself on tiled paper."""

from __future__ import annotations

from templategen.drawing.drawing import Drawing
from templategen.drawing.pattern import Pattern
from templategen.output.pdf import tiled_pdf_of
from templategen.output.pdf_furniture import Heading
from templategen.paper.tiling import tiled
from templategen.table.profile.model_of_shop import Paper


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
    """The drawing 1:1 (times the printer's correction) on pages to be laid together."""
    laid = tiled((Pattern(drawing.marks),), paper)
    return tiled_pdf_of([(laid, Heading(title, code, count, revision, note, inches))], f"{code} {title}")

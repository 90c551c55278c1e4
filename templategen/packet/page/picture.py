"""A drawing as a picture of the page."""

import re
from collections.abc import Callable
from math import ceil

from templategen.drawing.drawing import Drawing, words_of
from templategen.output.page.content import Picture
from templategen.output.svg import CAPITAL_SHARE
from templategen.output.svg_inline import inline_svg
from templategen.packet.lost import or_lost

READABLE = 9.05
"""Font size, in pixels of a style sheet, that can be read on a screen in the hand."""

VIEW = re.compile(r'viewBox="(\S+) (\S+) (\S+) (\S+)"')


FAILED = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 160 20" role="img" aria-label="not drawn"></svg>'
"""Stands where a picture could not be made; the findings say why."""


def picture(
    drawing: Drawing | Callable[[], Drawing], ident: str, caption: str, large: bool = False, projected: bool = False
) -> Picture:
    """The picture; `ident` must be unique on the page; `projected` where it shows solids. One that can't be made is
    empty and says so."""
    failed = Picture(FAILED, f"not drawn, see the findings: {caption}", large, 0, 8.0)

    def drawn() -> Picture:
        return _picture(drawing() if callable(drawing) else drawing, ident, caption, large, projected)

    return or_lost(f"page, picture {ident}", drawn, failed)


def _picture(drawing: Drawing, ident: str, caption: str, large: bool, projected: bool) -> Picture:
    name = re.sub(r"[^a-z0-9]+", "-", ident.lower()).strip("-")
    svg = inline_svg(drawing, f"d-{name}", projected=projected)
    found = VIEW.search(svg)
    assert found is not None
    width, height = float(found[3]), float(found[4])
    letters = min((words.height for words in words_of(drawing.marks)), default=0.0) / CAPITAL_SHARE
    least = ceil(READABLE * width / letters) if letters else 0
    return Picture(svg, caption, large, least, width / height)

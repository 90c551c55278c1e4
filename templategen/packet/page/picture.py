"""A drawing as a picture of the page."""

from __future__ import annotations

import re
from math import ceil

from templategen.drawing.drawing import Drawing, words_of
from templategen.output.page.content import Picture
from templategen.output.svg import CAPITAL_SHARE
from templategen.output.svg_inline import inline_svg

READABLE = 9.05
"""Font size, in pixels of a style sheet, that can be read on a screen in the hand."""

VIEW = re.compile(r'viewBox="(\S+) (\S+) (\S+) (\S+)"')


def picture(drawing: Drawing, ident: str, caption: str, large: bool = False, projected: bool = False) -> Picture:
    """The picture; `ident` must be unique on the page; `projected` where it shows solids."""
    name = re.sub(r"[^a-z0-9]+", "-", ident.lower()).strip("-")
    svg = inline_svg(drawing, f"d-{name}", projected=projected)
    found = VIEW.search(svg)
    assert found is not None
    width, height = float(found[3]), float(found[4])
    letters = min((words.height for words in words_of(drawing.marks)), default=0.0) / CAPITAL_SHARE
    least = ceil(READABLE * width / letters) if letters else 0
    return Picture(svg, caption, large, least, width / height)

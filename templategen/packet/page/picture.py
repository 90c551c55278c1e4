"""A drawing as a picture of the page."""

from __future__ import annotations

import re

from templategen.drawing.drawing import Drawing
from templategen.output.page.content import Picture
from templategen.output.svg_inline import inline_svg


def picture(drawing: Drawing, ident: str, caption: str, large: bool = False) -> Picture:
    """The picture; `ident` must be unique on the page."""
    name = re.sub(r"[^a-z0-9]+", "-", ident.lower()).strip("-")
    return Picture(inline_svg(drawing, f"d-{name}"), caption, large)

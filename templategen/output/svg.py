"""The SVG pen: a drawing as text, true size when opened or printed at 100 %.

User units are millimetres; x is the drawing's own x and y its negative, computed, so that no reader
needs to know of transforms. Arcs are true arcs.
"""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING, Any

from templategen.catalogue import translated, worded
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, words_of
from templategen.drawing.layer import DASHES, PALETTE, Layer
from templategen.drawing.tidy import printable, tidied
from templategen.english import language, spelt, tag
from templategen.geometry.bounds import Bounds
from templategen.output.numbers import digits
from templategen.output.svg_path import long_path

if TYPE_CHECKING:
    import svgwrite

MARGIN = 5.0
"""White paper left round the marks, mm."""

CAPITAL_SHARE = 0.716
"""Height of a capital as a share of the font size in the plain sans-serif faces."""


def svg_text(drawing: Drawing, heavier: float = 1.0) -> str:
    """The document. `heavier` widens every line for small reproductions; geometry stays.

    Raises:
        OutputError: a coordinate is no number or nothing is drawn.
    """
    import svgwrite

    sheet = tidied(drawing)
    box = Bounds.around((sheet.bounds, *(words.box for words in words_of(sheet.marks)))).grown(MARGIN)
    corner, size = (digits(box.left), digits(-box.top)), (digits(box.width), digits(box.height))
    document = svgwrite.Drawing(
        size=(f"{size[0]}mm", f"{size[1]}mm"), viewBox=" ".join((*corner, *size)), role="img", debug=False
    )
    layers = "; ".join(f"{layer.name}: {translated(layer.title)}" for layer in sheet.layers)
    if language() != "english":
        document["xml:lang"] = tag(of_catalogue=True)
    document.set_desc(
        printable(spelt(sheet.title)),
        printable(spelt(worded("True size, millimetres. Layers: {layers}.", layers=layers))),
    )
    # White paper, so that dark viewers show dark lines.
    document.add(document.rect(insert=corner, size=size, fill="#FFFFFF", stroke="none"))
    pen = _SvgPen(document, {layer.name: _group(document, layer, layer.weight * heavier) for layer in sheet.layers})
    sheet.draw(pen)
    for layer in sheet.layers:
        document.add(pen.groups[layer.name])
    body = str(document.tostring()).replace("><", ">\n<")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{body}\n'


def _group(document: svgwrite.Drawing, layer: Layer, width: float) -> Any:
    group = document.g(fill="none", stroke=_colour(layer), stroke_width=digits(width), stroke_linejoin="round")
    group["data-layer"], group["data-line-type"] = layer.name, layer.line_type
    if DASHES[layer.line_type]:
        group["stroke-dasharray"] = " ".join(digits(dash * width) for dash in DASHES[layer.line_type])
    group.set_desc(title=f"{layer.name}: {printable(spelt(translated(layer.title)))}")
    return group


def _colour(layer: Layer) -> str:
    return PALETTE.get(layer.colour, PALETTE["black"])


class _SvgPen:
    """Adds each mark as an element to the group of its layer."""

    def __init__(self, document: svgwrite.Drawing, groups: dict[str, Any]) -> None:
        self.document, self.groups = document, groups

    def ring(self, shape: Shape) -> None:
        round_one = shape.outline.circle
        if round_one is None:
            self._add(shape, self.document.path(d=f"{long_path(shape.edges)} Z"))
        else:
            (x, y), radius = round_one
            self._add(shape, self.document.circle(center=(digits(x), digits(-y)), r=digits(radius)))

    def stroke(self, stroke: Stroke) -> None:
        self._add(stroke, self.document.path(d=long_path(stroke.edges)))

    def words(self, words: Words) -> None:
        x, y = digits(words.at.x), digits(-words.at.y)
        look = {"fill": _colour(words.layer), "font_family": "sans-serif", "stroke": "none"}
        look |= {"font_size": digits(words.height / CAPITAL_SHARE), "text_anchor": words.anchor}
        text = self.document.text(printable(spelt(words.text)), insert=(x, y), **look)
        if words.turn:
            text["transform"] = f"rotate({digits(-words.turn * 180 / pi)} {x} {y})"
        self._add(words, text)

    def _add(self, mark: Mark, element: Any) -> None:
        self.groups[mark.layer.name].add(element)

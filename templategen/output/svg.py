"""The SVG pen: a drawing as text, true size when opened or printed at 100 %.

User units are millimetres; x is the drawing's own x and y its negative, computed, so that no reader
needs to know of transforms. Arcs are true arcs.
"""

from __future__ import annotations

from collections import defaultdict
from html import escape
from math import pi

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, words_of
from templategen.drawing.layer import DASHES, PALETTE, Layer
from templategen.drawing.tidy import printable, tidied
from templategen.geometry.bounds import Bounds
from templategen.output.numbers import digits
from templategen.output.svg_path import long_path

MARGIN = 5.0
"""White paper left round the marks, mm."""

CAPITAL_SHARE = 0.716
"""Height of a capital as a share of the font size in the plain sans-serif faces."""

HEAD = """<?xml version="1.0" encoding="utf-8"?>
<svg baseProfile="full" height="{height}mm" role="img" version="1.1" viewBox="{x} {y} {width} {height}"\
 width="{width}mm" xmlns="http://www.w3.org/2000/svg"\
 xmlns:ev="http://www.w3.org/2001/xml-events" xmlns:xlink="http://www.w3.org/1999/xlink">
<title>{title}</title>
<desc>{description}</desc>
<defs />
<rect fill="#FFFFFF" height="{height}" stroke="none" width="{width}" x="{x}" y="{y}" />"""
"""Title, description and white paper, so that dark viewers show dark lines."""


def svg_text(drawing: Drawing, heavier: float = 1.0) -> str:
    """The document. `heavier` widens every line for small reproductions; geometry stays.

    Raises:
        OutputError: a coordinate is no number or nothing is drawn.
    """
    sheet = tidied(drawing)
    box = Bounds.around((sheet.bounds, *(words.box for words in words_of(sheet.marks)))).grown(MARGIN)
    layers = "; ".join(f"{layer.name}: {layer.title}" for layer in sheet.layers)
    head = HEAD.format(
        x=digits(box.left), y=digits(-box.top), width=digits(box.width), height=digits(box.height),
        title=safe(sheet.title), description=safe(f"True size, millimetres. Layers: {layers}."),
    )  # fmt: skip
    pen = _SvgPen()
    sheet.draw(pen)
    groups = (_group(layer, pen.elements[layer.name], layer.weight * heavier) for layer in sheet.layers)
    return "\n".join((head, *groups, "</svg>\n"))


def safe(text: str) -> str:
    """The text on one line, nothing in it taken for markup."""
    return escape(printable(text), quote=False)


def _group(layer: Layer, elements: list[str], width: float) -> str:
    dashes = " ".join(digits(dash * width) for dash in DASHES[layer.line_type])
    opening = (
        f'<g data-layer="{layer.name}" data-line-type="{layer.line_type}" fill="none" stroke="{_colour(layer)}"'
        + (f' stroke-dasharray="{dashes}"' if dashes else "")
        + f' stroke-linejoin="round" stroke-width="{digits(width)}">'
    )
    return "\n".join((opening, f"<title>{layer.name}: {safe(layer.title)}</title>", *elements, "</g>"))


def _colour(layer: Layer) -> str:
    return PALETTE.get(layer.colour, PALETTE["black"])


class _SvgPen:
    """Writes each mark as an element, gathered by its layer's name."""

    def __init__(self) -> None:
        self.elements: dict[str, list[str]] = defaultdict(list)

    def ring(self, shape: Shape) -> None:
        round_one = shape.outline.circle
        if round_one is None:
            self._add(shape, f'<path d="{long_path(shape.edges)} Z" />')
        else:
            (x, y), radius = round_one
            self._add(shape, f'<circle cx="{digits(x)}" cy="{digits(-y)}" r="{digits(radius)}" />')

    def stroke(self, stroke: Stroke) -> None:
        self._add(stroke, f'<path d="{long_path(stroke.edges)}" />')

    def words(self, words: Words) -> None:
        x, y, size = digits(words.at.x), digits(-words.at.y), digits(words.height / CAPITAL_SHARE)
        turn = f' transform="rotate({digits(-words.turn * 180 / pi)} {x} {y})"' if words.turn else ""
        look = f'fill="{_colour(words.layer)}" font-family="sans-serif" font-size="{size}" stroke="none"'
        text = f'<text {look} text-anchor="{words.anchor}"{turn} x="{x}" y="{y}">{safe(words.text)}</text>'
        self._add(words, text)

    def _add(self, mark: Mark, element: str) -> None:
        self.elements[mark.layer.name].append(element)

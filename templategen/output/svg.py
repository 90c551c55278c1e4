"""The SVG writer: a drawing as text, true size when opened or printed at 100 %.

User units are millimetres; x is the drawing's own x and y its negative, computed, so that no reader
needs to know of transforms. Arcs are true arcs.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import pi
from typing import Any

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import PALETTE, Layer, LineType
from templategen.drawing.lettering import text_box
from templategen.drawing.tidy import printable, tidied
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge
from templategen.output.numbers import digits

MARGIN = 5.0
"""White paper left round the marks, mm."""

CAPITAL_SHARE = 0.716
"""Height of a capital as a share of the font size in the plain sans-serif faces."""

MOST_TURN = 2 * pi / 3
"""Arcs that turn further are written as two: near half a circle a radius rounded to 1e-6 moves the middle
of the arc by hundredths of a millimetre."""

DASHES: dict[LineType, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12, 3),
    "long-dash-dot": (24, 3, 0.5, 3),
    "long-dash-double-dot": (24, 3, 0.5, 3, 0.5, 3),
    "dotted": (0.5, 3),
}
"""ISO 128-2 line types in line widths."""


def svg_text(drawing: Drawing, heavier: float = 1.0) -> str:
    """The document. `heavier` widens every line for small reproductions; geometry stays.

    Raises:
        OutputError: a coordinate is no number or nothing is drawn.
    """
    import svgwrite

    sheet = tidied(drawing)
    box = _paper(sheet)
    size = f"{digits(box.width)}mm", f"{digits(box.height)}mm"
    view = " ".join(digits(value) for value in (box.left, -box.top, box.width, box.height))
    document = svgwrite.Drawing(size=size, viewBox=view, debug=False)
    document["role"] = "img"
    document.set_desc(printable(sheet.title), _description(sheet))
    document.add(_background(document, box))
    for layer in sheet.layers:
        marks = [mark for mark in sheet.marks if mark.layer.name == layer.name]
        document.add(_group(document, layer, marks, heavier))
    body = str(document.tostring()).replace("><", ">\n<")
    return f'<?xml version="1.0" encoding="utf-8"?>\n{body}\n'


def _paper(sheet: Drawing) -> Bounds:
    boxes = [sheet.bounds, *(text_box(mark) for mark in sheet.marks if isinstance(mark, Words))]
    return Bounds.around(boxes).grown(MARGIN)


def _description(sheet: Drawing) -> str:
    layers = "; ".join(f"{layer.name}: {layer.title}" for layer in sheet.layers)
    return printable(f"True size, millimetres. Layers: {layers}.")


def _background(document: Any, box: Bounds) -> Any:
    """White paper, so that dark viewers show dark lines."""
    corner = digits(box.left), digits(-box.top)
    return document.rect(insert=corner, size=(digits(box.width), digits(box.height)), fill="#FFFFFF", stroke="none")


def _group(document: Any, layer: Layer, marks: Iterable[Mark], heavier: float) -> Any:
    colour = PALETTE.get(layer.colour, PALETTE["black"])
    width = layer.weight * heavier
    group = document.g(fill="none", stroke=colour, stroke_width=digits(width), stroke_linejoin="round")
    group["data-layer"] = layer.name
    group["data-line-type"] = layer.line_type
    if DASHES[layer.line_type]:
        group["stroke-dasharray"] = " ".join(digits(dash * width) for dash in DASHES[layer.line_type])
    group.set_desc(title=f"{layer.name}: {printable(layer.title)}")
    for mark in marks:
        group.add(_element(document, mark, colour))
    return group


def _element(document: Any, mark: Mark, colour: str) -> Any:
    if isinstance(mark, Words):
        return _text(document, mark, colour)
    if isinstance(mark, Stroke):
        return document.path(d=_walk((mark.edge,)))
    return _ring(document, mark)


def _ring(document: Any, shape: Shape) -> Any:
    round_one = shape.outline.circle
    if round_one is not None:
        (x, y), radius = round_one
        return document.circle(center=(digits(x), digits(-y)), r=digits(radius))
    return document.path(d=_walk(shape.outline.edges) + " Z")


def _walk(edges: tuple[Edge, ...]) -> str:
    start = edges[0].start
    steps = [f"M {digits(start.x)} {digits(-start.y)}"]
    for edge in edges:
        steps += [_step(piece) for piece in _pieces(edge)]
    return " ".join(steps)


def _pieces(edge: Edge) -> tuple[Edge, ...]:
    if isinstance(edge, Arc) and abs(edge.sweep) > MOST_TURN:
        return edge.between(0.0, 0.5), edge.between(0.5, 1.0)
    return (edge,)


def _step(edge: Edge) -> str:
    end = f"{digits(edge.end.x)} {digits(-edge.end.y)}"
    if isinstance(edge, Arc):
        radius = digits(edge.radius)
        return f"A {radius} {radius} 0 0 {0 if edge.sweep > 0 else 1} {end}"
    return f"L {end}"


def _text(document: Any, words: Words, colour: str) -> Any:
    x, y = digits(words.at.x), digits(-words.at.y)
    text = document.text(
        words.text,
        insert=(x, y),
        font_size=digits(words.height / CAPITAL_SHARE),
        font_family="sans-serif",
        text_anchor=words.anchor,
        fill=colour,
        stroke="none",
    )
    if words.turn:
        text["transform"] = f"rotate({digits(-words.turn * 180 / pi)} {x} {y})"
    return text

"""A drawing's marks in PDF: arcs as curves, lines in their layer's line type."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, cos, degrees, pi, sin, tan
from typing import Any

from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.pattern import Pattern
from templategen.geometry.edge import Arc, Edge
from templategen.output.pdf_canvas import Ink

ARC_STEP = pi / 8
"""A curve takes the place of 22.5 degrees at most: 0.05 micrometres off at a radius of 700 mm."""

SHADE = "#DDDDDD"
"""A grey that prints on any printer and hides no line."""

DASHES: dict[str, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12, 3),
    "long-dash-dot": (24, 3, 0.5, 3),
    "long-dash-double-dot": (24, 3, 0.5, 3, 0.5, 3),
    "dotted": (0.5, 3),
}
"""ISO 128-2 line types in line widths: dash 12 d, long dash 24 d, dot 0.5 d, gap 3 d."""


def draw_pattern(ink: Ink, pattern: Pattern) -> None:
    """The pattern in its own frame: the waste beside its edge first, the marks layer by layer, cut lines last."""
    if pattern.wood:
        ink.begin_layer("waste, shaded")
        _shade(ink, pattern)
        ink.end_layer()
    layers: dict[str, list[Mark]] = {}
    for mark in sorted(pattern.marks, key=lambda mark: mark.layer.name.startswith("THROUGH_")):
        layers.setdefault(mark.layer.name, []).append(mark)
    for marks in layers.values():
        ink.begin_layer(f"{marks[0].layer.name}: {marks[0].layer.title}")
        for mark in marks:
            _draw(ink, mark)
        ink.end_layer()


def _draw(ink: Ink, mark: Mark) -> None:
    if isinstance(mark, Shape):
        _pen(ink, mark.layer)
        _stroke(ink, mark.outline.edges, closed=True)
    elif isinstance(mark, Stroke):
        _pen(ink, mark.layer)
        _stroke(ink, (mark.edge,), closed=False)
    else:
        ink.pen(mark.layer.weight, PALETTE[mark.layer.colour])
        ink.text(mark.at.x, mark.at.y, mark.text, mark.height, mark.anchor, degrees(mark.turn))


def _shade(ink: Ink, pattern: Pattern) -> None:
    """A light band on the waste's side of every cut: a wide line, shown only where there is no wood."""
    box = pattern.box.grown(20.0)
    rings = [ring for region in pattern.wood for ring in (region.outer, *region.holes)]
    path: Any = ink.canvas.beginPath()
    path.rect(box.left, box.bottom, box.width, box.height)
    for ring in rings:
        _trace(path, ring.edges)
        path.close()
    ink.canvas.saveState()
    ink.canvas.clipPath(path, stroke=0, fill=0, fillMode=0)
    ink.pen(2 * pattern.shade, SHADE)
    for ring in rings:
        _stroke(ink, ring.edges, closed=True)
    ink.canvas.restoreState()


def _pen(ink: Ink, layer: Layer) -> None:
    dashes = [share * layer.weight for share in DASHES[layer.line_type]]
    ink.pen(layer.weight, PALETTE[layer.colour], dashes)


def _stroke(ink: Ink, edges: Iterable[Edge], closed: bool) -> None:
    path: Any = ink.canvas.beginPath()
    _trace(path, edges)
    if closed:
        path.close()
    ink.canvas.drawPath(path, stroke=1, fill=0)


def _trace(path: Any, edges: Iterable[Edge]) -> None:
    started = False
    for edge in edges:
        if not started:
            path.moveTo(*edge.start)
            started = True
        if isinstance(edge, Arc):
            for curve in curves(edge):
                path.curveTo(*curve)
        else:
            path.lineTo(*edge.end)


def curves(arc: Arc) -> Iterator[tuple[float, float, float, float, float, float]]:
    """The arc as cubic curves: two control points and the end of each; k = 4/3 tan(step/4)."""
    count = max(1, ceil(abs(arc.sweep) / ARC_STEP - 1e-9))
    step = arc.sweep / count
    reach = 4 / 3 * tan(step / 4) * arc.radius
    start = arc.start
    for index in range(count):
        a, b = arc.start_angle + index * step, arc.start_angle + (index + 1) * step
        end = arc.end if index == count - 1 else arc.point_at((index + 1) / count)
        yield (
            start.x - reach * sin(a), start.y + reach * cos(a),
            end.x + reach * sin(b), end.y - reach * cos(b),
            end.x, end.y,
        )  # fmt: skip
        start = end

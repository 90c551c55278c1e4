"""A drawing's marks in PDF: arcs as curves, lines in their layer's line type."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil, cos, degrees, pi, sin, tan
from typing import Any

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.lettering import mark_box
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge
from templategen.output.pdf_canvas import Ink

ARC_STEP = pi / 8
"""A curve takes the place of 22.5 degrees at most: 0.05 micrometres off at a radius of 700 mm."""

TRACE = 12.0
"""Length of the pieces of line by which pages are found, mm."""

DASHES: dict[str, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (12, 3),
    "long-dash-dot": (24, 3, 0.5, 3),
    "long-dash-double-dot": (24, 3, 0.5, 3, 0.5, 3),
    "dotted": (0.5, 3),
}
"""ISO 128-2 line types in line widths: dash 12 d, long dash 24 d, dot 0.5 d, gap 3 d."""


def draw_marks(ink: Ink, drawing: Drawing) -> None:
    """Every mark, in the drawing's own frame."""
    for mark in drawing.marks:
        if isinstance(mark, Shape):
            _pen(ink, mark.layer)
            _stroke(ink, mark.outline.edges, closed=True)
        elif isinstance(mark, Stroke):
            _pen(ink, mark.layer)
            _stroke(ink, (mark.edge,), closed=False)
        else:
            ink.pen(mark.layer.weight, PALETTE[mark.layer.colour])
            ink.text(mark.at.x, mark.at.y, mark.text, mark.height, mark.anchor, degrees(mark.turn))


def _pen(ink: Ink, layer: Layer) -> None:
    dashes = [share * layer.weight for share in DASHES[layer.line_type]]
    ink.pen(layer.weight, PALETTE[layer.colour], dashes)


def _stroke(ink: Ink, edges: Iterable[Edge], closed: bool) -> None:
    path: Any = ink.canvas.beginPath()
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
    if closed:
        path.close()
    ink.canvas.drawPath(path, stroke=1, fill=0)


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


def traces(drawing: Drawing) -> Iterator[Bounds]:
    """Small boxes along every line, and one round each line of text; they hold the ink."""
    for mark in drawing.marks:
        yield from (box.grown(mark.layer.weight) for box in _boxes(mark))


def _boxes(mark: Mark) -> Iterator[Bounds]:
    if isinstance(mark, Shape | Stroke):
        for edge in mark.outline.edges if isinstance(mark, Shape) else (mark.edge,):
            count = max(1, ceil(edge.length / TRACE))
            for index in range(count):
                yield edge.between(index / count, (index + 1) / count).bounds
    else:
        yield mark_box(mark)

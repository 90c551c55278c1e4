"""A drawing's marks in PDF: arcs as curves, lines in their layer's line type."""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, cos, degrees, pi, sin, tan
from typing import Any

from templategen.catalogue import translated
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.layer import DASHES, INKS, Layer
from templategen.drawing.pattern import Pattern
from templategen.geometry.edge import Arc, Edge, Line
from templategen.output.pdf_canvas import Ink
from templategen.output.svg_style import tone_on_white

ARC_STEP = pi / 8
"""A curve takes the place of 22.5 degrees at most: 0.05 micrometres off at a radius of 700 mm."""

LAST = ("THROUGH_", "BLANK_")
"""Beginnings of the names of layers that are sawn to: drawn on top of all others."""

SHADE = "#DDDDDD"
"""A grey that prints on any printer and hides no line."""


def draw_pattern(ink: Ink, pattern: Pattern) -> None:
    """The pattern in its own frame: the waste beside its edge first, the marks layer by layer, cut lines last."""
    if pattern.wood:
        ink.begin_layer(translated("waste, shaded"))
        _shade(ink, pattern)
        ink.end_layer()
    draw_marks(ink, sorted((*pattern.past, *pattern.marks), key=lambda mark: mark.layer.name.startswith(LAST)))


def draw_marks(ink: Ink, marked: Iterable[Mark], scale: float = 1.0) -> None:
    """Marks, layer by layer, in the order in which each layer is first met; on a page at that scale lines keep their
    weights."""
    pen = _PdfPen(ink, scale)
    layers: dict[str, list[Mark]] = {}
    for mark in marked:
        layers.setdefault(mark.layer.name, []).append(mark)
    for marks in layers.values():
        ink.begin_layer(f"{marks[0].layer.name}: {translated(marks[0].layer.title)}")
        for mark in marks:
            mark.draw(pen)
        ink.end_layer()


def plain_code(marks: Iterable[Mark], scale: float) -> str:
    """Tones and lines of a picture as the canvas draws them, without words and layers: to be kept, and put on a page
    at that scale later (`Ink.code`) with weights half of what they are full size."""
    ink = Ink(1.0, 1.0, "")
    pen = _PdfPen(ink, 2 * scale)
    tones: dict[tuple[str, str], list[Shape]] = {}
    lines: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Shape) and mark.layer.filled:
            tones.setdefault((mark.layer.name, mark.part), []).append(mark)
        elif not isinstance(mark, Words):
            lines.append(mark)

    def draw() -> None:
        for (layer, _), shapes in tones.items():
            _fill(ink, shapes, tone_on_white(layer), 0.1 / scale)
        for line in lines:
            line.draw(pen)

    return ink.code_of(draw)


def _fill(ink: Ink, shapes: Iterable[Shape], colour: str, seam: float) -> None:
    """What outlines enclose, holes left out; a thin line of the same colour closes the seams between neighbours."""
    path: Any = ink.canvas.beginPath()
    for shape in shapes:
        _trace(path, shape.edges)
        path.close()
    ink.pen(seam, colour)
    ink.canvas.drawPath(path, stroke=1, fill=1, fillMode=0)


class _PdfPen:
    """Draws marks, each in its layer's line type."""

    def __init__(self, ink: Ink, scale: float = 1.0) -> None:
        self._ink, self._scale = ink, scale

    def ring(self, shape: Shape) -> None:
        self._pen(shape.layer)
        _stroke(self._ink, shape.edges, closed=True)

    def stroke(self, stroke: Stroke) -> None:
        self._pen(stroke.layer)
        _stroke(self._ink, stroke.edges, closed=False)

    def words(self, words: Words) -> None:
        self._ink.pen(words.layer.weight, INKS[words.layer.colour])
        self._ink.text(words.at.x, words.at.y, words.text, words.height, words.anchor, degrees(words.turn))

    def _pen(self, layer: Layer) -> None:
        weight = layer.weight / self._scale
        self._ink.pen(weight, INKS[layer.colour], [share * weight for share in DASHES[layer.line_type]])


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


def _stroke(ink: Ink, edges: Sequence[Edge], closed: bool) -> None:
    path: Any = ink.canvas.beginPath()
    _trace(path, edges)
    if closed:
        path.close()
    ink.canvas.drawPath(path, stroke=1, fill=0)


def _trace(path: Any, edges: Sequence[Edge]) -> None:
    path.moveTo(*edges[0].start)
    track = _PdfPath(path)
    for edge in edges:
        edge.walk(track)


class _PdfPath:
    """A track along a path of the PDF library."""

    def __init__(self, path: Any) -> None:
        self._path = path

    def line(self, line: Line) -> None:
        self._path.lineTo(*line.end)

    def arc(self, arc: Arc) -> None:
        for curve in curves(arc):
            self._path.curveTo(*curve)


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

"""Tidying: what every reader of a file may rely on, whatever the drawing came from."""

from collections.abc import Iterable
from dataclasses import replace

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Vertex

SHORTEST_DRAWN = 0.01
"""Edges shorter than this stop some routers for a moment and mark the wood; mm."""

FLATTEST_DRAWN = 0.001
"""An arc that leaves its chord by less than this is drawn as a line; mm."""

SAME_PLACE = 1e-6
"""Marks whose corners all agree to this lie on each other; mm."""

FURTHEST = 1e7
"""No coordinate of a table lies further out than this; mm."""


def tidied(drawing: Drawing) -> Drawing:
    """The drawing without edges under 0.01 mm, arcs that are lines, empty words and marks drawn twice.

    A contour repeated on one layer is kept once; on two layers the second is kept only when it is cut and
    the first isn't. Marks keep their order.

    Raises:
        OutputError: a coordinate is no number or lies kilometres out, or nothing is left to show.
    """
    if drawing.is_tidy:
        return drawing
    tidy = _Tidy(printable(drawing.title))
    drawing.draw(tidy)
    if not any(mark.edges for mark in tidy.kept):
        raise OutputError(Fault(tidy.title, "the drawing shows no line", "give it a part or a board"))
    return replace(drawing, marks=tuple(tidy.kept), is_tidy=True)


def printable(text: str) -> str:
    """The text on one line: control characters, line breaks and lone surrogates become single spaces."""
    kept = "".join(c if c.isprintable() or c == "\u00a0" else " " for c in text)
    return " ".join(kept.split())


Place = tuple[object, ...]
"""The same for marks that lie on each other, wherever the walk starts and whichever way it goes."""


class _Tidy:
    """A pen that keeps what can be drawn, each line once."""

    def __init__(self, title: str) -> None:
        self.title = title
        self.kept: list[Mark] = []
        self._drawn: dict[Place, list[Layer]] = {}

    def ring(self, shape: Shape) -> None:
        self._measure(shape.layer, (number for vertex in shape.outline for number in vertex))
        outline = without_short_edges(shape.outline)
        if outline is not None:
            self._once(shape if outline is shape.outline else replace(shape, outline=outline), _ring_place(outline))

    def stroke(self, stroke: Stroke) -> None:
        edge = stroke.edge
        self._measure(stroke.layer, (*edge.start, *edge.end, edge.bulge))
        if edge.length < SHORTEST_DRAWN:
            return
        if edge.bulge and _is_flat(edge.start.distance(edge.end), edge.bulge):
            stroke = replace(stroke, edge=Line(edge.start, edge.end))
        self._once(stroke, ("stroke", *sorted(_edge_place(stroke.edge))))

    def words(self, words: Words) -> None:
        self._measure(words.layer, (*words.at, words.height, words.turn))
        text = printable(words.text)
        if text and words.height > 0:
            self.kept.append(replace(words, text=text))

    def _measure(self, layer: Layer, numbers: Iterable[float]) -> None:
        if not all(abs(number) <= FURTHEST for number in numbers):  # NaN is no less than anything
            where = f"{self.title}, layer {layer.name}"
            raise OutputError(Fault(where, "a coordinate is no number a shop can measure", "look at the sizes given"))

    def _once(self, mark: Shape | Stroke, place: Place) -> None:
        before, layer = self._drawn.setdefault(place, []), mark.layer
        if not any(other.name == layer.name or other.cuts or not layer.cuts for other in before):
            before.append(layer)
            self.kept.append(mark)


def _is_flat(chord: float, bulge: float) -> bool:
    return abs(bulge) * chord / 2 < FLATTEST_DRAWN


def without_short_edges(outline: Outline) -> Outline | None:
    """The outline with every edge at least 0.01 mm long, or None when nothing is left of it.

    A short edge goes by dropping the corner it leaves, so the ring stays closed.
    """
    ring = outline.vertices
    kept = tuple(v for v, edge in zip(ring, outline.edges, strict=True) if edge.length >= SHORTEST_DRAWN)
    if len(kept) < 2 or (len(kept) == 2 and not any(v.bulge for v in kept)):
        return None
    level = _levelled(kept)
    if len(level) == 2 and not any(v.bulge for v in level):
        return None
    if len(kept) < len(ring):
        return without_short_edges(Outline(level))
    return outline if level == ring else Outline(level)


def _levelled(ring: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    ends = ring[1:] + ring[:1]
    return tuple(
        Vertex(v.x, v.y) if _is_flat(v.point.distance(end.point), v.bulge) else v
        for v, end in zip(ring, ends, strict=True)
    )


def _ring_place(outline: Outline) -> Place:
    round_one = outline.circle
    if round_one is not None:
        centre, radius = round_one
        return ("circle", *(round(value / SAME_PLACE) for value in (*centre, radius)))
    return ("shape", *sorted(tuple(sorted(_edge_place(edge))) for edge in outline.edges))


def _edge_place(edge: Edge) -> tuple[tuple[int, ...], ...]:
    """Both ends, each with the bulge as seen when leaving it; the same for the edge walked back."""
    (x0, y0), (x1, y1), bulge = edge.start, edge.end, round(edge.bulge / SAME_PLACE)
    first = round(x0 / SAME_PLACE), round(y0 / SAME_PLACE), bulge
    return first, (round(x1 / SAME_PLACE), round(y1 / SAME_PLACE), -bulge)

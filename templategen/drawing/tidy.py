"""Tidying: what every reader of a file may rely on, whatever the drawing came from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import isfinite

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.errors import Fault, OutputError
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline
from templategen.geometry.vertex import Vertex

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
    marks = tuple(_once(_drawable(drawing)))
    if not any(isinstance(mark, Shape | Stroke) for mark in marks):
        raise OutputError(Fault(printable(drawing.title), "the drawing shows no line", "give it a part or a board"))
    return replace(drawing, marks=marks)


def printable(text: str) -> str:
    """The text on one line: control characters, line breaks and lone surrogates become single spaces."""
    kept = "".join(c if c.isprintable() or c == "\u00a0" else " " for c in text)
    return " ".join(kept.split())


def _drawable(drawing: Drawing) -> Iterator[Mark]:
    for mark in drawing.marks:
        if not all(isfinite(value) and abs(value) <= FURTHEST for value in _numbers(mark)):
            where = f"{printable(drawing.title)}, layer {mark.layer.name}"
            raise OutputError(Fault(where, "a coordinate is no number a shop can measure", "look at the sizes given"))
        shown = _shown(mark)
        if shown is not None:
            yield shown


def _numbers(mark: Mark) -> Iterator[float]:
    if isinstance(mark, Shape):
        for vertex in mark.outline:
            yield from vertex
    elif isinstance(mark, Stroke):
        yield from (*mark.edge.start, *mark.edge.end, mark.edge.bulge)
    else:
        yield from (*mark.at, mark.height, mark.turn)


def _shown(mark: Mark) -> Mark | None:
    if isinstance(mark, Words):
        text = printable(mark.text)
        return replace(mark, text=text) if text and mark.height > 0 else None
    if isinstance(mark, Stroke):
        return _shown_stroke(mark)
    outline = without_short_edges(mark.outline)
    return None if outline is None else replace(mark, outline=outline)


def _shown_stroke(stroke: Stroke) -> Stroke | None:
    edge = stroke.edge
    if edge.length < SHORTEST_DRAWN:
        return None
    if _is_flat(edge.start.distance(edge.end), edge.bulge):
        return replace(stroke, edge=Line(edge.start, edge.end))
    return stroke


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
    return Outline(level)


def _levelled(ring: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    ends = ring[1:] + ring[:1]
    return tuple(
        Vertex(v.x, v.y) if _is_flat(v.point.distance(end.point), v.bulge) else v
        for v, end in zip(ring, ends, strict=True)
    )


def _once(marks: Iterable[Mark]) -> Iterator[Mark]:
    drawn: dict[tuple[object, ...], list[tuple[str, bool]]] = {}
    for mark in marks:
        if isinstance(mark, Words):
            yield mark
            continue
        before = drawn.setdefault(_place(mark), [])
        layer = mark.layer
        if any(name == layer.name or cuts or not layer.cuts for name, cuts in before):
            continue
        before.append((layer.name, layer.cuts))
        yield mark


def _place(mark: Shape | Stroke) -> tuple[object, ...]:
    """The same for marks that lie on each other, wherever the walk starts and whichever way it goes."""
    if isinstance(mark, Stroke):
        return ("stroke", *sorted(_edge_place(*mark.edge.start, *mark.edge.end, mark.edge.bulge)))
    round_one = mark.outline.circle
    if round_one is not None:
        centre, radius = round_one
        return ("circle", *(round(value / SAME_PLACE) for value in (*centre, radius)))
    edges = (_edge_place(*edge.start, *edge.end, edge.bulge) for edge in mark.outline.edges)
    return ("shape", *sorted(tuple(sorted(edge)) for edge in edges))


def _edge_place(x0: float, y0: float, x1: float, y1: float, bulge: float) -> tuple[tuple[int, ...], ...]:
    """Both ends, each with the bulge as seen when leaving it; the same for the edge walked back."""
    first = tuple(round(value / SAME_PLACE) for value in (x0, y0, bulge))
    last = tuple(round(value / SAME_PLACE) for value in (x1, y1, -bulge))
    return first, last

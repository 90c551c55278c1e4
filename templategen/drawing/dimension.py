"""Dimensions and other signs made of strokes: sizes, arrows, centre lines."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, degrees, pi, sin

from templategen.drawing.drawing import Mark, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, DIMENSION, GRAIN
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point

ARROW_ANGLE = pi / 12

SIZE_SHARE = 0.65
"""How far along a straight edge its size stands, clear of the edge's name."""


def size_words(value: float) -> str:
    """A length as drawings say it: millimetres, two decimals at most, no unit."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def overall(box: Bounds, height: float, below: float, beside: float) -> tuple[Mark, ...]:
    """The length `below` mm under a view and the width `beside` mm to the left of it."""
    low = box.bottom - below
    left = box.left - beside
    across = _dimension(Point(box.left, low), Point(box.right, low), Point(0, below - height / 2), height)
    up = _dimension(Point(left, box.bottom), Point(left, box.top), Point(beside - height / 2, 0), height)
    return across + up


def running(box: Bounds, stops: Sequence[Point], height: float, away: float) -> tuple[Mark, ...]:
    """Distances of `stops` from the left end, under a view, and from its lower edge, to the right of it.

    Ends of the view itself are left out: the overall sizes give them.
    """
    across = sorted({round(stop.x - box.left, 2) for stop in stops if _inside(stop.x, box.left, box.right)})
    up = sorted({round(stop.y - box.bottom, 2) for stop in stops if _inside(stop.y, box.bottom, box.top)})
    marks: list[Mark] = []
    for value, place in zip(across, _spread(across, height * 1.4), strict=True):
        path = _ray(Point(box.left, box.bottom), Point(1, 0), Point(0, -1), (value, place, height, away))
        at = path[-1].plus(Point(height / 2, -height * 0.3))
        words = Words(DIMENSION, at, height, size_words(value), "end", pi / 2)
        marks += [*_strokes(path), words]
    for value, place in zip(up, _spread(up, height * 1.4), strict=True):
        path = _ray(Point(box.right, box.bottom), Point(0, 1), Point(1, 0), (value, place, height, away))
        at = path[-1].plus(Point(height * 0.3, -height / 2))
        marks += [*_strokes(path), Words(DIMENSION, at, height, size_words(value))]
    return tuple(marks)


def _inside(value: float, low: float, high: float) -> bool:
    return low + 0.005 < value < high - 0.005


def _spread(values: Sequence[float], gap: float) -> list[float]:
    """The values pushed apart to at least `gap`, each group about its own middle as far as one pass can."""
    places: list[float] = []
    for value in values:
        places.append(max(value, places[-1] + gap) if places else value)
    over = places[-1] - values[-1] if places else 0.0
    for i in range(len(places) - 1, -1, -1):
        limit = places[i + 1] - gap if i + 1 < len(places) else places[i] - over / 2
        places[i] = min(places[i], limit)
    return places


def _ray(
    corner: Point, along: Point, out: Point, sizes: tuple[float, float, float, float]
) -> tuple[Point, ...]:
    """From the edge of the wood out, bent to where there is room for the figure."""
    value, place, height, away = sizes
    foot = corner.plus(along, value)
    return (
        foot.plus(out, height * 0.3),
        foot.plus(out, away),
        corner.plus(along, place).plus(out, away + height),
    )


def _strokes(path: Sequence[Point]) -> list[Mark]:
    return [Stroke(DIMENSION, Line(a, b)) for a, b in pairwise(path)]


def edge_sizes(outline: Outline, height: float, away: float) -> tuple[Mark, ...]:
    """Beside each edge that the overall sizes don't tell: length and angle off square, or radius."""
    return tuple(
        words
        for edge in outline.anticlockwise.edges
        if (words := _edge_size(edge, outline, height, away)) is not None
    )


def _edge_size(edge: Edge, outline: Outline, height: float, away: float) -> Words | None:
    text = _size_of(edge, outline)
    if not text or len(text) * height * 0.85 > edge.length:
        return None
    share = 0.5 if isinstance(edge, Arc) else SIZE_SHARE
    along = edge.direction_at(share)
    out = along.left.times(-1)
    readable = along if along.x > 1e-9 or (abs(along.x) <= 1e-9 and along.y > 0) else along.times(-1)
    drop = away + height * (1.4 if readable.left.dot(out) < 0 else 0.4)
    at = edge.point_at(share).plus(out, drop)
    return Words(DIMENSION, at, height, text, "middle", atan2(readable.y, readable.x))


def _size_of(edge: Edge, outline: Outline) -> str:
    if outline.circle is not None:
        return ""
    if isinstance(edge, Arc):
        return f"R {size_words(edge.radius)}"
    along = edge.direction_at(0)
    off_square = degrees(atan2(min(abs(along.x), abs(along.y)), max(abs(along.x), abs(along.y))))
    if off_square < 0.005:
        whole = outline.bounds.width if abs(along.x) > abs(along.y) else outline.bounds.height
        return size_words(edge.length) if whole / 2 < edge.length < whole - 0.005 else ""
    return f"{size_words(edge.length)} at {size_words(off_square)}°"


def _dimension(first: Point, last: Point, to_wood: Point, height: float) -> tuple[Mark, ...]:
    along = last.minus(first).unit
    past = to_wood.unit.times(-height / 2)
    witness = tuple(Stroke(DIMENSION, Line(end.plus(to_wood), end.plus(past))) for end in (first, last))
    at = first.plus(last.minus(first), 0.5).plus(along.left, height * 0.45)
    words = Words(DIMENSION, at, height, size_words(first.distance(last)), "middle", atan2(along.y, along.x))
    return *arrow(DIMENSION, first, last, height * 0.8), *witness, words


def arrow(layer: Layer, first: Point, last: Point, head: float) -> tuple[Mark, ...]:
    """A line with a head at both ends."""
    along = last.minus(first)
    head = min(head, along.length / 3)
    return (
        Stroke(layer, Line(first, last)),
        *_head(layer, last, along, head),
        *_head(layer, first, along, -head),
    )


def _head(layer: Layer, tip: Point, along: Point, size: float) -> tuple[Mark, ...]:
    back = along.unit.times(-size)
    return tuple(
        Stroke(layer, Line(tip, tip.plus(back.turned(turn)))) for turn in (-ARROW_ANGLE, ARROW_ANGLE)
    )


def grain_arrow(centre: Point, grain: Point, half: float, head: float) -> tuple[Mark, ...]:
    """The double-headed arrow along the fibres."""
    return arrow(GRAIN, centre.plus(grain, -half), centre.plus(grain, half), head)


def cross(centre: Point, half: float, turn: float = 0.0, layer: Layer = CENTRE) -> tuple[Mark, ...]:
    """Two centre lines through a point, `half` mm to every side."""
    result = []
    for angle in (turn, turn + pi / 2):
        ray = Point(half * cos(angle), half * sin(angle))
        result.append(Stroke(layer, Line(centre.plus(ray, -1), centre.plus(ray))))
    return tuple(result)

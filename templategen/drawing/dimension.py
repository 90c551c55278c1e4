"""Dimensions and other signs made of strokes: sizes, arrows, centre lines."""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, cos, pi, sin

from templategen.drawing.drawing import Mark, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import CENTRE, DIMENSION, GRAIN
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.point import Point

ARROW_ANGLE = pi / 12

FEED = 1.4
"""Distance between figures side by side as a share of the capital height."""

NEXT_TO_NOTHING = 0.5
"""Nothing is told that is smaller: no rule shows it and no saw is set for it, mm."""

NAME_SHARE = 0.25
"""How far along an edge its name stands."""


def overall(box: Bounds, manner: Manner, below: float, beside: float) -> tuple[Mark, ...]:
    """The length `below` mm under a view and the width `beside` mm to the left of it."""
    low, height = box.bottom - below, manner.height
    left = box.left - beside
    across = _dimension(Point(box.left, low), Point(box.right, low), Point(0, below - height / 2), manner)
    up = _dimension(Point(left, box.bottom), Point(left, box.top), Point(beside - height / 2, 0), manner)
    return across + up


def running(box: Bounds, stops: Sequence[Point], manner: Manner, away: float) -> tuple[Mark, ...]:
    """Distances of `stops` from the left end, under a view, and from its lower edge, to the right of it.

    Ends of the view itself are left out: the overall sizes give them.
    """
    height = manner.height
    gap = height * FEED
    across = sorted({round(stop.x - box.left, 2) for stop in stops if _inside(stop.x, box.left, box.right)})
    up = sorted({round(stop.y - box.bottom, 2) for stop in stops if _inside(stop.y, box.bottom, box.top)})
    marks: list[Mark] = []
    for value, place in zip(across, _within(spaced(across, gap), gap, box.width), strict=True):
        path = _ray(Point(box.left, box.bottom), Point(1, 0), Point(0, -1), (value, place, height, away))
        at = path[-1].plus(Point(height / 2, -height * 0.3))
        words = Words(DIMENSION, at, height, manner.figure(value), "end", pi / 2)
        marks += [*_strokes(path), words]
    for value, place in zip(up, spaced(up, gap), strict=True):
        path = _ray(Point(box.right, box.bottom), Point(0, 1), Point(1, 0), (value, place, height, away))
        at = path[-1].plus(Point(height * 0.3, -height / 2))
        marks += [*_strokes(path), Words(DIMENSION, at, height, manner.figure(value))]
    return tuple(marks)


def _inside(value: float, low: float, high: float) -> bool:
    return low + NEXT_TO_NOTHING < value < high - NEXT_TO_NOTHING


def spaced(values: Sequence[float], gap: float) -> list[float]:
    """Rising values pushed apart to at least `gap`, each group about its own middle as far as one pass can."""
    places: list[float] = []
    for value in values:
        places.append(max(value, places[-1] + gap) if places else value)
    over = places[-1] - values[-1] if places else 0.0
    for i in range(len(places) - 1, -1, -1):
        limit = places[i + 1] - gap if i + 1 < len(places) else places[i] - over / 2
        places[i] = min(places[i], limit)
    return places


def _within(places: Sequence[float], gap: float, width: float) -> list[float]:
    """Places that keep clear of the lines at the ends of the overall size, as long as there is room between them."""
    low, high, last = gap * 0.75, width - gap * 0.75, len(places) - 1
    if high - low < last * gap:
        return list(places)
    return [min(max(place, low + i * gap), high - (last - i) * gap) for i, place in enumerate(places)]


def _ray(corner: Point, along: Point, out: Point, sizes: tuple[float, float, float, float]) -> tuple[Point, ...]:
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


def words_along(layer: Layer, edge: Edge, share: float, text: str, height: float, away: float) -> Words:
    """Words outside an edge of an anticlockwise outline, `away` mm off, the right way up for a reader."""
    along = edge.direction_at(share)
    out = along.left.times(-1)
    readable = along if along.x > 1e-9 or (abs(along.x) <= 1e-9 and along.y > 0) else along.times(-1)
    drop = away + height * (1.8 if readable.left.dot(out) < 0 else 0.8)
    at, turn = edge.point_at(share).plus(out, drop), atan2(readable.y, readable.x)
    return Words(layer, at, height, text, "middle", turn)


def _dimension(first: Point, last: Point, to_wood: Point, manner: Manner) -> tuple[Mark, ...]:
    along, height = last.minus(first).unit, manner.height
    past = to_wood.unit.times(-height / 2)
    witness = tuple(Stroke(DIMENSION, Line(end.plus(to_wood), end.plus(past))) for end in (first, last))
    text, long = manner.figure(first.distance(last)), first.distance(last)
    off = 0.45 if text_width(text, height) < long else 0.75
    at = first.plus(last.minus(first), 0.5).plus(along.left, height * off)
    words = Words(DIMENSION, at, height, text, "middle", atan2(along.y, along.x))
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
    return tuple(Stroke(layer, Line(tip, tip.plus(back.turned(turn)))) for turn in (-ARROW_ANGLE, ARROW_ANGLE))


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

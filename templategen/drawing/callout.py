"""Callouts: sizes that find no room along their edge stand where the paper is clear, on a line from the edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import hypot, inf

from templategen.drawing.drawing import ANCHORS, Anchor, Mark, Stroke, Words, marks_box, words_of
from templategen.drawing.layer import Layer
from templategen.drawing.layers import DIMENSION
from templategen.drawing.lettering import LINE_FEED, text_width
from templategen.drawing.pieces import Taken, pieces
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point

STEPS = (-24, -20, -16, -13, -10, *range(-8, 9), 10, 13, 16, 20, 24)
"""How far from the edge, each way, the words may stand, in capital heights."""

RAYS = tuple(sorted((hypot(*step), place, step) for place, step in enumerate(product(STEPS, STEPS))))
"""Lengths, order and steps of all ways from the edge to words, in capital heights, the shortest first."""

OUTSIDE = 3.0
"""A capital height by which the drawing grows counts as so many of the line's length."""

LEAST_OUT = 0.15
"""The line leaves its edge at no less than this angle, as a sine; so it comes to the words."""

CELLS = 3.0
"""Squares of paper that are told apart, to a capital height."""

CLEAR = 0.35
"""Paper left round the words, in capital heights."""


@dataclass(frozen=True, slots=True)
class Callout:
    """Lines of words about the point `foot` of an edge, which faces `out`."""

    foot: Point
    out: Point
    lines: tuple[str, ...]
    across: bool = False
    """Whether its line may cross other lines from the start, as one out of the wood must."""


@dataclass(frozen=True, slots=True)
class _Way:
    """Words in a box that a line comes to at `tip`; `anchor` says which end of them stands there, `side` whether
    they stand beside it (0), above (1) or below (-1)."""

    tip: Point
    anchor: Anchor
    side: int
    box: Bounds


def led_out(
    callouts: Sequence[Callout], marks: Sequence[Mark], height: float, widest: float = inf, layer: Layer = DIMENSION
) -> tuple[Mark, ...]:
    """The callouts beside what is drawn: each is told, the nearest clear place is taken that makes the drawing no
    wider than `widest`, if there is one."""
    if not callouts:
        return ()
    inked = Taken(pieces(marks, height), height / CELLS)
    worded = Taken((words.box for words in words_of(marks)), height / CELLS)
    made: list[Mark] = []
    for callout in callouts:
        way = _placed(callout, inked, worded, marks_box((*marks, *made)), height, widest)
        line = Stroke(layer, Line(callout.foot, way.tip))
        made += [line, *_words(callout, way, height, layer)]
        worded.take(way.box)
        for box in (way.box, *pieces((line,), height / 2)):
            inked.take(box)
    return tuple(made)


def _placed(callout: Callout, inked: Taken, worded: Taken, drawn: Bounds, height: float, widest: float) -> _Way:
    """The way whose words meet nothing: with a line that crosses none, or else no words, or else over all."""
    for most, lines in product(dict.fromkeys((widest, inf)), (worded,) if callout.across else (inked, worded)):
        way = _cheapest(callout, inked, lines, drawn, height, most)
        if way is not None:
            return way
    tip, wide = Point(callout.foot.x, drawn.top + height), max(text_width(line, height) for line in callout.lines)
    return _Way(tip, "start", 1, _box(len(callout.lines), wide, tip, "start", 1, height))


def _cheapest(
    callout: Callout, inked: Taken, lines: Taken, drawn: Bounds, height: float, widest: float
) -> _Way | None:
    """The way with the shortest line that makes the drawing least larger, of those whose line meets no `lines`."""
    best: tuple[float, int, int, _Way] | None = None
    wide = max(text_width(line, height) for line in callout.lines)
    for reach, place, (i, j) in RAYS:
        ray = Point(i * height, j * height)
        if best is not None and reach * height > best[0]:
            break
        if ray.dot(callout.out) <= max(height, LEAST_OUT * ray.length):
            continue
        tip = callout.foot.plus(ray)
        crosses: bool | None = None
        for number, (anchor, side) in enumerate(_sides(ray)):
            box = _box(len(callout.lines), wide, tip, anchor, side, height)
            if max(drawn.right, box.right) - min(drawn.left, box.left) > widest:
                continue
            found = (ray.length + OUTSIDE * _growth(box, drawn), place, number, _Way(tip, anchor, side, box))
            if (best is None or found[:3] < best[:3]) and not inked.meets(box):
                if crosses is None:
                    crosses = any(map(lines.meets, _path(callout.foot, tip, height)))
                if crosses:
                    break
                best = found
    return None if best is None else best[3]


def _sides(ray: Point) -> Iterator[tuple[Anchor, int]]:
    """How words may stand at a line's end, so that it doesn't run through them."""
    if abs(ray.x) >= LEAST_OUT * ray.length:
        yield ("start" if ray.x > 0 else "end"), 0
    if abs(ray.y) >= LEAST_OUT * ray.length:
        yield from ((anchor, 1 if ray.y > 0 else -1) for anchor in ANCHORS)


def _growth(box: Bounds, drawn: Bounds) -> float:
    """How much wider and taller the drawing gets."""
    wider = max(0.0, drawn.left - box.left) + max(0.0, box.right - drawn.right)
    return wider + max(0.0, drawn.bottom - box.bottom) + max(0.0, box.top - drawn.top)


def _box(lines: int, wide: float, tip: Point, anchor: Anchor, side: int, height: float) -> Bounds:
    """What so many lines of words, the widest of which is `wide`, take up with the paper left round them."""
    tall = (lines - 1) * height * LINE_FEED + height
    left = tip.x - ANCHORS[anchor] * wide + (0 if side else (0.4 - 0.8 * ANCHORS[anchor]) * height)
    low = tip.y - tall / 2 + side * (tall / 2 + height * 0.5)
    return Bounds(left, low, left + wide, low + tall).grown(height * CLEAR)


def _words(callout: Callout, way: _Way, height: float, layer: Layer) -> Iterator[Words]:
    """The lines in their box, one under the other."""
    box = way.box.grown(-height * CLEAR)
    x = box.left + ANCHORS[way.anchor] * box.width
    for row, line in enumerate(callout.lines):
        yield Words(layer, Point(x, box.top - height - row * height * LINE_FEED), height, line, way.anchor)


def _path(foot: Point, tip: Point, height: float) -> Iterator[Bounds]:
    """The line's pieces, without the end that lies on its edge."""
    line = Line(foot, tip)
    rest = line.between(min(0.9, height * 0.8 / line.length), 1.0)
    return pieces((Stroke(DIMENSION, rest),), height / 2)

"""Labels: words and signs put where they are wanted, or as near as there is clear wood."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from math import atan2, ceil, cos, hypot, pi, sin
from typing import Literal

from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Mark, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import text_width
from templategen.drawing.pieces import Taken, pieces
from templategen.geometry.bounds import Bounds
from templategen.geometry.point import Point
from templategen.geometry.region import Region

FURTHEST = 60.0
"""How far from its place a label may stand, mm."""

STEP = 5.0
"""Distance between the places tried, mm."""

ARROW = 16.0
"""Length of an arrow, mm."""


EAST = Point(1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Label:
    """Words (the first that fit are taken) or a sign near `at`.

    `slide` keeps the words on lines along it, from `at` to its left; their capital height is `share` of the
    template's.
    """

    at: Point
    words: tuple[str, ...] = ()
    turn: float = 0.0
    share: float = 1.0
    sign: Literal["", "grain", "arrow"] = ""
    along: Point = EAST
    slide: Point | None = None
    layer: Layer = TEXT


def labelled(labels: Iterable[Label], region: Region, taken: Taken, height: float) -> tuple[Mark, ...]:
    """The marks of the labels that find room in the wood, each clear of lines and of the labels before.

    The cut line is among what is taken, so a mark whose middle lies in the wood lies there whole.
    """
    marks: list[Mark] = []
    for label in labels:
        for at, made in _tries(label, region, taken, height):
            if not any(taken.meets(box) for box in _room_of(made)) and region.contains(at):
                marks += made
                for box in _room_of(made):
                    taken.take(box)
                break
    return tuple(marks)


def _room_of(marks: Iterable[Mark]) -> Iterator[Bounds]:
    return (box.grown(0.4) for mark in marks for box in _boxes(mark))


def _boxes(mark: Mark) -> Iterable[Bounds]:
    """Extents of a mark; of turned words in pieces."""
    if not isinstance(mark, Words) or min(abs(sin(mark.turn)), abs(cos(mark.turn))) < 0.01:
        return pieces((mark,), 4.0)
    half = text_width(mark.text, mark.height) / 2
    along = Point(cos(mark.turn), sin(mark.turn))
    middle = mark.at.plus(along.left, mark.height * 0.35)
    count = max(1, ceil(half / mark.height))
    spots = (middle.plus(along, half * step / count) for step in range(-count, count + 1))
    return [Bounds(at.x, at.y, at.x, at.y).grown(mark.height * 0.7) for at in spots]


def _tries(label: Label, region: Region, taken: Taken, height: float) -> Iterator[tuple[Point, tuple[Mark, ...]]]:
    """Marks at every place that isn't taken itself."""
    if label.sign:
        for at in _spots(label, region):
            if not taken.holds(at):
                yield at, _sign(label, at, height)
        return
    size, up = height * label.share, Point(0, 1).turned(label.turn)
    for words in label.words:
        for at in _spots(label, region):
            if taken.holds(at):
                continue
            yield at, (Words(label.layer, at.plus(up, -size / 2), size, words, "middle", label.turn),)


def _sign(label: Label, at: Point, height: float) -> tuple[Mark, ...]:
    if label.sign == "grain":
        ends = at.plus(label.along, -ARROW), at.plus(label.along, ARROW)
        return arrow(label.layer, *ends, height * 0.8)
    first, last = at.plus(label.along, -ARROW / 2), at.plus(label.along, ARROW / 2)
    shaft = arrow(label.layer, first, last, height * 0.9)[:3]
    turn = atan2(label.along.y, label.along.x)
    turn = turn + pi if not -pi / 2 < turn <= pi / 2 else turn
    beside = at.plus(Point(0, 1).turned(turn), height * 0.4)
    return (*shaft, Words(label.layer, beside, height * 0.7, label.words[0], "middle", turn))


def _spots(label: Label, region: Region) -> Iterator[Point]:
    """Places from the wanted one outwards, those outside the wood's box left out."""
    box, at = region.bounds, label.at
    if label.slide is not None:
        rows = [at.plus(label.slide.left, row * STEP * 2) for row in range(4)]
        sides = [side * number for number in range(ceil(FURTHEST / STEP)) for side in ((1, -1) if number else (1,))]
        yield from (row.plus(label.slide, side * STEP) for row in rows for side in sides)
        return
    wide = label.sign or label.share > 1
    reach = ceil(max(FURTHEST, hypot(box.width, box.height) / 2 if wide else 0.0) / STEP)
    for i, j in _rings(min(reach, MOST_STEPS)):
        x, y = at.x + i * STEP, at.y + j * STEP
        if box.left < x < box.right and box.bottom < y < box.top:
            yield Point(x, y)


MOST_STEPS = 40


@cache
def _rings(steps: int) -> tuple[tuple[int, int], ...]:
    """Steps aside and up, the nearest first."""
    grid = ((i, j) for i in range(-steps, steps + 1) for j in range(-min(steps, 12), min(steps, 12) + 1))
    return tuple(sorted(grid, key=lambda cell: (cell[0] ** 2 + cell[1] ** 2, cell)))

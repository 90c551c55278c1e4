"""Labels: words and signs put where they are wanted, or as near as there is clear wood."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from itertools import chain
from math import atan2, ceil, cos, hypot, pi, sin
from typing import Literal

from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Mark, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import LINE_FEED, text_width
from templategen.drawing.pieces import Taken, pieces
from templategen.geometry.bounds import Bounds
from templategen.geometry.point import Point
from templategen.geometry.region import Region

FURTHEST = 60.0
"""How far from its place a label may stand, mm."""

STEP = 5.0
"""Distance between the places tried, mm."""

FINER = 20
"""On small wood places are tried nearer together: so many across it."""

ARROWS = (16.0, 10.0, 6.0)
"""Lengths of an arrow, the first that finds room, mm."""

SHRUNK = (1.0, 0.8, 0.65)
"""Heights that are tried of words that may shrink, as shares of the height wanted."""

CLEAR = 0.4
"""Between words and whatever else is drawn, mm."""

WIDE = frozenset("mwMW%@&—")
"""Letters that are wider than the room that is reckoned for one."""

EAST = Point(1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Label:
    """Words (the first that fit are taken, in several lines where they hold line ends) or a sign near `at`.

    `turns` are tried one after the other. `slide` keeps the words on lines along it, from `at` to its left; their
    capital height is `share` of the template's, less where they `shrink`. `roams` lets it stand anywhere in the wood.
    `need` is what goes on the tag beside the template where the label finds no room in it.
    """

    at: Point
    words: tuple[str, ...] = ()
    turns: tuple[float, ...] = (0.0,)
    share: float = 1.0
    sign: Literal["", "grain", "arrow"] = ""
    along: Point = EAST
    slide: Point | None = None
    layer: Layer = TEXT
    shrinks: bool = False
    roams: bool = False
    need: tuple[str, ...] = ()


def labelled(
    labels: Iterable[Label], region: Region, taken: Taken, height: float
) -> tuple[tuple[Mark, ...], tuple[str, ...]]:
    """The marks of the labels that find room in the wood, each clear of lines and of the labels before; and what is
    needed of those that find none.

    The cut line is among what is taken, so a mark whose middle lies in the wood lies there whole.
    """
    marks: list[Mark] = []
    left: list[str] = []
    for label in labels:
        made = next(_tries(label, region, taken, height), ())
        marks += made
        left += () if made else label.need
        for box in _room_of(made):
            taken.take(box)
    return tuple(marks), tuple(left)


def _room_of(marks: Iterable[Mark]) -> Iterator[Bounds]:
    return (box.grown(CLEAR) for mark in marks for box in boxes_of(mark))


def word_room(text: str, height: float) -> float:
    """Room for a line of text that is sure to do whichever letters it has, mm."""
    return text_width(text, height) + sum(letter in WIDE for letter in text) * 0.3 * height


def boxes_of(mark: Mark) -> Iterable[Bounds]:
    """Extents of a mark; of words aslant in pieces."""
    if not isinstance(mark, Words):
        return pieces((mark,), 4.0)
    half = word_room(mark.text, mark.height) / 2
    along = Point(cos(mark.turn), sin(mark.turn))
    middle = mark.at.plus(along.left, mark.height * 0.35)
    if min(abs(along.x), abs(along.y)) < 0.01:
        x, y = (half, mark.height * 0.75) if abs(along.x) > 0.5 else (mark.height * 0.75, half)
        return (Bounds(middle.x - x, middle.y - y, middle.x + x, middle.y + y),)
    count = max(1, ceil(half / mark.height))
    spots = (middle.plus(along, half * step / count) for step in range(-count, count + 1))
    return [Bounds(at.x, at.y, at.x, at.y).grown(mark.height * 0.75) for at in spots]


def _tries(label: Label, region: Region, taken: Taken, height: float) -> Iterator[tuple[Mark, ...]]:
    """Marks at every place at which they are clear."""
    free = (at for at in _spots(label, region) if not taken.holds(at))
    spots: list[Point] = []
    for make in _signs(label, height) if label.sign else _blocks(label, height):
        room = tuple(_room_of(make(ORIGIN)))
        for x, y in chain(spots, _kept(free, spots)):
            if not taken.meets_any(room, x, y) and region.contains(Point(x, y)):
                yield make(Point(x, y))


def _kept(free: Iterator[Point], spots: list[Point]) -> Iterator[Point]:
    """The places not yet asked for, added to those that were."""
    for at in free:
        spots.append(at)
        yield at


ORIGIN = Point(0.0, 0.0)
Make = Callable[[Point], tuple[Mark, ...]]


def _signs(label: Label, height: float) -> Iterator[Make]:
    return (partial(_sign, label, height, length) for length in ARROWS)


def _blocks(label: Label, height: float) -> Iterator[Make]:
    """The words in every height, shape and turn that may be tried."""
    for shrunk in SHRUNK if label.shrinks else SHRUNK[:1]:
        for words in label.words:
            for turn in label.turns:
                yield partial(_block, label.layer, words.split("\n"), height * label.share * shrunk, turn)


def _block(layer: Layer, lines: list[str], size: float, turn: float, at: Point) -> tuple[Mark, ...]:
    """Lines one under the other, their middle at the place."""
    up = Point(0, 1).turned(turn)
    feeds = ((len(lines) - 1) / 2 - row for row in range(len(lines)))
    return tuple(
        Words(layer, at.plus(up, size * (feed * LINE_FEED - 0.5)), size, line, "middle", turn)
        for feed, line in zip(feeds, lines, strict=True)
    )


def _sign(label: Label, height: float, length: float, at: Point) -> tuple[Mark, ...]:
    head = height * min(1.0, length / ARROWS[0] + 0.25)
    if label.sign == "grain":
        ends = at.plus(label.along, -length), at.plus(label.along, length)
        return arrow(label.layer, *ends, head * 0.8)
    first, last = at.plus(label.along, -length / 2), at.plus(label.along, length / 2)
    shaft = arrow(label.layer, first, last, head * 0.9)[:3]
    turn = atan2(label.along.y, label.along.x)
    turn = turn + pi if not -pi / 2 < turn <= pi / 2 else turn
    beside = at.plus(Point(0, 1).turned(turn), head * 0.4)
    return (*shaft, Words(label.layer, beside, head * 0.7, label.words[0], "middle", turn))


def _spots(label: Label, region: Region) -> Iterator[Point]:
    """Places from the wanted one outwards, those outside the wood's box left out."""
    box, at = region.bounds, label.at
    if label.slide is not None:
        rows = [at.plus(label.slide.left, row * STEP * 2) for row in range(4)]
        sides = [side * number for number in range(ceil(FURTHEST / STEP)) for side in ((1, -1) if number else (1,))]
        yield from (row.plus(label.slide, side * STEP) for row in rows for side in sides)
        return
    step = min(STEP, max(1.0, min(box.width, box.height) / FINER))
    reach = hypot(box.width, box.height) / 2 if label.roams or label.sign or label.share > 1 else 0.0
    for i, j in _rings(min(ceil(max(FURTHEST, reach) / step), MOST_STEPS)):
        x, y = at.x + i * step, at.y + j * step
        if box.left < x < box.right and box.bottom < y < box.top:
            yield Point(x, y)


MOST_STEPS = 70

NEAR = 12
"""Further away than so many steps only every other place is tried, each way."""


def _tried(i: int, j: int) -> bool:
    return max(abs(i), abs(j)) <= NEAR or not (i % 2 or j % 2)


@cache
def _rings(steps: int) -> tuple[tuple[int, int], ...]:
    """Steps aside and up, the nearest first."""
    up = steps if steps <= 45 else 12
    grid = ((i, j) for i in range(-steps, steps + 1) for j in range(-up, up + 1) if _tried(i, j))
    return tuple(sorted(grid, key=lambda cell: (cell[0] ** 2 + cell[1] ** 2, cell)))

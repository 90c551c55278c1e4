"""What a picture of a set-up is drawn with: fence, table, stop and cutter as plain shapes, wood, waste, figures.

Long pieces are drawn with a length left out of their middle, so that what matters shows; figures are true.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf, pi

from templategen.catalogue import meant
from templategen.drawing.dimension import arrow
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.hatch import hatch
from templategen.drawing.layer import Layer
from templategen.drawing.layers import DIMENSION, TEXT
from templategen.drawing.lettering import text_width
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon, rectangle
from templategen.geometry.point import Point

MACHINE = Layer("THERE_DARK", "fence, table and stop of the machine", weight=0.13, filled=True)
MACHINE_EDGE = Layer("MACHINE_EDGE", "edges of fence, table and stop", weight=0.35)
WOOD = Layer("WOOD_MIDDLE", "the piece as it lies", "yellow", weight=0.13, filled=True)
WOOD_EDGE = Layer("PIECE_EDGE", "edges of the piece", weight=0.5)
WASTE = Layer("HIGHLIGHT", "what is cut away", "orange", weight=0.13, filled=True)
WASTE_EDGE = Layer("WASTE_EDGE", "what is cut away, hatched", "vermilion", weight=0.25)
CUTTER = Layer("CUTTER", "blade, cutter or bit", "blue", weight=0.7)
PIECE_FED = Layer("FEED", "the way that the piece is fed", weight=0.5)
BREAK = Layer("BREAK", "a length of the piece left out of the picture", weight=0.25)

MOST = 1.9
"""A gap along the piece in which nothing happens is drawn no longer than so many widths."""


SHORT = 2.2
"""A figure's arrow shorter than so many capital heights has its heads outside."""


@dataclass(frozen=True, slots=True)
class Squeeze:
    """Lengths along a piece as the picture has them: after each of the `gaps` (where, how much) less is shown."""

    gaps: tuple[tuple[float, float], ...] = ()

    def __call__(self, x: float) -> float:
        """Where something at `x` is drawn."""
        return x - sum(less for at, less in self.gaps if at < x)

    def points(self, points: Iterable[Point]) -> list[Point]:
        """Points as drawn."""
        return [Point(self(x), y) for x, y in points]

    def breaks(self, low: float, high: float, start: float = -inf, to: float = inf) -> Iterator[Mark]:
        """Two slanting strokes across the piece at each place where a length is left out, between two places."""
        for at in (at for at, _ in self.gaps if start <= at < to):
            for aside in (-0.03, 0.03):
                middle, lean = self(at) + aside * (high - low), (high - low) * 0.06
                yield Stroke(BREAK, Line(Point(middle - lean, low), Point(middle + lean, high)))


def squeezed(spots: Iterable[float], width: float) -> Squeeze:
    """Leaves out what lies between two neighbouring `spots` more than a few widths apart."""
    gaps = ((a + MOST * width / 2, b - a - MOST * width) for a, b in pairwise(sorted(spots)))
    return Squeeze(tuple((at, less) for at, less in gaps if less > width / 4))


def block(left: float, bottom: float, right: float, top: float) -> list[Point]:
    """The corners of a rectangle."""
    return [Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)]


def fixed(left: float, bottom: float, right: float, top: float) -> Iterator[Mark]:
    """A part of the machine."""
    ring = rectangle(min(left, right), min(bottom, top), max(left, right), max(bottom, top))
    yield Shape(MACHINE, ring)
    yield Shape(MACHINE_EDGE, ring)


def wood(points: Sequence[Point] | Outline, code: str) -> Iterator[Mark]:
    """The piece."""
    ring = points if isinstance(points, Outline) else polygon(points)
    yield Shape(WOOD, ring, code)
    yield Shape(WOOD_EDGE, ring, code)


def outline(points: Sequence[Point]) -> Iterator[Mark]:
    """Edges of the piece within it."""
    yield Shape(WOOD_EDGE, polygon(points))


def waste(points: Sequence[Point], letter: float) -> Iterator[Mark]:
    """What is cut away."""
    ring = polygon(points)
    yield Shape(WASTE, ring)
    yield Shape(WASTE_EDGE, ring)
    yield from (Stroke(WASTE_EDGE, line) for line in hatch([list(points)], (1, 1.0), letter * 0.8))


NAMES = (
    "1", "2", "as measured", "bearing", "bed", "blade", "blade {angle}", "block for 1", "block: set down",
    "block: stop", "cutter block", "fence", "fence for 2, {lies}", "fence, {lies}", "feed", "feed, from you",
    "LAP-SLED, {lies}", "loose block", "on the relief's floor", "scrap", "stop", "straightedge",
    "strip, clamped", "table", "table, {lies}",
)  # fmt: skip
"""What stands round the piece at a machine; how it `lies` and the `angle` of a cut are told by hand tools, too."""

SHORT_NAMES = {"cutter block": "block"}

ASKED = "{} (on a picture)"
"""What a translator is asked for a name on a picture, which may be called otherwise elsewhere."""


def named(name: str, **fields: str) -> str:
    """A name on a picture."""
    return as_told(name).format(**fields)


def as_told(name: str) -> str:
    """The same, its places still open."""
    return meant(SHORT_NAMES.get(name, name), ASKED.replace("{}", name))


def words(text: str, x: float, y: float, letter: float, anchor: str = "middle") -> Words:
    """A line of words whose middle stands at a height."""
    return Words(TEXT, Point(x, y - letter / 2), letter, text, anchor)  # type: ignore[arg-type]


def along(
    first: float, last: float, y: float, text: str, letter: float, foot: float, outermost: bool = False
) -> Iterator[Mark]:
    """A level figure between two places, its words above the line; where they find no room past `last`, or beyond the
    line if that is the `outermost`. `foot` is the height from which its witness lines come."""
    low, high = min(first, last), max(first, last)
    yield from _arrow(Point(low, y), Point(high, y), letter)
    over = letter * 0.4 if y > foot else -letter * 0.4
    for x in (low, high):
        yield Stroke(DIMENSION, Line(Point(x, foot), Point(x, y + over)))
    if text_width(text, letter) + letter * 0.6 <= high - low:
        yield Words(DIMENSION, Point((low + high) / 2, y + letter * 0.45), letter, text, "middle")
    elif outermost:
        beyond = y + letter * (0.7 if y > foot else -1.7)
        yield Words(DIMENSION, Point((low + high) / 2, beyond), letter, text, "middle")
    else:
        past = (letter if last >= first else -letter) * (0.7 if high - low > SHORT * letter else 1.9)
        yield Words(DIMENSION, Point(last + past, y - letter / 2), letter, text, "start" if past > 0 else "end")


def upright(low: float, high: float, x: float, text: str, letter: float, foot: float) -> Iterator[Mark]:
    """An upright figure, its witness lines from `foot`, its words on the far side from there."""
    yield from _arrow(Point(x, low), Point(x, high), letter)
    way = 1.0 if x > foot else -1.0
    for y in (low, high):
        yield Stroke(DIMENSION, Line(Point(foot, y), Point(x + way * letter * 0.4, y)))
    at = Point(x + way * letter * 0.7, (low + high) / 2 - letter / 2)
    yield Words(DIMENSION, at, letter, text, "start" if way > 0 else "end")


def pointing(first: Point, last: Point, letter: float) -> Iterator[Mark]:
    """A stroke with a head at its end: the way that a piece is fed."""
    way = last.minus(first).unit
    yield Stroke(PIECE_FED, Line(first, last))
    for turn in (pi - 0.4, pi + 0.4):
        yield Stroke(PIECE_FED, Line(last, last.plus(way.turned(turn), letter * 0.9)))


def _arrow(first: Point, last: Point, letter: float) -> Iterator[Mark]:
    """With heads inside, or from outside where it is short."""
    if first.distance(last) > SHORT * letter:
        yield from arrow(DIMENSION, first, last, letter * 0.8)
        return
    way = last.minus(first).unit
    yield Stroke(DIMENSION, Line(first.plus(way, -letter * 1.4), last.plus(way, letter * 1.4)))
    for tip, side in ((first, -1.0), (last, 1.0)):
        for turn in (-0.26, 0.26):
            yield Stroke(DIMENSION, Line(tip, tip.plus(way.turned(turn), side * letter * 0.7)))

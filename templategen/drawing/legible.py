"""Words on a picture that would lie on a line or on others, as longer ones of another language do, put where all is
clear: on what they name, as near as may be, else beside the picture on a line from there."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product
from math import hypot

from templategen.drawing.callout import Callout, led_out
from templategen.drawing.drawing import ANCHORS, Mark, Shape, Words
from templategen.drawing.leaders import crosses
from templategen.drawing.lettering import text_width
from templategen.drawing.tones import LEADER
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge
from templategen.geometry.outline import circle
from templategen.geometry.point import Point

CLEAR = 0.3
"""Paper left between words, in capital heights: less reads as one word, and pages paint some round each."""

NARROWER = 0.97
"""Of the room for words, which is generous, so much holds ink."""

REACH = 24
"""How far off words are tried, in steps of a quarter of a capital height."""

STEPS = sorted(
    (Point(i / 4, j / 4) for i, j in product(range(-REACH, REACH + 1), repeat=2)), key=lambda p: (hypot(*p), p)
)
"""Steps from where words stand, in capital heights, the nearest first."""


def legible(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """The marks with every level line of words clear of lines and of other words; those that are clear stay."""
    page = _Page(marks)
    stuck = [words for words in marks if isinstance(words, Words) and words.text.strip() and not page.takes(words)]
    moved: dict[int, tuple[Mark, ...]] = {}
    for words in stuck:
        near = next(page.near(words), None)
        moved[id(words)] = (near,) if near is not None else page.led(words)
    return tuple(new for mark in marks for new in moved.get(id(mark), (mark,)))


class _Page:
    """Lines and areas of a picture, and the words that stand on it."""

    def __init__(self, marks: Sequence[Mark]) -> None:
        self._lines: list[Edge] = [edge for mark in marks if not mark.layer.filled for edge in mark.edges]
        self._areas = [mark for mark in marks if isinstance(mark, Shape) and mark.layer.filled]
        self._drawn: list[Mark] = [mark for mark in marks if mark.edges]
        self._words: list[Bounds] = []

    def takes(self, words: Words) -> bool:
        """Whether the words are clear where they stand; then they hold their place."""
        box = _room(words)
        near = box.grown(words.height * CLEAR)
        if words.turn == 0.0 and (any(near.meets(other) for other in self._words) or self._struck(box)):
            return False
        self._words.append(box)
        self._drawn.append(words)
        return True

    def near(self, words: Words) -> Iterator[Words]:
        """The words on the same area in the nearest clear place, which they hold from then on."""
        middle, home = _room(words).centre, self._home(_room(words).centre)
        for step in STEPS:
            aside = step.times(words.height)
            if self._home(middle.plus(aside)) is home:
                there = replace(words, at=words.at.plus(aside))
                if self.takes(there):
                    yield there

    def led(self, words: Words) -> tuple[Mark, ...]:
        """The words beside the picture, on a line from a dot where they would have stood."""
        foot, middle = _room(words).centre, Bounds.around(mark.box for mark in self._drawn).centre
        out = Point(1.0 if foot.x >= middle.x else -1.0, 1.0 if foot.y >= middle.y else -1.0)
        line, told = led_out((Callout(foot, out.unit, (words.text,), True),), self._drawn, words.height, layer=LEADER)
        assert isinstance(told, Words)
        made = (line, Shape(LEADER, circle(*foot, words.height / 8)), replace(told, layer=words.layer))
        self._drawn += made
        self._lines += line.edges
        self._words.append(_room(told))
        return made

    def _struck(self, box: Bounds) -> bool:
        return any(edge.bounds.meets(box) and crosses(edge, box) for edge in self._lines)

    def _home(self, at: Point) -> Shape | None:
        """The uppermost area there."""
        return next((area for area in reversed(self._areas) if area.outline.contains(at)), None)


def _room(words: Words) -> Bounds:
    """What level words take up."""
    long = text_width(words.text, words.height) * NARROWER
    left = words.at.x - ANCHORS[words.anchor] * long
    return Bounds(left, words.at.y, left + long, words.at.y + words.height)

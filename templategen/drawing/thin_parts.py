"""Letters of parts that are too thin for any word: beside them, where paper is clear, on a line from a dot on the
part."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product
from math import hypot

from templategen.drawing.drawing import Mark, Shape, Stroke, Words, words_of
from templategen.drawing.layers import THROUGH_OUTSIDE
from templategen.drawing.leaders import crosses
from templategen.drawing.roomy import roomiest
from templategen.drawing.tones import LEADER
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point

AROUND = sorted(product(range(-24, 25), repeat=2), key=lambda step: (hypot(*step), step))
"""Steps from a part to its letter, in halves of a capital height, the nearest first."""

ALONG = (0.0, 0.2, -0.2, 0.4, -0.4)
"""Where on its length a line may begin, as shares of it from its roomiest place."""

IN_ANOTHER = 5.0
"""A letter on another part counts as so much further off, in capital heights."""

CLEAR = 0.4
"""Paper left round a letter, in capital heights: beside another it reads as one word."""

DOT = 0.12
"""Radius of the dot that a line begins at, in capital heights."""


def roomy_box(words: Words) -> Bounds:
    """Room for words in a face that runs wider than ours."""
    return replace(words, height=words.height * 1.12).box


def led_letters(
    thin: Sequence[tuple[Outline, Words]], marks: Sequence[Mark], breaks: Sequence[Line]
) -> Iterator[Mark]:
    """The letter of each kind of thin part, once; `thin` are the parts with their letters where there is no room for
    these, `breaks` lie between rows of the picture."""
    page = _Page(marks, breaks)
    for code in dict.fromkeys(words.part for _, words in thin):
        yield from page.led([(ring, words) for ring, words in thin if words.part == code])


class _Page:
    """What is drawn, and the letters that are led out on it."""

    def __init__(self, marks: Sequence[Mark], breaks: Sequence[Line]) -> None:
        self._held = [roomy_box(words) for words in words_of(marks)]
        self._lines: list[Edge] = [*breaks, *(edge for mark in marks for edge in mark.edges)]
        self._rings = [
            mark.outline for mark in marks if isinstance(mark, Shape) and mark.layer.name == THROUGH_OUTSIDE.name
        ]

    def led(self, alike: Sequence[tuple[Outline, Words]]) -> tuple[Mark, ...]:
        """The letter beside that one of parts of a kind where it stands nearest; on it if there is no place."""
        ways = [way for ring, words in alike for foot in _feet(ring) for way in self._nearest(words, foot)]
        if not ways:
            return (alike[0][1],)
        _, foot, words = min(ways, key=lambda way: way[0])
        box = roomy_box(words)
        self._held.append(box)
        line = Line(foot, _towards(box, foot))
        self._lines.append(line)
        return Stroke(LEADER, line), Shape(LEADER, circle(*foot, words.height * DOT)), words

    def _nearest(self, words: Words, foot: Point) -> Iterator[tuple[float, Point, Words]]:
        """The nearest clear place for the words about a foot, and one on no other part, each with what it costs."""
        height, found = words.height, False
        for step in AROUND:
            middle = foot.plus(Point(*step).times(height / 2))
            one = replace(words, at=middle.plus(Point(0.0, -height / 2)), anchor="middle", turn=0.0)
            if not self._is_clear(roomy_box(one).grown(height * CLEAR), foot):
                continue
            inside = any(ring.contains(middle) for ring in self._rings)
            if inside and found:
                continue
            found = True
            yield foot.distance(middle) + (IN_ANOTHER * height if inside else 0.0), foot, one
            if not inside:
                return

    def _is_clear(self, box: Bounds, foot: Point) -> bool:
        """Whether no line and no word lies in a box, and none on the way to it."""
        if any(box.meets(other) for other in self._held):
            return False
        if any(edge.bounds.meets(box) and crosses(edge, box) for edge in self._lines):
            return False
        way = Line(foot, _towards(box, foot))
        return not any(crosses(way, other) for other in self._held)


def _feet(ring: Outline) -> Iterator[Point]:
    """Where on a thin part a line may begin."""
    middle, _ = roomiest(ring, [])
    longest = max(ring.edges, key=lambda edge: round(edge.length, 6))
    way = longest.direction_at(0.5).times(longest.length)
    for share in ALONG:
        at = middle.plus(way, share)
        if ring.contains(at):
            yield at


def _towards(box: Bounds, foot: Point) -> Point:
    """The nearest point of a box."""
    return Point(min(max(foot.x, box.left), box.right), min(max(foot.y, box.bottom), box.top))

"""The frontier as a picture: what counts first, against how far from what was asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.suit.proposal import Proposal
from templategen.units import trimmed

ASKED = Layer("ASKED", "the table asked", "black", weight=0.35)
PROPOSED = Layer("PROPOSED", "tables proposed, by number", "blue", weight=0.35)
STEPS = Layer("FRONTIER", "nothing found lies below and left of it", "blue", "dashed", 0.25)
AXIS = Layer("AXIS", "scales of the diagram", "black", "continuous", 0.25)

WIDE, TALL, DOT = 150.0, 90.0, 2.0
"""The diagram's width and height, and the radius of a dot, mm."""

LETTER, SMALL = 4.0, 3.0
"""Heights of capitals, mm."""


def frontier_picture(asked: Proposal, found: Sequence[Proposal], what: str, title: str) -> Drawing:
    """A dot for the table asked and one for each proposal, and the steps between them."""
    shown = [asked, *found]
    far = max((one.distance for one in shown), default=0.0) or 1.0
    values = [abs(one.count(what)) for one in shown]
    low, high = min(values), max(values)
    margin = (high - low) * 0.1 or max(abs(high) * 0.05, 1.0)
    low, high = low - margin, high + margin

    def spot(one: Proposal) -> Point:
        return Point(WIDE * one.distance / far, TALL * (abs(one.count(what)) - low) / (high - low))

    marks = [*_axes(what, (low, high), far), *_steps([spot(one) for one in shown])]
    for number, one in enumerate(shown):
        layer, at = (PROPOSED, spot(one)) if number else (ASKED, spot(one))
        marks.append(Shape(layer, circle(at.x, at.y, DOT)))
        words = str(number) if number else "asked"
        marks.append(Words(TEXT, Point(at.x + DOT * 1.6, at.y + DOT * 0.9), SMALL, words))
    marks.append(Words(TEXT, Point(0, TALL + 8), LETTER, f"{title}: {what}, and how far from what was asked"))
    return Drawing(f"{title} frontier", tuple(marks))


def _axes(what: str, limits: tuple[float, float], far: float) -> Iterator[Mark]:
    yield Stroke(AXIS, Line(Point(0, 0), Point(WIDE, 0)))
    yield Stroke(AXIS, Line(Point(0, 0), Point(0, TALL)))
    for share in (0.0, 0.5, 1.0):
        value = limits[0] + share * (limits[1] - limits[0])
        yield Words(TEXT, Point(-2, TALL * share), SMALL, trimmed(value, 1), "end")
        yield Words(TEXT, Point(WIDE * share, -5), SMALL, f"{trimmed(100 * far * share, 1)} %", "middle")
    yield Words(TEXT, Point(WIDE, -11), SMALL, "of the ranges, mean of all sizes that may change", "end")


def _steps(spots: Sequence[Point]) -> Iterator[Mark]:
    for one, other in pairwise(spots):
        yield Stroke(STEPS, Line(one, Point(other.x, one.y)))
        yield Stroke(STEPS, Line(Point(other.x, one.y), other))

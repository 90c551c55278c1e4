"""The frontier as a picture: what counts first, against how far from what was asked."""

from collections.abc import Iterator, Sequence
from itertools import count, pairwise

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import text_width
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.suit.figures import WORDS, figure, named
from templategen.suit.proposal import Proposal
from templategen.table.profile.model import Profile
from templategen.units import trimmed

ASKED = Layer("ASKED", "the table asked", "black", weight=0.35)
PROPOSED = Layer("PROPOSED", "tables proposed, by number", "blue", weight=0.35)
STEPS = Layer("FRONTIER", "nothing found lies beyond it", "blue", "dashed", 0.25)
AXIS = Layer("AXIS", "scales of the diagram", "black", "continuous", 0.25)

WIDE, TALL, DOT = 150.0, 90.0, 2.0
"""The diagram's width and height, and the radius of a dot, mm."""

FEED = 1.5
"""From one name to that above it, as a share of the capitals' height."""

LETTER, SMALL = 4.0, 3.0
"""Heights of capitals, mm."""


def frontier_picture(profile: Profile, asked: Proposal, found: Sequence[Proposal]) -> Drawing:
    """A dot for the table asked and one for each proposal, and the steps between those that hold; a table that finds
    no room has no dot where layouts count."""
    what, units = profile.suit.counts[0], profile.units
    names = (translated("asked"), *map(str, range(1, len(found) + 1)))
    shown = [
        (name, one, value)
        for name, one in zip(names, (asked, *found), strict=True)
        if (value := figure(one, what, units)) is not None
    ]
    far = max((one.distance for _, one, _ in shown), default=0.0) or 1.0
    low, high = min((value for *_, value in shown), default=0.0), max((value for *_, value in shown), default=0.0)
    margin = (high - low) * 0.1 or max(abs(high) * 0.05, 1.0)
    low, high = low - margin, high + margin
    spots = [Point(WIDE * one.distance / far, TALL * (value - low) / (high - low)) for _, one, value in shown]
    held = [at for at, (_, one, _) in zip(spots, shown, strict=True) if one.holds]
    marks = [*_axes(named(what, units), (low, high), far), *_steps(held)]
    for at, (_, one, _) in zip(spots, shown, strict=True):
        marks.append(Shape(ASKED if one is asked else PROPOSED, circle(at.x, at.y, DOT)))
    marks += _named(spots, [name for name, *_ in shown])
    title = said("{title}: {what:word}, and how far from what was asked", title=profile.title, what=WORDS[what])
    marks.append(Words(TEXT, Point(0, TALL + 14), LETTER, title))
    return Drawing(f"{profile.title} frontier", tuple(marks))


def _named(spots: Sequence[Point], names: Sequence[str]) -> Iterator[Words]:
    """A name beside each dot, clear of those before: right or left of it, as near its height as there is room."""
    taken: list[Bounds] = []
    for at, name in zip(spots, names, strict=True):
        wide = text_width(name, SMALL)
        for row, side in ((row, side) for row in count() for side in (1, -1)):
            up = SMALL * FEED * ((row + 1) // 2) * (1 if row % 2 else -1)
            foot = at.plus(Point(side * DOT * 1.6, DOT * 0.9 + up))
            left = foot.x if side > 0 else foot.x - wide
            box = Bounds(left, foot.y, left + wide, foot.y + SMALL)
            if not any(box.meets(other) for other in taken):
                break
        taken.append(box)
        yield Words(TEXT, foot, SMALL, name, "start" if side > 0 else "end")


def _axes(upright: str, limits: tuple[float, float], far: float) -> Iterator[Mark]:
    yield Stroke(AXIS, Line(Point(0, 0), Point(WIDE, 0)))
    yield Stroke(AXIS, Line(Point(0, 0), Point(0, TALL)))
    for share in (0.0, 0.5, 1.0):
        value = limits[0] + share * (limits[1] - limits[0])
        yield Words(TEXT, Point(-2, TALL * share), SMALL, trimmed(value, 1), "end")
        yield Words(TEXT, Point(WIDE * share, -5), SMALL, f"{trimmed(100 * far * share, 1)} %", "middle")
    yield Words(TEXT, Point(-2, TALL + 6), SMALL, upright)
    yield Words(TEXT, Point(WIDE, -11), SMALL, translated("of the ranges, mean of all sizes that may change"), "end")


def _steps(spots: Sequence[Point]) -> Iterator[Mark]:
    for one, other in pairwise(spots):
        yield Stroke(STEPS, Line(one, Point(other.x, one.y)))
        yield Stroke(STEPS, Line(Point(other.x, one.y), other))

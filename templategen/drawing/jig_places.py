"""Where the corners, holes and lines of a jig's piece lie: above it from its left end, beside it from its lower edge,
so that a maker who has only the printed picture can make the piece."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import inf, pi

from templategen.drawing.dimension import NEXT_TO_NOTHING, spaced
from templategen.drawing.drawing import Mark, Stroke, Words
from templategen.drawing.layers import DIMENSION
from templategen.drawing.manner import Manner
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.parts.part import Part

FEED = 1.6
"""Between figures side by side, in heights of a capital: closer ones read as one where they hold fractions."""

TRIANGLE = 3
"""Corners of what its size and its name's angle tell."""

AWAY = 2.6
"""From the piece to where a figure's line bends, in heights of a capital."""


def places(jig: Jig, part: Part, manner: Manner, letter: float) -> tuple[Mark, ...]:
    """The figures of one piece in its own frame, `letter` mm high; none of a piece that its size and the words on it
    tell, as of a disc and a triangle. A scale's own figures tell it, so its divisions are left out."""
    if part.outline.circle or len(part.outline.points) == TRIANGLE:
        return ()
    box, told = part.outline.bounds, _words_on(jig, part)
    across = _told([at.x - box.left for at in _upright(jig, part)], box.width, manner, told)
    up = _told([at.y - box.bottom for at in _level(jig, part)], box.height, manner, told)
    return tuple(along_edges(box, across, up, manner, letter))


def along_edges(box: Bounds, across: list[float], up: list[float], manner: Manner, letter: float) -> Iterator[Mark]:
    """Places from a box's left end, above it, and from its lower edge, beside it, each in rising order, mm."""
    yield from _above(across, box, manner, letter)
    yield from _beside(up, box, manner, letter)


def without_whole(jig: Jig, part: Part) -> Jig:
    """The jig without the distances that are the piece's whole length or width: the last figure tells them."""
    box = part.outline.bounds
    return replace(jig, figures=tuple(one for one in jig.figures if one.part != part.code or not _is_whole(one, box)))


def _is_whole(figure: Critical, box: Bounds) -> bool:
    if figure.span is None:
        return False
    apart = figure.span[1].minus(figure.span[0])
    across, up = abs(apart.x), abs(apart.y)
    return (across > box.width - ON_EDGE and up < ON_EDGE) or (up > box.height - ON_EDGE and across < ON_EDGE)


def _words_on(jig: Jig, part: Part) -> set[str]:
    return {word for scribe in jig.scribes if scribe.part == part.code for word in scribe.words.split()}


def _told(values: list[float], whole: float, manner: Manner, told: set[str]) -> list[float]:
    """Each place once, both ends with them, none where there is nothing between the ends."""
    inner = {
        round(one, 2)
        for one in values
        if NEXT_TO_NOTHING < one < whole - NEXT_TO_NOTHING and manner.figure(one) not in told
    }
    return [0.0, *sorted(inner), whole] if inner else []


def _corners(part: Part) -> Iterator[Point]:
    """Of the outline, and the middles of its round holes."""
    yield from part.outline.points
    for hole in part.holes:
        yield from (hole.bounds.centre,) if hole.circle else hole.points


def _upright(jig: Jig, part: Part) -> Iterator[Point]:
    """What is told from the left end."""
    yield from (*_corners(part), *_ends(jig, part))
    yield from _lines(jig, part, lambda along: abs(along.x) < ON_EDGE)


def _level(jig: Jig, part: Part) -> Iterator[Point]:
    """What is told from the lower edge."""
    yield from (*_corners(part), *_ends(jig, part))
    yield from _lines(jig, part, lambda along: abs(along.y) < ON_EDGE)


def _ends(jig: Jig, part: Part) -> Iterator[Point]:
    """Of slanting lines that are placed."""
    for scribe in jig.scribes:
        if scribe.part == part.code and scribe.placed:
            yield from (scribe.edge.start, scribe.edge.end)


def _lines(jig: Jig, part: Part, runs: Callable[[Point], bool]) -> Iterator[Point]:
    """An end of each scribed line that runs so, and the middle of each point; not the one that a scale begins at."""
    own = [scribe for scribe in jig.scribes if scribe.part == part.code]
    scale = part.outline.bounds.centre.x if any(scribe.kind == "scale" for scribe in own) else inf
    for scribe in own:
        if scribe.kind == "point":
            yield scribe.edge.point_at(0.5)
        elif (
            _is_placed(scribe) and runs(scribe.edge.direction_at(0.0)) and abs(scribe.edge.start.x - scale) > ON_EDGE
        ):
            yield scribe.edge.start


def _is_placed(scribe: Scribe) -> bool:
    return scribe.kind in ("line", "witness") and isinstance(scribe.edge, Line)


def _above(values: list[float], box: Bounds, manner: Manner, letter: float) -> Iterator[Mark]:
    corner = Point(box.left, box.top)
    for value, place in zip(values, spaced(values, letter * FEED), strict=True):
        yield from _led(corner, Point(1, 0), Point(0, 1), (value, place, letter))
        at = corner.plus(Point(place + letter / 2, letter * (AWAY + 1.3)))
        yield Words(DIMENSION, at, letter, manner.figure(value), "start", pi / 2)


def _beside(values: list[float], box: Bounds, manner: Manner, letter: float) -> Iterator[Mark]:
    corner = Point(box.left, box.bottom)
    for value, place in zip(values, spaced(values, letter * FEED), strict=True):
        yield from _led(corner, Point(0, 1), Point(-1, 0), (value, place, letter))
        at = corner.plus(Point(-letter * (AWAY + 1.3), place - letter / 2))
        yield Words(DIMENSION, at, letter, manner.figure(value), "end")


def _led(corner: Point, along: Point, out: Point, told: tuple[float, float, float]) -> Iterator[Mark]:
    """From the piece's edge out, bent to where there is room for the figure."""
    value, place, letter = told
    foot, bend = (corner.plus(along, value).plus(out, letter * far) for far in (0.3, AWAY))
    yield Stroke(DIMENSION, Line(foot, bend))
    yield Stroke(DIMENSION, Line(bend, corner.plus(along, place).plus(out, letter * (AWAY + 1))))

"""Sizes of edges: beside each that the overall sizes don't tell its length and how far it runs off square."""

from collections.abc import Sequence
from itertools import groupby
from math import atan2, degrees

from templategen.catalogue import figured, worded
from templategen.drawing.callout import Callout
from templategen.drawing.dimension import NAME_SHARE, NEXT_TO_NOTHING, words_along
from templategen.drawing.drawing import Anchor, Mark, Words
from templategen.drawing.layers import DIMENSION
from templategen.drawing.leaders import crosses
from templategen.drawing.lettering import text_width
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import ALONG_X
from templategen.units import angle_words, off_square_words

LONG_ARC = 3
"""An arc this many times as long as its size carries it outside, a shorter one inside the corner."""

SIZE_SHARE = 0.65
"""How far along a straight edge its size stands, clear of its name and joint; further out where they are crowded."""

MOST_FILLED = 2 * (1 - SIZE_SHARE)
"""Words longer than this share of their edge would run past its end."""

LONGEST_NAME = "edge 9"

STEEPEST = 80.0
"""Edges further off square than this are told by what they are off the length, degrees."""

FURTHEST_IN = 5
"""A radius stands at most so many capital heights inside its corner."""

EXACT = 0.005
"""Edges nearer to square or to the length than this carry no angle, degrees."""

Sizes = tuple[tuple[Mark, ...], tuple[Callout, ...]]


def edge_sizes(
    outline: Outline,
    manner: Manner,
    away: float,
    named: Sequence[Edge] = (),
    lengthwise: Point = ALONG_X,
    lines: Sequence[Edge] = (),
) -> Sizes:
    """Words beside the edges, each radius once; and what finds no room along its edge, to be led out.

    The sizes of `named` edges leave room for the edge's name; angles are off square to `lengthwise`; a radius inside
    its corner keeps clear of `lines`.
    """
    if outline.circle is not None:
        return (), ()
    words: list[Mark] = []
    led: list[Callout] = []
    arcs: dict[str, list[Arc]] = {}
    for edge in outline.anticlockwise.edges:
        if isinstance(edge, Arc):
            arcs.setdefault(manner.figure(edge.radius), []).append(edge)
        elif edge.length > NEXT_TO_NOTHING and (told := _describe(edge, outline, manner, lengthwise)):
            beside = _along_edge(edge, ", ".join(told), manner.height, away, edge in named)
            words += beside
            led += [] if beside else [_callout(edge, told)]
    for radius, alike in arcs.items():
        count = f"{len(alike)} x " if len(alike) > 1 else ""
        words.append(_radius(alike[0], f"{count}R {radius}", manner.height, away, lines))
    return tuple(words), _counted(led)


def _callout(edge: Line, told: tuple[str, ...]) -> Callout:
    length, *angle = told
    return Callout(
        edge.point_at(SIZE_SHARE),
        edge.direction_at(0).left.times(-1),
        (worded("{length} long", length=length), *angle),
    )


def _counted(led: Sequence[Callout]) -> tuple[Callout, ...]:
    """Of those that are alike the one furthest to the right alone, with their number: overall sizes stand on the
    left."""
    told: list[Callout] = []
    for lines, group in groupby(sorted(led, key=lambda one: one.lines), key=lambda one: one.lines):
        alike = list(group)
        first, number = max(alike, key=lambda one: one.out.x), f"{len(alike)} x " if len(alike) > 1 else ""
        told.append(Callout(first.foot, first.out, (f"{number}{lines[0]}", *lines[1:])))
    return tuple(told)


def _describe(edge: Line, outline: Outline, manner: Manner, lengthwise: Point) -> tuple[str, ...]:
    """What is said of an edge: its length and angle, nothing where other sizes of the view say it."""
    along = edge.direction_at(0)
    off_square = degrees(atan2(abs(along.dot(lengthwise)), abs(along.cross(lengthwise))))
    length = manner.figure(edge.length)
    if min(off_square, 90 - off_square) < EXACT:
        if along.y > abs(along.x):
            return ()  # running sizes stand to the right of a view
        whole = outline.bounds.width if abs(along.x) > abs(along.y) else outline.bounds.height
        return (length,) if whole / 2 < edge.length < whole - EXACT else ()
    if off_square > STEEPEST:
        return length, worded("{angle} off the length", angle=figured(angle_words(90 - off_square)))
    return length, off_square_words(off_square)


def _along_edge(edge: Line, text: str, height: float, away: float, named: bool) -> tuple[Words, ...]:
    """The words along the edge, none where they would leave no room for a line to pass."""
    length = text_width(text, height)
    if length > edge.length * MOST_FILLED:
        return ()
    crowded = (SIZE_SHARE - NAME_SHARE) * edge.length < (length + text_width(LONGEST_NAME, height)) / 2
    further = height * 1.6 if named and crowded else 0.0
    return (words_along(DIMENSION, edge, SIZE_SHARE, text, height, away + further),)


def _radius(edge: Arc, text: str, height: float, away: float, lines: Sequence[Edge]) -> Words:
    """Outside a long arc, along it; inside a short one, as near to it as no line runs through."""
    if text_width(text, height) * LONG_ARC <= edge.length:
        return words_along(DIMENSION, edge, 0.5, text, height, away)
    inward = edge.direction_at(0.5).left
    anchor: Anchor = "start" if inward.x > 0 else "end"
    spots = [edge.point_at(0.5).plus(inward, height * step / 2) for step in range(2, 2 * FURTHEST_IN + 1)]
    ways = [Words(DIMENSION, at.plus(Point(0, -height / 2)), height, text, anchor) for at in spots]
    return next((words for words in ways if not any(crosses(line, words.box) for line in lines)), ways[0])

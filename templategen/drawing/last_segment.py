"""How a ring is drawn up by cauls and a band: without its last segment, or half by half; how its last segment is
scribed over its opening."""

from collections.abc import Collection, Iterator
from itertools import pairwise
from math import atan2, cos, pi, tan

from templategen.catalogue import worded
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.jig_marks import JIG_EDGE, made
from templategen.drawing.legible import legible
from templategen.drawing.machine_marks import CUTTER, block, named, waste, wood, words
from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.jigs.caul import Caul
from templategen.table.assembly import Table
from templategen.table.rim import blank_outline
from templategen.table.sizes import Sizes

LETTERS = 40.0
"""A picture is about so many capital heights wide."""

OVER = 0.35
"""How far the piece is drawn past its place at the end that is scribed, as a share of the rim's width."""

SQUARE = 0.3
"""A leg of the small square as drawn, as a share of the rim's width."""


def drawn_up(table: Table, last: int) -> Drawing:
    """From above, as the plan shows the table: the ring but for its `last` segment, one of the placed copies, what
    fills that place, cauls at all corners, the band."""
    title = worded("{title} the ring drawn up with FILLER", title=table.profile.title)
    at = table.placed[last].at
    return Drawing(title, legible(tuple(_drawn_up(table.sizes, atan2(at.y, at.x)))))


def halves_drawn_up(table: Table, alone: Collection[int] = ()) -> Drawing:
    """From above, as the plan shows the table: both halves of a ring, cauls at all corners, the band; where the
    segments of one are glued `alone`, by their numbers among the placed copies, the other half is hatched, film in
    the joints between the halves."""
    title = worded("{title} half rings drawn up", title=table.profile.title)
    return Drawing(title, legible(tuple(_halves(table.sizes, alone))))


def _halves(sizes: Sizes, alone: Collection[int]) -> Iterator[Mark]:
    if not alone:
        yield from _pressed(sizes, 0)
        return
    letter, other = Caul(sizes).across / LETTERS, sizes.segments - len(alone)
    end = next(n for n in range(sizes.segments) if n not in alone and (n + 1) % sizes.segments in alone)
    last = end * 2 * sizes.mitre
    yield from _pressed(sizes, other, last)
    middle = polar(sizes.inner_apothem / 2, last - (other - 1) * sizes.mitre)
    yield words(named("glued now"), -middle.x, -middle.y, letter)
    yield words(named("dry"), middle.x, middle.y, letter)
    first, ends = _placed(sizes, 0, last), _placed(sizes, sizes.segments - 1, last)
    turns = _placed(sizes, len(alone) - 1, last), _placed(sizes, len(alone), last)
    for one, toward in ((first, ends), turns):
        corner = min(_inner(sizes, one), key=lambda at: min(at.distance(each) for each in _inner(sizes, toward)))
        at = corner.times(0.85)
        yield words(named("film"), at.x, at.y, letter)


def _inner(sizes: Sizes, placed: Placement) -> tuple[Point, Point]:
    """Both corners of a segment's inner edge."""
    half = sizes.inner_length / 2
    return placed.point(Point(-half, 0.0)), placed.point(Point(half, 0.0))


def _drawn_up(sizes: Sizes, last: float) -> Iterator[Mark]:
    yield from _pressed(sizes, 1, last)
    middle = _placed(sizes, sizes.segments - 1, last).outline(blank_outline(sizes)).bounds.centre
    yield words(named("FILLER"), middle.x, middle.y, Caul(sizes).across / LETTERS)


NEAR = -pi / 2
"""Which way the last segment of a ring lies where nothing else is known, radians: on the near side."""


def _pressed(sizes: Sizes, hatched: int, last: float = NEAR) -> Iterator[Mark]:
    """All segments, so many of the last of them hatched, in cauls and the band."""
    caul = Caul(sizes)
    letter = caul.across / LETTERS
    outlines = [_placed(sizes, number, last).outline(blank_outline(sizes)) for number in range(sizes.segments)]
    there = sizes.segments - hatched
    for one in outlines[:there]:
        yield from wood(one, "")
    for one in outlines[there:]:
        yield from waste(one.points, letter)
    for joint in range(sizes.segments):
        yield from made(caul.placement(joint).outline(caul.outline), "CAUL")
    backs = [caul.placement(joint).point(Point(side * caul.seat * cos(sizes.mitre), caul.back))
             for joint in range(sizes.segments) for side in (1, -1)]  # fmt: skip
    yield from (Stroke(CUTTER, Line(a, b)) for a, b in pairwise((*backs, backs[0])))
    yield words(named("band"), 0.0, max(back.y for back in backs) + letter, letter)
    seat = caul.placement(0).point(Point(caul.seat / 2, caul.back / 2))
    yield words(named("caul"), seat.x, seat.y, letter)


def _facing(sizes: Sizes, number: int, last: float = NEAR) -> float:
    """Which way a segment lies from the axis, the last of them that way."""
    step = 2 * sizes.mitre
    return step * (round(last / step) + number + 1)


def _placed(sizes: Sizes, number: int, last: float = NEAR) -> Placement:
    """Where a segment lies round the axis."""
    angle = _facing(sizes, number, last)
    at = polar(sizes.inner_apothem, angle)
    return Placement(at.x, at.y, angle - pi / 2)


def scribed_over(table: Table) -> Drawing:
    """From above: the last segment face up over its opening, its sawn end over one neighbour's mitre, the small
    square at both corners of the other's end, the line that they give."""
    title = worded("{title} the last segment over its opening", title=table.profile.title)
    return Drawing(title, legible(tuple(_scribed(table.sizes))))


def _scribed(sizes: Sizes) -> Iterator[Mark]:
    width, blank = sizes.profile.top.rim_width, blank_outline(sizes)
    letter, axis = (sizes.outer_length + 2 * width) / LETTERS, Point(0.0, -sizes.inner_apothem)
    half, lean, over = sizes.inner_length / 2, width * tan(sizes.mitre), width * OVER
    for side in (-1, 1):
        turn = -side * 2 * sizes.mitre
        at = axis.plus(Point(0.0, sizes.inner_apothem).turned(turn))
        cut = Placement(at.x, at.y, turn).outline(blank)
        yield from wood(cut, "")
        yield words(named("neighbour"), cut.bounds.centre.x + side * over, cut.bounds.centre.y, letter)
    inner, outer = Point(half, 0.0), Point(half + lean, width)
    end = half + lean + over
    yield from made(polygon((Point(-half, 0.0), Point(end, 0.0), Point(end, width), Point(-half - lean, width))))
    yield from waste([inner, Point(end, 0.0), Point(end, width), outer], letter)
    yield Stroke(CUTTER, Line(inner, outer))
    leg = width * SQUARE
    for corner, out, told in ((inner, -1.0, named("rule")), (outer, 1.0, named("square"))):
        low, high = sorted((corner.y, corner.y + out * leg))
        yield Shape(JIG_EDGE, polygon(block(corner.x, low, corner.x + leg / 4, high)))
        yield words(told, corner.x + leg / 2, corner.y + out * leg * 0.7, letter, "start")
    yield words(named("face up"), 0.0, width * 0.75, letter)
    yield words(named("line on the underside"), half - letter, width * 0.45, letter, "end")
    yield words(named("sawn end"), -half + letter, width * 0.15, letter, "start")

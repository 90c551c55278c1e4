"""The plan for a sheet of paper: every part named, every glued joint with its letter; the top, and the pedestal."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import pi

from templategen.catalogue import translated
from templategen.drawing.drawing import Drawing, Mark, Stroke, Words, words_of
from templategen.drawing.joint_letters import JOINT
from templategen.drawing.label import boxes_of, word_room
from templategen.drawing.layers import DIMENSION, TEXT
from templategen.drawing.leaders import runs_through
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.place_in_table import in_plan
from templategen.drawing.plan import EDGE, PEDESTAL, plan_drawing
from templategen.fit.bench import GROUND
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, polar
from templategen.table.assembly import Table

TOUCH = 1.0
"""What lies nearer than this in plan may be joined, mm."""

ALONG = tuple(side * share / 20 for side in (1, -1) for share in (11, 6, 7, 8, 9, 10, 12, 13, 14, 15, 17))
"""Where a rail's code may stand, shares of its half."""

WAYS = 16
"""Directions in which words may stand about a point."""

MANY = 3
"""With more letters than this a spot's stand past the rim, on a line, where there is no place clear of lines."""

NEAR = 7 * WAYS
"""So many places are tried clear of lines before lines are written over: further off, words lead to nothing."""

CENTRES = 1.03
"""So far past the rim its centre lines run, of its half."""

STEPS = 8
"""Points to an edge by which a joint is found."""


def with_letters(drawing: Drawing, table: Table, letters: Mapping[int, str], height: float) -> Drawing:
    """A plan with a cross on each joint, of the pedestal below too, and its letters beside it, capitals of `height`
    mm."""
    return Drawing(drawing.title, (*drawing.marks, *_lettered(table, letters, None, list(drawing.marks), height)))


def lettered_plans(table: Table, letters: Mapping[int, str], side: float, tall: float) -> tuple[Drawing, ...]:
    """The top and the pedestal, true size; shown with their larger side `side` mm, their words are `tall` mm."""
    height = 2 * CENTRES * table.sizes.outer_apothem * tall / side
    top = plan_drawing(table, letters=table.profile.top.diameter / (height / 0.7), titled=False)
    above: list[Mark] = [mark for mark in top.marks if mark.layer.name not in (PEDESTAL.name, DIMENSION.name)]
    drawn = [Drawing(translated("The top"), (*above, *_lettered(table, letters, False, above, height)))]
    feet = [placed for placed in table.placed if table.part(placed.code).kind in GROUND]
    below: list[Mark] = [Stroke(EDGE, edge, one.code) for one in feet for edge in in_plan(table, one).edges]
    if below:
        box = Drawing("", tuple(below)).bounds
        lower = max(box.width, box.height) * tall / side
        marks = (*below, *_lettered(table, letters, True, below, lower))
        drawn.append(Drawing(translated("The pedestal, from above"), marks))
    return tuple(drawn)


def _lettered(
    table: Table, letters: Mapping[int, str], ground: bool | None, marks: list[Mark], height: float
) -> Iterator[Mark]:
    """A cross on each joint and its letters beside it, on the ground the parts' codes too: clear of all lines where
    there is room, of other words everywhere. `ground` None is for the joints above and below."""
    spots = _spots(table, letters, ground)
    crosses = [
        Stroke(JOINT, Line(at.minus(arm), at.plus(arm)))
        for at, _ in spots
        for arm in (Point(height / 5, 0), Point(0, height / 5))
    ]
    yield from crosses
    lines = Taken(pieces((*marks, *crosses), height / 3), height / 5)
    words = Taken(pieces((*words_of(marks), *crosses)), height / 3)
    led: list[tuple[Point, Words]] = []
    told = [one.box for one in words_of(marks)]
    for places in (*(_named(table, height) if ground else ()), *(_letter_places(*spot, height) for spot in spots)):
        both = ((lines, places[:NEAR]), (words, places))
        if places[0].text.count(" ") >= MANY and not _clear(lines, places[:NEAR]):
            led.append((next(at for at, letters in spots if f"({letters})" == places[0].text), places[0]))
            continue
        for one in (one for taken, these in both for one in _clear(taken, these)):
            for box in boxes_of(one):
                lines.take(box)
                words.take(box)
            told.append(one.box)
            yield one
            break
    for at, one in led:
        yield from _led_out(at, one, CENTRES * table.sizes.outer_apothem, lines, told)


def _clear(taken: Taken, places: Iterable[Words]) -> list[Words]:
    """Of these places those that nothing taken meets."""
    return [one for one in places if not taken.meets_any(boxes_of(one), 0.0, 0.0)]


def _led_out(at: Point, words: Words, reach: float, lines: Taken, told: Sequence[Bounds]) -> Iterator[Mark]:
    """Many letters at one spot, where lines leave them no room: past the rim, on a line that runs through no words,
    the shortest way up if there is one."""
    half, height = word_room(words.text, words.height) / 2, words.height
    for turn in sorted(range(4 * WAYS), key=lambda turn: abs(turn - WAYS)):
        way = polar(1.0, (turn + 0.5) * pi / (2 * WAYS))
        end, middle = way.times(reach), way.times(reach + height + abs(way.x) * half)
        one = replace(words, at=Point(middle.x, middle.y - height / 2))
        if _clear(lines, (one,)) and not any(runs_through(at, end, box) for box in told):
            yield Stroke(JOINT, Line(at, end))
            yield one
            return
    yield words


def _named(table: Table, height: float) -> Iterator[list[Words]]:
    """For each of the pedestal's parts where its code may stand: a rail's along it, another's about its middle."""
    for placed in table.placed:
        kind = table.part(placed.code).kind
        if kind == "base-rail":
            along, half = polar(1.0, placed.turn), table.profile.base.length / 2
            spots = (along.times(share * half).plus(along.left, -height / 2) for share in ALONG)
            yield [Words(TEXT, at, height, placed.code, "middle", placed.turn, placed.code).upright for at in spots]
        elif kind in GROUND:
            middle = in_plan(table, placed).bounds.centre
            words = Words(TEXT, middle, height, placed.code, "middle", 0.0, placed.code)
            yield [replace(words, at=at) for at in _around(middle, words)]


def _letter_places(at: Point, told: str, height: float) -> list[Words]:
    """Where the letters of a joint may stand."""
    words = Words(JOINT, at, height, f"({told})", "middle")
    return [replace(words, at=spot) for spot in _around(at, words)]


def _around(at: Point, words: Words) -> Iterator[Point]:
    """Places for words about a point, further and further away."""
    half, height = word_room(words.text, words.height) / 2, words.height
    low = at.y - height / 2
    for ring in (0.7, 1.0, 1.4, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0):
        for turn in range(WAYS):
            way = polar(1.0, turn * 2 * pi / WAYS)
            yield Point(at.x + way.x * (half + ring * height * 0.5), low + way.y * (ring + 0.5) * height)


def _spots(table: Table, letters: Mapping[int, str], ground: bool | None) -> list[tuple[Point, str]]:
    """Where joints are in plan, and the letters of all that lie there."""
    found: list[tuple[Point, list[str]]] = []
    for number, letter in letters.items():
        one, other = (table.placed[index] for index in table.joints[number].placed)
        if ground is not None and (table.part(one.code).kind in GROUND) is not ground:
            continue
        at = _between(in_plan(table, one), in_plan(table, other))
        near = next((told for spot, told in found if spot.distance(at) < 2 * TOUCH), None)
        if near is None:
            found.append((at, [letter]))
        else:
            near.append(letter)
    return [(at, " ".join(told)) for at, told in found]


def _between(one: Outline, other: Outline) -> Point:
    """The middle of where two shapes touch or cover each other."""
    spots = [
        spot for ring, far in ((one, other), (other, one)) for spot in _points(ring) if far.contains(spot, TOUCH)
    ]
    if not spots:
        return one.bounds.centre.plus(other.bounds.centre.minus(one.bounds.centre), 0.5)
    return Point(sum(spot.x for spot in spots) / len(spots), sum(spot.y for spot in spots) / len(spots))


def _points(ring: Outline) -> Iterator[Point]:
    return (edge.point_at(step / STEPS) for edge in ring.edges for step in range(STEPS))

"""The plan for a sheet of paper: every part named, every glued joint with its letter; the top, and the pedestal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from templategen.drawing.drawing import Drawing, Mark, Stroke, Words, words_of
from templategen.drawing.label import word_room
from templategen.drawing.layer import Layer
from templategen.drawing.layers import DIMENSION, TEXT
from templategen.drawing.pieces import Taken, pieces
from templategen.drawing.place_in_table import in_plan
from templategen.drawing.plan import EDGE, PEDESTAL, plan_drawing
from templategen.fit.bench import GROUND
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point, polar
from templategen.table.assembly import Table

JOINT = Layer("JOINT_LETTER", "letter of a joint, at the joint", weight=0.25)

TOUCH = 1.0
"""What lies nearer than this in plan may be joined, mm."""

STEPS = 8
"""Points to an edge by which a joint is found."""


def lettered_plans(table: Table, letters: Mapping[int, str], shrunk: float, tall: float) -> tuple[Drawing, ...]:
    """The top and the pedestal, true size; shown `shrunk` to that share their words are `tall` mm."""
    height = tall / shrunk
    top = plan_drawing(table, letters=table.profile.top.diameter / (height / 0.7), titled=False)
    above: list[Mark] = [mark for mark in top.marks if mark.layer.name not in (PEDESTAL.name, DIMENSION.name)]
    feet = [placed for placed in table.placed if table.part(placed.code).kind in GROUND]
    below: list[Mark] = [Stroke(EDGE, edge, one.code) for one in feet for edge in in_plan(table, one).edges]
    below += _names(table, height)
    return tuple(
        Drawing(title, (*marks, *_letters(table, letters, ground, marks, height)))
        for title, marks, ground in (("The top", above, False), ("The pedestal, from above", below, True))
        if marks
    )


def _names(table: Table, height: float) -> Iterator[Words]:
    """The codes of the pedestal's parts: of a rail along it, of what lies or stands on it under the middle."""
    for placed in table.placed:
        kind = table.part(placed.code).kind
        if kind not in GROUND:
            continue
        middle = in_plan(table, placed).bounds.centre
        if kind == "base-rail":
            along = polar(1.0, placed.turn)
            spot = along.times(0.7 * table.profile.base.length / 2).plus(along.left, -height / 2)
            yield Words(TEXT, spot, height, placed.code, "middle", placed.turn, placed.code).upright
        else:
            yield Words(TEXT, middle.plus(Point(0, -2 * height)), height, placed.code, "middle", 0.0, placed.code)


def _letters(
    table: Table, letters: Mapping[int, str], ground: bool, marks: list[Mark], height: float
) -> Iterator[Mark]:
    """A dot on each joint and its letters beside it, clear of other words."""
    taken = Taken(pieces(words_of(marks)), height / 2)
    for at, told in _spots(table, letters, ground):
        yield Stroke(JOINT, Line(at.plus(Point(-height / 5, 0)), at.plus(Point(height / 5, 0))))
        yield Stroke(JOINT, Line(at.plus(Point(0, -height / 5)), at.plus(Point(0, height / 5))))
        words = f"({told})"
        half = word_room(words, height) / 2
        for spot in _around(at, half, height):
            box = Bounds(spot.x - half, spot.y - height * 0.2, spot.x + half, spot.y + height * 1.1)
            if not taken.meets(box):
                taken.take(box)
                yield Words(JOINT, spot, height, words, "middle")
                break


def _around(at: Point, half: float, height: float) -> Iterator[Point]:
    """Places for words about a point, further and further away."""
    for ring in range(1, 12):
        for turn in range(8):
            way = polar(1.0, turn * 0.7853981633974483)
            yield Point(at.x + way.x * (half + ring * height * 0.5), at.y + way.y * ring * height - height / 2)


def _spots(table: Table, letters: Mapping[int, str], ground: bool) -> list[tuple[Point, str]]:
    """Where joints are in plan, and the letters of all that lie there."""
    found: list[tuple[Point, list[str]]] = []
    for number, letter in letters.items():
        one, other = (table.placed[index] for index in table.joints[number].placed)
        if (table.part(one.code).kind in GROUND) != ground:
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

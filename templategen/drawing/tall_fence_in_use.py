"""The tall fence where it stands: a piece on edge or on end before it, and what presses that down."""

from collections.abc import Iterator
from math import cos, sin, tan

from templategen.drawing.drawing import Mark, Shape, Stroke, marks_box
from templategen.drawing.jig_marks import JIG_EDGE, made, piece_of
from templategen.drawing.lettering import text_width
from templategen.drawing.machine_marks import (
    CUTTER,
    MACHINE,
    MACHINE_EDGE,
    along,
    block,
    fixed,
    named,
    pointing,
    wood,
    words,
)
from templategen.drawing.move import moved
from templategen.drawing.tones import LEADER
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.fences import fingers_off, overhang, tail
from templategen.jigs.jig import Jig
from templategen.jigs.piece import shown
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

FINGERS = 8
"""Fingers of a featherboard as it is drawn."""


def tall_fence(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the end: the face before the machine's fence, a rib behind it, the piece against it over the cutter;
    beside it what presses a piece down that is let down on the cutter, and a segment on its mitre."""
    slotted = [part for part in table.parts if part.cuts("spline-slot")]
    kind: FeatureKind = "spline-slot" if slotted else "groove"
    way = 0 if slotted else 1
    part = max((p for p in table.parts if p.cuts(kind)), key=lambda p: p.size[way])
    cut, standing, thick = part.cuts(kind)[0], part.size[way], table.profile.jigs.thickness
    face, rib = (piece_of(jig, f"{jig.code}-{name}").outline.bounds for name in ("FACE", "RIB"))
    letter = max(standing, face.height) / 16
    near, behind, low = part.thickness - cut.outline.bounds.top, -thick - rib.width, face.height - rib.height
    yield from fixed(behind - letter * 4, -letter * 2, part.thickness + letter * 6, 0.0)
    yield from fixed(behind, 0.0, -thick, low)
    yield Shape(JIG_EDGE, rectangle(-thick, 0.0, 0.0, face.height))
    yield from made(rectangle(behind, low, -thick, face.height), f"{jig.code}-RIB")
    yield from wood(block(0.0, 0.0, part.thickness, standing), part.code)
    yield Shape(CUTTER, rectangle(near, -letter * 2, near + cut.outline.bounds.height, cut.depth))
    yield words(named("piece"), part.thickness + letter * 0.6, standing / 2, letter, "start")
    yield words(named("cutter"), near, -letter * 3, letter, "start")
    yield words(named("table"), behind - letter, -letter, letter)
    yield words(named("fence"), behind - letter * 0.6, low / 2, letter, "end")
    yield words(named("rib"), behind - letter * 0.6, low + rib.height / 2, letter, "end")
    told = Point(-thick - letter, face.height + letter * 0.6)
    yield Stroke(LEADER, Line(Point(-thick / 2, face.height - letter / 2), told))
    yield words(named("face"), told.x - letter * 0.3, told.y + letter / 2, letter, "end")
    views, left = list[tuple[Mark, ...]](), part.thickness + letter * 10
    if let_down := [part for part in table.parts if any(tail(part, one) for one in part.cuts("groove"))]:
        longest = max(let_down, key=lambda part: part.size[0])
        views.append(tuple(_pressed_down(longest, face.height, letter, fingers_off(table), table.profile)))
    if slotted:
        views.append(tuple(_leaning(jig, part, table, letter)))
    for marks in views:
        box = marks_box(marks)
        yield from moved(marks, Point(left - box.left, 0.0))
        left += box.width + letter * 3


def _leaning(jig: Jig, part: Part, table: Table, letter: float) -> Iterator[Mark]:
    """From where you stand: a segment on its mitre, its inner edge behind, the push block under that; fed to the
    left."""
    lean, wide = table.sizes.mitre, part.size[1]
    foot, over = wide / cos(lean), Point(sin(lean), cos(lean))
    long = part.size[0], part.size[0] - 2 * wide * tan(lean)
    front, rear = Point(0.0, 0.0), Point(foot, 0.0)
    push = piece_of(jig, f"{jig.code}-PUSH").outline.bounds.width
    yield from fixed(-letter * 2, -letter * 2, foot + push + letter * 2, 0.0)
    yield from wood((front, rear, rear.plus(over, long[1]), front.plus(over, long[0])), part.code)
    yield from _pushing(jig, rear)
    at = _middle(front, rear.plus(over, long[1]))
    if text_width(part.code, letter) + letter < foot:
        yield words(part.code, *at, letter)
    else:
        yield words(part.code, at.x - foot / 2 - letter * 0.6, at.y, letter, "end")
    yield from _fed_left(foot, letter)


def _middle(one: Point, other: Point) -> Point:
    return one.plus(other).times(0.5)


def _pushing(jig: Jig, foot: Point) -> Iterator[Mark]:
    """The push block, its slanting end at the foot of what leans over it."""
    code = f"{jig.code}-PUSH"
    yield from made(Placement(*foot).outline(piece_of(jig, code).outline), code)


def _fed_left(right: float, letter: float) -> Iterator[Mark]:
    yield from pointing(Point(right, -letter * 4.4), Point(right - letter * 8, -letter * 4.4), letter)
    yield words(named("feed"), right - letter * 9, -letter * 4.4, letter, "end")


def _pressed_down(part: Part, high: float, letter: float, off: float, profile: Profile) -> Iterator[Mark]:
    """From where you stand: a piece that has just been let down, the cutter in its hole, fed to the left; the
    featherboard clamped to the face, its fingers on the upper edge from `off` mm before the cutter."""
    groove = next(groove for groove in part.cuts("groove") if tail(part, groove))
    whole, start = part.blank.bounds, part.blank.bounds.left - part.side_cut(groove).bounds.left
    end, past, top = start + whole.width, overhang(part, groove), whole.height
    left, right = start - letter * 3, max(end, off + letter * 12) + letter * 2
    yield from fixed(left, -letter * 2, right, 0.0)
    yield Shape(JIG_EDGE, rectangle(left, 0.0, right, max(high, top + letter * 7.5)))
    yield from wood((Point(start, top), Point(start + past, 0.0), Point(end - past, 0.0), Point(end, top)), part.code)
    yield Shape(CUTTER, rectangle(0.0, -letter * 2, groove.outline.bounds.height, groove.depth))
    low, body = top + letter * 2, rectangle(off + letter, top + letter * 2, off + letter * 12, top + letter * 4)
    yield from (Shape(layer, body) for layer in (MACHINE, MACHINE_EDGE))
    for at in range(FINGERS):
        foot = off + at * letter * 11 / FINGERS
        yield Stroke(MACHINE_EDGE, Line(Point(foot + letter, low), Point(foot, top)))
    yield from along(0.0, off, top + letter * 5, shown(off, profile), letter, top)
    yield words(named("featherboard"), off + letter * 6.5, top + letter * 3, letter)
    yield words(named("cutter"), 0.0, -letter * 3, letter)
    yield words(part.code, (start + end) / 2, top / 2, letter)
    yield from _fed_left(end, letter)

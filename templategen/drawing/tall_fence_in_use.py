"""The tall fence where it stands: a piece on edge or on end before it, and what presses that down."""

from collections.abc import Iterator

from templategen.drawing.drawing import Mark, Shape, Stroke, marks_box
from templategen.drawing.jig_marks import JIG_EDGE, made, piece_of
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
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.fences import OFF, tail
from templategen.jigs.jig import Jig
from templategen.jigs.piece import shown, tidy
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

FINGERS = 8
"""Fingers of a featherboard as it is drawn."""


def tall_fence(jig: Jig, table: Table) -> Iterator[Mark]:
    """From the end: the face before the machine's fence, a rib behind it, the piece against it over the cutter;
    beside it, where a piece is let down on the cutter, what presses that down as it starts."""
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
    yield words(named("face"), -letter * 2, max(standing, face.height) + letter, letter, "end")
    if let_down := [part for part in table.parts if any(tail(part, one) for one in part.cuts("groove"))]:
        longest = max(let_down, key=lambda part: part.size[0])
        marks = tuple(_pressed_down(longest, face.height, letter, table.profile))
        yield from moved(marks, Point(part.thickness + letter * 10 - marks_box(marks).left, 0.0))


def _pressed_down(part: Part, high: float, letter: float, profile: Profile) -> Iterator[Mark]:
    """From where you stand: a piece that has just been let down, the cutter in its hole, fed to the left; the
    featherboard clamped to the face, its fingers on the upper edge."""
    groove = next(groove for groove in part.cuts("groove") if tail(part, groove))
    whole, lower, cut = part.blank.bounds, part.face(groove.face).outline.bounds, part.side_cut(groove).bounds
    start, off = whole.left - cut.left, tidy(profile, OFF)
    end, past, top = start + whole.width, (whole.width - lower.width) / 2, whole.height
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
    yield from pointing(Point(end, -letter * 4.4), Point(end - letter * 8, -letter * 4.4), letter)
    yield words(named("feed"), end - letter * 9, -letter * 4.4, letter, "end")

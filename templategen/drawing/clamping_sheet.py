"""The file of one clamping: the part as it lies on the machine, the work of the face that is up, and what to know."""

from collections.abc import Iterator, Sequence

from templategen.catalogue import translated, worded
from templategen.drawing.cautions import ON_THE_MACHINE
from templategen.drawing.clamping_layers import (
    DATUM,
    PINS,
    RECESS,
    TURN_LINE,
    WORKPIECE,
    eased_layer,
    hand_layer,
    operation_layer,
)
from templategen.drawing.clamping_notes import clamping_notes
from templategen.drawing.dimension import cross
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.layers import FRAME, TEXT, VIEW_TITLE
from templategen.drawing.lettering import LINE_FEED, height_for
from templategen.drawing.manner import Manner
from templategen.drawing.part_sheet import footed, size_check
from templategen.drawing.routed_sheet import bored_mark
from templategen.geometry.outline import circle, rectangle
from templategen.geometry.point import Point
from templategen.router.clamping import Clamping
from templategen.table.profile.model import Profile

UP = {"top": "top face up", "bottom": "bottom face up"}

RING = 6.0
"""Radius of the ring round the zero, mm."""


def clamping_drawing(one: Clamping, profile: Profile, revision: str = "", tables: int = 1) -> Drawing:
    """The drawing, in the machine's frame: the lower left corner of the box round the piece is its origin."""
    box = one.piece.bounds
    manner = Manner(
        height_for(max(box.width, box.height)), units=profile.units, layers=profile.dxf.units, by_machine=True
    )
    marks: list[Mark] = [*_laid(one, manner.height), *_cuts(one, manner)]
    which = "" if one.turn is None else ", second of two clampings" if one.is_second else ", first of two clampings"
    title = f"{one.part.code}, {translated(UP[one.face])}{translated(which)}"
    told = worded("Revision {revision}", revision=revision) if revision else ""
    lines = [profile.title, *clamping_notes(one, profile, manner, tables), told]
    marks = _headed(marks, title, [line for line in lines if line], manner.height)
    marks += size_check(marks_box(marks), manner.height)
    marks = [*footed(marks, ON_THE_MACHINE, manner.height)]
    frame = Shape(FRAME, rectangle(*marks_box(marks).grown(manner.height * 2)))
    return Drawing(f"{profile.title} {title}".strip(), (*marks, frame))


def _laid(one: Clamping, height: float) -> Iterator[Mark]:
    """The piece, its zero, and what it is registered by."""
    yield Shape(RECESS if one.recess else WORKPIECE, one.piece)
    yield Shape(DATUM, circle(0.0, 0.0, RING))
    yield from cross(Point(0.0, 0.0), RING * 1.6, 0.0, DATUM)
    yield Words(DATUM, Point(-RING * 1.6, -RING * 1.8 - height), height, "X0 Y0")
    if one.turn is not None:
        yield Stroke(TURN_LINE, one.turn)
    if one.is_second:
        yield from (Shape(PINS, pin) for pin in one.pins)


def _cuts(one: Clamping, manner: Manner) -> Iterator[Mark]:
    for cut in one.operations:
        yield Shape(operation_layer(one.face, cut, manner.layers), cut.outline)
    for cut in one.operations:
        layer = hand_layer(one.face, cut.depth, manner.layers)
        yield from (Shape(layer, left) for left in cut.left)
    for hole in one.bored:
        yield from bored_mark(hole)
    yield from (Stroke(eased_layer(feature.floor, manner.layers), edge) for feature, edge in one.eased)


def _headed(marks: Sequence[Mark], title: str, lines: Sequence[str], height: float) -> list[Mark]:
    """Title and notes over all that is drawn."""
    box = marks_box(marks)
    named = [(VIEW_TITLE, title), *((TEXT, line) for line in lines)]
    words = (
        Words(layer, Point(box.left, box.top + height * (3 + i * LINE_FEED)), height, line)
        for i, (layer, line) in enumerate(reversed(named))
    )
    return [*marks, *reversed(list(words))]

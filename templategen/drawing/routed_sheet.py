"""What a routing machine is shown of a sheet: lines to cut in their order, tabs, entries, pins and screws, zero."""

from collections.abc import Iterator, Sequence
from math import pi

from templategen.catalogue import translated, worded
from templategen.drawing.clamping_layers import BORED, DATUM, PINS, TURN_LINE, hand_layer, operation_layer
from templategen.drawing.dimension import cross
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.layers import (
    BLANK_OUTLINE,
    FACE_OUTLINE,
    THROUGH_INSIDE,
    THROUGH_OUTSIDE,
    depth_code,
    depth_words,
    layer_name,
)
from templategen.drawing.manner import Manner
from templategen.drawing.roomy import roomiest
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point
from templategen.router.sheet import SheetWork, Step
from templategen.router.tabs import free_runs

TABS = Layer("HOLDING_TAB", "inside these boxes no pass goes below the tab's height", "green", "continuous", 0.35)
SCREW = Layer("HOLDING_SCREW", "screws through the waste", "green", "dashed", 0.35)
ENTRY = Layer("ENTRY", "the bit goes in here, on the waste side, clear of joints", "blue", "continuous", 0.25)
ORDER = Layer(
    "ORDER", "order of cutting: pockets, inside, outside, each small before large", "blue", "continuous", 0.25
)
WASTE = Layer("LOOSE_WASTE", "waste that nothing holds once it is cut round", "vermilion", "dotted", 0.25)

SKINNED = {
    True: "the blank but for a skin: {size} deep", False: "cut right through but for a skin: {size} deep",
}  # fmt: skip

LETTER = 5.0
"""Capitals of the order's numbers, mm."""

RING = 6.0
"""Radius of the ring round the zero, mm."""


def upper_marks(work: SheetWork, manner: Manner) -> Iterator[Mark]:
    """The clamping in which the parts are freed."""
    boxes = [tab.box for tab in work.held.tabs]
    for number, step in enumerate(work.upper, 1):
        yield from _step(step, "top", number, manner, boxes)
    yield from (Shape(TABS, box) for box in boxes)
    yield from (Shape(WASTE, piece) for piece in work.held.waste)
    for hole in work.bored:
        yield from bored_mark(hole)
    for hole in work.screws:
        yield Shape(SCREW, hole)
        yield from cross(hole.bounds.centre, hole.bounds.width, pi / 4, SCREW)
    if work.is_turned:
        yield from (Shape(PINS, pin) for pin in work.pins)
        yield _turn_line(work)
    yield from zero_mark()


def underside_marks(work: SheetWork, rings: Sequence[Outline], manner: Manner) -> Iterator[Mark]:
    """The clamping before it, seen as the sheet lies in it; `rings` are the parts as it shows them."""
    for number, step in enumerate(work.underside, 1):
        yield from _step(step, "bottom", number, manner, ())
    yield from (Shape(FACE_OUTLINE, ring) for ring in rings)
    yield _turn_line(work)
    yield from zero_mark()


def _turn_line(work: SheetWork) -> Stroke:
    length, width = work.size
    return Stroke(TURN_LINE, Line(Point(-RING * 3, width / 2), Point(length + RING * 3, width / 2)))


def step_layer(step: Step, face: str, manner: Manner) -> Layer:
    """The layer of one operation. What goes right through has the same name whatever the board; else the name says
    face, operation, depth and unit."""
    done = step.operation
    if done.task == "inside":
        return THROUGH_INSIDE
    if done.task != "outside":
        return operation_layer(face, done, manner.layers)
    plain = BLANK_OUTLINE if step.blank else THROUGH_OUTSIDE
    if not step.skin:
        return plain
    words = worded(SKINNED[step.blank], size=depth_words(done.depth, manner.layers))
    name = layer_name(face, "blank" if step.blank else "outside", depth_code(done.depth, manner.layers))
    return Layer(name, words, "vermilion", "long-dash-dot", plain.weight, cuts=True)


def _step(step: Step, face: str, number: int, manner: Manner, boxes: Sequence[Outline]) -> Iterator[Mark]:
    done = step.operation
    yield Shape(step_layer(step, face, manner), done.outline, step.code)
    yield from (Shape(hand_layer(face, done.depth, manner.layers), left) for left in done.left)
    if done.task == "outside":
        yield from _entry(done.outline, done.bit.diameter, boxes, number)
    else:
        at, _ = roomiest(done.outline, [])
        yield _number(number, at.plus(Point(0.0, -LETTER / 2)))


def _number(number: int, at: Point) -> Words:
    return Words(ORDER, at, LETTER, str(number), "middle")


def _entry(ring: Outline, bit: float, boxes: Sequence[Outline], number: int) -> Iterator[Mark]:
    """Where the bit goes in beside a line: on its longest straight run, as far from tabs as can be."""
    near = [box.bounds.centre for box in boxes if box.bounds.meets(ring.bounds, bit)]
    runs: list[Edge] = [run for edge in ring.edges if isinstance(edge, Line) for run in free_runs(edge, ())]
    longest = max(runs or list(ring.edges), key=lambda run: round(run.length, 6))
    shares = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
    best = max(shares, key=lambda share: _clear(longest.point_at(share), near))
    touch, inward = longest.point_at(best), longest.direction_at(best).left
    entry = touch.plus(inward, -bit / 2)
    yield Shape(ENTRY, circle(*entry, bit / 4))
    yield Stroke(ENTRY, Line(entry.plus(inward, bit / 4), touch))
    yield _number(number, touch.plus(inward, LETTER).plus(Point(0.0, -LETTER / 2)))


def _clear(point: Point, tabs: Sequence[Point]) -> float:
    return round(min((point.distance(tab) for tab in tabs), default=0.0), 6)


def bored_mark(hole: Outline) -> Iterator[Mark]:
    """A hole that no bit enters, and its middle."""
    yield Shape(BORED, hole)
    yield from cross(hole.bounds.centre, hole.bounds.width / 2 + 1.0, 0.0, BORED)


def zero_mark() -> Iterator[Mark]:
    """The sheet's lower left corner."""
    yield Shape(DATUM, circle(0.0, 0.0, RING))
    yield from cross(Point(0.0, 0.0), RING * 1.6, pi / 4, DATUM)
    yield Words(DATUM, Point(-RING * 1.6, -RING * 2.6), LETTER, translated("X0 Y0, Z0 on the upper face"), "start")

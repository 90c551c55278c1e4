"""Joint letters on a part's sheet: at each joint a cross, and a line up to the letters that its mates carry too."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import pi
from typing import Literal

from templategen.catalogue import worded
from templategen.drawing.drawing import Mark, Stroke, Words, marks_box, words_of
from templategen.drawing.layer import Layer
from templategen.drawing.leaders import runs_through
from templategen.drawing.lettering import LINE_FEED, text_width
from templategen.drawing.unseen import inside
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.shop.gluing.marks import Mark as Letter
from templategen.shop.gluing.marks import copy_names, spans
from templategen.table.assembly import Table
from templategen.table.placed import Placed
from templategen.work.labels import joints_of_copy

JOINT = Layer("JOINT_LETTER", "letter of a joint, at the joint", weight=0.25)

SLANTS = (0, 1, -1, 2, -2, 3, -3, 4, -4, 6, -6, 8, -8, 10, -10, 12, -12, 16, -16, 20, -20, 25, -25)
"""How far aside of its joint a line may end to keep clear of words, in capital heights."""

STEEP = 0.3
"""An edge faces to a side if it rises by more than this, as a sine."""

ASIDE = tuple(sorted(product(range(-6, 7), repeat=2), key=lambda step: (step[0] ** 2 + step[1] ** 2, step)))
"""How far aside of a joint's middle its cross may stand, in half capital heights, the nearest first."""


@dataclass(frozen=True, slots=True)
class Pointed:
    """Words about a spot of the part, in its own frame as seen from above."""

    at: Point
    text: str


def pointed_of(table: Table, part: Part, letters: Iterable[Letter]) -> tuple[Pointed, ...]:
    """What a part's sheet points at: its joints, with the letters of all its copies, and the arms it lies along. A
    slat's stand in the order of its fields, anticlockwise from the first arm: no other drawing has them."""
    names, marks = copy_names(table), list(letters)
    places: dict[str, list[str]] = {}
    for index, placed in enumerate(table.placed):
        if placed.code == part.code:
            for letter, where, _ in joints_of_copy(table, index, marks, names):
                places.setdefault(where, []).append(letter)
    told: dict[Point, list[str]] = {}
    for where, own in places.items():
        at = _spot(part, where)
        if at is not None:
            several = len(set(own)) > 1
            told_letters = ", ".join(dict.fromkeys(own)) if part.kind == "slat" else spans(dict.fromkeys(own))
            joints = worded("joints {letters}" if several else "joint {letters}", letters=told_letters)
            told.setdefault(at, []).append(joints)
    for at, arm in arms_of(table, part):
        told.setdefault(at, []).append(worded("arm {arm}", arm=arm))
    return tuple(Pointed(at, ", ".join(lines)) for at, lines in told.items())


def _spot(part: Part, where: str) -> Point | None:
    """Where that place of a piece is, as its label names it; None for what is no joint."""
    box = part.outline.bounds
    if where.endswith("mortise"):
        pick = min if where.startswith("left") else max
        spots = [(box.centre if f.face == "top" else Point(-box.centre.x, box.centre.y))
                 for f in part.cuts("mortise") for box in (f.outline.bounds,)]  # fmt: skip
        return pick(spots, key=lambda spot: spot.x)
    spots_by_name: Mapping[str, Point] = {
        "left end": _end(part, -1),
        "right end": _end(part, 1),
        "at the crossing": Point(0, 0),
        "inner edge": Point(0, box.bottom),
        "underside": box.centre,
        "both ends": box.centre,
    }
    return spots_by_name.get(where)


def _end(part: Part, side: int) -> Point:
    """A little inside the wood, at the middle of the longest edge that faces to a side."""
    box = part.outline.bounds
    facing = [edge for edge in part.outline.anticlockwise.edges
              if edge.direction_at(0.5).y * side > STEEP]  # fmt: skip
    y = max(facing, key=lambda edge: edge.length).bounds.centre.y
    runs = [edge.bounds for edge in inside((Line(Point(box.left - 1, y), Point(box.right + 1, y)),), part.outline)]
    inset = min(4.0, box.width / 20)
    return Point(max(run.right for run in runs) - inset if side > 0 else min(run.left for run in runs) + inset, y)


def arms_of(table: Table, part: Part) -> Iterator[tuple[Point, int]]:
    """The ends of a rail and the arms they lie on, counted from the first, anticlockwise."""
    if part.kind not in ("rail", "base-rail"):
        return
    step, arms = table.sizes.field_angle, table.sizes.arms
    placed: Placed = next(one for one in table.placed if one.code == part.code)
    first = round(placed.turn / step) % arms
    for where, arm in (("right end", first), ("left end", round(first + pi / step) % arms)):
        at = _spot(part, where)
        if at is not None:
            yield at, arm + 1


def pointing(pointed: Sequence[Pointed], wood: Outline, marks: Sequence[Mark], height: float) -> tuple[Mark, ...]:
    """The crosses on the wood, and above all marks the words, each to the right of its line, which runs through no
    words; to the left where the drawing would get wider."""
    boxes, drawn = [words.box for words in words_of(marks)], marks_box(marks)
    floor = drawn.top + height
    ways = [_Way(*_way(one.at, floor, wood, boxes, height), one.text, height) for one in pointed]
    left = _leftwards(sorted(ways, key=lambda way: way.end.x), drawn.right)
    rows: list[float] = []
    taken: list[float] = []
    made: list[Mark] = []
    for way in left:
        row = next((i for i, right in enumerate(taken) if way.end.x - way.room > right), len(taken))
        taken[row:] = [way.end.x]
        rows[row:] = [way.end.x - way.room]
        made += _led(way, row, floor, "end")
    rows = [min(rows[i:]) for i in range(len(rows))]
    for way in sorted((way for way in ways if way not in left), key=lambda way: -way.end.x):
        row = max((i + 1 for i, low in enumerate(rows) if way.end.x + way.room > low), default=0)
        rows[row:] = [way.end.x]
        made += _led(way, row, floor, "start")
    return tuple(made)


@dataclass(frozen=True, slots=True)
class _Way:
    """Words about a cross at `at`, whose line comes out above everything at `end`, in capitals of a height."""

    at: Point
    end: Point
    text: str
    height: float

    @property
    def room(self) -> float:
        """How far from their line the words reach."""
        return text_width(self.text, self.height) + self.height * 2


def _leftwards(ways: Sequence[_Way], right: float) -> list[_Way]:
    """Those whose words would stick out to the right and have room on the left of their line."""
    found: list[_Way] = []
    for way in ways:
        others = (one.end.x for one in ways if one not in found and one is not way)
        low = way.end.x - way.room
        if way.end.x + way.room > right and not any(low < x <= way.end.x for x in others):
            found.append(way)
    return found


def _led(way: _Way, row: int, floor: float, anchor: Literal["start", "end"]) -> Iterator[Mark]:
    """The cross, its line up to a row, and the words there."""
    at, end, height = way.at, way.end, way.height
    tip = Point(end.x, floor + (row * LINE_FEED + 1) * height)
    for arm in (Point(height * 0.6, 0), Point(0, height * 0.6)):
        yield Stroke(JOINT, Line(at.minus(arm), at.plus(arm)))
    yield from (Stroke(JOINT, Line(at, end)), Stroke(JOINT, Line(end, tip)))
    aside = height * (0.4 if anchor == "start" else -0.4)
    yield Words(JOINT, tip.plus(Point(aside, -height)), height, way.text, anchor)


def _way(spot: Point, floor: float, wood: Outline, boxes: Sequence[Bounds], height: float) -> tuple[Point, Point]:
    """Where about a joint its cross stands, and where its line comes out above everything: the nearest that keep
    clear of words."""
    first, kept_clear = None, [box.grown(height * 0.2) for box in boxes]
    for at in (spot.plus(Point(i, j), height * 0.5) for i, j in ASIDE):
        if _covered(at, boxes, height) or not wood.contains(at):
            continue
        first = first or at
        for end in (Point(at.x + aside * height, floor) for aside in SLANTS):
            if not any(runs_through(at, end, box) for box in kept_clear):
                return at, end
    return first or spot, Point((first or spot).x, floor)


def _covered(at: Point, boxes: Sequence[Bounds], height: float) -> bool:
    return any(Bounds(*at, *at).grown(height * 0.8).meets(box) for box in boxes)

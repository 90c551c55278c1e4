"""Lines on a board: what they offer, what parts take of them, and the limits that follow.

A system is a kind of stock with lines of one axis: all of them, or one alone. Give each size of section a worth, any
worth: then what the parts on a board are worth, added up over the lines, is no more than what the lines can hold at
most. That holds for every layout, so it may be asked of any share of the parts that a kind of stock takes.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, sin, sqrt

from templategen.geometry.bounds import Bounds
from templategen.nesting.cross_section import Axis, CrossSections
from templategen.nesting.knapsack import most_value
from templategen.nesting.stock import Item, Piece

TICKS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)
"""Steps in which sizes on a line are counted, mm; parts are rounded down, lines up."""

MOST_TICKS = 3000
"""A line is counted in the finest steps that give no more than these."""

GIVEN = 1e-3
"""What a line is taken to be longer than it is, mm: layouts are proved to a thousandth of that between two parts."""

KNOT_STEPS = 3
"""Half a knot is taken as steps, so many, inside it."""

MOST_SIZES = 28
"""Sizes of sections told apart on the lines of one system; others are rounded down to these."""

MOST_ROOMS = 6
"""Free lengths of lines told apart; others are rounded up to these."""

EDGE = 1e-3
"""How far beyond its place a part may reach in a proved layout, mm, with room to spare."""


@dataclass(frozen=True, slots=True)
class System:
    """Lines of one axis on one kind of stock.

    `offers` are the free lengths, in ticks, and how much of the board has them. `sizes` are the sections met, in
    ticks; `takes[i]` says how much of which size (its place in `sizes`) one copy of item i takes. `most` is how often
    a size can be met on one line.
    """

    kind: int
    axis: Axis
    single: bool
    offers: tuple[tuple[int, float], ...]
    sizes: tuple[int, ...]
    most: tuple[int, ...]
    takes: tuple[tuple[tuple[int, float], ...], ...]

    def limit(self, values: Sequence[float]) -> tuple[list[float], float]:
        """What each item is worth, and the most that one board can hold."""
        table = most_value(self.sizes, values, self.most, max(room for room, _ in self.offers))
        whole = sum(measure * float(table[room]) for room, measure in self.offers)
        return [sum(values[place] * much for place, much in take) for take in self.takes], whole


def systems(
    kind: int,
    piece: Piece,
    spacing: float,
    items: Sequence[Item],
    shapes: Sequence[tuple[CrossSections, CrossSections] | None],
) -> Iterator[System]:
    """All systems of a piece with grain; `shapes` are the items' sections by both axes, None for items that don't
    fit on it."""
    frame, counts = _Frame(piece, spacing / 2), [item.count for item in items]
    for axis in (0, 1):
        own = [pair[axis] if pair else None for pair in shapes]
        joined = all(one.whole for one in own if one)
        if system := _system(kind, axis, False, frame.offers(axis, joined), frame, own, counts):
            yield system
        for at in frame.marks(axis):
            offer = ((1.0, frame.free(axis, at, at, joined)),)
            if system := _system(kind, axis, True, offer, frame, own, counts, at):
                yield system


def _system(
    kind: int,
    axis: Axis,
    single: bool,
    offers: Sequence[tuple[float, tuple[float, ...]]],
    frame: _Frame,
    shapes: Sequence[CrossSections | None],
    counts: Sequence[int],
    at: float = 0.0,
) -> System | None:
    low, high = frame.span(axis)
    tick = tick_of(frame.across(axis))
    met = [[(int(size / tick + 1e-9), much) for size, much in _met(shape, single, at, low, high)] for shape in shapes]
    sizes = _levels(met, counts)
    if not sizes:
        return None
    found = [_taken(one, sizes) for one in met]
    often = {size: sum(count for one, count in zip(found, counts, strict=True) if size in one) for size in sizes}
    place = {size: n for n, size in enumerate(sizes)}
    return System(
        kind, axis, single, _rooms(offers, tick), sizes,
        tuple(often[size] for size in sizes),
        tuple(tuple((place[size], much) for size, much in sorted(taken.items())) for taken in found),
    )  # fmt: skip


def tick_of(length: float) -> float:
    """The step in which sizes on a line of this length are counted, mm."""
    return next((tick for tick in TICKS if length / tick <= MOST_TICKS), TICKS[-1])


def _levels(met: Sequence[Sequence[tuple[int, float]]], counts: Sequence[int]) -> tuple[int, ...]:
    """The sizes told apart: those of which the parts take most."""
    weights: dict[int, float] = {}
    for one, count in zip(met, counts, strict=True):
        for size, much in one:
            weights[size] = weights.get(size, 0.0) + size * much * count
    kept = sorted((size for size in weights if size > 0), key=lambda size: (-weights[size], size))[:MOST_SIZES]
    return tuple(sorted(kept))


def _taken(met: Sequence[tuple[int, float]], sizes: Sequence[int]) -> dict[int, float]:
    """How much of which size, each section as the largest size told apart that is no larger."""
    taken: dict[int, float] = {}
    for size, much in met:
        below = bisect_right(sizes, size)
        if below:
            taken[sizes[below - 1]] = taken.get(sizes[below - 1], 0.0) + much
    return taken


def _rooms(offers: Sequence[tuple[float, tuple[float, ...]]], tick: float) -> tuple[tuple[int, float], ...]:
    told: dict[int, float] = {}
    for measure, lengths in offers:
        for length in lengths:
            room = int((length + GIVEN) / tick)
            told[room] = told.get(room, 0.0) + measure
    while len(told) > MOST_ROOMS:
        rooms = sorted(told)
        lost = {(above - room) * told[room]: (room, above) for room, above in pairwise(rooms)}
        room, above = lost[min(lost)]
        told[above] += told.pop(room)
    return tuple(sorted(told.items())) or ((0, 0.0),)


def _met(
    shape: CrossSections | None, single: bool, at: float, low: float, high: float
) -> Iterator[tuple[float, float]]:
    """The sections of a part and how much of each: over all lines, or on the one at `at` wherever the part lies."""
    if shape is None:
        return
    if not single:
        yield from ((step.least, step.end - step.start) for step in shape.steps)
        return
    start, end = at - high + shape.extent - EDGE, at - low + EDGE
    if end >= start:
        yield shape.least(start, end), 1.0


class _Frame:
    """A piece's room grown by half a kerf, its defects shrunk by as much."""

    def __init__(self, piece: Piece, grown: float) -> None:
        self.room, self.grown = piece.room, grown
        self.knots = [(x, y, d / 2 - grown) for x, y, d in piece.defects if d / 2 > grown]
        areas = (Bounds(x, y, x + w, y + h).grown(-grown) for x, y, w, h in piece.defect_areas)
        self.areas = [area for area in areas if area.width > 0 and area.height > 0]

    def span(self, axis: Axis) -> tuple[float, float]:
        """Where parts may lie, along which the lines are counted."""
        return (self.room.left, self.room.right) if axis == 0 else (self.room.bottom, self.room.top)

    def across(self, axis: Axis) -> float:
        """How long a line is."""
        low, high = self.span(1 - axis)
        return high - low + 2 * self.grown

    def marks(self, axis: Axis) -> list[float]:
        """Lines worth looking at alone: the middle one, and those through the middles of defects."""
        low, high = self.span(axis)
        found = [(low + high) / 2, *(knot[axis] for knot in self.knots), *(box.centre[axis] for box in self.areas)]
        return sorted({round(at, 6) for at in found if low < at < high})

    def offers(self, axis: Axis, whole: bool) -> list[tuple[float, tuple[float, ...]]]:
        """How many lines have which free lengths."""
        low, high = (end + by for end, by in zip(self.span(axis), (-self.grown, self.grown), strict=True))
        events = {low, high}
        for knot in self.knots:
            half = (sin(i * pi / (2 * KNOT_STEPS)) * knot[2] for i in range(KNOT_STEPS + 1))
            events |= {knot[axis] + by * sign for by in half for sign in (-1, 1)}
        for box in self.areas:
            events |= {box[axis], box[axis + 2]}
        inside = sorted(at for at in events if low <= at <= high)
        told: dict[tuple[float, ...], float] = {}
        for start, end in pairwise(inside):
            lengths = self.free(axis, start, end, whole)
            told[lengths] = told.get(lengths, 0.0) + end - start
        longest = (round(self.across(axis), 6),)
        told[longest] = told.get(longest, 0.0) + GIVEN
        return [(measure, lengths) for lengths, measure in told.items()]

    def free(self, axis: Axis, start: float, end: float, whole: bool) -> tuple[float, ...]:
        """The free lengths of the lines from `start` to `end`, defects taken no longer than all of these meet them;
        added up where not all parts meet lines in one piece, since such parts may reach round a defect."""
        low, high = (e + by for e, by in zip(self.span(1 - axis), (-self.grown, self.grown), strict=True))
        taken = []
        for knot in self.knots:
            off = max(abs(start - knot[axis]), abs(end - knot[axis]))
            if off < knot[2]:
                half = sqrt(knot[2] ** 2 - off**2)
                taken.append((knot[1 - axis] - half, knot[1 - axis] + half))
        for box in self.areas:
            if box[axis] <= start and end <= box[axis + 2]:
                taken.append((box[1 - axis], box[3 - axis]))
        lengths, at = [], low
        for first, last in sorted(taken):
            if first > at:
                lengths.append(min(first, high) - at)
            at = max(at, min(last, high))
        lengths.append(high - at)
        lengths = [round(length, 6) for length in lengths if length > 0]
        return tuple(sorted(lengths)) if whole else (round(sum(lengths), 6),)

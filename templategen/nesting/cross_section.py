"""Cross-sections: how much of a straight line a part covers where it lies on a board.

A line across the board (or along it) meets the parts on it in pieces. What one part covers of the line at `t` is
its section there. Whatever can't be packed on lines can't be packed on boards, which is what the bound rests on.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, cos, pi

from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import polar

Axis = int
"""0: lines across the board, one for each x; 1: lines along it, one for each y."""

ROUND = pi / 24
"""Arcs become straight pieces of this angle at most, inside the part."""

SLANT_STEPS = 3
"""A slanted side is taken as steps, so many, inside the part."""

THIN = 1e-9
"""Slices thinner than this are passed over, mm."""

Ring = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Step:
    """A stretch of a part from `start` to `end` in which every line meets at least `least` of it, mm."""

    start: float
    end: float
    least: float


@dataclass(frozen=True, slots=True)
class CrossSections:
    """The sections of one part by lines of one axis, from 0 to `extent`, half a kerf beyond both ends included.

    `whole` tells whether every line meets the part in one piece.
    """

    steps: tuple[Step, ...]
    extent: float
    whole: bool

    def least(self, start: float, end: float) -> float:
        """The least section of all lines from `start` to `end`, whichever way round the part lies."""
        return min(self._least(start, end), self._least(self.extent - end, self.extent - start))

    def _least(self, start: float, end: float) -> float:
        if start < self.steps[0].start - THIN or end > self.steps[-1].end + THIN:
            return 0.0
        return min(step.least for step in self.steps if step.end > start - THIN and step.start < end + THIN)


def cross_sections(outline: Outline, turn: float, axis: Axis, grown: float) -> CrossSections:
    """The sections of a part turned by `turn` and grown by `grown` all round, never too large.

    A part is taken as a polygon inside it. On a line at t the grown part covers at least what the part does, and
    `grown` more at both sides; within `grown` beside it at least what the part covers at the nearest lines: the sum
    of two sets on a line is at least as long as both together (Brunn and Minkowski, one dimension).
    """
    ring = [(x, y) if axis == 0 else (y, x) for x, y in inner_ring(Placement(turn=turn).outline(outline))]
    low = min(x for x, _ in ring)
    ring = [(x - low, y) for x, y in ring]
    slabs = list(_slabs(ring))
    extent = max(x for x, _ in ring)
    marks = {x + by for slab in slabs for x in slab[:2] for by in ((0.0, grown, -grown) if grown else (0.0,))}
    steps = [step for start, end in pairwise(sorted(marks)) for step in _steps(slabs, start, end, grown)]
    return CrossSections(_joined(steps), extent, _whole(ring))


def inner_ring(outline: Outline) -> list[tuple[float, float]]:
    """A polygon that lies inside the outline."""
    return polygon_ring(outline, False, lambda _: ROUND)


def polygon_ring(outline: Outline, outside: bool, widest: Callable[[Arc], float]) -> list[tuple[float, float]]:
    """A polygon that holds the outline, or lies inside it: its corners are points on arcs that curve one way, and
    where tangents meet along the others; `widest` is the angle that a side may take of an arc."""
    ring: list[tuple[float, float]] = []
    for edge in outline.anticlockwise.edges:
        ring.append((edge.start.x, edge.start.y))
        if isinstance(edge, Arc):
            count = max(1, ceil(abs(edge.sweep) / widest(edge)))
            step = edge.sweep / count
            for i in range(count):
                if (edge.sweep > 0) == outside:
                    middle = edge.start_angle + (i + 0.5) * step
                    ring.append(tuple(edge.centre.plus(polar(edge.radius / cos(step / 2), middle))))  # type: ignore[arg-type]
                if i + 1 < count:
                    ring.append(tuple(edge.centre.plus(polar(edge.radius, edge.start_angle + (i + 1) * step))))  # type: ignore[arg-type]
    return ring


Slab = tuple[float, float, float, float]
"""Between two lines: where they are, and the sections just inside."""


def _slabs(ring: Ring) -> Iterator[Slab]:
    edges = [(a, b) if a[0] < b[0] else (b, a) for a, b in _sides(ring)]
    for start, end in pairwise(sorted({x for x, _ in ring})):
        if end - start <= THIN:
            continue
        crossing = []
        for (x, y), (u, v) in edges:
            if x <= start and u >= end and u > x:
                slope = (v - y) / (u - x)
                low, high = y + slope * (start - x), y + slope * (end - x)
                crossing.append((low + high, low, high))
        crossing.sort()
        signs = [(-1) ** (i + 1) for i in range(len(crossing))]
        first = sum(sign * low for sign, (_, low, _) in zip(signs, crossing, strict=True))
        last = sum(sign * high for sign, (_, _, high) in zip(signs, crossing, strict=True))
        yield start, end, max(0.0, first), max(0.0, last)


def _sides(ring: Ring) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    return zip(ring, [*ring[1:], ring[0]], strict=True)


def _steps(slabs: Sequence[Slab], start: float, end: float, grown: float) -> Iterator[Step]:
    """What the lines from `start` to `end` meet at least, a slant in steps."""
    if end - start <= THIN:
        return
    ways = [(0.0, 2 * grown), (grown, 0.0), (-grown, 0.0)] if grown else [(0.0, 0.0)]
    ends = [(way, more, *_at(slabs, start - way, end - way)) for way, more in ways]
    slanted = any(abs(first - last) > 0.05 for _, _, first, last in ends)
    count = SLANT_STEPS if slanted else 1
    for i in range(count):
        a, b = i / count, (i + 1) / count
        found = [
            min(first + (last - first) * a, first + (last - first) * b) + more
            for _, more, first, last in ends
            if first > 0 or last > 0
        ]
        if found:
            yield Step(start + (end - start) * a, start + (end - start) * b, max(found))


def _at(slabs: Sequence[Slab], start: float, end: float) -> tuple[float, float]:
    """The sections at both ends of a stretch within one slab; nothing outside."""
    middle = (start + end) / 2
    for left, right, first, last in slabs:
        if left <= middle <= right:
            slope = (last - first) / (right - left)
            return first + slope * (start - left), first + slope * (end - left)
    return 0.0, 0.0


def _joined(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Neighbours of one section as one step."""
    kept: list[Step] = []
    for step in steps:
        if kept and abs(kept[-1].least - step.least) < THIN and abs(kept[-1].end - step.start) < 2 * THIN:
            kept[-1] = Step(kept[-1].start, step.end, min(kept[-1].least, step.least))
        else:
            kept.append(step)
    return tuple(kept)


def _whole(ring: Ring) -> bool:
    """Whether lines meet the ring in one piece: its x runs up once and down once on the way round."""
    ways = [end[0] - start[0] for start, end in _sides(ring) if abs(end[0] - start[0]) > THIN]
    turns = sum(ways[i] * ways[i - 1] < 0 for i in range(len(ways)))
    return turns <= 2

"""Rows of parts of one width; mitred blanks lie head to tail, so that their slanted ends share the waste.

In a lane wider than the parts, head and tail may also be set off sideways: each of two slanted neighbours then slides
past the other by as much as they are set off (at 45 degrees), and the saw still goes through between them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum, hypot

from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.engines.block import Blank, Block, blanks
from templategen.nesting.stock import Item, Laid

MOST_CORNERS = 16
"""Outlines with arcs or more corners lie in a row as boxes."""

NEAR = 4
"""A part in a row is kept clear of so many before it; those further back are out of reach."""

STEP = 0.1
"""The lengths of a row are added up in steps of this, mm; rows are measured exactly afterwards."""


class Interlock:
    """The items of a job by width, and how close each lies to each in a row."""

    def __init__(self, items: Sequence[Item], spacing: float, plain: bool = False) -> None:
        self.spacing, self.plain = spacing, plain
        self._blanks = {item.code: blanks(item) for item in items}
        self._pitches: dict[tuple[str, bool, bool, str, bool, bool, float], float] = {}
        self._advances: dict[tuple[str, float], float] = {}
        self.families = self._families()

    def pitch(self, first: Blank, second: Blank, rise: float = 0.0) -> float:
        """How far the box of `second` starts behind the box of `first`, at least; it lies higher by `rise`."""
        key = first.item.code, first.half, first.over, second.item.code, second.half, second.over, rise
        if key not in self._pitches:
            corners = _corners(second, self.plain)
            lifted = [corner._replace(y=corner.y + rise) for corner in corners] if rise else corners
            self._pitches[key] = pitch(_corners(first, self.plain), lifted, self.spacing)
        return self._pitches[key]

    def advance(self, code: str, play: float = 0.0) -> float:
        """What one more copy adds to a row at most as often as not, in a lane wider than the item by `play`."""
        key = code, play
        if key not in self._advances:
            ways = self._blanks[code]
            turns = [(one, other) for one in ways for other in ways]
            level = min(self.pitch(a, b) + self.pitch(b, a) for a, b in turns)
            staggered = min(self.pitch(a, b, play) + self.pitch(b, a, -play) for a, b in turns) if play else level
            self._advances[key] = max(min(level, staggered), min(level, ways[0].size[0] + self.spacing)) / 2
        return self._advances[key]

    def gain(self, code: str, play: float = 0.0) -> float:
        """By how much a row is shorter than its copies' advances with a kerf behind each, at its last copy."""
        return self._blanks[code][0].size[0] + self.spacing - self.advance(code, play)

    def _families(self) -> tuple[tuple[str, ...], ...]:
        """The codes of one width, widest first."""
        families: dict[int, list[str]] = {}
        for code, ways in self._blanks.items():
            families.setdefault(round(ways[0].size[1] * 1e4), []).append(code)
        return tuple(tuple(families[width]) for width in sorted(families, reverse=True))

    def width(self, code: str) -> float:
        """Width of the item across the grain."""
        return self._blanks[code][0].size[1]

    def row(self, codes: Iterable[str], play: float = 0.0) -> Block:
        """One row of these copies, each turned, and set off by `play` or not, whichever way lies closer to those
        before."""
        placed: list[tuple[float, float, Blank]] = []
        for code in codes:
            ways = [(blank, y) for y in ((0.0, play) if play else (0.0,)) for blank in self._blanks[code]]
            starts = [max([0.0, *(x + self.pitch(b, t, y - v) for x, v, b in placed[-NEAR:])]) for t, y in ways]
            pick = next(n for n, start in enumerate(starts) if start <= min(starts) + 1e-9)
            placed.append((starts[pick], ways[pick][1], ways[pick][0]))
        length = max(x + blank.size[0] for x, _, blank in placed)
        laid = tuple(Laid(b.item.code, b.placement.then(Placement(x, y))) for x, y, b in placed)
        area = fsum(abs(blank.item.outline.area) for _, _, blank in placed)
        return Block(length, max(y + blank.size[1] for _, y, blank in placed), laid, area)

    def longest_row(self, codes: Sequence[str], room: float) -> Block | None:
        """The row out of these copies that fills `room` best, earlier ones first; None where no two fit.

        The sums that can be reached are kept as the bits of one number for each copy (a subset-sum table).
        """
        block = self.fullest_row(codes, room)
        return block if block is not None and len(block.laid) > 1 else None

    def fullest_row(self, codes: Sequence[str], room: float, play: float = 0.0) -> Block | None:
        """The same, one part alone allowed, in a lane wider than the parts by `play`."""
        steps = [max(1, int(self.advance(code, play) / STEP)) for code in codes]
        spare = min((self.gain(code, play) for code in codes), default=0.0)
        mask = (1 << max(1, int((room - spare + self.spacing) / STEP) + 1)) - 1
        reach = [1]
        for step in steps:
            reach.append((reach[-1] | reach[-1] << step) & mask)
        chosen = _chosen(codes, steps, reach)
        while chosen:
            block = self.row(chosen, play)
            if block.length <= room:
                return block
            chosen = chosen[:-1]
        return None


def pitch(first: Sequence[Point], second: Sequence[Point], spacing: float) -> float:
    """How far the second shape's origin must lie behind the first's along x for `spacing` between them.

    Any straight line between two shapes proves them apart; the best line along one of their edges is
    taken, which is exact but where two corners face each other.
    """
    best = float("inf")
    for normal in _normals(first, second):
        ahead = max(corner.dot(normal) for corner in first)
        behind = min(corner.dot(normal) for corner in second)
        best = min(best, (ahead - behind + spacing) / normal.x)
    return best


def _normals(*rings: Sequence[Point]) -> Iterable[Point]:
    yield Point(1.0, 0.0)
    for ring in rings:
        for index, start in enumerate(ring):
            across = ring[index - 1].minus(start).left
            if abs(across.x) > 1e-3 * hypot(*across):
                yield (across if across.x > 0 else across.times(-1)).unit


def _corners(blank: Blank, plain: bool) -> Sequence[Point]:
    ring = blank.item.outline
    if not plain and len(ring) <= MOST_CORNERS and not any(vertex.bulge for vertex in ring):
        return blank.corners
    length, width = blank.size
    return Point(0, 0), Point(length, 0), Point(length, width), Point(0, width)


def _chosen(codes: Sequence[str], steps: Sequence[int], reach: Sequence[int]) -> list[str]:
    total, chosen = reach[-1].bit_length() - 1, []
    for index in range(len(codes), 0, -1):
        if not reach[index - 1] >> total & 1:
            chosen.append(codes[index - 1])
            total -= steps[index - 1]
    return chosen

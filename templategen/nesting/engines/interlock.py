"""Rows of parts of one width; mitred blanks lie head to tail, so that their slanted ends share the waste."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import fsum, hypot

from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.engines.block import Blank, Block, blanks
from templategen.nesting.stock import Item, Laid

MOST_CORNERS = 16
"""Outlines with arcs or more corners lie in a row as boxes."""

STEP = 0.1
"""The lengths of a row are added up in steps of this, mm; rows are measured exactly afterwards."""


class Interlock:
    """The items of a job by width, and how close each lies to each in a row."""

    def __init__(self, items: Sequence[Item], spacing: float, plain: bool = False) -> None:
        self.spacing, self.plain = spacing, plain
        self._blanks = {item.code: blanks(item) for item in items}
        self._pitches: dict[tuple[str, bool, bool, str, bool, bool], float] = {}
        self._advance = {code: self._mean_pitch(code) for code in self._blanks}
        self.families = self._families()

    def pitch(self, first: Blank, second: Blank) -> float:
        """How far the box of `second` starts behind the box of `first`, at least."""
        key = first.item.code, first.half, first.over, second.item.code, second.half, second.over
        if key not in self._pitches:
            self._pitches[key] = pitch(_corners(first, self.plain), _corners(second, self.plain), self.spacing)
        return self._pitches[key]

    def _mean_pitch(self, code: str) -> float:
        ways = self._blanks[code]
        return min((self.pitch(one, other) + self.pitch(other, one)) / 2 for one in ways for other in ways)

    def _gain(self, code: str) -> float:
        return self._blanks[code][0].size[0] + self.spacing - self._advance[code]

    def _families(self) -> tuple[tuple[str, ...], ...]:
        """The codes of one width, widest first."""
        families: dict[int, list[str]] = {}
        for code, ways in self._blanks.items():
            families.setdefault(round(ways[0].size[1] * 1e4), []).append(code)
        return tuple(tuple(families[width]) for width in sorted(families, reverse=True))

    def width(self, code: str) -> float:
        """Width of the item across the grain."""
        return self._blanks[code][0].size[1]

    def row(self, codes: Iterable[str]) -> Block:
        """One row of these copies, each turned whichever way lies closer to those before."""
        placed: list[tuple[float, Blank]] = []
        for code in codes:
            starts = [max([0.0, *(x + self.pitch(b, t) for x, b in placed[-3:])]) for t in self._blanks[code]]
            pick = next(n for n, start in enumerate(starts) if start <= min(starts) + 1e-9)
            placed.append((starts[pick], self._blanks[code][pick]))
        length = max(x + blank.size[0] for x, blank in placed)
        laid = tuple(Laid(b.item.code, b.placement.then(Placement(x, 0.0))) for x, b in placed)
        area = fsum(abs(blank.item.outline.area) for _, blank in placed)
        return Block(length, max(blank.size[1] for _, blank in placed), laid, area)

    def longest_row(self, codes: Sequence[str], room: float) -> Block | None:
        """The row out of these copies that fills `room` best, earlier ones first; None where no two fit.

        The sums that can be reached are kept as the bits of one number for each copy (a subset-sum table).
        """
        block = self.fullest_row(codes, room)
        return block if block is not None and len(block.laid) > 1 else None

    def fullest_row(self, codes: Sequence[str], room: float) -> Block | None:
        """The same, one part alone allowed."""
        steps = [max(1, int(self._advance[code] / STEP)) for code in codes]
        spare = min((self._gain(code) for code in codes), default=0.0)
        mask = (1 << max(1, int((room - spare + self.spacing) / STEP) + 1)) - 1
        reach = [1]
        for step in steps:
            reach.append((reach[-1] | reach[-1] << step) & mask)
        chosen = _chosen(codes, steps, reach)
        while chosen:
            block = self.row(chosen)
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

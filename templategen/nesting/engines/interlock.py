"""Rows of parts of one width; mitred blanks lie head to tail, so that their slanted ends share the waste.

In a lane wider than the parts, head and tail may also be set off sideways: each of two slanted neighbours then slides
past the other by as much as they are set off (at 45 degrees). A straight cut parts every copy from all those before
it, so a row can be sawn from its last part to its first.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import fsum, hypot
from typing import NamedTuple

from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.nesting.cutting_order import sawn_shape
from templategen.nesting.engines.block import Blank, Block, blanks
from templategen.nesting.stock import Item, Laid

STEP = 0.1
"""The lengths of a row are added up in steps of this, mm; rows are measured exactly afterwards."""


class _Way(NamedTuple):
    """A blank in one of its orientations: how far back and ahead it reaches along each direction square to a slant of
    its family, and which of those slants are its own."""

    blank: Blank
    back: tuple[float, ...]
    ahead: tuple[float, ...]
    own: frozenset[int]


class Interlock:
    """The items of a job by width, and how close each lies to each in a row."""

    def __init__(self, items: Sequence[Item], spacing: float, plain: bool = False) -> None:
        self.spacing = spacing
        self._ways: dict[str, tuple[_Way, ...]] = {}
        self._normals: dict[str, tuple[Point, ...]] = {}
        self._advances: dict[tuple[str, float], float] = {}
        families: dict[int, dict[str, tuple[Blank, ...]]] = {}
        for item in items:
            ways = blanks(item)
            families.setdefault(round(ways[0].size[1] * 1e4), {})[item.code] = ways
        self.families = tuple(tuple(families[width]) for width in sorted(families, reverse=True))
        """The codes of one width, widest first."""
        for family in families.values():
            self._measure(family, plain)

    def _measure(self, family: Mapping[str, tuple[Blank, ...]], plain: bool) -> None:
        normals: dict[tuple[float, float], Point] = {(1.0, 0.0): Point(1.0, 0.0)}
        for ways in family.values():
            normals |= {key: normal for way in ways for key, normal in _slants(_shape(way, plain))}
        for code, ways in family.items():
            self._normals[code] = tuple(normals.values())
            self._ways[code] = tuple(_way(blank, _shape(blank, plain), normals) for blank in ways)

    def advance(self, code: str, play: float = 0.0) -> float:
        """What one more copy adds to a row at most as often as not, in a lane wider than the item by `play`."""
        key = code, play
        if key not in self._advances:
            pairs = [(one, other) for one in self._ways[code] for other in self._ways[code]]

            def there_and_back(rise: float) -> float:
                return min(self._pitch(code, a, b, rise) + self._pitch(code, b, a, -rise) for a, b in pairs)

            level = there_and_back(0.0)
            staggered = there_and_back(play) if play else level
            boxed = self._ways[code][0].blank.size[0] + self.spacing
            self._advances[key] = max(min(level, staggered), min(level, boxed)) / 2
        return self._advances[key]

    def _pitch(self, code: str, first: _Way, second: _Way, rise: float) -> float:
        """How far the box of `second` starts behind that of `first`, at least; it lies higher by `rise`."""
        return self._start(code, first.ahead, first.own | second.own, second, rise)

    def _start(self, code: str, far: Sequence[float], allowed: Iterable[int], way: _Way, rise: float) -> float:
        """Where a copy starts, lifted by `rise`, so that one straight cut parts it from all that reaches as `far`;
        the cut runs square to the row, or along one of their own sides, which a saw is set to anyway."""
        normals, spacing, back = self._normals[code], self.spacing, way.back
        return min((far[n] - back[n] - rise * normals[n].y + spacing) / normals[n].x for n in allowed)

    def gain(self, code: str, play: float = 0.0) -> float:
        """By how much a row is shorter than its copies' advances with a kerf behind each, at its last copy."""
        return self._ways[code][0].blank.size[0] + self.spacing - self.advance(code, play)

    def width(self, code: str) -> float:
        """Width of the item across the grain."""
        return self._ways[code][0].blank.size[1]

    def row(self, codes: Iterable[str], play: float = 0.0) -> Block:
        """One row of these copies, each turned, and set off by `play` or not, whichever way lies closer to those
        before."""
        placed: list[tuple[float, float, Blank]] = []
        far: list[float] = []
        known: frozenset[int] = frozenset()
        for code in codes:
            ways = [(way, y) for y in ((0.0, play) if play else (0.0,)) for way in self._ways[code]]
            starts = [max(0.0, self._start(code, far, known | w.own, w, y)) if far else 0.0 for w, y in ways]
            pick = next(n for n, start in enumerate(starts) if start <= min(starts) + 1e-9)
            (way, y), x = ways[pick], starts[pick]
            placed.append((x, y, way.blank))
            moved = [x * n.x + y * n.y + end for n, end in zip(self._normals[code], way.ahead, strict=True)]
            far, known = [max(pair) for pair in zip(far, moved, strict=True)] if far else moved, known | way.own
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


def _shape(blank: Blank, plain: bool) -> Sequence[Point]:
    """What of a blank keeps clear of others: the shape that a saw frees, or its box."""
    if not plain:
        return sawn_shape(blank.placement.outline(blank.item.outline))
    length, width = blank.size
    return Point(0, 0), Point(length, 0), Point(length, width), Point(0, width)


def _slants(shape: Sequence[Point]) -> Iterator[tuple[tuple[float, float], Point]]:
    """The directions square to its slanted and upright sides, each with a key that tells it from others."""
    for index, start in enumerate(shape):
        across = shape[index - 1].minus(start).left
        if abs(across.x) > 1e-3 * hypot(*across):
            normal = (across if across.x > 0 else across.times(-1)).unit
            yield (round(normal.x, 9), round(normal.y, 9)), normal


def _way(blank: Blank, shape: Sequence[Point], normals: Mapping[tuple[float, float], Point]) -> _Way:
    spans = [[corner.dot(normal) for corner in shape] for normal in normals.values()]
    own = {key for key, _ in _slants(shape)} | {(1.0, 0.0)}
    allowed = frozenset(number for number, key in enumerate(normals) if key in own)
    return _Way(blank, tuple(map(min, spans)), tuple(map(max, spans)), allowed)


def _chosen(codes: Sequence[str], steps: Sequence[int], reach: Sequence[int]) -> list[str]:
    total, chosen = reach[-1].bit_length() - 1, []
    for index in range(len(codes), 0, -1):
        if not reach[index - 1] >> total & 1:
            chosen.append(codes[index - 1])
            total -= steps[index - 1]
    return chosen

"""Bounds by conservative scales: parts as rectangles whose lengths and widths are both measured anew.

A scale gives sizes on a line other sizes, so that whatever fits on the line still fits. If rectangles can be packed
on a board, then rectangles with scaled lengths and widths can be packed on one of scaled length and width (S. P.
Fekete and J. Schepers, A general framework for bounds for higher-dimensional orthogonal packing problems, 2004). So
the products of both add up to no more than 1 on any board. Where two parts of 1100 mm fill a board of 2400 mm, each
counts as half of its length: no line says that, since lines measure one direction as it is.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from math import inf
from typing import TYPE_CHECKING, Any

from templategen.geometry.placement import Placement
from templategen.nesting.cross_section import inner_ring
from templategen.nesting.knapsack import most_value
from templategen.nesting.line_limits import CLEAR, Effort, Limit, sharp_limit
from templategen.nesting.line_systems import EDGE, GIVEN, System, tick_of
from templategen.nesting.stock import Item, Piece

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

    Row = NDArray[float64]

HEIGHTS = 8
"""Rectangles in a part with slanting ends reach over so many steps of its width."""

FRACTIONS = range(1, 7)
"""Scales of parts of a line: a half, a third ... as many more than one of which each size is."""

MOST_SIZES = 24
"""Sizes that scales are made from, for each direction."""

BEST, TURNS = 3, 3
"""So many of the best pairs of scales are sharpened, and how often, by turns in one direction and the other."""

Size = tuple[float, float]
Scale = Callable[[int], float]


class Scales:
    """The scales for one kind of stock; rectangles are told in ticks, lengths (0) and widths (1)."""

    def __init__(self, kind: int, piece: Piece, spacing: float, items: Sequence[Item], fits: Sequence[bool]) -> None:
        import numpy as np

        self.kind, self.counts = kind, [item.count for item in items]
        room = piece.room.width + spacing, piece.room.height + spacing
        ticks = tuple(tick_of(size) for size in room)
        self.rooms = tuple(int((size + GIVEN) / tick) for size, tick in zip(room, ticks, strict=True))
        found = [
            (number, tuple(int(size / tick) for size, tick in zip(one, ticks, strict=True)))
            for number, (item, fit) in enumerate(zip(items, fits, strict=True))
            if fit
            for one in rectangles(item, spacing / 2)
        ]
        found = [(number, one) for number, one in found if min(one) > 0]
        self.items = [number for number, _ in found]
        self.sizes = tuple([one[axis] for _, one in found] for axis in (0, 1))
        self.rows: tuple[Row, ...] = tuple(
            np.array([[scale(size) for size in self.sizes[axis]] for scale in self._usual(axis)]) for axis in (0, 1)
        )

    def limits(self, pieces: float, copies: Sequence[float], work: Effort) -> list[Limit]:
        """Limits that so many copies on so many pieces exceed; none where no scale shows it."""
        return [one for one in self._found(pieces, copies, work) if one.passed(pieces, copies) > CLEAR]

    def _found(self, pieces: float, copies: Sequence[float], work: Effort) -> Iterator[Limit]:
        for row_0, row_1 in self._best(copies):
            yield self._limit(row_0 * row_1)
            for axis, row in ((0, row_0), (1, row_1)):
                for turn in range(TURNS):
                    sharper = self._sharpened((axis + turn) % 2, row, pieces, copies, work)
                    if sharper is None:
                        break
                    limit, row = sharper
                    yield limit

    def _best(self, copies: Sequence[float]) -> list[tuple[Row, Row]]:
        """The pairs of usual scales by which these copies count most."""
        import numpy as np

        if not self.items:
            return []
        starts = [at for at, item in enumerate(self.items) if at == 0 or self.items[at - 1] != item]
        wanted = np.array([copies[self.items[at]] for at in starts])
        counted = np.array(
            [np.maximum.reduceat(self.rows[1] * row, starts, axis=1) @ wanted for row in self.rows[0]]
        )  # fmt: skip
        order = np.argsort(-counted, axis=None, kind="stable")[:BEST]
        return [(self.rows[0][at // counted.shape[1]], self.rows[1][at % counted.shape[1]]) for at in order.tolist()]

    def _limit(self, values: Row) -> Limit:
        """Each part counts as the rectangle in it that is worth most."""
        told = [0.0] * len(self.counts)
        for item, worth in zip(self.items, values.tolist(), strict=True):
            told[item] = max(told[item], worth)
        return Limit(self.kind, tuple(told), 1.0)

    def _sharpened(
        self, axis: int, row: Row, pieces: float, copies: Sequence[float], work: Effort
    ) -> tuple[Limit, Row] | None:
        """The sharpest limit with this scale along `axis`, and the scale of the other direction that it takes; None
        where no limit is passed."""
        picked = self._picked(row, self.sizes[1 - axis])
        sizes = tuple(sorted({self.sizes[1 - axis][at] for at in picked.values()}))
        if not sizes:
            return None
        takes: list[tuple[tuple[int, float], ...]] = [()] * len(self.counts)
        most = [0] * len(sizes)
        for item, at in picked.items():
            place = sizes.index(self.sizes[1 - axis][at])
            takes[item] = ((place, float(row[at])),)
            most[place] += self.counts[item]
        offers = ((self.rooms[1 - axis], 1.0),)
        system = System(self.kind, 1 - axis, False, offers, sizes, tuple(most), tuple(takes))
        limit = sharp_limit(system, pieces, copies, work)
        if limit is None:
            return None
        values = [0.0] * len(sizes)
        for take, worth in zip(takes, limit.values, strict=True):
            for place, much in take:
                values[place] = worth / much
        return limit, self._row(1 - axis, sizes, values)

    def _picked(self, row: Row, sizes: Sequence[int]) -> dict[int, int]:
        """The rectangle of each part that counts most."""
        picked: dict[int, int] = {}
        for at, item in enumerate(self.items):
            if row[at] > 0 and (item not in picked or row[at] * sizes[at] > row[picked[item]] * sizes[picked[item]]):
                picked[item] = at
        return picked

    def _row(self, axis: int, sizes: Sequence[int], values: Sequence[float]) -> Row:
        """A scale from the values of sizes, others taken as the next smaller; conservative for any number of each."""
        import numpy as np

        room = self.rooms[axis]
        held = float(most_value(sizes, values, [room // size for size in sizes], room)[room])
        below = [bisect_right(sizes, size) - 1 for size in self.sizes[axis]]
        return np.array([values[at] / held if at >= 0 and held > 0 else 0.0 for at in below])

    def _usual(self, axis: int) -> Iterator[Scale]:
        """Scales known for all sizes: as they are, parts of the line, small ones left out, counted in whole steps."""
        room = self.rooms[axis]
        yield lambda size: size / room
        for parts in FRACTIONS:
            yield lambda size, parts=parts: _in_parts(size, room, parts)  # type: ignore[misc]
        steps = sorted({size for size in self.sizes[axis] if 0 < 2 * size <= room})
        for step in steps[:: max(1, -(-len(steps) // MOST_SIZES))]:
            yield lambda size, step=step: 1.0 if size > room - step else size / room if size >= step else 0.0  # type: ignore[misc]
            yield lambda size, step=step: _in_steps(size, room, step)  # type: ignore[misc]


def _in_parts(size: int, room: int, parts: int) -> float:
    """Rounded down to parts of the line, except where it is just so many of them and one more."""
    counted = (parts + 1) * size
    return size / room if counted % room == 0 else counted // room / parts


def _in_steps(size: int, room: int, step: int) -> float:
    """Whole steps, those of the rest left out for a size beyond half of the line."""
    if 2 * size == room:
        return 0.5
    return size // step / (room // step) if 2 * size < room else 1 - (room - size) // step / (room // step)


def rectangles(item: Item, grown: float) -> list[Size]:
    """Lengths and widths of rectangles along the grain that lie in a part grown by so much; none for hollow
    parts."""
    from shapely import LineString, Polygon

    shape = Polygon(inner_ring(Placement(turn=item.grain_turn).outline(item.outline)))
    if shape.convex_hull.area - shape.area > shape.area * 1e-9:
        return []
    left, bottom, right, top = shape.bounds
    ends = []
    for step in range(HEIGHTS + 1):
        y = min(max(bottom + (top - bottom) * step / HEIGHTS, bottom + EDGE), top - EDGE)
        line = LineString([(left - 1, y), (right + 1, y)]).intersection(shape)
        ends.append((line.bounds[0], line.bounds[2], y) if not line.is_empty else (inf, -inf, y))
    found = {
        (min(a[1], b[1]) - max(a[0], b[0]) + 2 * grown - EDGE, b[2] - a[2] + 2 * grown)
        for a, b in combinations(ends, 2)
        if min(a[1], b[1]) > max(a[0], b[0])
    }
    return sorted(one for one in found if not _covered(one, found))


def _covered(one: Size, others: Any) -> bool:
    return any(other != one and other[0] >= one[0] and other[1] >= one[1] for other in others)

"""Seams: where two pages meet, and the marks that agree only when they lie right."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from templategen.geometry.bounds import Bounds
from templategen.paper.grid import Grid, Tile, letters

ARM = 5.0
"""How far a cross runs beyond the overlap, and half its length along the seam, mm."""

WEDGE = 4.0
"""Height of the half diamonds on both sides of the line, mm; they are half as much again wide."""

STEP = 3.0
"""Distance between the places tried for a mark, mm."""

CORNER = 14.0
"""Marks of two seams that cross keep so far from the corner, mm."""

EDGE = 8.0
"""Where no other seam crosses they may come so near to the window's edge, mm."""

LONG = 330.0
"""Seams longer than this have a third cross, mm."""


@dataclass(frozen=True, slots=True)
class Seam:
    """The overlap of two pages, from `low` along x (axis 0) or y (axis 1), `lap` wide, in the paper frame.

    `over` is the page on the low side: it is cut along the high edge and laid on `under`. `crosses` and
    `witness` are places along the seam; both pages show the same.
    """

    axis: int
    low: float
    lap: float
    over: Tile
    under: Tile
    crosses: tuple[float, ...]
    witness: float
    name: str

    @property
    def high(self) -> float:
        """The line on which the upper page is cut and up to which the lower one is covered."""
        return self.low + self.lap

    def spot(self, across: float, along: float) -> tuple[float, float]:
        """A point across and along the seam, as (x, y)."""
        return (across, along) if self.axis == 0 else (along, across)


def seams_of(grid: Grid, inked: Mapping[tuple[int, int], Sequence[Bounds]]) -> tuple[Seam, ...]:
    """Every seam between two printed pages; marks stand clear of the ink (by column and row) where there is room."""
    found: list[Seam] = []
    for tile in grid.tiles:
        for axis, other in ((0, grid.neighbour(tile, 1, 0)), (1, grid.neighbour(tile, 0, -1))):
            if other is not None:
                ink = {*inked.get((tile.column, tile.row), ()), *inked.get((other.column, other.row), ())}
                found.append(_seam(grid, tile, other, axis, ink, letters(len(found)).lower()))
    return tuple(found)


def _seam(grid: Grid, over: Tile, under: Tile, axis: int, inked: Iterable[Bounds], name: str) -> Seam:
    low, lap = under.window[axis], grid.overlap
    crossed = (grid.rows if axis == 0 else grid.columns) > 1
    edge = lap + CORNER if crossed else EDGE
    first, last = under.window[1 - axis] + edge, under.window[3 - axis] - edge
    near = [box for box in inked if box[axis] < low + lap + 10 and box[axis + 2] > low - 10]
    spans = [(box[1 - axis], box[3 - axis]) for box in near]
    length, middle = last - first, (first + last) / 2
    ends = [
        _clear(spans, first, first + 0.42 * length, first, 6.0),
        _clear(spans, last - 0.42 * length, last, last, 6.0),
    ]
    if length > LONG:
        ends.insert(1, _clear(spans, middle - 0.1 * length, middle + 0.1 * length, middle, 6.0))
    reach = lap / 2 + 9
    spots = [*spans, *((end - 8, end + 8) for end in ends for _ in range(9))]
    witness = _clear(spots, min(first + reach, middle), max(last - reach, middle), middle, reach)
    return Seam(axis, low, lap, over, under, tuple(sorted(set(ends))), witness, name)


def _clear(spans: Sequence[tuple[float, float]], low: float, high: float, wish: float, half: float) -> float:
    """The place between `low` and `high` with least ink within `half`, the nearest to `wish` of equal ones."""
    count = max(1, int((high - low) / STEP)) if high > low else 0
    places = [low + (high - low) * i / count for i in range(count + 1)] if count else [(low + high) / 2]

    starts, ends = sorted(a for a, _ in spans), sorted(b for _, b in spans)

    def ink(place: float) -> tuple[int, float]:
        met = bisect_left(starts, place + half) - bisect_right(ends, place - half)
        return met, abs(place - wish)

    return min(places, key=ink)


def seam_boxes(seam: Seam) -> Iterator[Bounds]:
    """Boxes round a seam's marks, to keep words away from."""
    for along in (*seam.crosses, seam.witness):
        half = 12.0 if along != seam.witness else seam.lap / 2 + 10
        a, b = seam.spot(seam.low - 10, along - half), seam.spot(seam.high + 10, along + half)
        yield Bounds(*a, *b)

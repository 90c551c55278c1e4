"""Fields of cells: a sheet, and an outline as it may lie there, each one whole number with a bit for each cell.

The bits run up the first column, then up the next. A shift moves a field, and all places where an outline finds room
come out of a few shifts of the whole sheet. Cells that an outline with half of the spacing round it touches are its
own, so that a layout keeps the spacing whatever the size of the cells, which only costs room.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import groupby
from math import ceil
from typing import TYPE_CHECKING, Any

from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.placement import QUARTER, Placement
from templategen.geometry.refine import fine_polyline
from templategen.nesting.stock import Item, Laid, Piece

if TYPE_CHECKING:
    import numpy

    Cells = numpy.ndarray[Any, numpy.dtype[numpy.bool_]]

CELL = 3.0
"""How wide a cell is, mm; smaller ones lay hardly closer and take longer."""

FINE = 0.005
"""How far a chord may be from its arc, mm; outlines with arcs are taken for twice as much larger."""

TOUCH = 1e-9
"""Less than this share of a cell isn't touched: sums of sizes are off by as much."""

Runs = tuple[tuple[int, int], ...]
"""First cell and number of cells of each stretch of a column that is taken."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """An item as it may lie, so many quarters from its grain: `way` brings it so that the cells' lower left corner is
    the origin; columns that are alike, one beside the other, as one: their number, and what of them is taken."""

    code: str
    quarters: int
    way: Placement
    across: int
    up: int
    columns: tuple[tuple[int, Runs], ...]
    cells: int
    masks: dict[int, int] = field(default_factory=dict)

    def mask(self, stride: int) -> int:
        """Its field, on a sheet with so many cells up."""
        if stride not in self.masks:
            at = whole = 0
            for number, runs in self.columns:
                column = sum(((1 << size) - 1) << first for first, size in runs)
                whole |= _repeated(column, stride, number) << at * stride
                at += number
            self.masks[stride] = whole
        return self.masks[stride]


def ways_to_lie(item: Item, apart: float, hollow: float) -> tuple[Lying, ...]:
    """All ways by quarters, of those that take the same cells the first; as its box where the item fills no
    less of that than the share `hollow`."""
    import numpy

    along = Placement(turn=item.grain_turn)
    cells, corner = _cells(item, along, apart, hollow)
    across, up = (CELL * number for number in cells.shape)
    way = along.then(Placement(-corner[0], -corner[1]))
    back = (
        Placement(),
        Placement(up, 0.0, QUARTER),
        Placement(across, up, 2 * QUARTER),
        Placement(0.0, across, 3 * QUARTER),
    )
    known: dict[tuple[tuple[int, ...], bytes], Lying] = {}
    for quarters, turn in enumerate(back):
        turned = numpy.rot90(cells, quarters)
        key = turned.shape, turned.tobytes()
        known.setdefault(key, _lying(item, quarters, way.then(turn), turned))
    return tuple(known.values())


def _cells(item: Item, along: Placement, apart: float, hollow: float) -> tuple[Cells, tuple[float, float]]:
    """The cells that an item takes as it lies along the grain, column by column, and their lower left corner."""
    import numpy
    import shapely

    outline = along.outline(item.outline)
    box = outline.bounds
    if abs(outline.area) >= hollow * box.width * box.height:
        outline = rectangle(*box)
    curved = not all(isinstance(edge, Line) for edge in outline.edges)
    shape = shapely.Polygon(fine_polyline(outline, FINE)).buffer(apart / 2 + 2 * FINE * curved, join_style="mitre")
    left, bottom, right, top = shape.bounds
    size = tuple(max(1, ceil((high - low) / CELL - TOUCH)) for low, high in ((left, right), (bottom, top)))
    taken = numpy.zeros(size, dtype=bool)
    strips = [shapely.box(left + CELL * n, bottom - 1, left + CELL * (n + 1), top + 1) for n in range(size[0])]
    pieces, columns = shapely.get_parts(shapely.intersection(strips, shape), return_index=True)
    for (_, low, _, high), column in zip(shapely.bounds(pieces).tolist(), columns.tolist(), strict=True):
        first = int((low - bottom) / CELL + TOUCH)
        taken[column, first : max(first + 1, ceil((high - bottom) / CELL - TOUCH))] = True
    return taken, (left, bottom)


def _lying(item: Item, quarters: int, way: Placement, cells: Cells) -> Lying:
    alike = (list(columns) for _, columns in groupby(cells, key=lambda column: column.tobytes()))
    columns = tuple((len(found), _runs(found[0])) for found in alike)
    across, up = cells.shape
    return Lying(item.code, quarters, way, across, up, columns, int(cells.sum()))


def _runs(column: Cells) -> Runs:
    import numpy

    change = numpy.flatnonzero(numpy.diff(column.astype(numpy.int8), prepend=0, append=0)).tolist()
    return tuple((first, end - first) for first, end in zip(change[::2], change[1::2], strict=True))


class Field:
    """A piece of stock that is being filled."""

    def __init__(self, piece: Piece, apart: float) -> None:
        self.piece = piece
        self.laid: list[Laid] = []
        self.full: set[Lying] = set()
        room, half = piece.room, apart / 2
        self.corner = room.left - half, room.bottom - half
        self.across, self.up = (max(0, int((size + 2 * half) / CELL + TOUCH)) for size in (room.width, room.height))
        self.taken = 0
        for box in piece.defect_boxes:
            self.taken |= self._box(box.grown(half))
        self._forget()

    @property
    def free(self) -> int:
        """How many cells nothing lies on."""
        return self.across * self.up - self.taken.bit_count()

    def takes(self, ways: tuple[Lying, ...]) -> bool:
        """Lays what may lie in these ways where it reaches least far to the right, then up; False for no room."""
        spots = [(*self._reach(one, spot), one, spot) for one in ways if (spot := self._first(one)) is not None]
        if not spots:
            return False
        _, _, one, spot = min(spots, key=lambda found: found[:2])
        self.taken |= one.mask(self.up) << spot
        self._forget()
        x, y = (corner + CELL * cell for corner, cell in zip(self.corner, divmod(spot, self.up), strict=True))
        self.laid.append(Laid(one.code, one.way.then(Placement(x, y))))
        return True

    def _reach(self, one: Lying, spot: int) -> tuple[int, int]:
        column, row = divmod(spot, self.up)
        return column + one.across, row + one.up

    def _first(self, one: Lying) -> int | None:
        """The leftmost, then lowest place for it; None once there is none, and so for good."""
        if one in self.full:
            return None
        room = self._places(one) & ~self._meeting(one)
        if not room:
            self.full.add(one)
            return None
        return (room & -room).bit_length() - 1

    def _places(self, one: Lying) -> int:
        """All places on the empty sheet."""
        if one.across > self.across or one.up > self.up:
            return 0
        return _repeated((1 << (self.up - one.up + 1)) - 1, self.up, self.across - one.across + 1)

    def _meeting(self, one: Lying) -> int:
        """All places at which it would meet what is taken."""
        at = meeting = 0
        for number, runs in one.columns:
            for first, size in runs:
                if size not in self.swept:
                    self.swept[size] = _swept(self.powers, size, 1)
                meeting |= _swept([self.swept[size]], number, self.up) >> (at * self.up + first)
            at += number
        return meeting

    def _forget(self) -> None:
        """What was swept of the field as it was."""
        self.powers, self.swept = [self.taken], dict[int, int]()

    def _box(self, box: Bounds) -> int:
        """The field of a rectangle of the sheet, every cell that it touches."""
        (left, right), (bottom, top) = (
            (max(0, int((low - corner) / CELL)), min(most, ceil((high - corner) / CELL)))
            for low, high, corner, most in (
                (box.left, box.right, self.corner[0], self.across),
                (box.bottom, box.top, self.corner[1], self.up),
            )
        )
        if left >= right or bottom >= top:
            return 0
        return _repeated(((1 << (top - bottom)) - 1) << bottom, self.up, right - left) << left * self.up


def _swept(powers: list[int], size: int, step: int) -> int:
    """A field, the first of its `powers`, moved down by 0, 1, ... `size` - 1 steps, all in one; what is doubled
    on the way is put to the powers."""
    top = size.bit_length() - 1
    while len(powers) <= top:
        powers.append(powers[-1] | powers[-1] >> (step << (len(powers) - 1)))
    return powers[top] | powers[top] >> (size - (1 << top)) * step


def _repeated(column: int, stride: int, number: int) -> int:
    """A column so many times, one beside the other."""
    whole, at, size = 0, 0, 1
    while number:
        if number & 1:
            whole |= column << at * stride
            at += size
        column |= column << size * stride
        size, number = 2 * size, number >> 1
    return whole

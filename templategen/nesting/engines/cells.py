"""Parts laid by their own outlines, so that what is hollow in one holds others: cheap sheets need no more than that.

A few fillings of each set of pieces that would cost less, the same on every machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import fsum

from templategen.nesting.engines.field import Field, Lying, ways_to_lie
from templategen.nesting.engines.job import costs_of
from templategen.nesting.stock import Item, Layout, Piece, Sheet

ORDERS: tuple[Callable[[Item], float], ...] = (
    lambda item: item.outline.bounds.width * item.outline.bounds.height,
    lambda item: abs(item.outline.area),
    lambda item: item.outline.bounds.width + item.outline.bounds.height,
)
"""Largest box first, most wood first, longest way round first."""

HOLLOW = 0.75
"""What fills less of its box is laid by its outline first."""

MOST_SETS = 12
"""Cheaper sets of pieces tried at most, cheapest first, after each that held everything."""


def cheaper(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, least: float) -> Layout:
    """`layout`, or one on cheaper pieces, or fewer as cheap, that holds no less; `least` is what any layout costs.

    Only for pieces that are routed: no saw frees parts that lie in each other's hollows.
    """
    wanted = [item for item in items if item.count > 0]
    if layout.unplaced or not wanted or any(piece.mode != "routed" for piece in pieces):
        return layout
    cells = _Cells(wanted, pieces, spacing)
    while (found := next(cells.cheaper(layout, least), None)) is not None:
        layout = found
    return layout


@dataclass(frozen=True, slots=True)
class _Manner:
    """How close parts are laid: outlines that fill less than a share of their boxes as what they are, others as their
    boxes; and how many times as far apart as they must be."""

    hollow: float
    apart: float


MANNERS = tuple(_Manner(*one) for one in ((HOLLOW, 1.75), (HOLLOW, 1.25), (HOLLOW, 1.0), (1.0, 1.0)))
"""The roomiest first: where parts lie straight and far from each other tabs find room."""


class _Cells:
    """A job in cells: its parts as they may lie on each kind of piece."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
        self.items, self.pieces, self.spacing = items, pieces, spacing
        self.costs = costs_of(pieces)
        self.lying: dict[tuple[str, float, float], tuple[Lying, ...]] = {}

    def cheaper(self, layout: Layout, least: float) -> Iterator[Layout]:
        """Layouts of everything on sets of pieces next to those in use that cost less, or as much and are fewer."""
        used = [self.pieces.index(sheet.piece) for sheet in layout.sheets]
        for kinds in sorted(set(self._sets(used)), key=lambda kinds: (self._cost(kinds), kinds))[:MOST_SETS]:
            if kinds and self._cost(kinds) >= round(least, 6):
                fillings = (self._filled(kinds, manner, order) for manner in MANNERS for order in ORDERS)
                yield from (found for found in fillings if found is not None)

    def _sets(self, used: Sequence[int]) -> Iterator[tuple[int, ...]]:
        """Those in use but for one, and with a cheaper one in its place."""
        for gone in set(used):
            rest = Counter(used) - Counter([gone])
            yield tuple(sorted(rest.elements()))
            for kind, piece in enumerate(self.pieces):
                if self.costs[kind] < self.costs[gone] and (piece.count is None or rest[kind] < piece.count):
                    yield tuple(sorted((rest + Counter([kind])).elements()))

    def _cost(self, kinds: Sequence[int]) -> float:
        return round(fsum(self.costs[kind] for kind in kinds), 6)

    def _filled(self, kinds: Sequence[int], manner: _Manner, order: Callable[[Item], float]) -> Layout | None:
        """Each part in the first piece that has room for it, there as far left and then as low as it goes; None where
        one finds none."""
        fields = [Field(self.pieces[kind], self._apart(self.pieces[kind], manner)) for kind in kinds]
        needs = (self._turns(item, fields[0].piece, manner)[0].cells * item.count for item in self.items)
        if sum(needs) > sum(field.free for field in fields):
            return None
        for item in sorted(self.items, key=lambda item: (-order(item), item.code)):
            for _ in range(item.count):
                if not any(field.takes(self._turns(item, field.piece, manner)) for field in fields):
                    return None
        numbers: Counter[str] = Counter()
        sheets = []
        for field in (one for one in fields if one.laid):
            numbers[field.piece.name] += 1
            sheets.append(Sheet(field.piece, numbers[field.piece.name], tuple(field.laid)))
        return Layout(tuple(sheets))

    def _apart(self, piece: Piece, manner: _Manner) -> float:
        return piece.apart(self.spacing) * manner.apart

    def _turns(self, item: Item, piece: Piece, manner: _Manner) -> tuple[Lying, ...]:
        """The ways an item may lie on a piece, those that are alike once."""
        apart = self._apart(piece, manner)
        key = item.code, apart, manner.hollow
        if key not in self.lying:
            self.lying[key] = ways_to_lie(item, apart, manner.hollow)
        return tuple(one for one in self.lying[key] if not piece.grain or one.quarters % 2 == 0)

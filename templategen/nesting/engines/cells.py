"""Parts laid by their own outlines, so that what is hollow in one holds others: cheap sheets need no more than that.

A few fillings of each set of pieces that would cost less, the same on every machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
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


class _Cells:
    """A job in cells: its parts as they may lie on each kind of piece."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
        self.items, self.pieces, self.spacing = items, pieces, spacing
        self.costs = costs_of(pieces)
        self.lying: dict[tuple[str, float], tuple[Lying, ...]] = {}

    def cheaper(self, layout: Layout, least: float) -> Iterator[Layout]:
        """Layouts of everything on sets of pieces next to those in use that cost less, or as much and are fewer."""
        used = [self.pieces.index(sheet.piece) for sheet in layout.sheets]
        for kinds in sorted(set(self._sets(used)), key=lambda kinds: (self._cost(kinds), kinds))[:MOST_SETS]:
            if self._cost(kinds) < round(least, 6) or not self._may_hold(kinds):
                continue
            for order in ORDERS:
                found = self._filled(kinds, order)
                if found is not None:
                    yield found

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

    def _may_hold(self, kinds: Sequence[int]) -> bool:
        """Whether the pieces have cells for all parts."""
        if not kinds:
            return False
        rooms = sum(Field(self.pieces[kind], self.spacing).free for kind in kinds)
        needs = (self._turns(item, self.pieces[kinds[0]])[0].cells * item.count for item in self.items)
        return sum(needs) <= rooms

    def _filled(self, kinds: Sequence[int], order: Callable[[Item], float]) -> Layout | None:
        """Each part in the first piece that has room for it, there as far left and then as low as it goes; None where
        one finds none."""
        fields = [Field(self.pieces[kind], self.spacing) for kind in kinds]
        for item in sorted(self.items, key=lambda item: (-order(item), item.code)):
            for _ in range(item.count):
                if not any(field.takes(self._turns(item, field.piece)) for field in fields):
                    return None
        numbers: Counter[str] = Counter()
        sheets = []
        for field in (one for one in fields if one.laid):
            numbers[field.piece.name] += 1
            sheets.append(Sheet(field.piece, numbers[field.piece.name], tuple(field.laid)))
        return Layout(tuple(sheets))

    def _turns(self, item: Item, piece: Piece) -> tuple[Lying, ...]:
        """The ways an item may lie on a piece, those that are alike once."""
        apart = piece.apart(self.spacing)
        if (item.code, apart) not in self.lying:
            self.lying[item.code, apart] = ways_to_lie(item, apart)
        return tuple(one for one in self.lying[item.code, apart] if not piece.grain or one.quarters % 2 == 0)

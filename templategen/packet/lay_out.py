"""Lays the table's parts on the stock that serves them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from templategen.checks.finding import Finding
from templategen.packet.supply import Supply, supplies
from templategen.parts.part import Part
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.nesting.bound import Bound
    from templategen.nesting.stock import Sheet


@dataclass(frozen=True, slots=True)
class LaidStock:
    """Every piece of stock used, with the supply it belongs to, what found no place, and what the layouts at
    least need."""

    sheets: tuple[tuple[Supply, Sheet], ...]
    unplaced: dict[str, int]
    unserved: tuple[Part, ...]
    bounds: tuple[tuple[Supply, Bound], ...]

    @property
    def used(self) -> dict[str, int]:
        """Pieces used, by the stock's name."""
        return dict(Counter(sheet.piece.name for _, sheet in self.sheets))


def lay_out(table: Table, seconds: float | None = None) -> LaidStock:
    """Nests each supply; what finds no place is named, never dropped."""
    from templategen.nesting.bound import bound
    from templategen.nesting.nest import nest

    groups, unserved = supplies(table)
    sheets: list[tuple[Supply, Sheet]] = []
    unplaced: dict[str, int] = {}
    bounds = []
    for supply in groups:
        share = None if seconds is None else seconds / len(groups)
        layout = nest(supply.items, supply.pieces, supply.spacing, seconds=share)
        sheets += [(supply, sheet) for sheet in layout.sheets]
        unplaced.update(layout.unplaced)
        if not layout.unplaced:
            bounds.append((supply, bound(supply.items, supply.pieces, supply.spacing)))
    return LaidStock(tuple(sheets), unplaced, unserved, tuple(bounds))


def stock_findings(table: Table, laid: LaidStock) -> tuple[Finding, ...]:
    """A stop for parts that found no place on the stock there is; a note for parts that no stock serves."""
    found = []
    if laid.unplaced:
        short = ", ".join(f"{count} x {code}" for code, count in sorted(laid.unplaced.items()))
        says = f"the stock can't hold {short}; add stock, or leave out a count to buy what is needed"
        found.append(Finding("stop", "stock", says, float(sum(laid.unplaced.values())), (0.0, 0.0), "parts"))
    if laid.unserved:
        codes = ", ".join(part.code for part in laid.unserved)
        count = float(sum(part.count for part in laid.unserved))
        if table.profile.stock:
            says = f"no stock of their wood is thick enough for {codes}; they are on the buy list"
            found.append(Finding("caution", "stock", says, count, (0.0, 0.0), "parts"))
        else:
            says = "the profile lists no stock, so nothing is nested; the buy list has the net sizes"
            found.append(Finding("note", "stock", says, count, (0.0, 0.0), "parts"))
    return tuple(found)

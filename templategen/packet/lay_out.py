"""Lays the table's parts on the stock that serves them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from templategen.checks.finding import Finding
from templategen.packet.supply import Supply, supplies
from templategen.parts.part import Part
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.nesting.bound import Bound
    from templategen.nesting.cutting_order import Cut
    from templategen.nesting.engines.protocol import Progress
    from templategen.nesting.offcuts import Rectangle
    from templategen.nesting.stock import Layout, Sheet


@dataclass(frozen=True, slots=True)
class LaidSheet:
    """One piece of stock as it is laid out, the cuts that free its parts (none where a router does), and what is
    left of it."""

    supply: Supply
    sheet: Sheet
    cuts: tuple[Cut, ...]
    offcuts: tuple[Rectangle, ...]


@dataclass(frozen=True, slots=True)
class LaidStock:
    """Every piece of stock used, what found no place, and what the layouts at least need.

    `cost` is that of the supplies in `bounds`, `short` says how many more pieces of which stock would hold what found
    no place.
    """

    sheets: tuple[LaidSheet, ...]
    unplaced: dict[str, int]
    unserved: tuple[Part, ...]
    bounds: tuple[tuple[Supply, Bound], ...]
    cost: float = 0.0
    short: dict[str, int] = field(default_factory=dict)
    tables: int = 1

    @property
    def used(self) -> dict[str, int]:
        """Pieces used, by the stock's name."""
        return dict(Counter(laid.sheet.piece.name for laid in self.sheets))

    @property
    def gap(self) -> float:
        """By which share the stock used may cost more than the least possible, at most."""
        least = sum(bound.cost for _, bound in self.bounds)
        return self.cost / least - 1 if least > 0 else 0.0


def lay_out(
    table: Table, seconds: float | None = None, tables: int = 1, progress: Progress | None = None
) -> LaidStock:
    """Nests each supply for so many tables; what finds no place is named, never dropped.

    Without `seconds` a fixed amount of work is done, so that the layout is the same each time.
    """
    from templategen.nesting.bound import bound
    from templategen.nesting.nest import cost, nest
    from templategen.nesting.shortage import wanted

    groups, unserved = supplies(table, tables)
    sheets: list[LaidSheet] = []
    unplaced: dict[str, int] = {}
    short: Counter[str] = Counter()
    bounds = []
    spent = 0.0
    for number, supply in enumerate(groups):
        share = None if seconds is None else seconds / len(groups)
        tell = progress and _part_of(progress, number, len(groups))
        layout = nest(supply.items, supply.pieces, supply.spacing, share, tell)
        sheets += [_finished(supply, sheet) for sheet in layout.sheets]
        unplaced.update(layout.unplaced)
        if layout.unplaced:
            short.update(wanted(layout.unplaced, supply.items, supply.pieces, supply.spacing))
        else:
            bounds.append((supply, bound(supply.items, supply.pieces, supply.spacing)))
            spent += cost(layout) if any(piece.price for piece in supply.pieces) else area_used(layout)
    return LaidStock(tuple(sheets), unplaced, unserved, tuple(bounds), spent, dict(short), tables)


def area_used(layout: Layout) -> float:
    """The area of the pieces in use, mm2."""
    return sum(sheet.piece.length * sheet.piece.width for sheet in layout.sheets)


def _part_of(progress: Progress, number: int, count: int) -> Progress:
    return lambda share: progress((number + share) / count)


def _finished(supply: Supply, sheet: Sheet) -> LaidSheet:
    from templategen.nesting.cutting_order import cutting_order
    from templategen.nesting.offcuts import offcuts

    cuts = cutting_order(sheet, supply.items, supply.kerf) if sheet.piece.mode == "sawn" else ()
    return LaidSheet(supply, sheet, cuts or (), tuple(offcuts(sheet, supply.items, supply.spacing)))


def stock_findings(table: Table, laid: LaidStock) -> tuple[Finding, ...]:
    """A stop for parts that found no place on the stock there is; a note for parts that no stock serves."""
    found = []
    if laid.unplaced:
        short = ", ".join(f"{count} x {code}" for code, count in sorted(laid.unplaced.items()))
        buy = ", ".join(f"{count} more of {name}" for name, count in sorted(laid.short.items()))
        remedy = f"{buy} would do" if buy else "add stock that they fit on"
        says = f"the stock can't hold {short}; {remedy}, or leave out a count to buy what is needed"
        found.append(Finding("stop", "stock", says, float(sum(laid.unplaced.values())), (0.0, 0.0), "parts"))
    found += _resawn(table, laid)
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


def _resawn(table: Table, laid: LaidStock) -> list[Finding]:
    """A note for each supply of which parts must be sawn flatwise."""
    found = []
    thickness = {part.code: part.thickness for part in table.parts}
    for supply in dict.fromkeys(one.supply for one in laid.sheets):
        if supply.resawn:
            codes = ", ".join(supply.resawn)
            says = f"no {supply.wood} near their thickness; {codes} are sawn flatwise out of {supply.thickness:g} mm"
            most = max(supply.thickness - thickness[code] for code in supply.resawn)
            found.append(Finding("note", "shop.planing", says, most, (None, table.profile.shop.planing), "mm"))
    return found

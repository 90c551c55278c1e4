"""Lays the table's parts on the stock that serves them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from templategen.checks.describe import said
from templategen.checks.finding import Finding, Level
from templategen.checks.levels import noted
from templategen.jigs.jig import KINDS
from templategen.kept.keep import keeper
from templategen.nesting.saw_settings import SawSetting, saw_settings
from templategen.nesting.shortage import NOTHING_SHORT, Shortage
from templategen.packet.supply import Order, Supply, joint_supplies
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Stock

if TYPE_CHECKING:
    from templategen.nesting.bound import Bound
    from templategen.nesting.engines.progress import Progress
    from templategen.nesting.stock import Cut, Rectangle, Sheet


@dataclass(frozen=True, slots=True)
class LaidSheet:
    """One piece of stock as it is laid out, the cuts that free its parts (none where a router does), and what is
    left of it."""

    supply: Supply
    sheet: Sheet
    cuts: tuple[Cut, ...]
    offcuts: tuple[Rectangle, ...]

    @property
    def settings(self) -> tuple[SawSetting, ...]:
        """Where fence or stop stands for each of the cuts."""
        piece = self.sheet.piece
        return saw_settings(piece, self.cuts, piece.apart(self.supply.spacing))


@dataclass(frozen=True, slots=True)
class LaidStock:
    """Every piece of stock used, what found no place, and what the layouts at least need.

    `cost` is that of the supplies in `bounds`, `short` says what more stock would hold what found no place, `plainer`
    names the boards whose closest layout could not be sawn. Where the stock is laid out `elsewhere`, with that of
    other tables, there are no sheets.
    """

    sheets: tuple[LaidSheet, ...]
    unplaced: dict[str, int]
    unserved: tuple[Part, ...]
    bounds: tuple[tuple[Supply, Bound], ...]
    cost: float = 0.0
    short: Shortage = NOTHING_SHORT
    tables: int = 1
    elsewhere: bool = False
    plainer: tuple[str, ...] = ()

    def and_then(self, other: LaidStock) -> LaidStock:
        """Both together."""
        return replace(
            self,
            sheets=(*self.sheets, *other.sheets),
            unplaced=self.unplaced | other.unplaced,
            bounds=(*self.bounds, *other.bounds),
            cost=self.cost + other.cost,
            short=self.short.and_then(other.short),
            plainer=(*self.plainer, *other.plainer),
        )

    @property
    def used(self) -> dict[str, int]:
        """Pieces used, by the stock's name."""
        return dict(Counter(laid.sheet.piece.name for laid in self.sheets))

    @property
    def gap(self) -> float:
        """By which share the stock used may cost more than the least possible, at most."""
        least = self.least.cost
        return self.cost / least - 1 if least > 0 else 0.0

    @property
    def least(self) -> Bound:
        """The least that any layout can cost, and the fewest pieces."""
        from templategen.nesting.area import Bound

        pieces, cost = (sum(getattr(bound, name) for _, bound in self.bounds) for name in ("pieces", "cost"))
        how = (f"{supply.wood} {supply.thickness:g} mm: {bound.how}" for supply, bound in self.bounds)
        return Bound(pieces, cost, "; ".join(how))


def lay_out(
    table: Table,
    seconds: float | None = None,
    tables: int = 1,
    progress: Progress | None = None,
    jigs: tuple[Part, ...] = (),
) -> LaidStock:
    """Nests each supply for so many tables; what finds no place is named, never dropped.

    Without `seconds` a fixed amount of work is done, so that the layout is the same each time.
    """
    served = joint_supplies([Order(table, tables, jigs=jigs)], table.profile.stock)
    return lay_out_supplies(served, tables, seconds, progress)


def lay_out_supplies(
    served: tuple[Sequence[Supply], tuple[Part, ...]],
    tables: int = 1,
    seconds: float | None = None,
    progress: Progress | None = None,
) -> LaidStock:
    """The same for supplies, and the parts that no stock serves, of whatever orders; they hold `tables` of each."""
    supplies, unserved = served
    laid = LaidStock((), {}, unserved, (), tables=tables)
    for number, supply in enumerate(supplies):
        share = None if seconds is None else seconds / len(supplies)
        laid = laid.and_then(_laid(supply, share, progress and _part_of(progress, number, len(supplies))))
    return in_money(laid)


def in_money(laid: LaidStock) -> LaidStock:
    """Where some stock has a price, the rest, offcuts of the rack, is paid for: its area is no cost beside money."""
    supplies = [*(one.supply for one in laid.sheets), *(supply for supply, _ in laid.bounds)]
    if all(map(is_priced, supplies)) or not any(map(is_priced, supplies)):
        return laid
    told = ((supply, bound, is_priced(supply)) for supply, bound in laid.bounds)
    bounds = tuple((supply, bound if has else replace(bound, cost=0.0, in_parts=0.0)) for supply, bound, has in told)
    return replace(laid, bounds=bounds, cost=sum(one.sheet.piece.price for one in laid.sheets))


def is_priced(supply: Supply) -> bool:
    """Whether any of its stock has a price; else stock is counted by its area, mm2."""
    return any(piece.price for piece in supply.pieces)


def _laid(supply: Supply, seconds: float | None, tell: Progress | None) -> LaidStock:
    """One supply on its stock; what a fixed amount of work found is kept."""
    who = keeper() if seconds is None else None
    if who is None:
        return _laid_anew(supply, seconds, tell)
    return who.value("layout", supply, lambda: _laid_anew(supply, seconds, tell))


def _laid_anew(supply: Supply, seconds: float | None, tell: Progress | None) -> LaidStock:
    from templategen.nesting.nest import nest, nest_at_once
    from templategen.nesting.shortage import shortage

    items, pieces, spacing = supply.items, supply.pieces, supply.spacing
    if supply.only_jigs and seconds is None:
        layout = nest_at_once(items, pieces, spacing)
    else:
        layout = nest(items, pieces, spacing, seconds, tell)
    sheets = tuple(_finished(supply, sheet) for sheet in layout.sheets)
    if layout.unplaced:
        short = shortage(layout, items, pieces, spacing)
        each = {item.code: item.pieces for item in items}
        left = {code: count * each[code] for code, count in layout.unplaced.items()}
        return LaidStock(sheets, left, (), (), short=short, plainer=layout.plainer)
    spent, least = bounded(supply, layout.sheets)
    return LaidStock(sheets, {}, (), ((supply, least),), spent, plainer=layout.plainer)


def bounded(supply: Supply, sheets: Sequence[Sheet]) -> tuple[float, Bound]:
    """What the pieces in use cost, their area in mm2 where none of the supply's has a price, and the least of all."""
    from templategen.nesting.bound import bound

    priced = is_priced(supply)
    spent = sum(one.piece.price if priced else one.piece.length * one.piece.width for one in sheets)
    return spent, bound(supply.items, supply.pieces, supply.spacing, enough=(len(sheets), spent))


def _part_of(progress: Progress, number: int, count: int) -> Progress:
    return lambda share, cost: progress((number + share) / count, cost)


def _finished(supply: Supply, sheet: Sheet) -> LaidSheet:
    """The sheet with its cuts; of a sawn one only such offcuts are told as these cuts leave whole."""
    from templategen.nesting.cutting_order import cutting_order
    from templategen.nesting.offcuts import keepers

    kerf = sheet.piece.apart(supply.spacing)
    kept = keepers(sheet, supply.items, kerf)
    cuts: tuple[Cut, ...] | None = None
    while kept and sheet.piece.mode == "sawn" and cuts is None:
        cuts = cutting_order(sheet, supply.items, kerf, kept)
        kept = kept if cuts else kept[:-1]
    return LaidSheet(supply, sheet, cuts or sheet.cuts, tuple(kept))


def stock_findings(orders: Sequence[Order], stock: Sequence[Stock], laid: LaidStock) -> tuple[Finding, ...]:
    """A stop for parts that found no place on the stock there is; a note for parts that no stock serves."""
    return (
        *_shortage(orders, stock, laid), *_plainer(laid), *_resawn(orders, laid), *_unreached(orders, stock, laid),
        *_unserved(laid, bool(stock)),
    )  # fmt: skip


def _unreached(orders: Sequence[Order], stock: Sequence[Stock], laid: LaidStock) -> Iterator[Finding]:
    """A stop for routed pieces that no bit of their width goes through, which so have no file."""
    from templategen.router.bits import bits_of

    profiles = [order.table.profile for order in orders]
    bits = [bit for profile in profiles for bit in bits_of(profile)]
    through = max((profile.router.through for profile in profiles), default=0.0)
    widths = {one.name: one.bit for one in stock if one.mode == "routed"}
    for name, deep in {one.sheet.piece.name: one.supply.planed + through for one in laid.sheets}.items():
        reach = max((bit.length for bit in bits if bit.diameter == widths.get(name)), default=0.0)
        if name in widths and reach < deep:
            fields = {"stock": name, "deep": deep}
            yield Finding("bits-too-short-for-stock", "stop", "router.bits", deep, (None, reach), fields)


def _plainer(laid: LaidStock) -> Iterator[Finding]:
    """A note of the boards that a saw forced apart."""
    if laid.plainer:
        yield noted("laid-plainer", "stock", float(len(laid.plainer)), stock=tuple(laid.plainer))


def _shortage(orders: Sequence[Order], stock: Sequence[Stock], laid: LaidStock) -> Iterator[Finding]:
    """A stop; a caution where only pieces of jigs are left, which a maker may make of anything."""
    if not laid.unplaced:
        return
    jigs = {order.code(part.code) for order in orders for part in order.jigs}
    short, buy = (
        laid.short,
        tuple(
            said("{count} more of {name}", count=count, name=name) for name, count in sorted(laid.short.buy.items())
        ),
    )
    fields = {
        "left": tuple(f"{count} x {code}" for code, count in sorted(laid.unplaced.items())),
        "buy": buy,
        "clean": tuple(short.clean) if buy else (),
        "cost": short.cost if buy and short.priced else None,
        "none": not buy,
        "never": short.never,
        "lacks": tuple(
            said(
                "{code} takes {length:mm} by {width:mm}, {nearest} has {long:mm} by {wide:mm} clear",
                orders[0].table.profile.units,
                code=one.code,
                length=one.length,
                width=one.width,
                nearest=one.nearest,
                long=one.clear_length,
                wide=one.clear_width,
            )
            for one in short.no_room
        ),
        "counts": any(one.count is not None for one in stock),
    }
    level: Level = "caution" if jigs.issuperset(laid.unplaced) else "stop"
    yield Finding("stock-short", level, "stock", float(sum(laid.unplaced.values())), (0.0, 0.0), fields)


def _unserved(laid: LaidStock, stocked: bool) -> Iterator[Finding]:
    parts = [part for part in laid.unserved if part.kind not in KINDS]
    yield from _sheetless([part for part in laid.unserved if part.kind in KINDS])
    if not parts:
        return
    count = float(sum(part.count for part in parts))
    if stocked:
        fields = {"parts": tuple(part.code for part in parts)}
        yield Finding("too-thick-for-stock", "caution", "stock", count, (0.0, 0.0), fields)
    else:
        yield noted("no-stock", "stock", count, (0.0, 0.0))


def _sheetless(jigs: Sequence[Part]) -> Iterator[Finding]:
    """A note for pieces of jigs that no sheet serves."""
    if jigs:
        kinds = tuple(
            {"wood": wood, "size": size} for wood, size in sorted({(one.wood, one.thickness) for one in jigs})
        )
        yield noted("no-sheets", "jigs.thickness", float(sum(part.count for part in jigs)), kinds=kinds)


def _resawn(orders: Sequence[Order], laid: LaidStock) -> Iterator[Finding]:
    """A note for each supply of which parts must be sawn flatwise."""
    thickness = {order.code(part.code): part.thickness for order in orders for part in order.parts}
    for supply in dict.fromkeys(one.supply for one in laid.sheets):
        if supply.resawn:
            most = max(supply.thickness - thickness[code] for code in supply.resawn)
            fields: dict[str, Any] = {"wood": supply.wood, "parts": tuple(supply.resawn), "out_of": supply.thickness}
            yield noted("sawn-flatwise", "shop.planing", most, **fields)

"""Nest items on pieces of stock, and prove the layout before it is handed on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import isfinite

from templategen.errors import Fault, StockError
from templategen.nesting.cutting_order import cutting_order
from templategen.nesting.engines.goals import Goal, goal, outlay
from templategen.nesting.engines.portfolio import fixed, portfolio
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.stock import Item, Layout, Piece
from templategen.nesting.verify import verify
from templategen.nesting.verify_cuts import verify_cuts


def nest(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    seconds: float | None = None,
    progress: Progress | None = None,
) -> Layout:
    """The cheapest proved layout of `items` on `pieces`, parts `spacing` mm apart (the kerf).

    Without `seconds` our own engine does a fixed amount of work: the same call gives the same layout everywhere.
    With them a portfolio of engines works that long by the clock, or until the bound is met, and layouts may differ
    from run to run. Copies that found no place are named in `Layout.unplaced`.

    Raises:
        StockError: sizes that no stock can have, or a layout that can't be proved.
    """
    wrong = tuple(_wrong(items, pieces, spacing))
    if wrong:
        raise StockError(wrong)
    kept = _Kept(items, pieces, spacing)
    if seconds is None:
        layouts = fixed(items, pieces, spacing, progress)
    else:
        layouts = portfolio(items, pieces, spacing, seconds, kept.told, progress)
    for layout in layouts:
        kept.offer(layout)
    if kept.best is None:
        kept.offer(Rectangles(plain=True).nest(items, pieces, spacing))
    if kept.best is None:
        raise StockError(kept.faults)
    return kept.best


class _Kept:
    """The best layout that was proved, and what was wrong with those that weren't."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
        self.items, self.pieces, self.spacing = items, pieces, spacing
        self.best: Layout | None = None
        self.goal: Goal | None = None
        self.faults: list[Fault] = []

    def offer(self, layout: Layout) -> None:
        """Keep `layout` when it is better and holds."""
        if self.goal is not None and outlay(layout, self.items)[:3] > self.goal[:3]:
            return
        found = proved(layout, self.items, self.pieces, self.spacing)
        self.faults.extend(found)
        if found:
            return
        whole = goal(layout, self.items, self.spacing)
        if self.goal is None or whole < self.goal:
            self.best, self.goal = layout, whole

    def told(self) -> Layout | None:
        """The best layout so far."""
        return self.best


def proved(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> tuple[Fault, ...]:
    """Everything that is wrong with a layout, the sawing of sawn pieces included; empty when it may be cut."""
    found = list(verify(layout, items, pieces, spacing))
    for sheet in layout.sheets if not found else ():
        if sheet.piece.mode == "sawn":
            kerf = sheet.piece.apart(spacing)
            cuts = cutting_order(sheet, items, kerf)
            where = f"nesting {sheet.piece.name}-{sheet.number}"
            if cuts is None:
                found.append(Fault(where, "cuts that go right through can't free its parts"))
            else:
                found.extend(verify_cuts(sheet, items, cuts, kerf))
    return tuple(found)


def cost(layout: Layout) -> float:
    """What the pieces in use cost; their area in mm2 where no prices are given."""
    priced = sum(sheet.piece.price for sheet in layout.sheets)
    return priced if priced > 0 else sum(sheet.piece.length * sheet.piece.width for sheet in layout.sheets)


def _wrong(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Iterator[Fault]:
    if not (isfinite(spacing) and spacing >= 0):
        yield Fault("nesting", f"a kerf of {spacing} mm", "give a length of 0 or more")
    if spacing == 0 and any(piece.mode == "sawn" for piece in pieces):
        yield Fault("nesting", "sawn stock and no kerf", "measure what the saw takes")
    for piece in pieces:
        yield from _wrong_piece(piece)
    for code, times in Counter(item.code for item in items).items():
        if times > 1:
            yield Fault(f"nesting {code}", f"{times} items of one code", "give each its own code")
    for item in items:
        if item.count < 0:
            yield Fault(f"nesting {item.code}", f"a count of {item.count}", "give 0 or more")
        if not all(isfinite(value) for vertex in item.outline for value in vertex):
            yield Fault(f"nesting {item.code}", "an outline that isn't finite")


def _wrong_piece(piece: Piece) -> Iterator[Fault]:
    where = f"stock {piece.name}"
    marks = (v for fault in (*piece.faults, *piece.fault_areas, piece.bad_ends) for v in fault)
    sizes = piece.length, piece.width, piece.price, piece.spacing, *piece.margins, *marks
    if not all(isfinite(size) for size in sizes):
        yield Fault(where, "a size that isn't finite", "give lengths in mm")
    elif piece.length <= 0 or piece.width <= 0 or min(*piece.margins, piece.price, piece.spacing) < 0:
        yield Fault(where, f"{piece.length:g} x {piece.width:g} mm", "give sizes above 0")
    if piece.count is not None and piece.count < 0:
        yield Fault(where, f"a count of {piece.count}", "give 0 or more, or leave it out")

"""Nest items on pieces of stock, and prove the layout before it is handed on."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import isfinite

from templategen.catalogue import fault_of
from templategen.errors import Fault, StockError
from templategen.nesting.area import by_area
from templategen.nesting.cutting_order import cutting_order
from templategen.nesting.engines.cells import cheaper
from templategen.nesting.engines.column_mix import joined
from templategen.nesting.engines.job import Used
from templategen.nesting.engines.objective import Objective, goal, outlay
from templategen.nesting.engines.portfolio import fixed, portfolio
from templategen.nesting.engines.progress import Progress
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.stock import Cut, Item, Laid, Layout, Piece, Sheet
from templategen.nesting.verify import verify
from templategen.nesting.verify_cuts import verify_cuts

AGAIN = 0.1
"""Effort for laying a refused board out again, seconds of an ordinary machine."""

AT_ONCE = 0.001
"""Effort of our own engine, seconds of an ordinary machine: a fixed amount of work, a few dozen fillings."""


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
    best = _Best(items, pieces, spacing)
    if seconds is None:
        layouts = fixed(items, pieces, spacing, progress)
    else:
        layouts = portfolio(items, pieces, spacing, seconds, best.so_far, progress)
    for layout in layouts:
        best.offer(layout)
    if best.layout is None:
        best.offer(Rectangles(plain=True).nest(items, pieces, spacing))
    if best.layout is None:
        raise StockError(best.faults)
    return best.layout


def nest_at_once(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Layout:
    """One proved layout of what isn't worth a search, such as the pieces of jigs on cheap sheet: every item lies in
    its own box, or, where that costs more than the least by area, by its own outline if so it costs less. The same
    call gives the same layout everywhere.

    Raises:
        StockError: the layout can't be proved.
    """
    boxed = Rectangles(plain=True).nest(items, pieces, spacing, AT_ONCE)
    faults: tuple[Fault, ...] = ()
    for layout in (_by_outline(boxed, items, pieces, spacing), boxed):
        faults = verify(layout, items, pieces, spacing)
        told, refused = sawn(layout, items, spacing)
        if not (faults or refused):
            return told
        faults += tuple(fault for told in refused.values() for fault in told)
    raise StockError(faults)


def _by_outline(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Layout:
    """The layout, or a cheaper one of parts in each other's hollows; nothing left over is made good by it."""
    if layout.unplaced:
        return layout
    least = by_area(items, pieces, spacing, any(piece.price > 0 for piece in pieces)).cost
    return cheaper(layout, items, pieces, spacing, least)


class _Best:
    """The best layout that was proved, and what was wrong with those that weren't."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> None:
        self.items, self.pieces, self.spacing = items, pieces, spacing
        self.layout: Layout | None = None
        self.goal: Objective | None = None
        self.faults: list[Fault] = []

    def offer(self, layout: Layout) -> None:
        """Keep `layout` when it is better and holds; boards that can't be sawn, and only they, are laid out again."""
        if self._dearer(layout):
            return
        found = verify(layout, self.items, self.pieces, self.spacing)
        layout, refused = sawn(layout, self.items, self.spacing)
        if refused and not found:
            layout = laid_again(layout, list(refused), self.items, self.pieces, self.spacing)
            found = verify(layout, self.items, self.pieces, self.spacing)
            layout, refused = sawn(layout, self.items, self.spacing)
        self.faults += [*found, *(fault for told in refused.values() for fault in told)]
        if not found and not refused and not self._dearer(layout):
            whole = goal(layout, self.items, self.spacing)
            if self.goal is None or whole < self.goal:
                self.layout, self.goal = layout, whole

    def _dearer(self, layout: Layout) -> bool:
        return self.goal is not None and outlay(layout, self.items)[:3] > self.goal[:3]

    def so_far(self) -> Layout | None:
        """The best layout so far."""
        return self.layout


def laid_again(
    layout: Layout, refused: Sequence[Sheet], items: Sequence[Item], pieces: Sequence[Piece], spacing: float
) -> Layout:
    """The layout with the parts of the refused sheets, each in its own box, on the stock that the others leave."""
    kinds = {piece: kind for kind, piece in enumerate(pieces)}
    kept = [Used(kinds[sheet.piece], sheet.laid, 0.0, 0.0) for sheet in layout.sheets if sheet not in refused]
    names = tuple(f"{sheet.piece.name}-{sheet.number}" for sheet in refused)
    return replace(joined(kept, items, pieces, spacing, AGAIN, plain=True), plainer=(*layout.plainer, *names))


def sawn(layout: Layout, items: Sequence[Item], spacing: float) -> tuple[Layout, dict[Sheet, tuple[Fault, ...]]]:
    """The layout with the cuts that free its parts, and what is wrong with the sheets that can't be sawn."""
    known: dict[tuple[Piece, tuple[Laid, ...]], tuple[tuple[Cut, ...], tuple[Fault, ...]]] = {}
    sheets, refused = [], {}
    for sheet in layout.sheets:
        key = sheet.piece, sheet.laid
        if key not in known:
            known[key] = _cuts(sheet, items, sheet.piece.apart(spacing))
        cuts, faults = known[key]
        sheets.append(replace(sheet, cuts=cuts))
        if faults:
            refused[sheets[-1]] = faults
    return replace(layout, sheets=tuple(sheets)), refused


def _cuts(sheet: Sheet, items: Sequence[Item], kerf: float) -> tuple[tuple[Cut, ...], tuple[Fault, ...]]:
    """The cuts that free a sawn sheet's parts, and what is wrong with them."""
    if sheet.piece.mode != "sawn":
        return (), ()
    cuts = cutting_order(sheet, items, kerf)
    if cuts is None:
        where = f"nesting {sheet.piece.name}-{sheet.number}"
        return (), (fault_of(where, "cuts that go right through can't free its parts"),)
    faults = verify_cuts(sheet, items, cuts, kerf)
    return (() if faults else cuts), faults


def _wrong(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Iterator[Fault]:
    if not (isfinite(spacing) and spacing >= 0):
        yield fault_of("nesting", "a kerf of {spacing} mm", "give a length of 0 or more", spacing=spacing)
    if spacing == 0 and any(piece.mode == "sawn" for piece in pieces):
        yield fault_of("nesting", "sawn stock and no kerf", "measure what the saw takes")
    for piece in pieces:
        yield from _wrong_piece(piece)
    for code, times in Counter(item.code for item in items).items():
        if times > 1:
            yield fault_of(f"nesting {code}", "{times} items of one code", "give each its own code", times=times)
    for item in items:
        if item.count < 0:
            yield fault_of(f"nesting {item.code}", "a count of {count}", "give 0 or more", count=item.count)
        if not all(isfinite(value) for vertex in item.outline for value in vertex):
            yield fault_of(f"nesting {item.code}", "an outline that isn't finite")


def _wrong_piece(piece: Piece) -> Iterator[Fault]:
    where = f"stock {piece.name}"
    marks = (v for fault in (*piece.defects, *piece.defect_areas, piece.bad_ends) for v in fault)
    sizes = piece.length, piece.width, piece.price, piece.spacing, *piece.margins, *marks
    if not all(isfinite(size) for size in sizes):
        yield fault_of(where, "a size that isn't finite", "give lengths in mm")
    elif piece.length <= 0 or piece.width <= 0 or min(*piece.margins, piece.price, piece.spacing) < 0:
        yield fault_of(
            where, "{length:g} x {width:g} mm", "give sizes above 0", length=piece.length, width=piece.width
        )
    if piece.count is not None and piece.count < 0:
        yield fault_of(where, "a count of {count}", "give 0 or more, or leave it out", count=piece.count)

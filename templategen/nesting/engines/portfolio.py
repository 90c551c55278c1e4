"""How long the engine is asked: a fixed amount of work, or by the clock, the whole batch and one set in turn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import gcd
from time import monotonic

from templategen.errors import StockError
from templategen.nesting.bound import bound
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.engines.rectangles import Rectangles, Work
from templategen.nesting.stock import Item, Layout, Piece, Sheet

Told = Callable[[], Layout | None]
"""The best layout so far."""

QUICK = 0.35
"""Effort of the first layout, seconds of an ordinary machine."""

TURN = 0.5
"""The first turn by the clock, seconds; turns get longer."""

ENDLESS = 10**9
"""Fillings of work that only the clock ends."""

FEWEST = 60
"""Batches of fewer parts are laid out whole only; larger ones also one set at a time."""


def fixed(
    items: Sequence[Item], pieces: Sequence[Piece], spacing: float, progress: Progress | None = None
) -> Iterator[Layout]:
    """Layouts by a fixed amount of work of our own engine: all at once, and for batches one set, repeated."""
    yield Rectangles().nest(items, pieces, spacing, None, progress)
    sets = batch(items)
    if sets > 1:
        one = Rectangles().nest(share_of(items, sets), stock_for(pieces, sets), spacing)
        yield repeated(one, sets, pieces)


def portfolio(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    seconds: float,
    told: Told,
    progress: Progress | None = None,
) -> Iterator[Layout]:
    """Better and better layouts until `seconds` have gone by the clock, or the best one meets the bound."""
    end = monotonic() + seconds
    least, sets = _least(items, pieces, spacing), batch(items)
    runners = [_Own(items, pieces, spacing, sets)]
    if sets > 1:
        runners.append(_Own(items, pieces, spacing, 1))
    yield from runners[0].turn(min(QUICK, seconds))
    turn = TURN
    while monotonic() < end and not _met(told, least):
        if progress is not None:
            progress(max(0.0, min(1.0, 1 - (end - monotonic()) / max(seconds, 1e-9))))
        for runner in runners:
            yield from runner.turn(min(turn, end - monotonic()))
        turn *= 1.3
    for runner in runners:
        yield from runner.last()
    if progress is not None:
        progress(1.0)


class _Own:
    """Our own engine at work on one of so many like sets, a turn at a time."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, sets: int) -> None:
        self.pieces, self.sets = pieces, sets
        self.work = Work(share_of(items, sets), stock_for(pieces, sets), spacing, ENDLESS)
        self.layouts = self.work.layouts()
        self.shown: Layout | None = None

    def turn(self, seconds: float) -> Iterator[Layout]:
        """Better layouts than before, for so long by the clock."""
        end = monotonic() + seconds
        while True:
            found = next(self.layouts, None)
            if found is None:
                return
            if found is not self.shown:
                self.shown = found
                yield repeated(found, self.sets, self.pieces)
            if monotonic() >= end:
                return

    def last(self) -> Iterator[Layout]:
        """The last layout, with larger offcuts."""
        if self.shown is None:
            return
        self.work.finish()
        for found in self.layouts:
            if found is not self.shown:
                self.shown = found
                yield repeated(found, self.sets, self.pieces)


def _least(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> float:
    try:
        return bound(items, pieces, spacing).cost
    except StockError:
        return 0.0


def _met(told: Told, least: float) -> bool:
    best = told()
    return best is not None and not best.unplaced and cost_of(best) <= least * (1 + 1e-9) + 1e-9


def cost_of(layout: Layout) -> float:
    """Price of the pieces in use, their area where no prices are given."""
    sheets = layout.sheets
    return sum(sheet.piece.price for sheet in sheets) or sum(s.piece.length * s.piece.width for s in sheets)


def batch(items: Sequence[Item]) -> int:
    """Into how many like sets the parts can be divided, 1 for small jobs."""
    counts = [item.count for item in items if item.count > 0]
    return gcd(*counts) if sum(counts) >= FEWEST and counts else 1


def share_of(items: Sequence[Item], sets: int) -> list[Item]:
    """The parts of one set."""
    return [replace(item, count=item.count // sets) for item in items]


def stock_for(pieces: Sequence[Piece], sets: int) -> list[Piece]:
    """The stock that each set may take."""
    return [piece if piece.count is None else replace(piece, count=piece.count // sets) for piece in pieces]


def repeated(layout: Layout, sets: int, pieces: Sequence[Piece]) -> Layout:
    """The layout as often as there are sets, on the pieces of the whole stock, numbered on."""
    whole = {replace(piece, count=None): piece for piece in pieces}
    numbers: Counter[str] = Counter()
    sheets = []
    for sheet in layout.sheets:
        for _ in range(sets):
            numbers[sheet.piece.name] += 1
            sheets.append(Sheet(whole[replace(sheet.piece, count=None)], numbers[sheet.piece.name], sheet.laid))
    return Layout(tuple(sheets), {code: count * sets for code, count in layout.unplaced.items()})

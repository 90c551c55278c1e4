"""Our own engine by the clock, a turn at a time."""

from collections.abc import Iterator, Sequence
from time import monotonic

from templategen.nesting.engines.batches import repeated, share_of, stock_for
from templategen.nesting.engines.rectangles import Search
from templategen.nesting.stock import Item, Layout, Piece

ENDLESS = 10**9
"""Fillings of work that only the clock ends."""


class TimedLanes:
    """Our own engine at work on one of so many like sets, a turn at a time."""

    def __init__(self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, sets: int) -> None:
        self.pieces, self.sets = pieces, sets
        self.work = Search(share_of(items, sets), stock_for(pieces, sets), spacing, ENDLESS)
        self.layouts = self.work.layouts()
        self.shown: Layout | None = None
        self.spent, self.ready = False, True

    def turn(self, seconds: float) -> Iterator[Layout | None]:
        """Better layouts than before, for so long by the clock; None after a step that brought none."""
        end = monotonic() + seconds
        while True:
            found = next(self.layouts, None)
            if found is None:
                self.spent = True
                return
            if found is not self.shown:
                self.shown = found
                yield repeated(found, self.sets, self.pieces)
            else:
                yield None
            if monotonic() >= end:
                return

    def last(self, fills: int) -> Iterator[Layout]:
        """The last layout, with larger offcuts, by so many fillings."""
        if self.shown is None:
            return
        self.work.finish(fills)
        for found in self.layouts:
            if found is not self.shown:
                self.shown = found
                yield repeated(found, self.sets, self.pieces)

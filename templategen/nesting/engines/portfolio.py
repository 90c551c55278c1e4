"""How long which engine is asked: a fixed amount of work of our own, or all of them in turn by the clock."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from os import cpu_count
from time import monotonic

from templategen.errors import StockError
from templategen.nesting.bound import bound
from templategen.nesting.engines.holes import Filled, fill_holes
from templategen.nesting.engines.job import Used
from templategen.nesting.engines.like_sets import batch, repeated, share_of, stock_for
from templategen.nesting.engines.mix import joined, mixed, wholly_in
from templategen.nesting.engines.outside import Outside
from templategen.nesting.engines.own import Own
from templategen.nesting.engines.pool import Pool
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.engines.rectangles import Rectangles, layout_of
from templategen.nesting.stock import Item, Layout, Piece

Told = Callable[[], Layout | None]
"""The best layout so far."""

POOLED = 3.0
"""A turn of the pool takes so many times as long as one of the engines."""

PRICING = 0.6
"""The share of the pool's turn that goes into finding fillings; the rest chooses among them."""

QUICK = 0.35
"""Effort of the first layout, seconds of an ordinary machine."""

TURN = 0.5
"""The first turn by the clock, seconds; turns get longer."""

LONGER = 1.3
"""By how much."""

LONGEST = 6.0
"""No turn takes longer, seconds."""

TIRED = 8.0
"""After so many seconds without a cheaper layout our own engine stands back for the solver as long again."""

WAIT = 0.25
"""How long the solver's answers are waited for at once, seconds."""

SECOND = 12.0
"""A second solver is started for efforts from here on, where there are cores for it."""

LARGE = 300
"""A batch of more parts is laid out by one set and by the pool first, and bettered as a whole from there."""


def fixed(
    items: Sequence[Item], pieces: Sequence[Piece], spacing: float, progress: Progress | None = None
) -> Iterator[Layout]:
    """Layouts by a fixed amount of work of our own engine: all at once, for batches also one set, repeated, and by
    their cheapest mix of filled pieces."""
    sets = batch(items)
    filled = fill_holes(items, pieces, spacing, sets)
    yield filled.opened(Rectangles().nest(filled.items, pieces, spacing, None, progress))
    if sets > 1:
        one = Rectangles().nest(share_of(filled.items, sets), stock_for(pieces, sets), spacing)
        yield filled.opened(repeated(one, sets, pieces))
    if sum(item.count for item in items) > LARGE and (by_mix := mixed(filled.items, pieces, spacing)) is not None:
        yield filled.opened(by_mix)


def portfolio(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    seconds: float,
    told: Told,
    progress: Progress | None = None,
    outside: bool = True,
) -> Iterator[Layout]:
    """Better and better layouts until `seconds` have gone by the clock, or the best one meets the bound.

    `outside` False leaves the solver out that works in a process of its own.
    """
    sets = batch(items)
    filled = fill_holes(items, pieces, spacing, sets)
    with ExitStack() as stack:
        race = _Race(filled, pieces, spacing, seconds, told, sets)
        race.least = _least(items, pieces, spacing)
        if outside:
            race.bring(stack)
        for layout in race.run(progress):
            yield filled.opened(layout)


class _Race:
    """All engines at one job, a turn each."""

    def __init__(
        self, filled: Filled, pieces: Sequence[Piece], spacing: float, seconds: float, told: Told, sets: int
    ) -> None:
        self.items, self.pieces, self.spacing = filled.items, pieces, spacing
        self.seconds, self.end = seconds, monotonic() + seconds
        self.told, self.sets, self.least = told, sets, 0.0
        self.whole = Own(self.items, pieces, spacing, 1)
        self.one = Own(self.items, pieces, spacing, sets) if sets > 1 else None
        self.pool = Pool(self.items, pieces, spacing) if sets > 1 else None
        self.whole.ready = sum(item.count for item in self.items) <= LARGE
        self.rounded = False
        self.outsiders: list[Outside] = []
        self.changed = monotonic()

    def bring(self, stack: ExitStack) -> None:
        """Starts the solver: one process, two for long efforts where there are cores for it."""
        one = share_of(self.items, self.sets), stock_for(self.pieces, self.sets)
        cores = cpu_count() or 1
        for seed in (1, 2) if self.seconds >= SECOND and cores > 1 else (1,):
            self.outsiders.append(stack.enter_context(Outside(*one, self.spacing, self.seconds, seed)))

    def run(self, progress: Progress | None) -> Iterator[Layout]:
        """Every layout that may be better than those before."""
        start = self.one or self.whole
        if self.pool is None:
            yield from self._outside()
        yield from self._turn(start, min(QUICK, self.seconds))
        turn = TURN
        while self.left > 0 and not self._met():
            self._tell(progress, 1 - self.left / max(self.seconds, 1e-9))
            yield from self._round(min(turn, self.left))
            self.whole.ready = True
            turn = min(LONGEST, turn * LONGER)
        for runner in (self.whole, self.one):
            if runner is not None:
                yield from runner.last()
        self._tell(progress, 1.0)

    @property
    def left(self) -> float:
        """Seconds left."""
        return self.end - monotonic()

    def _tell(self, progress: Progress | None, share: float) -> None:
        if progress is not None:
            best = self.told()
            progress(max(0.0, min(1.0, share)), None if best is None or best.unplaced else cost_of(best))

    def _round(self, turn: float) -> Iterator[Layout]:
        """A turn of each engine; the solver is asked after each."""
        for runner in (self.whole, self.one):
            if runner is None or self.left <= 0:
                continue
            if runner.spent or self._tired() or self._cheapest():
                yield from self._wait(min(turn, self.left))
            elif runner.ready:
                yield from self._turn(runner, min(turn, self.left))
        if self.pool is not None and self.left > 0:
            yield from self._pooled(self.pool, min(POOLED * turn, self.left))

    def _pooled(self, pool: Pool, seconds: float) -> Iterator[Layout]:
        """A turn of the pool; what it finds is what the whole batch goes on from."""
        end = monotonic() + seconds
        pool.priced(PRICING * seconds)
        if not self.rounded and pool.settled:
            self.rounded = True
            yield from self._rounded(pool)
        for state in pool.chosen(end - monotonic()):
            self.whole.work.offered, self.whole.ready = state, True
            yield from self._watched(iter([layout_of(state, self.pieces, self.whole.work.missing)]))
        yield from self._outside()

    def _rounded(self, pool: Pool) -> Iterator[Layout]:
        """The cheapest mix rounded down, the rest laid by our own engine: a start for choosing."""
        layout = joined(wholly_in(pool.job, pool.prices), self.items, self.pieces, self.spacing)
        if not layout.unplaced:
            kinds = {piece: kind for kind, piece in enumerate(self.pieces)}
            pool.learn([Used(kinds[sheet.piece], sheet.laid, 0.0, 0.0) for sheet in layout.sheets])
        yield from self._watched(iter([layout]))

    def _turn(self, runner: Own, seconds: float) -> Iterator[Layout]:
        """A turn of our own engine; the solver is heard after each step."""
        for layout in runner.turn(seconds):
            if layout is not None:
                yield from self._watched(iter([layout]))
                if self.pool is not None and runner is self.one and not layout.unplaced:
                    self.pool.learn(runner.work.sheets * self.sets)
            yield from self._outside()

    def _wait(self, seconds: float) -> Iterator[Layout]:
        end = monotonic() + seconds
        while self._asked() and (left := end - monotonic()) > 0:
            yield from self._outside(min(WAIT, left))

    def _outside(self, wait: float = 0.0) -> Iterator[Layout]:
        for outsider in self.outsiders:
            best = self.told()
            whole = best is not None and not best.unplaced
            cost = cost_of(best) / self.sets if best is not None and whole else 0.0
            sheets = len(best.sheets) // self.sets if best is not None and whole else 0
            for layout, found in outsider.work(cost, sheets, self.least / self.sets, self.pool, wait):
                if self.pool is not None and not layout.unplaced:
                    self.pool.learn([Used(kind, laid, 0.0, 0.0) for kind, laid in found] * self.sets)
                yield from self._watched(iter([repeated(layout, self.sets, self.pieces)]))

    def _tired(self) -> bool:
        """Whether our own engine should stand back for the solver: every other while when it finds nothing."""
        idle = monotonic() - self.changed
        return idle > TIRED and int(idle / TIRED) % 2 == 1 and self._asked()

    def _watched(self, layouts: Iterator[Layout]) -> Iterator[Layout]:
        """The layouts, and when the best one changed."""
        for layout in layouts:
            before = self.told()
            yield layout
            if self.told() is not before:
                self.changed = monotonic()

    def _cheapest(self) -> bool:
        """Whether nothing can cost less than the best layout."""
        best = self.told()
        return best is not None and not best.unplaced and cost_of(best) <= self.least * (1 + 1e-9) + 1e-9

    def _met(self) -> bool:
        """Whether all is done: the bound is met, and no single sheet is left for the solver to draw together."""
        best = self.told()
        if best is None or not self._cheapest():
            spent = all(runner is None or runner.spent for runner in (self.whole, self.one))
            return spent and self.pool is None and not self._asked()
        return len(best.sheets) > 1 or not self._asked()

    def _asked(self) -> bool:
        return any(one.alive for one in self.outsiders)


def _least(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> float:
    try:
        return bound(items, pieces, spacing).cost
    except StockError:
        return 0.0


def cost_of(layout: Layout) -> float:
    """Price of the pieces in use, their area where no prices are given."""
    sheets = layout.sheets
    return sum(sheet.piece.price for sheet in sheets) or sum(s.piece.length * s.piece.width for s in sheets)

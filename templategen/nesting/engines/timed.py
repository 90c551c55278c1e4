"""All engines at one job by the clock, side by side.

The outside solver, asked as if it were alone, works all the time on the cores there are; our own engines take turns
beside it, and stand back once they find nothing better. Whatever any of them finds is handed on.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from time import monotonic

from templategen.nesting.engines.batches import repeated, share_of, stock_for
from templategen.nesting.engines.column_mix import joined, wholly_in
from templategen.nesting.engines.column_pool import Pool
from templategen.nesting.engines.job import Used
from templategen.nesting.engines.progress import Progress
from templategen.nesting.engines.rectangles import layout_of
from templategen.nesting.engines.solver_process import Found, Role, SolverProcess
from templategen.nesting.engines.timed_lanes import TimedLanes
from templategen.nesting.stock import Item, Layout, Piece

Best = Callable[[], Layout | None]
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

TIRED = 3.0
"""After so many seconds in which it finds nothing cheaper our own engine stands back for other processes."""

BACK = 4
"""In a batch it works all the same in one of so many rounds."""

WAIT = 0.25
"""How long the solver's answers are waited for at once, seconds."""

CORES = 2
"""With no more cores than this the steady search, which uses them all, is left alone in time."""

STILL = 6.0
"""It is once nothing cheaper came for so many seconds in which chances were tried."""

LATE = 0.05, 0.07
"""Kept back for the last layout's offcuts and proof: seconds, and a share of the time."""

KEPT_BACK = 1.2
"""No more than this is kept back, seconds."""

JOINING = 0.25, 0.8
"""Effort for completing the cheapest mix rounded down: a share of the time left, and at most so many seconds."""

LAST_FILLS = 500
"""Fillings of the last step for each second kept back."""

CPUS = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
"""Cores that this process may use."""

LARGE = 300
"""A batch of more parts is laid out by one set and by the pool first, and bettered as a whole from there."""


class TimedPortfolio:
    """All engines at one job, a turn each."""

    def __init__(
        self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, seconds: float, best: Best, sets: int
    ) -> None:
        self.items, self.pieces, self.spacing = items, pieces, spacing
        self.kept_back = min(LATE[0] + LATE[1] * seconds, KEPT_BACK)
        self.seconds, self.end = seconds, monotonic() + seconds - self.kept_back
        self.best, self.sets, self.least = best, sets, 0.0
        self.whole = TimedLanes(self.items, pieces, spacing, 1)
        self.one = TimedLanes(self.items, pieces, spacing, sets) if sets > 1 else None
        self.pool = Pool(self.items, pieces, spacing) if sets > 1 else None
        self.whole.ready = sum(item.count for item in self.items) <= LARGE
        self.rounded, self.rounds = False, 0
        self.steady: list[SolverProcess] = []
        self.varied: list[SolverProcess] = []
        self.changed = self.cheaper = monotonic()

    def bring(self, stack: ExitStack) -> None:
        """Starts the outside solver, which has all the time there is; it wakes while the bound is worked out."""
        self.steady.append(self._brought(stack, "steady"))

    def bring_another(self, stack: ExitStack) -> None:
        """Starts another process that works while our own engines stand back."""
        if CPUS >= CORES and self.steady[0].alive:
            self.varied.append(self._brought(stack, "varied"))

    def _brought(self, stack: ExitStack, role: Role) -> SolverProcess:
        one = share_of(self.items, self.sets), stock_for(self.pieces, self.sets)
        return stack.enter_context(SolverProcess(*one, self.spacing, self.left, role))

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
            self.whole.ready, self.rounds = True, self.rounds + 1
            turn = min(LONGEST, turn * LONGER)
        yield from self._outside()
        fills = int(LAST_FILLS * self.kept_back) // (1 if self.one is None else 2)
        for runner in (self.whole, self.one):
            if runner is not None:
                yield from runner.last(fills)
        self._tell(progress, 1.0)

    @property
    def left(self) -> float:
        """Seconds left."""
        return self.end - monotonic()

    def _tell(self, progress: Progress | None, share: float) -> None:
        if progress is not None:
            best = self.best()
            progress(max(0.0, min(1.0, share)), None if best is None or best.unplaced else best.cost)

    def _round(self, turn: float) -> Iterator[Layout]:
        """A turn of each engine; the solver is asked after each."""
        for runner in (self.whole, self.one):
            if runner is None or self.left <= 0 or (self.pool is not None and not self.pool.settled):
                continue
            if runner.spent or self._stands_back():
                yield from self._wait(min(turn, self.left))
            elif runner.ready:
                yield from self._turn(runner, min(turn, self.left))
        if self.pool is not None and self.left > 0:
            yield from self._pooled(self.pool, min(POOLED * turn, self.left))

    def _pooled(self, pool: Pool, seconds: float) -> Iterator[Layout]:
        """A turn of the pool; what it finds is what the whole batch goes on from."""
        end = monotonic() + seconds
        if pool.settled and self._asked():
            yield from self._wait(PRICING * seconds)
        else:
            pool.priced(PRICING * seconds)
        if not self.rounded and pool.settled:
            self.rounded = True
            yield from self._rounded(pool)
        for state in pool.chosen(end - monotonic()):
            self.whole.work.offered, self.whole.ready = state, True
            yield layout_of(state, self.pieces, self.whole.work.missing)
        yield from self._outside()

    def _rounded(self, pool: Pool) -> Iterator[Layout]:
        """The cheapest mix rounded down, the rest laid by our own engine: a start for choosing."""
        effort = min(JOINING[1], JOINING[0] * max(0.0, self.left))
        layout = joined(wholly_in(pool.job, pool.prices), self.items, self.pieces, self.spacing, effort)
        if not layout.unplaced:
            kinds = {piece: kind for kind, piece in enumerate(self.pieces)}
            pool.learn([Used(kinds[sheet.piece], sheet.laid, 0.0, 0.0) for sheet in layout.sheets])
        yield layout

    def _turn(self, runner: TimedLanes, seconds: float) -> Iterator[Layout]:
        """A turn of our own engine; the solver is heard after each step."""
        for layout in runner.turn(seconds):
            if layout is not None:
                yield from self._watched(layout, ours=True)
                if self.pool is not None and runner is self.one and not layout.unplaced:
                    self.pool.learn(runner.work.sheets * self.sets)
            yield from self._outside()

    def _wait(self, seconds: float) -> Iterator[Layout]:
        end = monotonic() + seconds
        while self._asked() and (left := end - monotonic()) > 0:
            yield from self._outside(min(WAIT, left), standing_back=True)

    def _outside(self, wait: float = 0.0, standing_back: bool = False) -> Iterator[Layout]:
        """What the other processes found; each that is idle is put its next question."""
        for outsider in (*self.steady, *self.varied):
            for found, whole in outsider.heard(self.pool, wait):
                yield from self._watched(self._found(outsider, found, whole))
            if outsider.role != "varied" or self._may_ask(outsider, standing_back):
                outsider.ask(*self._known(), self.pool)
            wait /= 2

    def _known(self) -> tuple[float, int, float]:
        """Cost and pieces of one set in the best layout, 0 while there is none; and its bound."""
        best = self.best()
        if best is None or best.unplaced:
            return 0.0, 0, self.least / self.sets
        return best.cost / self.sets, len(best.sheets) // self.sets, self.least / self.sets

    def _found(self, outsider: SolverProcess, found: Found, whole: bool) -> Layout:
        """The layout of pieces filled elsewhere, for all sets; the pool learns of it."""
        filled = [Used(kind, laid, 0.0, 0.0) for kind, laid in found]
        if whole and self.pool is not None:
            state = filled, self.pool.job.demand.without(one for used in filled for one in used.laid)
            layout = layout_of(state, self.pieces, self.whole.work.missing)
        else:
            filled = filled * self.sets
            layout = repeated(outsider.packing.layout(found), self.sets, self.pieces)
        if self.pool is not None and not layout.unplaced:
            self.pool.learn(filled)
        return layout

    def _may_ask(self, varied: SolverProcess, standing_back: bool) -> bool:
        """Whether the search that tries chances is to go on: our own engine stands back for it, and the steady one
        is not to have all cores, few as they are."""
        few = self.pool is None and CPUS <= CORES and any(one.busy for one in self.steady)
        still = few and monotonic() - max(self.changed, varied.begun) > STILL
        return (standing_back or CPUS > CORES) and not still

    def _stands_back(self) -> bool:
        """Whether our own engine should stand back for another process."""
        if not self._asked():
            return False
        if self.pool is not None:
            return self.pool.settled and self.rounds % BACK != 0
        return self._cheapest() or monotonic() - self.cheaper > TIRED

    def _watched(self, layout: Layout, ours: bool = False) -> Iterator[Layout]:
        """The layout, and when the best one changed, by our own engine or another."""
        before = self.best()
        yield layout
        if self.best() is not before:
            self.changed = monotonic()
            self.cheaper = self.changed if ours else self.cheaper

    def _cheapest(self) -> bool:
        """Whether nothing can cost less than the best layout."""
        best = self.best()
        return best is not None and not best.unplaced and best.cost <= self.least * (1 + 1e-9) + 1e-9

    def _met(self) -> bool:
        """Whether all is done: the bound is met, and no single sheet is left for the solver to draw together."""
        best = self.best()
        if best is None or not self._cheapest():
            spent = all(runner is None or runner.spent for runner in (self.whole, self.one))
            return spent and self.pool is None and not self._asked()
        return len(best.sheets) > 1 or not self._asked()

    def _asked(self) -> bool:
        return any(one.alive for one in (*self.steady, *self.varied))

"""The race between cheaper sets of pieces: those that come nearest to holding everything get most turns."""

from dataclasses import dataclass, field

from templategen.nesting.engines.job import NestingJob
from templategen.nesting.engines.objective import by_bisection, goals
from templategen.nesting.engines.repack import State, begin, squeeze

WEARY = 6.0
"""Turns after which what a set still misses counts double."""

KNOWN = 4
"""A set not yet tried has its turn after so many turns of sets that were."""

EASY = 1, 8
"""The first set tried lies one eighth down the list: an easy one first, then a harder one of each side."""

Kinds = tuple[int, ...]


@dataclass
class Runner:
    """A set under way: its layout, and the turns it had."""

    state: State
    turns: int = 0


@dataclass
class Race:
    """Sets of pieces under way."""

    job: NestingJob
    runners: dict[Kinds, Runner] = field(default_factory=dict)
    waiting: list[Kinds] = field(default_factory=list)
    turns: int = 0
    limit: tuple[float, int] = (-1.0, 0)

    def next(self, state: State) -> Kinds | None:
        """The set whose turn it is, None when nothing cheaper is hopeful."""
        if any(state[1].left.values()) or not state[0]:
            return _everything(self.job, state) if state[0] else None
        limit = self.job.cost([sheet.kind for sheet in state[0]]), len(state[0])
        if limit != self.limit:
            self.limit = limit
            hopeful = goals(self.job, state[0])
            self.runners = {k: runner for k, runner in self.runners.items() if (self.job.cost(k), len(k)) < limit}
            self.waiting = [kinds for kinds in by_bisection(hopeful, EASY) if kinds not in self.runners]
        self.turns += 1
        if self.waiting and (len(self.runners) < KNOWN or self.turns % KNOWN == 0):
            return self.waiting.pop(0)
        return min(self.runners, key=lambda kinds: (self._missing(kinds), kinds)) if self.runners else None

    def _missing(self, kinds: Kinds) -> float:
        runner = self.runners[kinds]
        return self.job.value_of(runner.state[1]) * (1 + runner.turns / WEARY)

    def run(self, kinds: Kinds, state: State, fills: int) -> State | None:
        """A turn for `kinds`: a layout that leaves nothing, or less than `state` does, or None."""
        if kinds not in self.runners:
            self.runners[kinds] = Runner(begin(self.job, kinds, state[0]))
        runner = self.runners[kinds]
        runner.state = sheets, left = squeeze(self.job, runner.state, fills)
        runner.turns += 1
        if any(left.left.values()) and self.job.value_of(left) >= self.job.value_of(state[1]):
            return None
        del self.runners[kinds]
        return [used for used in sheets if used.laid], left


def _everything(job: NestingJob, state: State) -> Kinds:
    """All pieces there are, while parts are missing."""
    used = [sheet.kind for sheet in state[0]]
    spare = list(used)
    for kind in job.available(used):
        spare += [kind] * ((job.pieces[kind].count or 0) - used.count(kind))
    return tuple(spare)

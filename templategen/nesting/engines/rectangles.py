"""Our own engine: boards filled one after another, then squeezed onto ever cheaper sets of boards."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

from templategen.nesting.engines.job import Job, Used
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.engines.race import Race
from templategen.nesting.engines.squeeze import State, gather
from templategen.nesting.stock import Item, Layout, Piece, Sheet

DEFAULT_FILLS = 3000
"""Fillings tried when no effort is asked for: about a second for one table."""

FILLS_A_SECOND = 2500
"""Fillings an ordinary machine does in a second; turns an effort into a fixed amount of work."""

STEADY_TRIES = 16
"""Usual recipes, and lanes, tried on each piece of the first layout."""

SLICE = 400
"""Fillings spent on a set of pieces before another may have its turn."""

GATHERING = 0.1
"""The share of the work that goes into larger offcuts."""

MOST_GATHERING = 3000
"""Fillings that go into larger offcuts at most."""

LAST = 600
"""Fillings that go into offcuts when the clock ends the work."""

NEVER = 1e-12
"""Stands for a price of nothing where a price divides."""


@dataclass(frozen=True, slots=True)
class Rectangles:
    """Our own board engine: lanes of one width, mitred blanks head to tail in them, ripped and crosscut; on routed
    stock also parts in their boxes wherever the packing library finds a place.

    A fixed amount of work: the same call gives the same layout, whatever the machine or the Python. `plain` keeps
    every part in its own box, `seed` gives other layouts.
    """

    plain: bool = False
    seed: int = 1
    name: str = "lanes"

    def nest(
        self,
        items: Sequence[Item],
        pieces: Sequence[Piece],
        spacing: float,
        seconds: float | None = None,
        progress: Progress | None = None,
    ) -> Layout:
        """See `Engine.nest`."""
        work = DEFAULT_FILLS if seconds is None else max(1, round(seconds * FILLS_A_SECOND))
        under_way = Work(items, pieces, spacing, work, self.plain, self.seed)
        best = Layout(())
        for layout in under_way.layouts():
            best = layout
            if progress is not None:
                progress(min(1.0, 1 - under_way.job.fills / work))
        return best


class Work:
    """A job under way, that can be asked for better and better layouts."""

    def __init__(
        self,
        items: Sequence[Item],
        pieces: Sequence[Piece],
        spacing: float,
        fills: int,
        plain: bool = False,
        seed: int = 1,
    ) -> None:
        fitting = [item for item in items if item.count > 0 and _fits_somewhere(item, pieces, spacing)]
        self.job = Job(fitting, pieces, spacing, fills, plain=plain, random=Random(seed))
        self.pieces, self.reserve = pieces, min(int(fills * GATHERING), MOST_GATHERING)
        self.missing = {item.code: item.count for item in items if item.count > 0 and item not in fitting}

    def layouts(self) -> Iterator[Layout]:
        """One after each turn, the last one with its parts gathered for larger offcuts."""
        shown: State | None = None
        layout = Layout(())
        for state in _better(self.job, _first(self.job), self.reserve):
            if state is not shown:
                shown, layout = state, _layout(state, self.pieces, self.missing)
            yield layout

    def finish(self) -> None:
        """No more turns: what is left of the work goes into larger offcuts."""
        self.reserve = min(self.reserve, LAST)
        self.job.fills = min(self.job.fills, self.reserve)


def _fits_somewhere(item: Item, pieces: Sequence[Piece], spacing: float) -> bool:
    probe = Job([replace(item, count=1)], pieces, spacing, 0)
    return any(probe.steady(kind, probe.demand, 0).laid for kind in range(len(pieces))) or any(
        probe.steady(kind, probe.demand, 2).laid for kind, piece in enumerate(pieces) if piece.fault_boxes
    )


def _first(job: Job) -> State:
    """One piece after another, each time the one that is filled best for its price."""
    sheets: list[Used] = []
    demand = job.demand
    while any(demand.left.values()):
        wanted = sum(demand.left.values())
        kinds = job.available([used.kind for used in sheets])
        trials = [job.steady(kind, demand, turn) for kind in kinds for turn in range(STEADY_TRIES)]
        trials = [used for used in trials if used.laid]
        if not trials:
            break
        best = max(trials, key=lambda used: _worth(job, used, finishes=len(used.laid) == wanted))
        while best.kind in job.available([used.kind for used in sheets]) and demand.holds(best.laid):
            sheets.append(best)
            demand = demand.without(best.laid)
    return sheets, demand


def _worth(job: Job, used: Used, finishes: bool) -> tuple[float, float]:
    cost = job.costs[used.kind]
    return (1.0, -cost) if finishes else (0.0, used.area / max(cost, NEVER))


def _better(job: Job, state: State, reserve: int) -> Iterator[State]:
    """Better and better layouts, until the fillings are used up; the last of them make the offcuts larger."""
    yield state
    race = Race(job)
    while job.fills > reserve:
        kinds = race.next(state)
        if kinds is None:
            break
        before = job.fills
        reached = race.run(kinds, state, min(SLICE, job.fills - reserve))
        # A turn that tried nothing must not come round again.
        job.fills -= int(job.fills == before)
        state = reached or state
        yield state
    yield gather(job, state, max(0, min(job.fills, MOST_GATHERING)))


def _layout(state: State, pieces: Sequence[Piece], missing: dict[str, int]) -> Layout:
    numbers: Counter[int] = Counter()
    sheets = []
    for used in sorted(state[0], key=lambda used: used.kind):
        numbers[used.kind] += 1
        sheets.append(Sheet(pieces[used.kind], numbers[used.kind], used.laid))
    left = {code: count for code, count in state[1].left.items() if count > 0}
    return Layout(tuple(sheets), left | missing)

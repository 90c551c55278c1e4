"""The rectangle engine: boards filled one after another, then squeezed onto ever cheaper sets of boards."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from templategen.nesting.engines.goals import goals
from templategen.nesting.engines.job import Job, Used
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.engines.squeeze import State, gather, squeeze
from templategen.nesting.stock import Item, Layout, Piece, Sheet

DEFAULT_FILLS = 1600
"""Fillings tried when no effort is asked for: about half a second for one table."""

FILLS_A_SECOND = 2500
"""Fillings an ordinary machine does in a second; turns an effort into a fixed amount of work."""

STEADY_TRIES = 8
"""Usual recipes tried on each piece of the first layout."""

SLICE = 500
"""Fillings spent on a goal at first; doubled each time no goal was reached."""

MOST_GOALS = 3
"""Goals tried one after another before more effort is spent on each."""

GATHERING = 0.1
"""The share of the work that goes into larger offcuts."""

NEVER = 1e-12
"""Stands for a price of nothing where a price divides."""


class Rectangles:
    """Parts in their boxes, mitred blanks interlocked in rows; the packing library finds the places."""

    name = "rectangles"

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
        fitting = [item for item in items if item.count > 0 and _fits_somewhere(item, pieces, spacing)]
        job = Job(fitting, pieces, spacing, work)
        state: State = ([], job.demand)
        for better in _better(job, _first(job)):
            state = better
            if progress is not None:
                progress(min(1.0, 1 - job.fills / work))
        missing = {item.code: item.count for item in items if item.count > 0 and item not in fitting}
        return _layout(state, pieces, missing)


def _fits_somewhere(item: Item, pieces: Sequence[Piece], spacing: float) -> bool:
    probe = Job([replace(item, count=1)], pieces, spacing, 0)
    return any(probe.steady(kind, probe.demand, 0).laid for kind in range(len(pieces))) or any(
        probe.steady(kind, probe.demand, 2).laid for kind, piece in enumerate(pieces) if piece.faults
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


def _better(job: Job, state: State) -> Iterator[State]:
    """Better and better layouts, until the fillings are used up; the last of them make the offcuts larger."""
    yield state
    reserve = int(job.fills * GATHERING)
    effort = SLICE
    while job.fills > reserve:
        wanted = _wanted(job, state)
        reached = None
        for kinds in wanted:
            reached = _reach(job, state, kinds, min(effort, job.fills - reserve))
            yield reached or state
            if reached or job.fills <= reserve:
                break
        if not wanted:
            break
        state, effort = (reached, SLICE) if reached else (state, effort * 2)
    yield gather(job, state, max(job.fills, 0))


def _wanted(job: Job, state: State) -> list[tuple[int, ...]]:
    """The sets of pieces worth trying: all there are while parts are missing, else cheaper ones."""
    sheets, missing = state
    if not sheets:
        return []
    used = [sheet.kind for sheet in sheets]
    if not any(missing.left.values()):
        return goals(job, sheets)[:MOST_GOALS]
    spare = list(used)
    for kind in job.available(used):
        spare += [kind] * ((job.pieces[kind].count or 0) - used.count(kind))
    return [tuple(spare)]


def _reach(job: Job, state: State, kinds: tuple[int, ...], fills: int) -> State | None:
    """A layout on `kinds` that leaves nothing, or less than `state` does."""
    sheets, left = squeeze(job, kinds, state[0], fills)
    if any(left.left.values()) and job.area_of(left) >= job.area_of(state[1]):
        return None
    return [used for used in sheets if used.laid], left


def _layout(state: State, pieces: Sequence[Piece], missing: dict[str, int]) -> Layout:
    numbers: Counter[int] = Counter()
    sheets = []
    for used in sorted(state[0], key=lambda used: used.kind):
        numbers[used.kind] += 1
        sheets.append(Sheet(pieces[used.kind], numbers[used.kind], used.laid))
    left = {code: count for code, count in state[1].left.items() if count > 0}
    return Layout(tuple(sheets), left | missing)

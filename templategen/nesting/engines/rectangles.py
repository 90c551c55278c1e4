"""Our own engine: boards filled one after another, then squeezed onto ever cheaper sets of boards."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import fsum
from random import Random
from types import MappingProxyType

from templategen.nesting.engines.block import single
from templategen.nesting.engines.cheaper_sets import Race
from templategen.nesting.engines.column_generation import ColumnGeneration
from templategen.nesting.engines.job import NestingJob, Used
from templategen.nesting.engines.lanes import SLIP
from templategen.nesting.engines.progress import Progress
from templategen.nesting.engines.repack import State, draw_together, gather_offcuts
from templategen.nesting.offcuts import clear_rooms, offcuts
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

MOST_GATHERING = 1000
"""Fillings that go into larger offcuts at most."""

FEW_SHEETS = 3
"""Fewer pieces are laid without prices."""

PRICING, MOST_TURNS = 0.5, 30
"""The share of the work that goes into prices at most, and how often they are bettered."""

DRAWING, MOST_DRAWING = 4, 60
"""One in so many of these, and no more than so many, draw the parts of the last piece together."""

LAST = 600
"""Fillings that go into offcuts when the clock ends the work."""

EMPTY: Mapping[str, int] = MappingProxyType({})
"""No copies."""

NEVER = 1e-12
"""Stands for a price of nothing where a price divides."""


@dataclass(frozen=True, slots=True)
class Rectangles:
    """Our own board engine: lanes of one width, mitred blanks head to tail in them, ripped and crosscut; on routed
    stock also parts in their boxes wherever the packing library finds a place.

    A fixed amount of work: the same call gives the same layout, whatever the machine or the Python. `plain` keeps
    every part in its own box, `seed` gives other layouts, without `sections` all is laid in lanes, without
    `crosscuts` defects are cut round where they lie.
    """

    plain: bool = False
    seed: int = 1
    sections: bool = True
    crosscuts: bool = True

    def nest(
        self,
        items: Sequence[Item],
        pieces: Sequence[Piece],
        spacing: float,
        seconds: float | None = None,
        progress: Progress | None = None,
    ) -> Layout:
        """The best layout by so many fillings as an ordinary machine makes in `seconds`, or by the usual number."""
        work = DEFAULT_FILLS if seconds is None else max(1, round(seconds * FILLS_A_SECOND))
        under_way = Search(items, pieces, spacing, work, self.plain, self.seed)
        under_way.job.in_sections, under_way.job.crosscut = self.sections, self.crosscuts
        best = Layout(())
        for layout in under_way.layouts():
            best = layout
            if progress is not None:
                cost = None if best.unplaced else under_way.job.cost(used.kind for used in under_way.sheets)
                progress(max(0.0, min(1.0, 1 - under_way.job.fills / work)), cost)
        return best


class Search:
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
        fitting = [item for item in items if item.count > 0 and any(_fits(item, piece) for piece in pieces)]
        self.job = NestingJob(fitting, pieces, spacing, fills, plain=plain, random=Random(seed))
        self.pieces, self.reserve = pieces, min(int(fills * GATHERING), MOST_GATHERING)
        self.offered: State | None = None
        self.sheets: list[Used] = []
        self.missing = {item.code: item.count for item in items if item.count > 0 and item not in fitting}

    def layouts(self) -> Iterator[Layout]:
        """One after each turn, the last one with its parts gathered for larger offcuts."""
        shown: State | None = None
        layout = Layout(())
        for state in self._better(self._start()):
            if state is not shown:
                self.sheets = state[0]
                shown, layout = state, layout_of(state, self.pieces, self.missing)
            yield layout

    def _start(self) -> State:
        """The layout offered from elsewhere, else a first one of our own."""
        offered, self.offered = self.offered, None
        return offered or _first(self.job)

    def _better(self, state: State) -> Iterator[State]:
        """Better and better layouts, until the fillings are used up; the last of them make the offcuts larger."""
        job = self.job
        yield state
        for _ in self._priced(state):
            yield state
        state = [job.revalued(used) for used in state[0]], state[1]
        race = Race(job)
        while job.fills > self.reserve:
            state = self._taken(state)
            kinds = race.next(state)
            if kinds is None:
                break
            before = job.fills
            reached = race.run(kinds, state, min(SLICE, job.fills - self.reserve))
            # A turn that tried nothing must not come round again.
            job.fills -= int(job.fills == before)
            state = reached or state
            yield state
        state = self._taken(state)
        yield state
        fills = max(0, min(job.fills, MOST_GATHERING))
        state = gather_offcuts(job, state, fills - fills // DRAWING)
        yield state
        yield draw_together(job, state, min(MOST_DRAWING, fills // DRAWING), self._useful)

    def _useful(self, used: Used) -> float:
        """How useful the offcuts of a piece are: the sum of the squares of their areas."""
        sheet = Sheet(self.pieces[used.kind], 1, used.laid)
        left = offcuts(sheet, self.job.items, sheet.piece.apart(self.job.spacing))
        return fsum((width * height) ** 2 for _, _, width, height in left)

    def _priced(self, state: State) -> Iterator[None]:
        """Values the parts by their prices, where there are pieces enough to choose from; a turn at a time."""
        job = self.job
        if len(state[0]) < FEW_SHEETS or not job.sectioned:
            return
        allowed, prices = job.fills - int((job.fills - self.reserve) * PRICING), ColumnGeneration(job)
        for used in state[0]:
            prices.add(used)
        for _ in range(MOST_TURNS):
            if job.fills <= allowed or not prices.turn():
                break
            yield
        job.value_by(prices.worth(), prices.columns.values())

    def _taken(self, state: State) -> State:
        """A layout from elsewhere, where one was offered that is cheaper."""
        offered, self.offered = self.offered, None
        if offered is None or any(count > 0 for count in offered[1].left.values()):
            return state
        whole = not any(count > 0 for count in state[1].left.values())
        costs = [(self.job.cost(used.kind for used in one[0]), len(one[0])) for one in (offered, state)]
        return offered if not whole or costs[0] < costs[1] else state

    def finish(self, fills: int = LAST) -> None:
        """No more turns: so much of what is left of the work goes into larger offcuts."""
        self.reserve = min(self.reserve, LAST, fills)
        self.job.fills = min(self.job.fills, self.reserve)


def _fits(item: Item, piece: Piece) -> bool:
    """Whether a copy finds room on a piece, clear of its margins and defects."""
    length, width = single(item).length - SLIP, single(item).width - SLIP
    least = (length, width) if piece.grain else (max(length, width), min(length, width))
    return bool(clear_rooms(piece.room, piece.defect_boxes, least, piece.grain))


def _first(job: NestingJob) -> State:
    """The cheaper of two layouts: the last piece is the cheapest that finishes, or the best for its price as before;
    a dear board that holds all at once must not stand in the way of several cheap ones."""
    states = [_one_by_one(job, finishing) for finishing in ((True, False) if len(job.pieces) > 1 else (True,))]
    return min(states, key=lambda state: (job.area_of(state[1]), job.cost(used.kind for used in state[0])))


def _one_by_one(job: NestingJob, finishing: bool) -> State:
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
        best = max(trials, key=lambda used: _rank(job, used, finishes=finishing and len(used.laid) == wanted))
        while best.kind in job.available([used.kind for used in sheets]) and demand.holds(best.laid):
            sheets.append(best)
            demand = demand.without(best.laid)
    return sheets, demand


def _rank(job: NestingJob, used: Used, finishes: bool) -> tuple[float, float]:
    cost = job.costs[used.kind]
    return (1.0, -cost) if finishes else (0.0, used.area / max(cost, NEVER))


def layout_of(state: State, pieces: Sequence[Piece], missing: Mapping[str, int] = EMPTY) -> Layout:
    """The layout of a state, its pieces numbered; `missing` are copies that fit nowhere."""
    numbers: Counter[int] = Counter()
    sheets = []
    for used in sorted(state[0], key=lambda used: used.kind):
        numbers[used.kind] += 1
        sheets.append(Sheet(pieces[used.kind], numbers[used.kind], used.laid))
    left = {code: count for code, count in state[1].left.items() if count > 0}
    return Layout(tuple(sheets), left | dict(missing))

"""The rectangle engine: boards filled one after another, then a few taken up and filled again, better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from random import Random

from templategen.nesting.engines.block import Block, Demand, single
from templategen.nesting.engines.clearing import Cut
from templategen.nesting.engines.fill import RULES, Filled, Recipe, fill
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.protocol import Progress
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet

DEFAULT_FILLS = 500
"""Fillings tried when no effort is asked for: well under a second for one table."""

FILLS_A_SECOND = 700
"""Fillings an ordinary machine does in a second; turns an effort into a fixed amount of work."""

NEVER = 1e-12
"""Stands for a price of nothing where a price divides."""


@dataclass(frozen=True)
class Used:
    """One piece of stock in use: which kind, and what lies on it."""

    kind: int
    laid: tuple[Laid, ...]
    area: float


@dataclass(frozen=True)
class State:
    """A whole layout under way."""

    sheets: tuple[Used, ...]
    missing: Demand


@dataclass
class Search:
    """One job: its data, a seeded source of variety, and the fillings still allowed."""

    items: Sequence[Item]
    pieces: Sequence[Piece]
    spacing: float
    fills: int
    random: Random = field(default_factory=lambda: Random(1))

    def __post_init__(self) -> None:
        self.area = {item.code: abs(item.outline.area) for item in self.items}
        self.singles = [single(item) for item in self.items]
        self.costs = _costs(self.pieces)
        self.interlock = Interlock(self.items, self.spacing)

    def score(self, state: State) -> tuple[float, float, float, float]:
        """What is to be made least: area left over, cost, pieces, and how evenly the parts are spread."""
        missing = sum(self.area[code] * count for code, count in state.missing.left.items())
        cost = sum(self.costs[used.kind] for used in state.sheets)
        spread = -sum((used.area / self._size(used.kind)) ** 2 for used in state.sheets)
        return missing, round(cost, 6), len(state.sheets), round(spread, 9)

    def _size(self, kind: int) -> float:
        return self.pieces[kind].length * self.pieces[kind].width

    def available(self, sheets: Sequence[Used]) -> list[int]:
        """The kinds of stock of which there is another piece."""
        used = Counter(sheet.kind for sheet in sheets)
        counts = [piece.count for piece in self.pieces]
        return [kind for kind, count in enumerate(counts) if count is None or used[kind] < count]

    def filled(self, kind: int, demand: Demand, order: Sequence[Block], recipe: Recipe) -> Filled:
        """One filling, counted."""
        self.fills -= 1
        return fill(self.pieces[kind], order, demand, recipe, self.interlock)

    def complete(self, sheets: tuple[Used, ...], demand: Demand, steady: bool, tries: int) -> State:
        """Take one piece after another, each time the one that is filled best for its price."""
        while any(demand.left.values()):
            best = self._next(sheets, demand, steady, tries)
            if best is None:
                break
            sheets = (*sheets, best)
            demand = demand.without(best.laid)
        return State(sheets, demand)

    def _next(self, sheets: tuple[Used, ...], demand: Demand, steady: bool, tries: int) -> Used | None:
        found: list[tuple[tuple[float, float], Used]] = []
        wanted = sum(demand.left.values())
        for kind in self.available(sheets):
            for turn in range(tries):
                filled = self.filled(kind, demand, self.order(steady, turn), self.recipe(kind, steady, turn))
                if not filled.laid:
                    continue
                used = Used(kind, filled.laid, filled.area)
                found.append((self._worth(used, len(filled.laid) == wanted, steady), used))
        return max(found, key=lambda each: each[0])[1] if found else None

    def _worth(self, used: Used, finishes: bool, steady: bool) -> tuple[float, float]:
        cost = self.costs[used.kind]
        if finishes:
            return 1.0, -cost
        noise = 1.0 if steady else self.random.uniform(0.93, 1.07)
        return 0.0, noise * used.area / max(cost, NEVER)

    def order(self, steady: bool, turn: int) -> list[Block]:
        """The blocks in the order of one of the usual keys, shaken unless `steady`."""
        key = ORDERS[turn % len(ORDERS) if steady else self.random.randrange(len(ORDERS))]
        shake = 0.0 if steady else self.random.choice((0.0, 0.2, 0.6))

        def rank(block: Block) -> float:
            return -key(block) * (1 + shake * (self.random.random() - 0.5))

        return sorted(self.singles, key=rank)

    def recipe(self, kind: int, steady: bool, turn: int) -> Recipe:
        """A recipe: the usual ones in turn when `steady`, else any."""
        cuts: tuple[Cut, ...] = ("lengths", "lanes") if self.pieces[kind].faults else ("lengths",)
        if steady:
            rows = tuple(f for f in self.interlock.families for _ in range(4)) if turn % 2 else ()
            return Recipe(cuts[turn // 2 % len(cuts)], RULES[turn // 2 % len(RULES)], rows)
        return Recipe(self.random.choice(cuts), self.random.choice(RULES), self._rows())

    def _rows(self) -> tuple[tuple[str, ...], ...]:
        families = self.interlock.families
        picked = [self.random.choice(families) for _ in range(self.random.choice((0, 2, 4, 6)))]
        return tuple(tuple(self.random.sample(family, len(family))) for family in picked)

    def shaken(self, state: State) -> State:
        """A few pieces taken up, with all that is missing, and filled again."""
        count = min(len(state.sheets), self.random.choice((1, 2, 2, 3, 3, 4)))
        poorest = sorted(
            range(len(state.sheets)),
            key=lambda i: state.sheets[i].area / self._size(state.sheets[i].kind) * self.random.uniform(0.6, 1.4),
        )[:count]
        kept = tuple(used for i, used in enumerate(state.sheets) if i not in poorest)
        lifted = [laid for i in poorest for laid in state.sheets[i].laid]
        return self.complete(kept, state.missing.with_back(lifted), steady=False, tries=self.random.choice((1, 2)))


ORDERS = (
    lambda block: block.length,
    lambda block: block.length * block.width,
    lambda block: block.width * 1e3 + block.length,
    lambda block: block.length + block.width,
)
"""Longest first, largest first, widest first, longest way round first."""


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
        work = DEFAULT_FILLS if seconds is None else max(1, int(seconds * FILLS_A_SECOND))
        search = Search(items, pieces, spacing, work)
        best = None
        for best in _improve(search):
            if progress is not None:
                progress(min(1.0, 1 - search.fills / work))
        assert best is not None
        return _layout(best, pieces)


def _improve(search: Search) -> Iterator[State]:
    """Better and better layouts, until the fillings are used up; the first is always whole."""
    wanted = Demand(Counter({item.code: item.count for item in search.items}))
    best = search.complete((), wanted, steady=True, tries=8)
    yield best
    while search.fills > 0 and best.sheets:
        trial = search.shaken(best)
        if search.score(trial) <= search.score(best):
            best = trial
        yield best


def _layout(state: State, pieces: Sequence[Piece]) -> Layout:
    numbers: Counter[int] = Counter()
    sheets = []
    for used in sorted(state.sheets, key=lambda used: used.kind):
        numbers[used.kind] += 1
        sheets.append(Sheet(pieces[used.kind], numbers[used.kind], used.laid))
    missing = {code: count for code, count in state.missing.left.items() if count > 0}
    return Layout(tuple(sheets), missing)


def _costs(pieces: Sequence[Piece]) -> list[float]:
    """Prices where any is given (0 then means free), else areas."""
    if any(piece.price > 0 for piece in pieces):
        return [piece.price for piece in pieces]
    return [piece.length * piece.width for piece in pieces]


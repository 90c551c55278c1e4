"""One nesting job: its data, a seeded source of variety, and the fillings still allowed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from math import fsum
from random import Random

from templategen.nesting.engines.block import Block, Demand, single
from templategen.nesting.engines.clearing import Cut
from templategen.nesting.engines.fill import RULES, SAWN_RULES, Recipe, fill, fill_lanes
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.lanes import Habits
from templategen.nesting.stock import Item, Laid, Piece

ORDERS: tuple[Callable[[Block], float], ...] = (
    lambda block: block.length,
    lambda block: block.length * block.width,
    lambda block: block.width * 1e4 + block.length,
    lambda block: block.length + block.width,
)
"""Longest first, largest first, widest first, longest way round first."""

CHANCES = (0.0, 0.2, 0.6, 1.0)
"""How often a filling in lanes keeps a habit."""

LANES_SHARE = 0.7
"""How many of the shaken fillings go in lanes on stock that is routed."""

SAWN_LANES = 0.95
"""The same on stock that is sawn; the others divide it by cuts without lanes."""

SHAKES = (0.0, 0.2, 0.6)
"""By how much of its key a block may move in a shaken order."""

ROWS = (2, 4, 6)
"""How many rows a shaken recipe asks for."""


@dataclass(frozen=True, slots=True)
class Used:
    """A piece of stock of a kind (its index), what lies on it, and the area of those parts, mm2."""

    kind: int
    laid: tuple[Laid, ...]
    area: float


@dataclass
class Job:
    """What is asked, and how often it may still be tried; every filling is counted."""

    items: Sequence[Item]
    pieces: Sequence[Piece]
    spacing: float
    fills: int
    lanes_share: float = LANES_SHARE
    plain: bool = False
    random: Random = field(default_factory=lambda: Random(1))

    def __post_init__(self) -> None:
        self.area = {item.code: abs(item.outline.area) for item in self.items}
        self.blocks = [single(item) for item in self.items]
        self.costs = _costs(self.pieces)
        self.interlock = Interlock(self.items, self.spacing, self.plain)
        self.fullest = [0.0 for _ in self.pieces]

    @property
    def demand(self) -> Demand:
        """All copies wanted."""
        return Demand(Counter({item.code: item.count for item in self.items}))

    def area_of(self, demand: Demand) -> float:
        """The area of the copies in `demand`, mm2."""
        return fsum(self.area[code] * count for code, count in sorted(demand.left.items()))

    def size(self, kind: int) -> float:
        """The area of a piece, mm2."""
        return self.pieces[kind].length * self.pieces[kind].width

    def cost(self, kinds: Iterable[int]) -> float:
        """What pieces of these kinds cost, rounded so that sums can be compared."""
        return round(fsum(self.costs[kind] for kind in kinds), 6)

    def available(self, used: Sequence[int]) -> list[int]:
        """The kinds of stock of which there is another piece besides those used."""
        counts = Counter(used)
        return [k for k, piece in enumerate(self.pieces) if piece.count is None or counts[k] < piece.count]

    def steady(self, kind: int, demand: Demand, turn: int) -> Used:
        """Fill a piece by one of the usual recipes."""
        if turn % 4 if self.sawn(kind) else turn >= len(RULES) * 2:
            return self.lanes(kind, demand)
        cuts = self._cuts(kind)
        rows = tuple(f for f in self.interlock.families for _ in range(4)) if turn % 2 and not self.sawn(kind) else ()
        rules = self._rules(kind)
        recipe = Recipe(cuts[turn // 2 % len(cuts)], rules[turn // 2 % len(rules)], rows)
        key = ORDERS[turn % len(ORDERS)]
        return self._fill(kind, demand, sorted(self.blocks, key=lambda block: -key(block)), recipe)

    def shaken(self, kind: int, demand: Demand) -> Used:
        """Fill a piece by a recipe and an order that chance picks."""
        pick = self.random.choice
        if self.random.random() < (SAWN_LANES if self.sawn(kind) else self.lanes_share):
            return self.lanes(kind, demand)
        recipe = Recipe(pick(self._cuts(kind)), pick(self._rules(kind)), () if self.sawn(kind) else self._rows())
        key, shake = pick(ORDERS), pick(SHAKES)
        order = sorted(self.blocks, key=lambda b: -key(b) * (1 + shake * (self.random.random() - 0.5)))
        return self._fill(kind, demand, order, recipe)

    def lanes(self, kind: int, demand: Demand) -> Used:
        """Fill a piece in lanes, by habits that chance picks."""
        pick = self.random.choice
        habits = Habits(pick(CHANCES), pick(CHANCES[:3]), pick(CHANCES))
        self.fills -= 1
        piece = self.pieces[kind]
        laid, area = fill_lanes(piece, demand, pick(self._cuts(kind)), habits, self.interlock, self.random)
        self.fullest[kind] = max(self.fullest[kind], area)
        return Used(kind, laid, area)

    def _fill(self, kind: int, demand: Demand, order: Sequence[Block], recipe: Recipe) -> Used:
        self.fills -= 1
        laid, area = fill(self.pieces[kind], order, demand, recipe, self.interlock)
        self.fullest[kind] = max(self.fullest[kind], area)
        return Used(kind, laid, area)

    def sawn(self, kind: int) -> bool:
        """Whether only cuts that go right through may free the parts."""
        return self.pieces[kind].mode == "sawn"

    def _rules(self, kind: int) -> Sequence[str]:
        return SAWN_RULES if self.sawn(kind) else RULES

    def _cuts(self, kind: int) -> Sequence[Cut]:
        return ("lengths", "lanes") if self.pieces[kind].fault_boxes else ("lengths",)

    def _rows(self) -> tuple[tuple[str, ...], ...]:
        families = self.interlock.families
        picked = [self.random.choice(families) for _ in range(self.random.choice(ROWS))]
        return tuple(tuple(self.random.sample(family, len(family))) for family in picked)


def _costs(pieces: Sequence[Piece]) -> list[float]:
    """Prices where any is given (0 then means free), else areas."""
    if any(piece.price > 0 for piece in pieces):
        return [piece.price for piece in pieces]
    return [piece.length * piece.width for piece in pieces]

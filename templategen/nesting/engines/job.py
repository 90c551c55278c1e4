"""One nesting job: its data, a seeded source of variety, and the fillings still allowed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from random import Random

from templategen.nesting.engines.block import Block, Demand, single
from templategen.nesting.engines.clearing import Cut
from templategen.nesting.engines.fill import RULES, Recipe, fill
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.stock import Item, Laid, Piece

ORDERS: tuple[Callable[[Block], float], ...] = (
    lambda block: block.length,
    lambda block: block.length * block.width,
    lambda block: block.width * 1e4 + block.length,
    lambda block: block.length + block.width,
)
"""Longest first, largest first, widest first, longest way round first."""

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
    random: Random = field(default_factory=lambda: Random(1))

    def __post_init__(self) -> None:
        self.area = {item.code: abs(item.outline.area) for item in self.items}
        self.blocks = [single(item) for item in self.items]
        self.costs = _costs(self.pieces)
        self.interlock = Interlock(self.items, self.spacing)

    @property
    def demand(self) -> Demand:
        """All copies wanted."""
        return Demand(Counter({item.code: item.count for item in self.items}))

    def area_of(self, demand: Demand) -> float:
        """The area of the copies in `demand`, mm2."""
        return sum(self.area[code] * count for code, count in sorted(demand.left.items()))

    def size(self, kind: int) -> float:
        """The area of a piece, mm2."""
        return self.pieces[kind].length * self.pieces[kind].width

    def cost(self, kinds: Iterable[int]) -> float:
        """What pieces of these kinds cost, rounded so that sums can be compared."""
        return round(sum(self.costs[kind] for kind in kinds), 6)

    def available(self, used: Sequence[int]) -> list[int]:
        """The kinds of stock of which there is another piece besides those used."""
        counts = Counter(used)
        return [k for k, piece in enumerate(self.pieces) if piece.count is None or counts[k] < piece.count]

    def steady(self, kind: int, demand: Demand, turn: int) -> Used:
        """Fill a piece by one of the usual recipes."""
        cuts = self._cuts(kind)
        rows = tuple(f for f in self.interlock.families for _ in range(4)) if turn % 2 else ()
        recipe = Recipe(cuts[turn // 2 % len(cuts)], RULES[turn // 2 % len(RULES)], rows)
        key = ORDERS[turn % len(ORDERS)]
        return self._fill(kind, demand, sorted(self.blocks, key=lambda block: -key(block)), recipe)

    def shaken(self, kind: int, demand: Demand) -> Used:
        """Fill a piece by a recipe and an order that chance picks."""
        pick = self.random.choice
        recipe = Recipe(pick(self._cuts(kind)), pick(RULES), self._rows())
        key, shake = pick(ORDERS), pick(SHAKES)
        order = sorted(self.blocks, key=lambda b: -key(b) * (1 + shake * (self.random.random() - 0.5)))
        return self._fill(kind, demand, order, recipe)

    def _fill(self, kind: int, demand: Demand, order: Sequence[Block], recipe: Recipe) -> Used:
        self.fills -= 1
        laid, area = fill(self.pieces[kind], order, demand, recipe, self.interlock)
        return Used(kind, laid, area)

    def _cuts(self, kind: int) -> Sequence[Cut]:
        return ("lengths", "lanes") if self.pieces[kind].faults else ("lengths",)

    def _rows(self) -> tuple[tuple[str, ...], ...]:
        families = self.interlock.families
        picked = [self.random.choice(families) for _ in range(self.random.choice(ROWS))]
        return tuple(tuple(self.random.sample(family, len(family))) for family in picked)


def _costs(pieces: Sequence[Piece]) -> list[float]:
    """Prices where any is given (0 then means free), else areas."""
    if any(piece.price > 0 for piece in pieces):
        return [piece.price for piece in pieces]
    return [piece.length * piece.width for piece in pieces]

"""One nesting job: its data, a seeded source of variety, and the fillings still allowed."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import fsum
from random import Random

from templategen.nesting.engines.block import Block, Demand, single
from templategen.nesting.engines.clearing import Clearance
from templategen.nesting.engines.fill import RULES, SAWN_RULES, Recipe, fill, fill_lanes, fill_sections
from templategen.nesting.engines.guillotine import GuillotineSections
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

SECTION_FILLS = 3
"""Work of one filling in sections, in fillings in lanes, besides that of each width divided."""

ROUND_DEFECTS = tuple(Clearance(cut) for cut in ("lengths", "lanes", "largest", "longest"))
"""The ways to cut round defects."""

CROSSCUT = 0.6
"""How often a piece with defects is crosscut to the length of a part first."""

MOST_FAMILIES = 12
"""Parts of more widths than this aren't laid in sections: there are too many ways to divide a board."""

VALUES = (0.8, 1.25)
"""The value of a part, at least and at most, for its area."""

SCARCE, SCARCE_SHARE, SCARCE_LOW = 0.6, 0.2, 0.35
"""How often parts that fill less than a share of the piece may be valued low: they can't fill it alone."""

SHAKES = (0.0, 0.2, 0.6)
"""By how much of its key a block may move in a shaken order."""

ROWS = (2, 4, 6)
"""How many rows a shaken recipe asks for."""


@dataclass(frozen=True, slots=True)
class Used:
    """A piece of stock of a kind (its index), what lies on it, the area of those parts (mm2), and what they are worth
    to the job: their area until prices are known."""

    kind: int
    laid: tuple[Laid, ...]
    area: float
    worth: float


@dataclass
class NestingJob:
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
        self.value: dict[str, float] = dict(self.area)
        self.blocks = [single(item) for item in self.items]
        self.costs = costs_of(self.pieces)
        self._interlocks: dict[float, Interlock] = {}
        self.fullest = [0.0 for _ in self.pieces]
        self.in_sections = self.crosscut = True

    @property
    def demand(self) -> Demand:
        """All copies wanted."""
        return Demand(Counter({item.code: item.count for item in self.items}))

    def area_of(self, demand: Demand) -> float:
        """The area of the copies in `demand`, mm2."""
        return fsum(self.area[code] * count for code, count in sorted(demand.left.items()))

    def value_of(self, demand: Demand) -> float:
        """What the copies in `demand` are worth."""
        return fsum(self.value[code] * count for code, count in sorted(demand.left.items()))

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
        cuts = self.cuts(kind)
        rowed = turn % 2 and not self.sawn(kind)
        rows = tuple(f for f in self.interlock_of(kind).families for _ in range(4)) if rowed else ()
        rules = self._rules(kind)
        recipe = Recipe(cuts[turn // 2 % len(cuts)], rules[turn // 2 % len(rules)], rows)
        key = ORDERS[turn % len(ORDERS)]
        return self._fill(kind, demand, sorted(self.blocks, key=lambda block: -key(block)), recipe)

    def shaken(self, kind: int, demand: Demand) -> Used:
        """Fill a piece by a recipe and an order that chance picks."""
        pick = self.random.choice
        if self.random.random() < (SAWN_LANES if self.sawn(kind) else self.lanes_share):
            return self.lanes(kind, demand)
        recipe = Recipe(self._way(kind), pick(self._rules(kind)), () if self.sawn(kind) else self._rows(kind))
        key, shake = pick(ORDERS), pick(SHAKES)
        order = sorted(self.blocks, key=lambda b: -key(b) * (1 + shake * (self.random.random() - 0.5)))
        return self._fill(kind, demand, order, recipe)

    def lanes(self, kind: int, demand: Demand) -> Used:
        """Fill a piece in lanes, by habits that chance picks."""
        pick = self.random.choice
        habits = Habits(pick(CHANCES), pick(CHANCES[:3]), pick(CHANCES))
        self.fills -= 1
        piece = self.pieces[kind]
        laid, area = fill_lanes(piece, demand, self._way(kind), habits, self.interlock_of(kind), self.random)
        return self._used(kind, laid, area)

    @property
    def sectioned(self) -> bool:
        """Whether the parts are of few enough widths for sections."""
        widths = {round(block.width, 4) for block in self.blocks}
        return self.in_sections and not self.plain and 0 < len(widths) <= MOST_FAMILIES

    def sections(self, kind: int, demand: Demand) -> Used:
        """Fill a piece in sections, parts valued by what they are worth and by chance."""
        scarce = self.random.random() < SCARCE
        values = {}
        for code, value in self.value.items():
            share = demand.left[code] * self.area[code] / self.size(kind)
            low = SCARCE_LOW if scarce and share < SCARCE_SHARE else VALUES[0]
            values[code] = max(1, int(value * self.random.uniform(low, VALUES[1])))
        plan = GuillotineSections(self.interlock_of(kind), demand, values, self.pieces[kind].length)
        return self.divided(kind, demand, plan, self._way(kind))

    def divided(self, kind: int, demand: Demand, plan: GuillotineSections, way: Clearance) -> Used:
        """Fill a piece with what is worth most by a plan."""
        before = plan.made
        laid, area = fill_sections(self.pieces[kind], demand, way, plan, self.random)
        self.fills -= SECTION_FILLS + plan.made - before
        return self._used(kind, laid, area)

    def _fill(self, kind: int, demand: Demand, order: Sequence[Block], recipe: Recipe) -> Used:
        self.fills -= 1
        return self._used(kind, *fill(self.pieces[kind], order, demand, recipe, self.interlock_of(kind)))

    def _used(self, kind: int, laid: tuple[Laid, ...], area: float) -> Used:
        used = Used(kind, laid, area, fsum(self.value[one.code] for one in laid))
        self.fullest[kind] = max(self.fullest[kind], used.worth)
        return used

    def value_by(self, worth: Mapping[str, float], known: Iterable[Used]) -> None:
        """Value the parts anew; `known` fillings tell how much a piece can hold."""
        self.value = dict(worth)
        self.fullest = [0.0 for _ in self.pieces]
        for used in known:
            held = fsum(self.value[one.code] for one in used.laid)
            self.fullest[used.kind] = max(self.fullest[used.kind], held)

    def revalued(self, used: Used) -> Used:
        """The same filling by the values now."""
        return replace(used, worth=fsum(self.value[one.code] for one in used.laid))

    def interlock_of(self, kind: int) -> Interlock:
        """How close parts lie on a kind of stock, which may have a spacing of its own."""
        between = self.pieces[kind].apart(self.spacing)
        if between not in self._interlocks:
            self._interlocks[between] = Interlock(self.items, between, self.plain)
        return self._interlocks[between]

    def sawn(self, kind: int) -> bool:
        """Whether only cuts that go right through may free the parts."""
        return self.pieces[kind].mode == "sawn"

    def _rules(self, kind: int) -> Sequence[str]:
        return SAWN_RULES if self.sawn(kind) else RULES

    def cuts(self, kind: int) -> Sequence[Clearance]:
        """The ways to cut round the piece's defects without a crosscut before."""
        return ROUND_DEFECTS if self.pieces[kind].defect_boxes else ROUND_DEFECTS[:1]

    def _way(self, kind: int) -> Clearance:
        """One of them, on a piece with defects often after a crosscut to the length of some part."""
        way = self.random.choice(self.cuts(kind))
        if not (self.crosscut and self.pieces[kind].defect_boxes) or self.random.random() >= CROSSCUT:
            return way
        lengths = [0.0, *(block.length for block in self.blocks)]
        return replace(way, from_left=self.random.choice(lengths), from_right=self.random.choice(lengths))

    def _rows(self, kind: int) -> tuple[tuple[str, ...], ...]:
        families = self.interlock_of(kind).families
        picked = [self.random.choice(families) for _ in range(self.random.choice(ROWS))]
        return tuple(tuple(self.random.sample(family, len(family))) for family in picked)


def costs_of(pieces: Sequence[Piece]) -> list[float]:
    """Prices where any is given (0 then means free), else areas."""
    if any(piece.price > 0 for piece in pieces):
        return [piece.price for piece in pieces]
    return [piece.length * piece.width for piece in pieces]

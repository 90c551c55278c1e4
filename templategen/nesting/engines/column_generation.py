"""What a copy of each part is worth: the prices of the cheapest mix of filled pieces, parts of pieces allowed.

A linear model over filled pieces (Gilmore and Gomory 1961): at least as many copies as wanted are covered, no more
pieces are used than there are. Its prices say how to fill a piece better than those known; that filling joins the
model, and so on. The simplex method is written out in plain arithmetic, so the prices are the same on every machine.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from math import fsum

from templategen.nesting.engines.guillotine import GuillotineSections
from templategen.nesting.engines.job import NestingJob, Used

EPSILON = 1e-9
"""Shares and gains smaller than this are rounding."""

MOST_PIVOTS = 400
"""Steps of the simplex method in one call at most."""

DEAR = 1.6
"""An uncovered copy costs so many times its area of the dearest stock; a ceiling for prices."""

LOW = 0.6
"""A part is worth at least this share of its area's usual price: an idle one would not be laid at all."""

Column = tuple[float, tuple[tuple[int, float], ...]]
"""Cost, and the rows in which it stands with how much."""


class Master:
    """The linear model by the revised simplex method: rows of parts, then rows of stock with a count."""

    def __init__(self, demand: Mapping[str, int], dear: Mapping[str, float], counts: Sequence[int | None]) -> None:
        self.rows = {code: row for row, code in enumerate(demand)}
        self.stock = {k: len(self.rows) + n for n, k in enumerate(k for k, c in enumerate(counts) if c is not None)}
        # A hair more on every row, another on each, keeps the method from going round in circles.
        wanted = [count * (1 + 1e-7) + 1e-7 * (row + 1) for row, count in enumerate(demand.values())]
        self.values = wanted + [float(counts[k] or 0) + 1e-7 * (n + 1) for n, k in enumerate(self.stock)]
        size = len(self.values)
        self.columns: list[Column] = [(dear[code], ((row, 1.0),)) for code, row in self.rows.items()]
        self.columns += [(0.0, ((row, 1.0),)) for row in self.stock.values()]
        self.basis = list(range(size))
        self.columns += [(0.0, ((row, -1.0),)) for row in self.rows.values()]
        self.inverse = [[1.0 if i == j else 0.0 for j in range(size)] for i in range(size)]

    def add(self, kind: int, cost: float, held: Mapping[str, int]) -> int:
        """Adds a filled piece, and tells which column it is."""
        entries = [(self.rows[code], float(count)) for code, count in sorted(held.items())]
        if kind in self.stock:
            entries.append((self.stock[kind], 1.0))
        self.columns.append((cost, tuple(entries)))
        return len(self.columns) - 1

    def solve(self) -> None:
        """Steps until no column would make the mix cheaper, or enough steps were made."""
        for _ in range(MOST_PIVOTS):
            prices = self.prices()
            gain, entering = min(
                (cost - fsum(prices[row] * share for row, share in entries), number)
                for number, (cost, entries) in enumerate(self.columns)
            )
            if gain >= -EPSILON * (1 + abs(self.columns[entering][0])) or not self._enter(entering):
                return

    def prices(self) -> list[float]:
        """What one more unit of each row costs."""
        costs = [self.columns[column][0] for column in self.basis]
        return [
            fsum(c * line[j] for c, line in zip(costs, self.inverse, strict=True) if c) for j in range(len(costs))
        ]

    def cost(self) -> float:
        """What the mix costs."""
        return fsum(self.columns[column][0] * value for column, value in zip(self.basis, self.values, strict=True))

    def shares(self) -> dict[int, float]:
        """The columns in use, and how often."""
        return {column: value for column, value in zip(self.basis, self.values, strict=True) if value > EPSILON}

    def _enter(self, entering: int) -> bool:
        entries = self.columns[entering][1]
        step = [fsum(line[row] * share for row, share in entries) for line in self.inverse]
        ways = [(self.values[i] / s, self.basis[i], i) for i, s in enumerate(step) if s > EPSILON]
        if not ways:
            return False
        ratio, _, leaving = min(ways)
        pivot = step[leaving]
        line = [value / pivot for value in self.inverse[leaving]]
        for i, s in enumerate(step):
            if i != leaving and s:
                self.inverse[i] = [a - s * b for a, b in zip(self.inverse[i], line, strict=True)]
                self.values[i] = max(0.0, self.values[i] - s * ratio)
        self.inverse[leaving], self.values[leaving], self.basis[leaving] = line, max(0.0, ratio), entering
        return True


class ColumnGeneration:
    """The model of a job under way, with the filled pieces that are its columns."""

    def __init__(self, job: NestingJob) -> None:
        self.job = job
        rate = max((job.costs[k] / job.size(k) for k in range(len(job.pieces))), default=1.0) or 1.0
        self.usual = {code: area * rate for code, area in job.area.items()}
        demand = {code: count for code, count in job.demand.left.items() if count > 0}
        self.master = Master(demand, {c: self.usual[c] * DEAR for c in demand}, [p.count for p in job.pieces])
        self.columns: dict[int, Used] = {}
        self.known: set[tuple[int, tuple[tuple[str, int], ...]]] = set()

    def add(self, used: Used) -> bool:
        """Adds a filled piece to the mix; False for one like another."""
        held = Counter(laid.code for laid in used.laid)
        key = used.kind, tuple(sorted(held.items()))
        if not held or key in self.known:
            return False
        self.known.add(key)
        self.columns[self.master.add(used.kind, self.job.costs[used.kind], held)] = used
        return True

    def parts(self) -> dict[str, float]:
        """The price of each part now."""
        prices = self.master.prices()
        return {code: prices[row] for code, row in self.master.rows.items()}

    def nearest(self, most: int) -> list[Used]:
        """The fillings that are least too dear by the prices now, those in the mix first."""
        self.master.solve()
        prices = self.master.prices()
        gains = {
            number: cost - fsum(prices[row] * share for row, share in entries)
            for number, (cost, entries) in enumerate(self.master.columns)
            if number in self.columns
        }
        return [self.columns[number] for number in sorted(gains, key=lambda n: (gains[n], n))[:most]]

    def turn(self, noise: tuple[float, float] = (1.0, 1.0)) -> bool:
        """Fills a piece of each kind by the prices now, shaken by so much; False when that gave nothing new."""
        self.master.solve()
        job, parts = self.job, self.parts()
        values = {code: max(1, round(price * job.random.uniform(*noise))) for code, price in parts.items()}
        plans: dict[float, GuillotineSections] = {}
        longest = max(piece.length for piece in job.pieces)
        fresh = False
        for kind, piece in enumerate(job.pieces):
            apart = piece.apart(job.spacing)
            if apart not in plans:
                plans[apart] = GuillotineSections(job.interlock_of(kind), job.demand, values, longest)
            plan = plans[apart]
            for cut in job.cuts(kind):
                fresh |= self.add(job.divided(kind, job.demand, plan, cut))
        return fresh

    def worth(self) -> dict[str, float]:
        """What each part is worth in the end, none next to nothing."""
        parts = self.parts()
        return {code: max(parts.get(code, 0.0), LOW * usual) for code, usual in self.usual.items()}

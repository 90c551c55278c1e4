"""What a copy of each part is worth: the duals of the cheapest mix of filled pieces, parts of pieces allowed.

A linear programme over filled pieces (Gilmore and Gomory 1961): at least as many copies as wanted are covered, no
more pieces are used than there are. Its duals say how to fill a piece better than those known; that filling joins the
programme as a column, and so on.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

from templategen.nesting.engines.guillotine import GuillotineSections
from templategen.nesting.engines.job import NestingJob, Used
from templategen.nesting.solver import quiet_solver

EPSILON = 1e-9
"""Shares smaller than this are rounding."""

EXACT = 1e-10
"""How closely the solver keeps its rows and duals; the hairs that tell rows apart are wider."""

DEAR = 1.6
"""An uncovered copy costs so many times its area of the dearest stock; a ceiling for prices."""

LOW = 0.6
"""A part is worth at least this share of its area's usual price: an idle one would not be laid at all."""


class Master:
    """The linear programme: rows of parts, then rows of stock with a count.

    `duals` are what one more unit of each row costs, `shares` how often each column is in the mix, `reduced` how much
    dearer each is than its parts are worth, all as last solved.
    """

    def __init__(self, demand: Mapping[str, int], dear: Mapping[str, float], counts: Sequence[int | None]) -> None:
        import highspy

        self.endless, self.columns = highspy.kHighsInf, 0
        self.rows = {code: row for row, code in enumerate(demand)}
        self.stock = {k: len(self.rows) + n for n, k in enumerate(k for k, c in enumerate(counts) if c is not None)}
        self.model = quiet_solver()
        for option, value in (
            ("solver", "simplex"), ("presolve", "off"),
            ("primal_feasibility_tolerance", EXACT), ("dual_feasibility_tolerance", EXACT),
        ):  # fmt: skip
            self.model.setOptionValue(option, value)
        # A hair more on every row, another on each, leaves one cheapest mix, so the duals are the same everywhere.
        for row, count in enumerate(demand.values()):
            self.model.addRow(count * (1 + 1e-7) + 1e-7 * (row + 1), self.endless, 0, [], [])
        for n, kind in enumerate(self.stock):
            self.model.addRow(-self.endless, float(counts[kind] or 0) + 1e-7 * (n + 1), 0, [], [])
        for code, row in self.rows.items():
            self._add(dear[code], {row: 1.0})
        self.solve()

    def add(self, kind: int, cost: float, held: Mapping[str, int]) -> int:
        """Adds a filled piece, and tells which column it is."""
        entries = {self.rows[code]: float(count) for code, count in sorted(held.items())}
        return self._add(cost, entries | ({self.stock[kind]: 1.0} if kind in self.stock else {}))

    def _add(self, cost: float, entries: Mapping[int, float]) -> int:
        self.model.addCol(cost, 0.0, self.endless, len(entries), list(entries), list(entries.values()))
        self.columns += 1
        return self.columns - 1

    def solve(self) -> None:
        """Finds the cheapest mix of the columns there are."""
        self.model.run()
        found = self.model.getSolution()
        self.duals, self.reduced = list(found.row_dual), list(found.col_dual)
        self.shares = {column: value for column, value in enumerate(found.col_value) if value > EPSILON}

    def cost(self) -> float:
        """What the mix costs."""
        return float(self.model.getInfo().objective_function_value)


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
        """Adds a filled piece as a column; False where one that holds the same is known."""
        held = Counter(laid.code for laid in used.laid)
        key = used.kind, tuple(sorted(held.items()))
        if not held or key in self.known:
            return False
        self.known.add(key)
        self.columns[self.master.add(used.kind, self.job.costs[used.kind], held)] = used
        return True

    def parts(self) -> dict[str, float]:
        """The price of each part now."""
        return {code: self.master.duals[row] for code, row in self.master.rows.items()}

    def nearest(self, most: int) -> list[Used]:
        """The fillings of the least reduced cost; those in the mix come first."""
        self.master.solve()
        dear = self.master.reduced
        return [self.columns[number] for number in sorted(self.columns, key=lambda n: (dear[n], n))[:most]]

    def turn(self, noise: tuple[float, float] = (1.0, 1.0)) -> bool:
        """Fills a piece of each kind at the present prices, perturbed by so much; False when nothing new comes."""
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
        """What each part is worth by its price, but no less than a floor."""
        parts = self.parts()
        return {code: max(parts.get(code, 0.0), LOW * usual) for code, usual in self.usual.items()}

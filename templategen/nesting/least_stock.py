"""The least stock under limits: whole pieces of each kind, and how many copies of each part each kind takes."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from templategen.nesting.line_limits import Limit
from templategen.nesting.solver import quiet_solver

FORGIVEN = 1e-7
"""Share by which every limit is widened, so that rounding never takes a layout away."""

SECONDS = 5.0
"""A programme is given up after this; what it has proved by then still holds."""

MOST_NODES = 500
"""Branches looked at; what is proved by then holds."""


@dataclass(frozen=True, slots=True)
class Stock:
    """The weight of one piece of each kind, and how many there are (None for any number)."""

    weights: tuple[float, ...]
    counts: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """The least weight proved, and a division of the parts that reaches it; `whole` tells whether it is the true
    least under the limits. `weight` is None where the limits leave no way at all."""

    weight: float | None
    pieces: tuple[float, ...] = ()
    copies: tuple[tuple[float, ...], ...] = ()
    whole: bool = True


@dataclass
class Least:
    """Parts to be divided over kinds of stock; limits are added as they are found."""

    stock: Stock
    demand: Sequence[int]
    fits: Sequence[Sequence[bool]]
    limits: list[Limit] = field(default_factory=list)

    def solve(self, weights: Sequence[float], whole: bool) -> Answer:
        """The least weight; pieces are whole, or may be taken in parts."""
        import highspy

        solver = self._programme(weights, whole)
        solver.run()
        status, known = solver.getModelStatus(), highspy.HighsModelStatus
        if status in (known.kInfeasible, known.kUnboundedOrInfeasible):
            return Answer(None)
        info = solver.getInfo()
        proved = info.mip_dual_bound if whole else info.objective_function_value
        values = list(solver.getSolution().col_value)
        if status != known.kOptimal and not whole:
            return Answer(0.0, whole=False)
        kinds, parts = len(self.stock.counts), len(self.demand)
        if len(values) < kinds * (parts + 1):
            return Answer(max(0.0, proved), whole=False)
        copies = tuple(tuple(values[kinds + k * parts : kinds + (k + 1) * parts]) for k in range(kinds))
        return Answer(proved, tuple(values[:kinds]), copies, status == known.kOptimal)

    def _programme(self, weights: Sequence[float], whole: bool) -> Any:
        import highspy

        solver = quiet_solver()
        gaps = (("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-7))
        for option, value in (*gaps, ("mip_max_nodes", MOST_NODES), ("time_limit", SECONDS)):
            solver.setOptionValue(option, value)
        kinds, parts, endless = len(self.stock.counts), len(self.demand), highspy.kHighsInf
        for weight, count in zip(weights, self.stock.counts, strict=True):
            solver.addCol(weight, 0.0, endless if count is None else float(count), 0, [], [])
        for kind in range(kinds):
            for part, count in enumerate(self.demand):
                solver.addCol(0.0, 0.0, float(count) if self.fits[kind][part] else 0.0, 0, [], [])
        for part, count in enumerate(self.demand):
            places = [kinds + kind * parts + part for kind in range(kinds)]
            solver.addRow(float(count), float(count), kinds, places, [1.0] * kinds)
        for limit in self.limits:
            self._limited(solver, limit, kinds, parts, endless)
        for kind in range(kinds if whole else 0):
            solver.changeColIntegrality(kind, highspy.HighsVarType.kInteger)
        return solver

    def _limited(self, solver: Any, limit: Limit, kinds: int, parts: int, endless: float) -> None:
        """What a kind's parts are worth is at most what its pieces hold."""
        most = max(limit.values, default=0.0)
        if most <= 0:
            return
        scale = limit.whole if limit.whole > most * 1e-9 else most
        places, shares = [limit.kind], [-limit.whole / scale * (1 + FORGIVEN)]
        for part, worth in enumerate(limit.values):
            if worth > 0:
                places.append(kinds + limit.kind * parts + part)
                shares.append(worth / scale)
        solver.addRow(-endless, 0.0, len(places), places, shares)

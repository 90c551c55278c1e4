"""The values of sizes on a line that show most clearly that parts don't fit: found by linear programming."""

from collections.abc import Sequence
from dataclasses import dataclass

from templategen.nesting.knapsack import chosen
from templategen.nesting.line_systems import System
from templategen.nesting.solver import quiet_solver

ROUNDS = 25
"""Ways of filling a line added at most."""

CLEAR = 1e-4
"""By which share a limit must be passed to be worth having."""

PLAIN = 0.005
"""A limit passed by so much is taken at once; less clear ones are sharpened first."""

TINY = 1e-9


@dataclass(slots=True)
class Effort:
    """How many more times lines may be filled; the search for limits ends with it."""

    left: int


@dataclass(frozen=True, slots=True)
class Limit:
    """What copies of each item are worth on one kind of stock, and the most that one piece of it holds."""

    kind: int
    values: tuple[float, ...]
    whole: float

    def passed(self, pieces: float, copies: Sequence[float]) -> float:
        """By what share the copies on so many pieces exceed what those hold."""
        asked = sum(worth * count for worth, count in zip(self.values, copies, strict=True))
        held = self.whole * pieces
        return (asked - held) / max(asked, TINY) if asked > held else 0.0


def sharp_limit(system: System, pieces: float, copies: Sequence[float], work: Effort) -> Limit | None:
    """A limit that `copies` of each item on so many pieces exceed, None where the lines hold them.

    The lines are filled in ways found one after another, each the best for the values at hand (column generation).
    Whatever the values are, the limit holds: `System.limit` asks for the exact most that a line can hold.
    """
    demand = [0.0] * len(system.sizes)
    for take, count in zip(system.takes, copies, strict=True):
        for place, much in take:
            demand[place] += much * count
    if sum(demand) <= TINY:
        return None
    if pieces <= TINY:
        return _limit(system, [1.0 if much > TINY else 0.0 for much in demand])
    filling = _Filling(system, pieces, demand)
    best: Limit | None = None
    best_share = CLEAR
    for _ in range(ROUNDS):
        need, values, prices = filling.solve()
        if need <= 1 + CLEAR / 2 or work.left <= 0:
            return best
        work.left -= 1
        table, ways = chosen(system.sizes, values, system.most, [room for room, _ in system.offers])
        held = sum(measure * float(table[room]) for room, measure in system.offers) * pieces
        asked = sum(worth * much for worth, much in zip(values, demand, strict=True))
        share = (asked - held) / max(asked, TINY)
        if share > best_share:
            best, best_share = _limit(system, values), share
            if share > PLAIN:
                return best
        fresh = [
            (number, way)
            for number, (way, (room, _)) in enumerate(zip(ways, system.offers, strict=True))
            if float(table[room]) > prices[number] + 1e-7
        ]
        if not fresh:
            return best
        for number, way in fresh:
            filling.add(number, way)
    return best


def _limit(system: System, values: Sequence[float]) -> Limit:
    """The limit of these values; a size that is asked for nowhere is worth as much as the largest below it, where
    that costs nothing."""
    lifted, most = [], 0.0
    for worth in values:
        most = max(most, worth)
        lifted.append(most)
    items, whole = system.limit(values)
    more, raised = system.limit(lifted)
    if raised <= whole * (1 + 1e-12):
        items, whole = more, raised
    return Limit(system.kind, tuple(items), whole)


class _Filling:
    """The linear programme: by how much more than there are lines are needed to take all that is asked for."""

    def __init__(self, system: System, pieces: float, demand: Sequence[float]) -> None:
        import highspy

        self.sizes = len(system.sizes)
        self.solver = solver = quiet_solver()
        endless = highspy.kHighsInf
        scale = max(demand)
        solver.addCol(1.0, 0.0, endless, 0, [], [])
        for much in demand:
            solver.addRow(much / scale, endless, 0, [], [])
        for _, measure in system.offers:
            solver.addRow(-endless, 0.0, 1, [0], [-measure * pieces / scale])
        number, (room, _) = max(enumerate(system.offers), key=lambda offer: offer[1][0])
        for place, size in enumerate(system.sizes):
            if demand[place] > 0 and size <= room:
                self.add(number, {place: min(system.most[place], room // size)})

    def add(self, number: int, way: dict[int, int]) -> None:
        """One more way of filling lines of one length."""
        import highspy

        places = [*sorted(way), self.sizes + number]
        counts = [*(float(way[place]) for place in sorted(way)), 1.0]
        self.solver.addCol(0.0, 0.0, highspy.kHighsInf, len(places), places, counts)

    def solve(self) -> tuple[float, list[float], list[float]]:
        """How many times the lines at hand are needed, the values of sizes, and what a line of each length costs."""
        import highspy

        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return 0.0, [0.0] * self.sizes, []
        duals = list(self.solver.getSolution().row_dual)
        need = self.solver.getInfo().objective_function_value
        values = [max(0.0, dual) for dual in duals[: self.sizes]]
        return need, values, [max(0.0, -dual) for dual in duals[self.sizes :]]

"""Which filled pieces to take, and how often, so that every part is covered at least cost: a whole-number model.

A column is one piece of stock with what lies on it. A copy covered twice is laid once and its place left empty.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

from templategen.nesting.engines.job import Used
from templategen.nesting.solver import quiet_solver

Key = tuple[int, tuple[tuple[str, int], ...]]
"""What tells fillings apart: the kind of stock, and how many copies of what."""

FEASIBLE = 2
"""The solver's word for a solution that holds."""


def key_of(used: Used) -> Key:
    """The key of a filling."""
    return used.kind, tuple(sorted(Counter(laid.code for laid in used.laid).items()))


class Cover:
    """The model of one job, to which columns are added as they are found."""

    def __init__(self, demand: Mapping[str, int], costs: Sequence[float], counts: Sequence[int | None]) -> None:
        import highspy

        wanted = {code: count for code, count in demand.items() if count > 0}
        self.rows = {code: row for row, code in enumerate(wanted)}
        self.costs = costs
        self.columns: dict[Key, tuple[int, Used]] = {}
        self.model = quiet_solver()
        for count in wanted.values():
            self.model.addRow(float(count), highspy.kHighsInf, 0, [], [])
        for most in counts:
            self.model.addRow(-highspy.kHighsInf, highspy.kHighsInf if most is None else float(most), 0, [], [])

    def add(self, used: Used) -> None:
        """Adds a filling, unless one like it is known."""
        import highspy

        key = key_of(used)
        if not used.laid or key in self.columns:
            return
        column = len(self.columns)
        self.columns[key] = column, used
        rows = [*(self.rows[code] for code, _ in key[1]), len(self.rows) + used.kind]
        shares = [*(float(count) for _, count in key[1]), 1.0]
        self.model.addCol(self.costs[used.kind], 0.0, highspy.kHighsInf, len(rows), rows, shares)
        self.model.changeColIntegrality(column, highspy.HighsVarType.kInteger)

    def whole(self, start: Sequence[Used], seconds: float) -> list[Used] | None:
        """The fillings to take, each as often as it is taken; None where nothing was found in time.

        `start` is a known set of fillings to begin with.
        """
        import highspy

        for used in start:
            self.add(used)
        if start:
            values = [0.0] * len(self.columns)
            for used in start:
                values[self.columns[key_of(used)][0]] += 1.0
            solution = highspy.HighsSolution()
            solution.col_value = values
            self.model.setSolution(solution)
        self.model.setOptionValue("time_limit", seconds)
        self.model.run()
        if int(self.model.getInfo().primal_solution_status) != FEASIBLE:
            return None
        times = [round(value) for value in self.model.getSolution().col_value]
        return [used for column, used in self.columns.values() for _ in range(times[column])]

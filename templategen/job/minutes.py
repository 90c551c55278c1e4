"""Minutes that remember of which rates they are: the plan of work reckoned with them tells its own shares.

Every operation takes a sum of rates times amounts, so a number that carries its shares along through sums and
products (as in automatic differentiation) splits the plan without a second formula for any operation.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Rates

TIMED = ("set_up", "cut", "plane", "mitre", "lap", "mortise", "tenon", "glue_joint", "slat_fit", "sand", "oil")
"""The rates that are minutes for something."""


class Minutes(float):
    """Minutes, and how many of them come by each rate (`of`)."""

    of: Mapping[str, float]

    def __new__(cls, value: float, of: Mapping[str, float]) -> Minutes:
        made = super().__new__(cls, value)
        made.of = of
        return made

    def __add__(self, other: float) -> Minutes:
        theirs = other.of if isinstance(other, Minutes) else {}
        shares = {name: self.of.get(name, 0.0) + theirs.get(name, 0.0) for name in {**self.of, **theirs}}
        return Minutes(float(self) + float(other), shares)

    __radd__ = __add__

    def __mul__(self, times: float) -> Minutes:
        return Minutes(float(self) * times, {name: share * times for name, share in self.of.items()})

    __rmul__ = __mul__

    def __truediv__(self, by: float) -> Minutes:
        return self * (1 / by)


def with_shares(table: Table) -> Table:
    """The table, its shop's rates as minutes that know their name."""
    rates = table.profile.rates
    told: dict[str, Any] = {name: Minutes(getattr(rates, name), {name: getattr(rates, name)}) for name in TIMED}
    return replace(table, profile=replace(table.profile, rates=replace(rates, **told)))


def rate(rates: Rates, name: str) -> float:
    """A rate as a plain number."""
    return float(getattr(rates, name))

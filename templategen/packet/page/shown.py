"""What most of a page can be drawn from: the table, its order of assembly, its jigs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from templategen.fit.plan import Plan
from templategen.jigs.jig import Jig
from templategen.table.assembly import Table
from templategen.table.profile.model import Units
from templategen.units import MM_PER_INCH, inch_fraction, trimmed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from templategen.explain.quantity import Quantity
    from templategen.shop.gluing.plan import GluingPlan
    from templategen.shop.set_ups.set_up import SetUp

EXACT = 0.0005
"""A fraction of an inch this near to a length is that length, mm."""

Links = tuple[tuple[str, str], ...]
"""Files beside the page: path and words."""


@dataclass(frozen=True)
class Shown:
    """`jigs` is empty where that share wasn't asked for; `revision` names the state of the profile, `tables` is how
    many are made at once."""

    table: Table
    plan: Plan
    jigs: Sequence[Jig]
    revision: str
    tables: int = 1

    @property
    def units(self) -> Units:
        """The unit of figures on the page."""
        return self.table.profile.units

    def size(self, mm: float) -> str:
        """A length as the page says it: to 0.01 mm; in inches as a fraction where it is one, else to 0.001 in."""
        if self.units == "mm":
            return f"{trimmed(mm, 2)} mm"
        fraction, error = inch_fraction(mm)
        return fraction if abs(error) < EXACT else f"{trimmed(mm / float(MM_PER_INCH), 3)} in"

    def blank(self, mm: float) -> str:
        """A size to saw to; where inches are no fraction the nearest one beside the figure."""
        told = self.size(mm)
        fraction = inch_fraction(mm)[0]
        return told if self.units == "mm" or told == fraction else f"{told} (about {fraction[:-3]})"

    def counted(self, number: int) -> str:
        """A number of pieces for one table, and for all where there are several."""
        return f"{number} ({number * self.tables} for {self.tables} tables)" if self.tables > 1 else str(number)

    @cached_property
    def pages(self) -> Mapping[str, Quantity]:
        """Every figure that can be explained."""
        from templategen.shop.explained import explained

        return explained(self.table, self.plan)

    @cached_property
    def set_ups(self) -> tuple[SetUp, ...]:
        """Set-ups in working order, for all tables."""
        from templategen.shop.set_ups.run import set_ups

        return set_ups(self.table, self.tables)

    @cached_property
    def gluing(self) -> GluingPlan:
        """How it is glued."""
        from templategen.shop.gluing.plan import gluing_plan

        return gluing_plan(self.table, self.plan)


def links(*paths: str) -> Links:
    """Files as links that are called by their paths; those that aren't made are left out in the end."""
    return tuple((path, path) for path in paths)

"""The jigs that a packet has: those that the shop's tools can make, and what is said of the others."""

from __future__ import annotations

from dataclasses import dataclass

from templategen.checks.finding import Finding, Level
from templategen.errors import Fault
from templategen.jigs.jig import Jig
from templategen.jigs.run import jigs_that_go
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile


@dataclass(frozen=True, slots=True)
class JigPlan:
    """The jigs of a table, and a finding for each that the shop's tools can't make."""

    jigs: tuple[Jig, ...]
    left_out: tuple[Finding, ...]

    @property
    def pieces(self) -> tuple[Part, ...]:
        """The pieces of all jigs, in order."""
        return tuple(part for jig in self.jigs for part in jig.parts)

    def of_sheet(self, profile: Profile) -> tuple[Part, ...]:
        """The pieces that come out of the jigs' sheet; test pieces of the table's own wood come out of offcuts."""
        sheet = profile.jigs
        return tuple(part for part in self.pieces if (part.wood, part.thickness) == (sheet.wood, sheet.thickness))


NO_JIGS = JigPlan((), ())


def plan_jigs(table: Table) -> JigPlan:
    """The table's jigs. One left out is a caution where the maker wrote the tool down that stands in its way, a note
    where its size is assumed."""
    jigs, faults = jigs_that_go(table)
    return JigPlan(jigs, tuple(_left_out(table, fault) for fault in faults))


def _left_out(table: Table, fault: Fault) -> Finding:
    level: Level = "caution" if table.profile.line_of(fault.where) else "note"
    fields = {"found": fault.found, "remedy": fault.remedy}
    return Finding("jig-left-out", level, fault.where, 1.0, (0.0, 0.0), fields)

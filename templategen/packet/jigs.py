"""The jigs that a packet has: those that its plan of work is worked by, and what is said where one can't be made."""

from dataclasses import dataclass

from templategen.checks.finding import Finding, Level
from templategen.errors import Fault
from templategen.jigs.jig import Jig
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.work.jigs import JigsUsed


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


def plan_jigs(table: Table, used: JigsUsed) -> JigPlan:
    """The jigs of a plan of work. One left out is a caution where the maker wrote the tool down that stands in its
    way, a note where its size is assumed."""
    return JigPlan(used.jigs, tuple(_left_out(table, fault) for fault in used.faults))


def _left_out(table: Table, fault: Fault) -> Finding:
    level: Level = "caution" if table.profile.line_of(fault.where) else "note"
    fields = {"found": fault.found, "remedy": fault.remedy}
    return Finding("jig-left-out", level, fault.where, 1.0, (0.0, 0.0), fields)

"""All checks of a table."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from templategen.checks.assembly import assembly_findings
from templategen.checks.dry_legs import dry_leg_findings
from templategen.checks.fields import field_findings
from templategen.checks.finding import Finding, Remedy, in_order
from templategen.checks.fit import fit_findings
from templategen.checks.gluing import glue_findings
from templategen.checks.leg_walls import leg_wall_findings
from templategen.checks.movement import movement_findings
from templategen.checks.shows import show_findings
from templategen.checks.stance import stance_findings
from templategen.checks.thin import thin_findings
from templategen.checks.tools import tool_findings
from templategen.checks.walls import wall_findings
from templategen.checks.water import standing_findings, water_findings
from templategen.checks.would_do import remedies, with_values
from templategen.fit.dry_fit import DryFit, dry_fit
from templategen.fit.plan import Plan, plan_assembly
from templategen.table.assembly import Table


@dataclass(frozen=True, slots=True)
class Examination:
    """A table examined: every finding, the gravest first, the dry fit and the order of assembly."""

    findings: tuple[Finding, ...]
    fit: DryFit
    plan: Plan


def examine(table: Table, plan: Plan | None = None) -> Examination:
    """Every proof of a table, with the order of assembly where it is known. What is found amiss names a value that
    would do."""
    return proved(table, with_values(table, measured(table), CHECKS), plan or plan_assembly(table))


def measured(table: Table) -> tuple[Finding, ...]:
    """What is found without putting the table together: a third of a second for a dining table."""
    found = (*found_by_sizes(table), *stance_findings(table))
    return (*found, *thin_findings(table, found))


def found_by_sizes(table: Table) -> tuple[Finding, ...]:
    """What is found by sizes alone, without solving or searching anything: in some thousandths of a second."""
    return (
        *glue_findings(table.profile),
        *wall_findings(table),
        *leg_wall_findings(table),
        *dry_leg_findings(table),
        *show_findings(table),
        *field_findings(table),
        *movement_findings(table),
        *water_findings(table),
        *tool_findings(table),
    )


def _thin(table: Table) -> tuple[Finding, ...]:
    return tuple(thin_findings(table, found_by_sizes(table)))


CHECKS = (found_by_sizes, stance_findings, _thin)
"""By which a value is tried before it is named, the slowest last."""


def mends(table: Table, found: Sequence[Finding]) -> Iterator[tuple[Finding, Iterator[Remedy]]]:
    """Each finding above a note with the values that would do, looked for one by one."""
    return remedies(table, found, CHECKS)


def proved(table: Table, found: Sequence[Finding], plan: Plan) -> Examination:
    """The dry fit, what hinders the order of assembly, where rain stands; and what was `found` without them."""
    fit = dry_fit(table)
    stands = with_values(table, tuple(standing_findings(table)), (found_by_sizes, standing_findings))
    return Examination(
        in_order((*fit_findings(table, fit), *assembly_findings(table, plan), *found, *stands)), fit, plan
    )


def check_table(table: Table) -> tuple[Finding, ...]:
    """Every finding, the gravest first."""
    return examine(table).findings

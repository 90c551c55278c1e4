"""All checks of a table."""

from __future__ import annotations

from templategen.checks.fields import field_findings
from templategen.checks.finding import ORDER, Finding
from templategen.checks.stance import stance_findings
from templategen.checks.walls import wall_findings
from templategen.table.assembly import Table


def check_table(table: Table) -> tuple[Finding, ...]:
    """Every finding, the gravest first."""
    found = [*wall_findings(table), *field_findings(table), *stance_findings(table)]
    return tuple(sorted(found, key=lambda finding: ORDER[finding.level]))

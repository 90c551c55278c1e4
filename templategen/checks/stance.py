"""How the table stands on the floor: legs, sitters, tipping and stiffness."""

from collections.abc import Iterator

from templategen.checks.balance import balance_of, least_weight
from templategen.checks.finding import Finding
from templategen.checks.levels import if_short
from templategen.checks.sitting import sitting_findings
from templategen.checks.stiffness import stiffness_findings
from templategen.checks.strength import strength_findings
from templategen.checks.tipping import tipping_findings
from templategen.table.assembly import Table


def stance_findings(table: Table) -> Iterator[Finding]:
    """Height against legs and sitting, weight against tipping, rails against bending."""
    yield from if_short("leg-shoulders", "top.height", table.sizes.leg_height, table.profile.limits.leg_height)
    stance = table.profile.base.length / 2
    if stance > table.sizes.radius:
        yield Finding("feet-outside", "caution", "base.length", 2 * stance, (None, 2 * table.sizes.radius))
    yield from sitting_findings(table)
    balance = balance_of(table)
    yield from tipping_findings(table, balance)
    yield from stiffness_findings(table)
    yield from strength_findings(table, least_weight(table, balance.mass))

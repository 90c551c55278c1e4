"""Height and legs: what a sitter and the floor ask."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.walls import graded
from templategen.table.assembly import Table

LEG = (60.0, 150.0)
"""Leg between shoulders, mm: under the second it is a block rather than a leg."""

DINING = (710.0, 865.0)
"""Heights of tables to sit at, mm: the range of the US ADA and ABA accessibility standards."""


def stance_findings(table: Table) -> Iterator[Finding]:
    """Height against legs and against sitting."""
    height = table.sizes.leg_height
    yield from graded("top.height", "leg between its shoulders", height, LEG)
    top = table.profile.top.height
    if not DINING[0] <= top <= DINING[1]:
        yield Finding("note", "top.height", "height outside what tables to sit at usually have", top, DINING)
    stance = table.profile.base.length / 2
    if stance > table.sizes.radius:
        says = "the feet stand outside the rim, where toes and chairs are"
        yield Finding("caution", "base.length", says, 2 * stance, (None, 2 * table.sizes.radius))

"""What the commands print of a table and its findings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from templategen.checks.finding import Finding
    from templategen.table.assembly import Table

COLOURS = {"stop": "red", "caution": "yellow", "note": "cyan"}


def told_size(value: float, unit: str, units: str) -> str:
    """A size in the maker's own units; other units as they are."""
    if unit != "mm":
        return f"{value:g} {unit}"
    if units == "in":
        from templategen.units import inch_fraction

        return inch_fraction(value)[0]
    return f"{value:.2f} mm"


def told_range(finding: Finding, units: str) -> str:
    """What is wanted, in words."""
    low, high = finding.wanted
    if low is not None and high is not None:
        if low == high:
            return f"asked {told_size(low, finding.unit, units)}"
        return f"wanted {told_size(low, finding.unit, units)} to {told_size(high, finding.unit, units)}"
    if low is not None:
        return f"wanted {told_size(low, finding.unit, units)} or more"
    return f"wanted {told_size(high, finding.unit, units)} or less" if high is not None else ""


def table_lines(table: Table) -> Iterator[str]:
    """The table in a few lines."""
    profile, units = table.profile, table.profile.units

    def size(value: float) -> str:
        return told_size(value, "mm", units)

    name = f"{profile.title} ({profile.name})" if profile.title != profile.name else profile.name
    yield click.style(name, bold=True)
    top = profile.top
    yield (
        f"top {size(top.diameter)} across, {size(top.height)} high, {top.edge}; {top.segments} rim segments, "
        f"{top.rails} rails; {profile.wood}"
    )
    yield (
        f"{table.slats_per_field} slats a field, {size(table.spacing.width)} wide with gaps of "
        f"{size(table.spacing.gap)}, run {profile.slats.run}"
    )
    yield f"{len(table.placed)} parts of {len(table.parts)} kinds, {len(table.joints)} joints"


def finding_lines(findings: Iterable[Finding], units: str) -> Iterator[str]:
    """Each finding in one line: level, key, what it says, measured and wanted."""
    findings = list(findings)
    keys = max((len(finding.where) for finding in findings), default=0)
    for finding in findings:
        level = click.style(f"{finding.level:<7}", fg=COLOURS[finding.level])
        measured = told_size(finding.measured, finding.unit, units)
        yield f"{level}  {finding.where:<{keys}}  {finding.says}: {measured}, {told_range(finding, units)}"


def verdict(findings: Iterable[Finding]) -> str:
    """The last line."""
    levels = [finding.level for finding in findings]
    stops, cautions = levels.count("stop"), levels.count("caution")
    if not stops and not cautions:
        return "nothing to settle before cutting"
    parts = [f"{stops} to settle before cutting"] if stops else []
    parts += [f"{cautions} to take care of"] if cautions else []
    return ", ".join(parts)

"""The slat fields: gaps, widths and slivers, measured from the finished slats."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.walls import SLACK, graded
from templategen.table.assembly import Table


def field_findings(table: Table) -> Iterator[Finding]:
    """What the spacing came to, and slats that are too narrow."""
    yield from _gaps(table)
    for part in table.parts:
        if part.kind == "slat" and part.body is not None:
            width = part.body.bounds.height
            yield from graded(
                "slats.width", f"width of {part.code} at its widest", width, table.profile.limits.slat_width
            )


def _gaps(table: Table) -> Iterator[Finding]:
    gap, width, asked = table.spacing.gap, table.spacing.width, table.profile.slats
    drain = table.profile.limits.drain_gap
    yield from graded("slats.gap", "solved gap between slats: water must drain", gap, drain)
    if asked.hold == "width" and abs(gap - asked.gap) > SLACK:
        says = f"{table.slats_per_field} slats of the width held fill a field with this gap"
        yield Finding("note", "slats.gap", says, gap, (asked.gap, asked.gap))
    if asked.hold == "gap" and abs(width - asked.width) > SLACK:
        says = f"{table.slats_per_field} slats with the gap held fill a field at this width"
        yield Finding("note", "slats.width", says, width, (asked.width, asked.width))

"""The slat fields: gaps, widths and slivers, measured from the finished slats."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.walls import SLACK, graded
from templategen.table.assembly import Table

DRAIN = (2.0, 3.0)
"""Gap between slats as built, mm: under the second, rain and crumbs stay; under the first it closes when wet."""

FINGERS = (7.0, 12.0)
"""Gaps in which a finger can be caught, mm: the probes of EN 581-1. Whether a long slot counts is for a test
house to say, so this informs."""

SLIVER = (15.0, 30.0)
"""Width of a slat at its widest, mm, under which it is too weak to machine or to lean on."""


def field_findings(table: Table) -> Iterator[Finding]:
    """What the spacing came to, and slats that are too narrow."""
    yield from _gaps(table)
    for part in table.parts:
        if part.kind == "slat" and part.body is not None:
            width = part.body.bounds.height
            yield from graded("slats.width", f"width of {part.code} at its widest", width, SLIVER)


def _gaps(table: Table) -> Iterator[Finding]:
    gap, width, asked = table.spacing.gap, table.spacing.width, table.profile.slats
    yield from graded("slats.gap", "solved gap between slats: water must drain", gap, DRAIN)
    if FINGERS[0] - SLACK <= gap <= FINGERS[1] + SLACK:
        says = "solved gap lies where fingers can be caught; outside that range is better"
        yield Finding("note", "slats.gap", says, gap, (DRAIN[1], FINGERS[0]))
    if asked.hold == "width" and abs(gap - asked.gap) > SLACK:
        says = f"{table.slats_per_field} slats of the width held fill a field with this gap"
        yield Finding("note", "slats.gap", says, gap, (asked.gap, asked.gap))
    if asked.hold == "gap" and abs(width - asked.width) > SLACK:
        says = f"{table.slats_per_field} slats with the gap held fill a field at this width"
        yield Finding("note", "slats.width", says, width, (asked.width, asked.width))

"""The slat fields: gaps, widths and slivers, measured from the finished slats."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import noted, shown
from templategen.checks.walls import graded
from templategen.geometry.tolerance import MET
from templategen.table.assembly import Table
from templategen.table.spacing import Spacing, choices_of, stays_clear


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
    """What fills a field, and the other numbers of slats with what each would come to."""
    spacing, asked, units = table.spacing, table.profile.slats, table.profile.units
    drain = table.profile.limits.drain_gap
    yield from graded("slats.gap", "solved gap between slats: water must drain", spacing.gap, drain)
    held = asked.hold == "width"
    where, size, wanted = (
        ("slats.gap", spacing.gap, asked.gap) if held else ("slats.width", spacing.width, asked.width)
    )
    if abs(size - wanted) <= MET:
        return
    kept, solved = ("width", "gap") if held else ("gap", "width")
    says = f"{table.slats_per_field} slats with the {kept} held fill a field with this {solved}"
    others = (_choice(table, choice, units) for choice in choices_of(table.sizes) if choice.count != spacing.count)
    yield noted(where, says, size, (wanted, wanted), why="; ".join(others))


def _choice(table: Table, choice: Spacing, units: str) -> str:
    """Another number of slats, and what it would come to."""
    clear = "clear of fingers and draining all year" if stays_clear(table.profile, choice) else "not clear all year"
    return f"{choice.count} of {shown(choice.width, units)} with gaps of {shown(choice.gap, units)} are {clear}"

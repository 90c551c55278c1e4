"""The slat fields: gaps, widths and slivers, measured from the finished slats."""

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short, noted
from templategen.checks.walls import once_if_short
from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.spacing import Spacing, choices_of, stays_clear


def field_findings(table: Table) -> Iterator[Finding]:
    """What the spacing came to, and slats that are too narrow."""
    yield from _gaps(table)
    slats = [part for part in table.parts if part.kind == "slat"]
    yield from once_if_short("sliver", slats, "slats.width", table.profile.limits.slat_width, _width)


def _width(slat: Part) -> float:
    return (slat.body or slat.outline).bounds.height


def _gaps(table: Table) -> Iterator[Finding]:
    """What fills a field, and the other numbers of slats with what each would come to."""
    spacing, asked = table.spacing, table.profile.slats
    yield from if_short("draining-gap", "slats.gap", spacing.gap, table.profile.limits.drain_gap)
    solved, size, wanted = (
        ("gap", spacing.gap, asked.gap) if asked.hold == "width" else ("width", spacing.width, asked.width)
    )
    if abs(size - wanted) <= MET:
        return
    others = [choice for choice in choices_of(table.sizes) if choice.count != spacing.count]
    good = tuple(_figures(one) for one in others if stays_clear(table.profile, one))
    bad = tuple(_figures(one) for one in others if not stays_clear(table.profile, one))
    count = table.slats_per_field
    yield noted(f"solved-{solved}", f"slats.{solved}", size, (wanted, wanted), count=count, good=good, bad=bad)


def _figures(choice: Spacing) -> dict[str, float]:
    return {"count": choice.count, "width": choice.width, "gap": choice.gap}

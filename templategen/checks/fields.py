"""The slat fields: gaps, widths and slivers, measured from the finished slats."""

from collections.abc import Iterator, Sequence

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short, noted
from templategen.checks.walls import once_if_short
from templategen.geometry.tolerance import MET, ON_EDGE
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.spacing import Spacing, choices_of, stays_clear


def field_findings(table: Table) -> Iterator[Finding]:
    """What the spacing came to, and slats that are too narrow."""
    yield from _gaps(table)
    slats = [part for part in table.parts if part.kind == "slat"]
    yield from _beside_arms(slats)
    yield from once_if_short("sliver", slats, "slats.width", table.profile.limits.slat_width, _width)


def _beside_arms(slats: Sequence[Part]) -> Iterator[Finding]:
    """Slats that lie along a rail and reach past its shoulder line by so little that no set-up leaves the tongue."""
    deep = {part.code: past for part in slats if (past := _past_shoulder(part)) > MET}
    if deep:
        yield Finding("edge-in-rail", "stop", "slats.gap", max(deep.values()), (None, 0.0), {"parts": tuple(deep)})


def _past_shoulder(slat: Part) -> float:
    """How far a slat's tongue stands out past a shoulder that runs along the slat, 0 where none does."""
    body, outline = slat.body or slat.outline, slat.outline.bounds
    past = (
        (body.bounds.bottom, body.bounds.bottom - outline.bottom),
        (body.bounds.top, outline.top - body.bounds.top),
    )
    level = [edge.start.y for edge in body.edges if abs(edge.end.y - edge.start.y) < ON_EDGE < edge.length]
    return max((by for y, by in past if any(abs(y - at) < ON_EDGE for at in level)), default=0.0)


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

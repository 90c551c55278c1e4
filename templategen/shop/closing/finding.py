"""What `check` says of closing the ring: by formula alone, so that it stays quick."""

from __future__ import annotations

from templategen.checks.finding import Finding, Level
from templategen.shop.closing.errors import ring_errors
from templategen.shop.closing.study import advise, figures_of
from templategen.table.assembly import Table
from templategen.units import show_length

EVEN = 0.5
"""Under this chance the best way of working closes a ring only by luck."""


def closing_findings(table: Table) -> tuple[Finding, ...]:
    """The chance that every mitre stays under `limits.joint_gap` in the way advised; a caution where it is less than
    even."""
    ring = ring_errors(table.sizes)
    figures = figures_of(ring)
    way = advise(figures)
    chance = {f.way.name: f.chance for f in figures if f.setting}
    best = chance[way.name]
    limit = show_length(ring.limit, table.profile.units)
    says = f"ring closed by {way.title}; chance that every mitre stays under {limit}"
    others = ", ".join(f"{f.way.title} {f.chance:.0%}" for f in figures if f.setting and f.way is not way)
    why = f"with mitre_error and length_error as they are and the saw's setting off as far as one cut: {others}"
    level: Level = "note" if best >= EVEN else "caution"
    return (Finding(level, "shop.mitre_error", says, round(100 * best, 1), (100 * EVEN, None), "%", why),)

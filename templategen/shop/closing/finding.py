"""What `check` says of closing the ring: by formula alone, so that it stays quick."""

from __future__ import annotations

from templategen.checks.finding import Finding, Level
from templategen.fit.plan import RING_WAYS, Plan
from templategen.shop.closing.errors import ring_errors
from templategen.shop.closing.study import figures_of
from templategen.shop.closing.ways import way_of
from templategen.table.assembly import Table
from templategen.units import show_length

EVEN = 0.5
"""Under this chance the best way of working closes a ring only by luck."""


def closing_findings(table: Table, plan: Plan) -> tuple[Finding, ...]:
    """The chance that every mitre stays under `limits.joint_gap` in the way taken; a caution where it is less than
    even, and where the maker's own can't be taken."""
    ring = ring_errors(table.sizes)
    figures = figures_of(ring)
    way = way_of(plan.closing)
    chance = {f.way.name: f.chance for f in figures if f.setting}
    best = chance[way.name]
    limit = show_length(ring.limit, table.profile.units)
    says = f"ring closed by {way.title}; chance that every mitre stays under {limit}"
    others = ", ".join(f"{f.way.title} {f.chance:.0%}" for f in figures if f.setting and f.way is not way)
    why = f"with mitre_error and length_error as they are and the saw's setting off as far as one cut: {others}"
    level: Level = "note" if best >= EVEN else "caution"
    closes = Finding(level, "shop.mitre_error", says, round(100 * best, 1), (100 * EVEN, None), "%", why)
    own = table.profile.work.closing
    if own in ("auto", way.name) or plan.locked:
        return (closes,)
    says = f"the ring can't be closed by {way_of(own).title}: {RING_WAYS[plan.ring]}; planned is {way.title}"
    return closes, Finding("caution", "work.closing", says, 1.0, (0.0, 0.0), "ways")

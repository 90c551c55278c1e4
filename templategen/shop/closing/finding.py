"""What `check` says of closing the ring: by formula alone, so that it stays quick."""

from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.checks.levels import at_least
from templategen.fit.plan import RING_WAYS, Plan
from templategen.shop.closing.errors import ring_errors
from templategen.shop.closing.study import figures_of
from templategen.shop.closing.ways import way_of
from templategen.table.assembly import Table

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
    others = tuple(
        said("{way:word} {chance:.0f} %", way=f.way.title, chance=100 * f.chance)
        for f in figures
        if f.setting and f.way is not way
    )
    fields = {"way": way.title, "limit": ring.limit, "others": others}
    closes = at_least("ring-closes", "shop.mitre_error", round(100 * best, 1), (None, 100 * EVEN), **fields)
    own = table.profile.work.closing
    if own in ("auto", way.name) or plan.locked:
        return (closes,)
    fields = {"wish": way_of(own).title, "ring": RING_WAYS[plan.ring], "way": way.title}
    return closes, Finding("closing-not-as-wished", "caution", "work.closing", 1.0, (0.0, 0.0), fields)

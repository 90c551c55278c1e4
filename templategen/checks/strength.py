"""How much of the wood's strength loads at the rim use: a frame of bars, solved. Screening, no design."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import at_most, noted
from templategen.strength.used import Used, used_in
from templategen.table.assembly import Table
from templategen.wood.figures import figures_of
from templategen.wood.grades import grade_of

WOULD_DO = {
    "the rails' crossing": "thicker or wider rails, two rails instead of three, a smaller pole hole or a steel plate "
    "screwed across the lap would carry more",
    "the crossing of the ground cross": "a thicker or wider ground cross, or a smaller pole hole, would carry more",
    "the legs' tenons": "wider and thicker tenons, thicker legs, or legs further out would carry more",
}


def strength_findings(table: Table, weight: float) -> Iterator[Finding]:
    """Leaning, lifting and dragging are judged; nobody should sit on a rim, so that says how far it would go."""
    used = used_in(table, weight)
    for names in (("lean", "lean between"), ("lift",), ("drag",)):
        yield _judged(table, max((one for one in used if one.case.name in names), key=lambda one: one.share))
    yield _sitting(table, max((one for one in used if one.case.name.startswith("sit")), key=lambda one: one.share))


def _why(table: Table, used: Used) -> str:
    figures = figures_of(table.profile.wood, table.profile.woods)
    grade = grade_of(table.profile.wood, figures.density)
    return (
        f"most at {used.place}; rails, legs and ring as a frame with stiff glued joints, wet wood of class "
        f"{grade.name} (EN 338), loads half as large again; shop boards aren't graded: prove it with a test load"
    )


def _judged(table: Table, used: Used) -> Finding:
    limits = table.profile.limits.strength
    why = _why(table, used)
    if 100 * used.share > limits[0]:
        why += f"; {WOULD_DO[used.place]}"
    says = f"strength used when {used.case.says}"
    return at_most("top.thickness", says, round(100 * used.share), limits, "%", why)


def _sitting(table: Table, used: Used) -> Finding:
    says, share = f"strength used when {used.case.says}", round(100 * used.share)
    do = "" if share <= 100 else "tell whoever gets the table that nobody may sit or stand on it"
    return noted("limits.sitting_load", says, share, (None, None), "%", _why(table, used), do)

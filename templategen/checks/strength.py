"""How much of the wood's strength loads at the rim use: a frame of bars, solved. Screening, no design."""

from collections.abc import Iterator
from typing import Any

from templategen.checks.finding import Finding
from templategen.checks.levels import at_most, noted
from templategen.strength.used import Used, used_in
from templategen.table.assembly import Table
from templategen.wood.grades import grade_of
from templategen.wood.species import figures_of

WHERE = {
    "the rails' crossing": "top.thickness",
    "the crossing of the ground cross": "base.thickness",
    "the legs' tenons": "legs.tenon",
    "the legs' bolts": "legs.bolt",
    "the legs' pegs": "legs.peg",
}
"""By the place: the key that has most to do with it."""


def strength_findings(table: Table, weight: float) -> Iterator[Finding]:
    """Leaning, lifting and dragging are judged; nobody should sit on a rim, so that says how far it would go."""
    used = used_in(table, weight)
    for names in (("lean", "lean between"), ("lift",), ("drag",)):
        yield _judged(table, max((one for one in used if one.case.name in names), key=lambda one: one.share))
    yield _sitting(table, max((one for one in used if one.case.name.startswith("sit")), key=lambda one: one.share))


def _fields(table: Table, used: Used) -> dict[str, Any]:
    figures = figures_of(table.profile.wood, table.profile.woods)
    limits, case = table.profile.limits, used.case.name
    load = limits.lean_load if case.startswith("lean") else limits.sitting_load if case.startswith("sit") else None
    grade = grade_of(table.profile.wood, figures.density).name
    joint = table.profile.legs.top_joint
    turning = {"bolted": joint == "bolted" or None, "pegged": joint == "draw-bored" or None}
    return {"case": case, "load": load, "place": used.place, "grade": grade, **turning}


def _judged(table: Table, used: Used) -> Finding:
    limits, share = table.profile.limits.strength, 100 * used.share
    beyond = share > limits[0]
    return at_most("strength", WHERE[used.place], round(share), limits, **_fields(table, used), beyond=beyond)


def _sitting(table: Table, used: Used) -> Finding:
    share = round(100 * used.share)
    kind = "strength-to-sit" if share <= 100 else "strength-never-to-sit"
    return noted(kind, "limits.sitting_load", share, **_fields(table, used))

"""The order of assembly as findings: how the ring closes, whether the glue gives time for it, what locks."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.gluing import open_time
from templategen.fit.plan import RING_WAYS, Plan, Step
from templategen.table.assembly import Table

SECONDS_A_FACE = 30.0
"""Time to spread glue on one face and bring it home, s: makers need 20 to 40."""


def minutes(step: Step) -> float:
    """The longest stretch in a step from the first glue to the last part home: two faces to a joint, min."""
    return step.at_once * 2 * SECONDS_A_FACE / 60


def assembly_findings(table: Table, plan: Plan) -> Iterator[Finding]:
    """How the table goes together, or why it can't."""
    if plan.locked or not plan.steps:
        why = "each part must come home along a straight line; through splines or longer grooves would free them"
        yield Finding("stop", "joints.spline", _lock_words(plan), float(len(plan.locked)), (0.0, 0.0), "pairs", why)
        return
    says = f"goes together; {RING_WAYS[plan.ring]}"
    yield Finding("note", "joints.spline", says, float(len(plan.steps)), (None, None), "stages")
    longest = max(plan.steps, key=minutes)
    limit = open_time(table.profile)
    if minutes(longest) > limit:
        says = f'"{longest.does}" closes {longest.at_once} glued joints at once, longer than the glue stays open'
        why = f"glue that skins over before the joint is home doesn't hold; {_relief(plan)}"
        yield Finding("caution", "shop.open_time", says, minutes(longest), (None, limit), "min", why)


def _relief(plan: Plan) -> str:
    if plan.ring == "all together":
        return "through splines, slid in from outside, let the segments come on one at a time"
    return "a slower glue gives more time"


def _lock_words(plan: Plan) -> str:
    """Which parts hold which."""
    pairs = ", ".join(f"{one} behind {other}" for one, other in plan.locked[:6])
    more = f" and {len(plan.locked) - 6} more" if len(plan.locked) > 6 else ""
    return f"parts lock each other: {pairs}{more}" if pairs else "the ring can't be closed over what stands inside"

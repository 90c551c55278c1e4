"""The order of assembly as findings: how the ring closes, whether the glue gives time for it, what locks."""

from collections.abc import Iterator
from math import ceil

from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.checks.gluing import open_time
from templategen.checks.levels import noted
from templategen.fit.plan import RING_WAYS, Plan, Step
from templategen.table.assembly import Table

SECONDS_A_FACE = 30.0
"""Time to spread glue on one face and bring it home, s: makers need 20 to 40."""

SLOWEST_FACE = 40.0
"""The longest that a face may take, s: glue that is open no longer than this takes leaves no time to spare."""


def spread(joints: float, seconds: float = SECONDS_A_FACE) -> float:
    """How long one person takes to spread so many joints, two faces each, and bring them home, min."""
    return joints * 2 * seconds / 60


def stretch(joints: int) -> tuple[float, float]:
    """The same from a middling to a slow hand, min."""
    return spread(joints), spread(joints, SLOWEST_FACE)


def minutes(step: Step) -> float:
    """The longest stretch in a step from the first glue to the last part home, min."""
    return spread(step.at_once)


def at_most_minutes(step: Step) -> float:
    """The same stretch where every face takes as long as it may, min."""
    return spread(step.at_once, SLOWEST_FACE)


def assembly_findings(table: Table, plan: Plan) -> Iterator[Finding]:
    """How the table goes together, or why it can't."""
    if plan.locked or not plan.steps:
        pairs = tuple(said("{one} behind {other}", one=one, other=other) for one, other in plan.locked)
        kind = "locked" if pairs else "ring-shut-out"
        yield Finding(kind, "stop", "joints.spline", float(len(pairs)), (0.0, 0.0), {"pairs": pairs})
        return
    yield noted(
        "goes-together", "joints.spline", float(len(plan.steps)), stages=len(plan.steps), ring=RING_WAYS[plan.ring]
    )
    longest = max(plan.steps, key=minutes)
    limit = open_time(table.profile)
    fields = {"step": longest.does, "joints": longest.at_once}
    if minutes(longest) > limit:
        kind = "open-time-of-ring" if plan.ring == "all together" else "open-time"
        yield Finding(kind, "caution", "shop.open_time", minutes(longest), (None, limit), fields)
    elif (slow := at_most_minutes(longest)) > limit:
        yield noted(
            "open-time-to-spare",
            "shop.open_time",
            slow,
            (None, limit),
            **fields,
            needed=ceil(slow),
            seconds=f"{SLOWEST_FACE:g}",
        )

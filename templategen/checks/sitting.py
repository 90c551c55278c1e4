"""What a sitter asks: height, seats, room for knees and feet, a wheelchair."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, pi

from templategen.checks.finding import Finding
from templategen.checks.levels import at_least, noted
from templategen.geometry.tolerance import MET
from templategen.table.assembly import Table


@dataclass(frozen=True, slots=True)
class AccessRule:
    """One rule for a wheelchair user's place, mm: height of the top, clear height and depth for the knees."""

    name: str
    top: tuple[float, float] | None
    knee_height: float
    knee_depth: float


ACCESS = {
    "ADA": AccessRule("US ADA and ABA standards", (710.0, 865.0), 685.0, 485.0),
    "Scotland": AccessRule("a Scottish access guide", None, 750.0, 380.0),
}


def sitting_findings(table: Table) -> Iterator[Finding]:
    """Seats and room where it is a table to sit at, and the access rule that was asked for."""
    limits, top = table.profile.limits, table.profile.top
    low, high = limits.sitting_height
    if low <= top.height <= high:
        yield _seats(table)
        yield from _room(table)
    else:
        yield noted("other-height", "top.height", top.height, low=low, high=high)
    if limits.wheelchair != "none":
        yield from _access(table, ACCESS[limits.wheelchair])


def seats(diameter: float, width: float) -> int:
    """Sitters round a rim who have `width` of it each: floor(pi D / width)."""
    return floor(pi * diameter / width + MET)


def _seats(table: Table) -> Finding:
    tight, easy = table.profile.limits.seat_width
    most, few = (seats(table.profile.top.diameter, width) for width in (tight, easy))
    return noted("seats", "top.diameter", few, few=few, most=most, tight=tight, easy=easy)


def _room(table: Table) -> Iterator[Finding]:
    limits, sizes = table.profile.limits, table.sizes
    knees, feet = sizes.top_underside, sizes.radius - table.profile.base.length / 2
    if knees < limits.knee_height - MET:
        yield Finding("knee-room", "caution", "top.height", knees, (limits.knee_height, None))
    if 0 <= feet < limits.foot_room - MET:
        yield Finding("foot-room", "caution", "base.length", feet, (limits.foot_room, None))


def knee_depth(table: Table, height: float) -> float:
    """From the rim in to the legs' outer face at `height` above the floor, over an arm."""
    sizes, legs = table.sizes, table.profile.legs
    share = min(1.0, max(0.0, (height - sizes.base_top) / sizes.leg_height))
    centre = legs.base_centre_distance + share * (legs.centre_distance - legs.base_centre_distance)
    return sizes.radius - centre - legs.section / 2


def _access(table: Table, rule: AccessRule) -> Iterator[Finding]:
    """Other countries' rules differ, so each finding names its own."""
    underside = table.sizes.top_underside
    yield at_least("access-knees", "top.height", underside, (None, rule.knee_height), rule=rule.name)
    depth = min(knee_depth(table, min(height, underside)) for height in (table.sizes.base_top, rule.knee_height))
    yield at_least("access-depth", "legs.centre_distance", depth, (None, rule.knee_depth), rule=rule.name)
    height = table.profile.top.height
    if rule.top and not rule.top[0] <= height <= rule.top[1]:
        yield Finding("access-height", "caution", "top.height", height, rule.top, {"rule": rule.name})

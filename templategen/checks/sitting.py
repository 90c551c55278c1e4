"""What a sitter asks: height, seats, room for knees and feet, a wheelchair."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, pi

from templategen.checks.finding import Finding
from templategen.checks.levels import at_least, noted, shown
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
        yield noted("top.height", "height outside what tables to sit at usually have", top.height, (low, high))
    if limits.wheelchair != "none":
        yield from _access(table, ACCESS[limits.wheelchair])


def seats(diameter: float, width: float) -> int:
    """Sitters round a rim who have `width` of it each: floor(pi D / width)."""
    return floor(pi * diameter / width + MET)


def _seats(table: Table) -> Finding:
    (tight, easy), units = table.profile.limits.seat_width, table.profile.units
    most, few = (seats(table.profile.top.diameter, width) for width in (tight, easy))
    says = f"seats with {shown(easy, units)} of rim each; {most} with {shown(tight, units)}"
    return noted("top.diameter", says, few, unit="seats")


def _room(table: Table) -> Iterator[Finding]:
    limits, sizes = table.profile.limits, table.sizes
    knees, feet = sizes.top_underside, sizes.radius - table.profile.base.length / 2
    if knees < limits.knee_height - MET:
        yield noted("top.height", "room for knees under the rim", knees, (limits.knee_height, None))
    if 0 <= feet < limits.foot_room - MET:
        why = "toes and chair legs come in further"
        yield noted("base.length", "rim beyond the feet", feet, (limits.foot_room, None), why=why)


def knee_depth(table: Table, height: float) -> float:
    """From the rim in to the legs' outer face at `height` above the floor, over an arm."""
    sizes, legs = table.sizes, table.profile.legs
    share = min(1.0, max(0.0, (height - sizes.base_top) / sizes.leg_height))
    centre = legs.base_centre_distance + share * (legs.centre_distance - legs.base_centre_distance)
    return sizes.radius - centre - legs.section / 2


def _access(table: Table, rule: AccessRule) -> Iterator[Finding]:
    """Other countries' rules differ, so each finding names its own."""
    underside = table.sizes.top_underside
    says = f"clear height for a wheelchair user's knees, by {rule.name}"
    yield at_least("top.height", says, underside, (None, rule.knee_height))
    says, why = f"depth for the knees from rim to leg, by {rule.name}", "rules differ between countries"
    depth = min(knee_depth(table, min(height, underside)) for height in (table.sizes.base_top, rule.knee_height))
    yield at_least("legs.centre_distance", says, depth, (None, rule.knee_depth), why=why)
    height = table.profile.top.height
    if rule.top and not rule.top[0] <= height <= rule.top[1]:
        says = f"height of the top for a wheelchair user, by {rule.name}"
        yield Finding("caution", "top.height", says, height, rule.top)

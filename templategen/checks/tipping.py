"""Whether the table stands: tipping at the rim, and the wind on a parasol. Screening figures, not a design."""

from collections.abc import Iterator
from math import ceil, cos, pi
from typing import Any

from templategen.checks.balance import Balance, least_weight
from templategen.checks.finding import Finding
from templategen.checks.levels import at_least, at_most, noted
from templategen.checks.wording import GRAVITY
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.table.assembly import Table
from templategen.table.glides import glide_outlines, glides_at
from templategen.table.pedestal import relief_depth

LIFTED_BY_ONE = 23.0
"""kg that one person may lift at best (NIOSH's ideal limit)."""

CANOPY_BEYOND = 600.0
"""A canopy reaches about this far past the table all round, mm."""

SIDE_AREA, SIDE_CANOPY = 0.7, 2.7
"""m2 that a canopy of 2.7 m shows to the wind from the side; others in proportion to their area."""

OWN_BASE = 0.6
"""Width of a parasol's own base, m, over whose edge it tips."""

BASE_THICK = 50.0
"""What such a base with its weights is thick at the least, mm (assumed); a plain steel plate may be thinner."""

LEANS = {"least": 300.0, "most": 800.0}
"""N that who sits or leans on the rim brings."""

DRAG, PUSH_HEIGHT = 1.2, 2.1
"""Drag coefficient of that side, and the height in m at which the wind pushes."""


def tipping_findings(table: Table, balance: Balance) -> Iterator[Finding]:
    """Mass, tipping and parasol."""
    fields: dict[str, Any] = {
        "centre": balance.centre.z,
        "top": balance.top_mass,
        "two": balance.top_mass > LIFTED_BY_ONE,
    }
    yield noted("mass", "top.diameter", round(balance.mass, 1), **fields)
    weight, reach = least_weight(table, balance.mass), standing_reach(table)
    yield from _tipping(table, weight)
    if table.profile.top.pole_hole > 0:
        yield parasol(table, weight * reach / 1000)


def _ways(table: Table) -> tuple[float, float]:
    """The directions in which a table tips soonest or latest: over a foot, and half way between two."""
    return 0.0, table.sizes.field_angle / 2


def rim_reach(table: Table, way: float) -> float:
    """How far the rim's edge stands out from the axis in direction `way`, measured square to the tipping line."""
    sizes = table.sizes
    if sizes.is_sawn:
        return sizes.radius
    corners = ((2 * i + 1) * sizes.mitre - way for i in range(sizes.segments))
    return max(sizes.radius / cos(sizes.mitre) * cos(corner) for corner in corners)


def feet_reach(table: Table, way: float) -> float:
    """Distance from the axis to the line over which the table tips in direction `way`, mm, from the feet as built.

    That line touches the outermost points of feet or glides: it is how far they reach together in that direction.
    """
    return max(Placement(turn=-way).outline(foot).bounds.right for foot in _stands_on(table))


def _stands_on(table: Table) -> Iterator[Outline]:
    """What meets the floor, seen from above."""
    if table.sizes.glide_height > 0:
        yield from glide_outlines(table.sizes)
        return
    kind = "foot" if table.profile.base.feet == "pads" else "base-rail"
    outlines = {part.code: part.outline for part in table.parts if part.kind == kind}
    for copy in table.placed:
        if copy.code in outlines:
            yield Placement(copy.at.x, copy.at.y, copy.turn).outline(outlines[copy.code])


def standing_reach(table: Table) -> float:
    """The least of these: for feet that are points on a radius r it is r cos(pi/n), half way between two."""
    return min(feet_reach(table, way) for way in _ways(table))


def soft_reach(table: Table) -> float:
    """The same where the outer edge of a foot sinks into the ground and the table turns over the feet's middles."""
    base = table.profile.base
    middles = (base.length - base.foot_length) / 2, *glides_at(table.sizes)[:1]
    return min(middles) * cos(table.sizes.field_angle / 2)


def tipping_force(weight: float, reach: float, load_radius: float) -> float | None:
    """Load in N at `load_radius` that lifts the far side: F = W a / (R' - a) by moments about the tipping line; None
    where the load stands inside it."""
    return weight * reach / (load_radius - reach) if load_radius > reach else None


def _tipping(table: Table, weight: float) -> Iterator[Finding]:
    limits, half = table.profile.limits, table.sizes.field_angle / 2
    forces = [(tipping_force(weight, feet_reach(table, way), rim_reach(table, way)), way) for way in _ways(table)]
    found = [(force, way) for force, way in forces if force is not None]
    if not found:
        return
    force, way = min(found)
    reach, edge = feet_reach(table, way), rim_reach(table, way)
    soft = tipping_force(weight, min(reach, soft_reach(table)), edge)
    push = weight * reach / table.profile.top.height
    longer = None
    if force < limits.tipping_force:
        needed = limits.tipping_force * edge / (weight + limits.tipping_force)
        longer = 2 * (needed - reach) / cos(half)
    wanted = (None, limits.tipping_force)
    yield at_least("tipping", "base.length", round(force), wanted, soft=soft, push=push, longer=longer, **LEANS)
    if force >= limits.tipping_force:
        yield from soft_ground(table, weight)


def soft_ground(table: Table, weight: float) -> Iterator[Finding]:
    """What tips a table that stands firm where its feet sink in, if that is less than it should be."""
    reach, wanted = min(standing_reach(table), soft_reach(table)), table.profile.limits.tipping_force
    soft = tipping_force(weight, reach, rim_reach(table, table.sizes.field_angle / 2))
    if soft is not None and soft < wanted:
        yield noted("soft-ground", "base.length", round(soft), (wanted, None))


def wind_moment(wind: float, canopy: float) -> float:
    """Moment at the floor in N m of a parasol in wind: q = 0.61 v2 on its side, from standard air.

    `wind` in m/s, `canopy` across in m. At 10 m/s and 2.7 m about 110 N m.
    """
    side = SIDE_AREA * (canopy / SIDE_CANOPY) ** 2
    return 0.61 * wind**2 * DRAG * side * PUSH_HEIGHT


def wind_lift(wind: float, canopy: float) -> tuple[float, float]:
    """Lift in N on that canopy, least and most: half to all of q on its area seen from above."""
    most: float = 0.61 * wind**2 * pi * canopy**2 / 4
    return most / 2, most


def parasol(table: Table, resists: float) -> Finding:
    """What a parasol brings, against what holds it: a base of its own, or the table, which `resists` so much, N m."""
    wind = table.profile.limits.wind
    canopy = (table.profile.top.diameter + 2 * CANOPY_BEYOND) / 1000
    moment, (low, high) = wind_moment(wind, canopy), wind_lift(wind, canopy)
    fields: dict[str, Any] = {"canopy": canopy, "wind": wind, "low": low, "high": high}
    if table.profile.top.parasol == "table":
        return at_most("parasol-in-table", "top.parasol", round(moment), (round(resists), None), **fields)
    under, between = base_room(table)
    across = min(OWN_BASE, between / 1000)
    base = ceil(moment / (GRAVITY * across / 2) / 5) * 5
    fields |= {"resists": resists, "across": across * 1000, "base": base, "moment": moment}
    if under < BASE_THICK:
        return noted("parasol-no-room", "top.parasol", under, (BASE_THICK, None), **fields, under=under)
    return noted("parasol-in-base", "top.parasol", round(moment), **fields)


def base_room(table: Table) -> tuple[float, float]:
    """Height under the ground cross, and width between its feet, mm: the room that a parasol's base has."""
    sizes, base = table.sizes, table.profile.base
    return sizes.foot_height + relief_depth(sizes), base.length - 2 * base.foot_length

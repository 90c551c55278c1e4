"""Whether the table stands: tipping at the rim, and the wind on a parasol. Screening figures, not a design."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi

from templategen.checks.balance import balance_of, least_weight
from templategen.checks.finding import Finding
from templategen.checks.grade import at_least, noted, shown
from templategen.geometry.placement import Placement
from templategen.table.assembly import Table

INSET = 50.0
"""The load stands this far in from the rim, mm: where tables are usually tested."""

LIFTED_BY_ONE = 23.0
"""kg that one person may lift at best (NIOSH's ideal limit)."""

CANOPY_BEYOND = 600.0
"""A canopy reaches about this far past the table all round, mm."""

SIDE_AREA, SIDE_CANOPY = 0.7, 2.7
"""m2 that a canopy of 2.7 m shows to the wind from the side; others in proportion to their area."""

DRAG, PUSH_HEIGHT = 1.2, 2.1
"""Drag coefficient of that side, and the height in m at which the wind pushes."""


def tipping_findings(table: Table) -> Iterator[Finding]:
    """Mass, tipping and parasol."""
    balance, units = balance_of(table), table.profile.units
    why = f"its centre lies {shown(balance.centre.z, units)} above the floor; the top alone weighs "
    why += f"{balance.top_mass:.1f} kg"
    if balance.top_mass > LIFTED_BY_ONE:
        why += ", for two or more persons to lift"
    yield noted("top.diameter", "mass of the wood", round(balance.mass, 1), unit="kg", why=why)
    weight, reach = least_weight(table, balance.mass), standing_reach(table)
    yield from _tipping(table, weight, reach)
    if table.profile.top.pole_hole > 0:
        yield _parasol(table, weight * reach / 1000)


def standing_reach(table: Table) -> float:
    """Distance from the axis to the line over which the table tips, mm, from the feet as built.

    That line joins the outermost points of two neighbouring feet; for feet that are points on a radius r it is
    r cos(pi/n) from the axis. It is measured as the least reach of all feet together in the directions of the arms
    and half way between them.
    """
    kind = "foot" if table.profile.base.feet == "pads" else "base-rail"
    outlines = {part.code: part.outline for part in table.parts if part.kind == kind}
    half = table.sizes.field_angle / 2
    feet = [
        Placement(copy.at.x, copy.at.y, copy.turn).outline(outlines[copy.code])
        for copy in table.placed
        if copy.code in outlines
    ]
    return min(max(Placement(turn=-way).outline(foot).bounds.right for foot in feet) for way in (0.0, half))


def point_feet_reach(radius: float, feet: int) -> float:
    """The same for `feet` points equally spaced on `radius`: r cos(pi/n)."""
    return radius * cos(pi / feet)


def tipping_force(weight: float, reach: float, load_radius: float) -> float | None:
    """Load in N at `load_radius` that lifts the far side: F = W a / (R' - a) by moments about the tipping line; None
    where the load stands inside it."""
    return weight * reach / (load_radius - reach) if load_radius > reach else None


def _tipping(table: Table, weight: float, reach: float) -> Iterator[Finding]:
    limits = table.profile.limits
    load_radius = table.sizes.radius - INSET
    force = tipping_force(weight, reach, load_radius)
    if force is None:
        return
    push = weight * reach / table.profile.top.height
    why = (
        f"on level ground, empty; so would {push:.0f} N pushed sideways at the top; who sits or leans on the rim "
        "brings 300 to 800 N"
    )
    if force < limits.tipping_force:
        needed = limits.tipping_force * load_radius / (weight + limits.tipping_force)
        longer = 2 * (needed - reach) / cos(table.sizes.field_angle / 2)
        why += f"; base rails {shown(longer, table.profile.units)} longer would do"
    says = "load near the rim that tips the table"
    yield at_least("base.length", says, round(force), (None, limits.tipping_force), "N", why)


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


def _parasol(table: Table, resists: float) -> Finding:
    wind = table.profile.limits.wind
    canopy = (table.profile.top.diameter + 2 * CANOPY_BEYOND) / 1000
    low, high = wind_lift(wind, canopy)
    why = (
        f"and {low:.0f} to {high:.0f} N of lift; the table only guides the pole: give it a weighted base of its own, "
        "close it in wind and when unattended"
    )
    says = f"moment of a parasol {canopy:.1f} m across in wind of {wind:g} m/s"
    return noted("top.pole_hole", says, round(wind_moment(wind, canopy)), (None, round(resists)), "N m", why)

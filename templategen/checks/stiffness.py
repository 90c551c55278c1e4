"""How stiff and strong the rails are under a load at the rim. Screening figures, not a structural design."""

from __future__ import annotations

from collections.abc import Iterator
from math import sin

from templategen.checks.finding import Finding
from templategen.checks.grade import at_most, noted, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.wood.figures import figures_of

WET = 0.8
"""Wet wood keeps about this share of its stiffness at 12 % moisture."""

MPA_PER_GPA = 1000.0


def stiffness_findings(table: Table) -> Iterator[Finding]:
    """What the crossing leaves of the rails, and how far the rim sinks."""
    overhang = load_overhang(table)
    if overhang <= 0:
        return
    load, stiffness = table.profile.limits.rim_load, rail_stiffness(table)
    sinks = cantilever(load, overhang, stiffness)
    says = f"rim sinks under {load:g} N above an arm"
    why = "the rail held by its leg; up to twice that where the wood is loaded for long"
    yield at_most("top.thickness", says, sinks, (table.profile.limits.rim_sink, None), why=why)
    yield _crossing(table, load, overhang, stiffness)


def load_overhang(table: Table) -> float:
    """From the legs' outer face to a load at the rim's edge, mm."""
    legs = table.profile.legs
    return table.sizes.radius - legs.centre_distance - legs.section / 2


def rail_stiffness(table: Table) -> float:
    """E I of one rail between its grooves, N mm2: b h3/12 less both grooves about the rail's middle, in wet wood."""
    top, groove = table.profile.top, table.sizes.groove
    off = (groove.bottom + groove.top) / 2 - top.thickness / 2
    grooves = 2 * groove.depth * (groove.width**3 / 12 + groove.width * off**2)
    section = top.rail_width * top.thickness**3 / 12 - grooves
    return WET * MPA_PER_GPA * figures_of(table.profile.wood, table.profile.woods).stiffness * section


def cantilever(load: float, length: float, stiffness: float) -> float:
    """Deflection of a bar held at one end: F L3 / (3 E I), the textbook formula; N, mm, N mm2."""
    return load * length**3 / (3 * stiffness)


def crossing_turn(moment: float, span: float, half_lap: float, weakened: float, stiffness: float) -> float:
    """Turn at one leg, radians, of a rail on two legs `span` apart that is bent by `moment` there, with `weakened`
    of its I over `half_lap` to each side of the middle.

    By virtual work: the integral of M (x/S)2 / (E I) from 0 to S; M S / (3 E I) for a whole rail.
    """
    low, high = span / 2 - half_lap, span / 2 + half_lap
    more = (1 / weakened - 1) * (high**3 - low**3) / (3 * span**2)
    return moment / stiffness * (span / 3 + more)


def section_left(rail: Part) -> tuple[float, float]:
    """Share of height and of width that a rail keeps at its crossing."""
    cut = sum(max((f.depth for f in rail.cuts("lap") if f.face == face), default=0.0) for face in ("top", "bottom"))
    hole = rail.holes[0].bounds.width if rail.holes else 0.0
    return 1 - cut / rail.thickness, 1 - hole / rail.blank.bounds.height


def _crossing(table: Table, load: float, overhang: float, stiffness: float) -> Finding:
    """Relative section modulus at the lap: height squared times width; stiffness goes with the cube."""
    rails = [part for part in table.parts if part.kind == "rail"]
    height, width = min((section_left(rail) for rail in rails), key=lambda left: left[0] ** 2 * left[1])
    span = 2 * table.profile.legs.centre_distance
    half_lap = min(table.sizes.half_rail / sin(table.sizes.field_angle), span / 2)
    turn = crossing_turn(load * overhang, span, half_lap, height**3 * width, stiffness)
    alone = cantilever(load, overhang, stiffness) + turn * overhang
    why = (
        f"height squared times width; one rail alone would let the rim sink {shown(alone, table.profile.units)}, so "
        "legs, ring and the other rails must carry it: keep the legs close round the crossing"
    )
    says = "strength in bending that a rail keeps at its lap"
    return noted("top.rail_width", says, round(100 * height**2 * width, 1), unit="%", why=why)

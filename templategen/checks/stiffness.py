"""How stiff and strong the rails are under a load at the rim. Screening figures, not a structural design."""

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import at_most
from templategen.table.assembly import Table
from templategen.wood.species import figures_of

WET = 0.8
"""Wet wood keeps about this share of its stiffness at 12 % moisture."""

MPA_PER_GPA = 1000.0


def stiffness_findings(table: Table) -> Iterator[Finding]:
    """How far the rim sinks."""
    overhang = load_overhang(table)
    if overhang <= 0:
        return
    load, stiffness = table.profile.limits.rim_load, rail_stiffness(table)
    sinks = cantilever(load, overhang, stiffness)
    yield at_most("rim-sinks", "top.thickness", sinks, (table.profile.limits.rim_sink, None), load=load)


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

"""Whether there is a ring at all: a centre inside the rim, and wood along its joints."""

from collections.abc import Iterator
from math import cos, sin, tan

from templategen.table.bounds.bound import Bound
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes

WHERE = "top.rim_width"


def rim_bounds(sizes: Sizes) -> Iterator[Bound]:
    """What the rim's width must keep to."""
    width, radius = sizes.profile.top.rim_width, sizes.outer_apothem
    yield Bound(WHERE, width, "rim-over-radius", below=radius, fields={"radius": radius})
    if sizes.is_sawn:
        least = sizes.outer_apothem - sizes.radius * cos(sizes.mitre)
        fields = {"by": -sizes.wall_at_joint}
        yield Bound(WHERE, width, "rim-inside-circle", above=least, spare=_wanted_wall(sizes), fields=fields)
    yield Bound(WHERE, width, below=radius - _least_apothem(sizes))


def _wanted_wall(sizes: Sizes) -> float:
    """Rim that a groove, a spline and a rounded edge ask for beyond the bare joint."""
    joints, top = sizes.profile.joints, sizes.profile.top
    spline = 0.0 if joints.spline == "none" else 2 * joints.spline_thickness + 20
    return joints.groove_depth + top.edge_round + 10 + spline


def _least_apothem(sizes: Sizes) -> float:
    """What the rails and legs as they are need inside the ring."""
    legs, half = sizes.profile.legs, sizes.field_angle / 2
    return max(
        sizes.half_rail / tan(sizes.mitre),
        sizes.half_rail / sin(half),
        legs.centre_distance + leg_joint(sizes).mortise_width / 2,
    )

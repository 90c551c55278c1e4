"""What tongues, grooves and splines must keep to."""

from collections.abc import Iterator
from math import cos

from templategen.table.bounds.bound import Bound
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes


def joint_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[joints]`."""
    yield from _groove_depth(sizes)
    yield from _tongue(sizes)
    if sizes.profile.joints.spline != "none":
        yield from _spline(sizes)


def _groove_depth(sizes: Sizes) -> Iterator[Bound]:
    joints = sizes.profile.joints
    where, depth, end = "joints.groove_depth", joints.groove_depth, joints.end_clearance
    yield Bound(where, depth, "no-tongue-in-groove", above=end, spare=5, fields={"end": end})
    wall = min(sizes.wall_at_middle, sizes.wall_at_joint)
    yield Bound(where, depth, "groove-through-rim", below=wall, spare=5)
    yield Bound(where, depth, below=sizes.half_rail)
    tenon = leg_joint(sizes)
    if tenon.depth > sizes.groove.bottom:
        yield Bound(where, depth, below=sizes.half_rail - tenon.mortise_thickness / 2)


def _tongue(sizes: Sizes) -> Iterator[Bound]:
    joints, thickness, slat = sizes.profile.joints, sizes.profile.top.thickness, sizes.profile.slats.thickness
    where, tongue, glue = "joints.tongue", joints.tongue, joints.glue_clearance
    yield Bound(where, tongue, "no-tongue-in-glue", above=glue)
    room = 2 * min(sizes.slat_level, thickness - sizes.slat_level)
    yield Bound(where, tongue, "groove-out-of-rim", below=room, spare=2, fields={"rim": thickness})
    yield Bound(where, tongue, "tongue-over-slat", below=slat + glue, spare=2, fields={"slat": slat})


def _spline(sizes: Sizes) -> Iterator[Bound]:
    joints, rim = sizes.profile.joints, sizes.profile.top.thickness
    where, size = "joints.spline_thickness", joints.spline_thickness
    yield Bound(where, size, "spline-over-rim", below=rim, spare=rim * 2 / 3, fields={"rim": rim})
    yield Bound(where, size, "no-spline-in-glue", above=joints.glue_clearance)
    where, depth, end = "joints.spline_depth", joints.spline_depth, joints.end_clearance
    yield Bound(where, depth, "no-spline-in-slot", above=end, spare=5, fields={"end": end})
    room = sizes.inner_length / 2 / cos(sizes.mitre)
    yield Bound(where, depth, "slots-meet", below=room, spare=5, fields={"long": sizes.inner_length})

"""What tongues, grooves and splines must keep to."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos

from templategen.table.limits.bound import Bound, mm
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
    found = f"{mm(depth)} leaves no tongue after {mm(end)} of end clearance"
    yield Bound(where, depth, found, above=end, spare=5, other="less end_clearance")
    wall = min(sizes.wall_at_middle, sizes.wall_at_joint)
    found = f"{mm(depth)} cuts through the finished rim"
    yield Bound(where, depth, found, below=wall, spare=5, other="a wider rim")
    yield Bound(where, depth, below=sizes.half_rail)
    tenon = leg_joint(sizes)
    if tenon.depth > sizes.groove.bottom:
        yield Bound(where, depth, below=sizes.half_rail - tenon.mortise_thickness / 2)


def _tongue(sizes: Sizes) -> Iterator[Bound]:
    joints, thickness, slat = sizes.profile.joints, sizes.profile.top.thickness, sizes.profile.slats.thickness
    where, tongue, glue = "joints.tongue", joints.tongue, joints.glue_clearance
    yield Bound(where, tongue, f"{mm(tongue)} leaves no tongue after the glue clearance", above=glue)
    room = 2 * min(sizes.slat_level, thickness - sizes.slat_level)
    found = f"a groove of {mm(tongue)} breaks out of the {mm(thickness)} rim"
    yield Bound(where, tongue, found, below=room, spare=2)
    found = f"{mm(tongue)} is not thinner than the slats of {mm(slat)}"
    yield Bound(where, tongue, found, below=slat + glue, spare=2)


def _spline(sizes: Sizes) -> Iterator[Bound]:
    joints, rim = sizes.profile.joints, sizes.profile.top.thickness
    where, size = "joints.spline_thickness", joints.spline_thickness
    found = f"{mm(size)} is not thinner than the rim of {mm(rim)}"
    yield Bound(where, size, found, below=rim, spare=rim * 2 / 3)
    yield Bound(where, size, "nothing is left after the glue clearance", above=joints.glue_clearance)
    where, depth, end = "joints.spline_depth", joints.spline_depth, joints.end_clearance
    found = f"{mm(depth)} leaves no spline after {mm(end)} of end clearance"
    yield Bound(where, depth, found, above=end, spare=5, other="less end_clearance")
    found = f"slots of {mm(depth)} from both ends meet in a segment {mm(sizes.inner_length)} long"
    room = sizes.inner_length / 2 / cos(sizes.mitre)
    yield Bound(where, depth, found, below=room, spare=5, other="fewer segments")

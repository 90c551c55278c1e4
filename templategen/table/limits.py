"""What can't be built: each fault says where, what was found and what would do."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, sin, tan

from templategen.errors import DesignError, Fault
from templategen.table.pedestal import base_lap, leg_axis
from templategen.table.rails import lap_of, leg_joint
from templategen.table.sizes import Sizes


def refuse_impossible(sizes: Sizes) -> None:
    """Gathers every reason why the table can't be built.

    Raises:
        DesignError: with one fault for each.
    """
    faults = [*_ring(sizes)]
    if not faults:
        faults = [*_joints(sizes), *_rails(sizes), *_legs(sizes), *_base(sizes), *_slats(sizes)]
    if faults:
        raise DesignError(faults)


def _mm(size: float) -> str:
    return f"{size:.1f} mm"


def _at_most(where: str, found: str, most: float) -> Fault:
    if most <= 0:
        return Fault(where, found, "no value fits with the other sizes as they are")
    return Fault(where, found, f"{_floor(most)} or less")


def _floor(size: float) -> str:
    """A size that still fits, a tenth of a millimetre on the safe side."""
    from math import floor

    return f"{floor(size * 10 - 1e-6) / 10:.1f} mm"


def _ceil(size: float) -> str:
    from math import ceil

    return f"{ceil(size * 10 + 1e-6) / 10:.1f} mm"


def _ring(sizes: Sizes) -> Iterator[Fault]:
    top = sizes.profile.top
    if sizes.inner_apothem <= 0:
        yield _at_most(
            "top.rim_width",
            f"{_mm(top.rim_width)} is more than the whole radius of {_mm(sizes.outer_apothem)}",
            sizes.radius / 3,
        )
        return
    if sizes.wall_at_joint <= 0:
        least = sizes.outer_apothem - sizes.radius * cos(sizes.mitre)
        yield Fault(
            "top.rim_width",
            f"{_mm(top.rim_width)}: the finished circle passes inside the joint's inner corner by "
            f"{_mm(-sizes.wall_at_joint)}",
            f"{_ceil(least)} or more, or more segments, or less saw_allowance",
        )
    room = sizes.inner_apothem * tan(sizes.mitre)
    if sizes.half_rail >= room:
        yield Fault(
            "top.rail_width",
            f"{_mm(top.rail_width)} is wider than the inner edge of a segment, {_mm(2 * room)}",
            f"{_floor(2 * room)} or less, or fewer segments",
        )
    if sizes.apex >= sizes.field_end:
        yield Fault(
            "top.rail_width",
            f"the rails of {_mm(top.rail_width)} fill the whole top; no field is left for slats",
            "narrower rails, a narrower rim or a larger diameter",
        )


def _joints(sizes: Sizes) -> Iterator[Fault]:
    joints, top, slats = sizes.profile.joints, sizes.profile.top, sizes.profile.slats
    groove = sizes.groove
    if joints.groove_depth <= joints.end_clearance:
        yield Fault(
            "joints.groove_depth",
            f"{_mm(joints.groove_depth)} leaves no tongue after {_mm(joints.end_clearance)} of end clearance",
            f"{_ceil(joints.end_clearance + 5)} or more",
        )
    if joints.tongue <= joints.glue_clearance:
        yield Fault(
            "joints.tongue",
            f"{_mm(joints.tongue)} leaves no tongue after the glue clearance",
            f"{_ceil(joints.glue_clearance + 5)} or more",
        )
    if groove.bottom <= 0 or groove.top >= top.thickness:
        room = 2 * min(sizes.slat_level, top.thickness - sizes.slat_level)
        yield _at_most(
            "joints.tongue",
            f"a groove of {_mm(joints.tongue)} breaks out of the {_mm(top.thickness)} rim",
            room - 2,
        )
    if joints.tongue - joints.glue_clearance >= slats.thickness:
        yield _at_most(
            "joints.tongue",
            f"{_mm(joints.tongue)} is not thinner than the slats of {_mm(slats.thickness)}",
            slats.thickness - 2,
        )
    if joints.groove_depth >= sizes.wall_at_middle or joints.groove_depth >= sizes.wall_at_joint:
        yield _at_most(
            "joints.groove_depth",
            f"{_mm(joints.groove_depth)} cuts through the finished rim",
            min(sizes.wall_at_middle, sizes.wall_at_joint) - 5,
        )
    yield from _splines(sizes)


def _splines(sizes: Sizes) -> Iterator[Fault]:
    joints, top = sizes.profile.joints, sizes.profile.top
    if joints.spline == "none":
        return
    if joints.spline_thickness >= top.thickness:
        yield _at_most(
            "joints.spline_thickness",
            f"{_mm(joints.spline_thickness)} is not thinner than the rim of {_mm(top.thickness)}",
            top.thickness / 3,
        )
    if joints.spline_thickness <= joints.glue_clearance:
        yield Fault("joints.spline_thickness", "nothing is left after the glue clearance", "a thicker spline")
    if joints.spline_depth <= joints.end_clearance:
        yield Fault(
            "joints.spline_depth",
            f"{_mm(joints.spline_depth)} leaves no spline after the end clearance",
            f"{_ceil(joints.end_clearance + 5)} or more",
        )
    room = sizes.inner_length / 2 * cos(sizes.mitre)
    if joints.spline_depth >= room:
        yield _at_most(
            "joints.spline_depth",
            f"slots of {_mm(joints.spline_depth)} from both ends meet in a segment {_mm(sizes.inner_length)} long",
            room - 5,
        )


def _rails(sizes: Sizes) -> Iterator[Fault]:
    top, joints = sizes.profile.top, sizes.profile.joints
    if joints.groove_depth >= sizes.half_rail:
        yield Fault(
            "top.rail_width",
            f"{_mm(top.rail_width)}: the grooves of both sides, {_mm(joints.groove_depth)} each, meet",
            f"{_ceil(2 * joints.groove_depth + 10)} or more",
        )
    if top.pole_hole >= top.rail_width or top.pole_hole >= sizes.profile.base.rail_width:
        narrow = min(top.rail_width, sizes.profile.base.rail_width)
        yield _at_most(
            "top.pole_hole",
            f"a hole of {_mm(top.pole_hole)} cuts a lapped rail of {_mm(narrow)} in two",
            narrow - 40 if narrow > 60 else narrow / 3,
        )
    if 2 * top.edge_round > top.thickness:
        yield _at_most(
            "top.edge_round",
            f"rounds of {_mm(top.edge_round)} from both faces are more than the thickness of {_mm(top.thickness)}",
            top.thickness / 2,
        )
    if top.edge_round >= min(sizes.wall_at_joint, sizes.wall_at_middle):
        yield _at_most("top.edge_round", f"{_mm(top.edge_round)} is wider than the rim", sizes.wall_at_joint / 4)


def _legs(sizes: Sizes) -> Iterator[Fault]:
    profile = sizes.profile
    legs, tenon, axis = profile.legs, leg_joint(sizes), leg_axis(sizes)
    if sizes.leg_height <= 0:
        yield Fault(
            "top.height",
            f"{_mm(profile.top.height)} leaves {_mm(sizes.leg_height)} for the legs above base and feet",
            f"{_ceil(profile.top.height - sizes.leg_height + 100)} or more, or thinner base and feet",
        )
        return
    if tenon.thickness >= legs.section or tenon.width >= legs.section / cos(axis.rake):
        yield _at_most(
            "legs.tenon",
            f"{tenon.thickness:.1f} x {tenon.width:.1f} mm leaves no shoulders on a leg of {_mm(legs.section)}",
            legs.section * 0.7,
        )
    else:
        yield from _raked_tenon(sizes)
    if legs.corner != "square" and 2 * legs.corner_size >= legs.section:
        yield _at_most("legs.corner_size", f"{_mm(legs.corner_size)} meets across the leg", legs.section / 4)
    yield from _mortises(sizes)
    for key, distance in (
        ("legs.centre_distance", legs.centre_distance),
        ("legs.base_centre_distance", legs.base_centre_distance),
    ):
        apart = 2 * distance * sin(sizes.field_angle / 2)
        if apart < legs.section:
            least = legs.section / 2 / sin(sizes.field_angle / 2)
            yield Fault(
                key, f"at {_mm(distance)} neighbouring legs of {_mm(legs.section)} collide", f"{_ceil(least)} or more"
            )


def _raked_tenon(sizes: Sizes) -> Iterator[Fault]:
    """A tenon square to a raked shoulder must lie within the bar."""
    legs, tenon, axis = sizes.profile.legs, leg_joint(sizes), leg_axis(sizes)
    spread = abs(tan(axis.rake)) * tenon.length
    if tenon.width / 2 + spread > legs.section / 2 / cos(axis.rake):
        yield Fault(
            "legs.base_centre_distance",
            f"raked by {abs(axis.rake) * 57.29578:.1f} deg, the upright tenon runs out of the leg",
            "bring it nearer to legs.centre_distance, or make the tenon narrower or shorter",
        )


def _mortises(sizes: Sizes) -> Iterator[Fault]:
    profile, tenon = sizes.profile, leg_joint(sizes)
    half_long, half_across = tenon.mortise_width / 2, tenon.mortise_thickness / 2
    top_lap, lower_lap = lap_of(sizes), base_lap(sizes)
    near_groove = tenon.depth > sizes.groove.bottom
    room = sizes.half_rail - (profile.joints.groove_depth if near_groove else 0.0)
    if half_across >= room:
        yield Fault(
            "legs.tenon",
            f"{tenon.thickness:.1f} mm thick: the mortise breaks into the rail's "
            f"{'grooves' if near_groove else 'sides'}, {_mm(2 * room)} apart",
            f"a tenon {_floor(2 * room - 10)} thick or less" if room > 5 else "wider rails",
        )
    if half_across >= profile.base.rail_width / 2:
        yield _at_most("legs.tenon", "the mortise is wider than the base rail", profile.base.rail_width - 20)
    for key, thickness in (("top.thickness", profile.top.thickness), ("base.thickness", profile.base.thickness)):
        if tenon.depth >= thickness:
            yield Fault(
                "legs.tenon",
                f"a mortise {_mm(tenon.depth)} deep goes right through {key} {_mm(thickness)}",
                f"a tenon {_floor(thickness - profile.joints.end_clearance - 8)} long or less"
                if thickness > profile.joints.end_clearance + 9
                else f"a larger {key}",
            )
    legs = profile.legs
    ends = (
        ("legs.centre_distance", legs.centre_distance, top_lap.reach, sizes.inner_apothem),
        ("legs.base_centre_distance", legs.base_centre_distance, lower_lap.reach, profile.base.length / 2),
    )
    for key, distance, lap, end in ends:
        least, most = lap + half_long, end - half_long
        if distance < least or distance > most:
            what = "cuts into the lap" if distance < least else "runs past the rail's end"
            do = f"{_ceil(least + 10)} to {_floor(most - 10)}" if most - least > 25 else "longer or narrower rails"
            yield Fault(key, f"{_mm(distance)}: the mortise {what}", do)


def _base(sizes: Sizes) -> Iterator[Fault]:
    base = sizes.profile.base
    lap = base_lap(sizes)
    free = base.length / 2 - lap.reach
    if free <= 0:
        yield Fault(
            "base.length",
            f"{_mm(base.length)} is all lap; the rails of {_mm(base.rail_width)} need more to cross",
            f"{_ceil(2 * lap.reach + 200)} or more",
        )
    elif base.foot_length >= free:
        yield _at_most("base.foot_length", f"feet of {_mm(base.foot_length)} reach into the lap", free - 5)
    if base.end_round > base.rail_width / 2:
        yield _at_most(
            "base.end_round", f"{_mm(base.end_round)} is more than half the rail's width", base.rail_width / 2 + 0.1
        )
    if base.end_round > base.foot_length:
        yield _at_most("base.end_round", "the rounding is longer than the foot", base.foot_length)
    if base.feet == "relieved":
        floor = lap.levels[0] - base.foot_thickness
        if base.foot_thickness >= base.thickness or floor < 5:
            yield _at_most(
                "base.foot_thickness",
                f"a relief of {_mm(base.foot_thickness)} leaves {_mm(floor)} of the lowest rail in the lap",
                base.thickness - 8 * sizes.rails,
            )
        legs = sizes.profile.legs
        if sizes.profile.base.thickness - leg_joint(sizes).depth <= base.foot_thickness:
            yield Fault(
                "legs.tenon",
                f"{legs.tenon[2]:.1f} mm long: the mortise meets the relief under the base rail",
                "a shorter tenon, less relief or a thicker base",
            )


def _slats(sizes: Sizes) -> Iterator[Fault]:
    slats = sizes.profile.slats
    shoulder = (slats.thickness - sizes.groove.tongue_thickness) / 2
    if slats.thickness > sizes.profile.top.thickness:
        yield _at_most(
            "slats.thickness",
            f"{_mm(slats.thickness)} is thicker than the rim of {_mm(sizes.profile.top.thickness)}",
            sizes.profile.top.thickness,
        )
    if slats.chamfer > shoulder > 0 and slats.chamfer >= slats.thickness / 2:
        yield _at_most("slats.chamfer", f"{_mm(slats.chamfer)} is half the slat's thickness", shoulder)
    if 2 * slats.chamfer >= slats.width:
        yield _at_most("slats.chamfer", "the chamfers meet across the slat", slats.width / 6)

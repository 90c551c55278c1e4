"""What legs, their tenons and mortises must keep to."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, degrees, hypot, sin, sqrt, tan

from templategen.joinery.bolt import CLEARANCE
from templategen.table.bounds.bound import Bound
from templategen.table.bounds.refusals import Fields
from templategen.table.pedestal import base_lap, leg_axis
from templategen.table.rails import lap_of, leg_joint, top_bolt, top_leg_joint, top_peg
from templategen.table.sizes import Sizes


def leg_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[legs]`, where the height leaves any legs."""
    legs = sizes.profile.legs
    if sizes.leg_height <= 0:
        return
    yield from _shoulders(sizes)
    yield from _mortise_thickness(sizes)
    yield from _mortise_depth(sizes)
    if legs.corner != "square":
        half = legs.section / 2
        yield Bound("legs.corner_size", legs.corner_size, "corners-meet", below=half, spare=half / 2)
    for stand in _stands(sizes):
        yield from _distance(sizes, stand)
    yield from _rake(sizes)
    yield from _pole(sizes)
    yield from _drains(sizes)
    yield from _bolts(sizes)
    yield from _pegs(sizes)


def _shoulders(sizes: Sizes) -> Iterator[Bound]:
    section, tenon, rake = sizes.profile.legs.section, leg_joint(sizes), leg_axis(sizes).rake
    where, spare, fields = "legs.tenon", section * 0.3, {"leg": section}
    thick, wide = tenon.thickness, tenon.width
    yield Bound(
        where, thick, "tenon-too-thick-for-leg", below=section, spare=spare, aspect="thickness", fields=fields
    )
    most = section / cos(rake)
    yield Bound(where, wide, "tenon-too-wide-for-leg", below=most, spare=spare, aspect="width", fields=fields)
    raked = section / cos(rake) - 2 * abs(tan(rake)) * tenon.length
    yield Bound("legs.tenon", tenon.width, below=raked, closed=True, aspect="width")


def _mortise_thickness(sizes: Sizes) -> Iterator[Bound]:
    tenon, base, top = leg_joint(sizes), sizes.profile.base, top_leg_joint(sizes)
    near_groove = top.depth > sizes.groove.bottom
    room = 2 * (sizes.half_rail - (sizes.groove.depth if near_groove else 0.0))
    kind = "mortise-into-grooves" if near_groove else "mortise-out-of-rail"
    where, thick, most, fields = "legs.tenon", tenon.thickness, room - top.clearance, {"room": room}
    if room > 0:  # else the grooves themselves meet, which is told as that
        yield Bound(where, thick, kind, below=most, spare=10, aspect="thickness", fields=fields)
    most = base.rail_width - tenon.clearance
    yield Bound(where, thick, "mortise-over-base", below=most, spare=20, aspect="thickness")


def _mortise_depth(sizes: Sizes) -> Iterator[Bound]:
    profile, tenon = sizes.profile, leg_joint(sizes)
    tops = (("top.thickness", profile.top.thickness),) if sizes.profile.legs.top_joint != "bolted" else ()
    for key, thickness in (*tops, ("base.thickness", profile.base.thickness)):
        fields: Fields = {"deep": tenon.depth, "key": key, "thick": thickness}
        most = thickness - tenon.end_clearance
        yield Bound(
            "legs.tenon", tenon.length, "mortise-through", below=most, spare=8, aspect="length", fields=fields
        )
    if profile.base.feet == "relieved":
        most = profile.base.thickness - profile.base.foot_thickness - tenon.end_clearance
        yield Bound("legs.tenon", tenon.length, "mortise-into-relief", below=most, spare=4, aspect="length")


@dataclass(frozen=True, slots=True)
class _Stand:
    """One end of the legs: its key, its distance from the axis, the other end's, and what of its rail is free."""

    where: str
    distance: float
    far_distance: float
    lap: float
    end: float


def _stands(sizes: Sizes) -> tuple[_Stand, _Stand]:
    legs, end = sizes.profile.legs, _base_end(sizes)
    high, low = legs.centre_distance, legs.base_centre_distance
    return (
        _Stand("legs.centre_distance", high, low, lap_of(sizes).reach, sizes.inner_apothem),
        _Stand("legs.base_centre_distance", low, high, base_lap(sizes).reach, end),
    )


def _base_end(sizes: Sizes) -> float:
    """How far out a base mortise may reach: to the rail's end, or where its corners meet the rounded one."""
    base, across = sizes.profile.base, leg_joint(sizes).mortise_thickness / 2
    into = across - (base.rail_width / 2 - base.end_round)
    if not 0 < into < base.end_round:
        return base.length / 2
    return base.length / 2 - base.end_round + sqrt(base.end_round**2 - into**2)


def _distance(sizes: Sizes, stand: _Stand) -> Iterator[Bound]:
    where, distance, half = stand.where, stand.distance, leg_joint(sizes).mortise_width / 2
    low, high, spare = stand.lap + half, stand.end - half, 10.0
    yield Bound(where, distance, "mortise-into-lap", above=low, spare=spare, closed=True)
    yield Bound(where, distance, "mortise-past-end", below=high, spare=spare, closed=True)
    fields = {"leg": sizes.profile.legs.section}
    yield Bound(where, distance, "legs-collide", above=_apart(sizes, stand), spare=20, fields=fields)


def _apart(sizes: Sizes, stand: _Stand) -> float:
    """The least distance at which neighbouring legs clear each other.

    Their inner corners, half a section nearer the axis (more, cut level, when raked) and half a section aside,
    must stay on their own side of the fields' bisectors: the root of
    d = half (sqrt(1 + ((d - far) / height)^2) + aside), or for legs that are mere blocks its value at their lean.
    """
    half, aside, far = sizes.profile.legs.section / 2, 1 / tan(sizes.field_angle / 2), stand.far_distance
    slope = (half / sizes.leg_height) ** 2
    if slope >= 1:
        return half * (hypot(1, (stand.distance - far) / sizes.leg_height) + aside)
    b, c = slope * far - half * aside, (half * aside) ** 2 - half**2 - slope * far**2
    return (sqrt(b * b - (1 - slope) * c) - b) / (1 - slope)


def _rake(sizes: Sizes) -> Iterator[Bound]:
    """A tenon square to a raked shoulder must lie within the bar."""
    legs, tenon, rake = sizes.profile.legs, leg_joint(sizes), leg_axis(sizes).rake
    if tenon.width >= legs.section / cos(rake):
        return
    steepest = _steepest(legs.section, tenon.width, tenon.length)
    spread = tenon.width / 2 + abs(tan(rake)) * tenon.length
    if steepest is None or (abs(tan(rake)) > steepest and spread <= legs.section / 2 / cos(rake)):
        return
    out = steepest * sizes.leg_height
    low, high = legs.centre_distance - out, legs.centre_distance + out
    where, kind, fields = "legs.base_centre_distance", "tenon-out-of-raked-leg", {"rake": degrees(abs(rake))}
    yield Bound(where, legs.base_centre_distance, kind, low, high, closed=True, fields=fields)
    low, high = legs.base_centre_distance - out, legs.base_centre_distance + out
    yield Bound("legs.centre_distance", legs.centre_distance, "", low, high, closed=True)


def _drains(sizes: Sizes) -> Iterator[Bound]:
    """A drain hole stays within its mortise."""
    hole, tenon = sizes.profile.base.drain_hole, leg_joint(sizes)
    if hole <= 0:
        return
    least = min(tenon.mortise_thickness, tenon.mortise_width)
    yield Bound("base.drain_hole", hole, "drain-over-mortise", below=least, spare=least / 2, fields={"floor": least})


def _bolts(sizes: Sizes) -> Iterator[Bound]:
    """Head and nut stay in their wood, and the bolt within its nut, its tenon and its leg."""
    bolt, legs = top_bolt(sizes), sizes.profile.legs
    if bolt is None:
        return
    where, thread, section = "legs.bolt", bolt.thread, legs.section
    web = 2 * (sizes.half_rail - sizes.groove.depth)
    most = web - CLEARANCE
    if web > 0:
        yield Bound(where, bolt.head, "head-into-grooves", below=most, spare=6, aspect="head", fields={"room": web})
    most, fields = bolt.head - CLEARANCE, {"head": bolt.head}
    yield Bound(where, thread, "thread-over-head", below=most, spare=4, aspect="thread", fields=fields)
    tenon = leg_joint(sizes)
    room = min(tenon.thickness, tenon.width)
    most = room - CLEARANCE
    yield Bound(where, thread, "bolt-over-tenon", below=most, spare=16, aspect="thread", fields={"tenon": room})
    thick, stub = sizes.profile.top.thickness, top_leg_joint(sizes)
    most = thick - bolt.sink - stub.end_clearance
    fields = {"deep": stub.depth, "sink": bolt.sink, "thick": thick}
    yield Bound("legs.stub", stub.length, "mortise-into-counterbore", below=most, spare=8, fields=fields)
    where, nut, fields = "legs.barrel_nut", bolt.nut, {"thread": thread}
    yield Bound(where, nut, "thread-over-nut", above=thread, spare=4, aspect="diameter", fields=fields)
    long, fields = bolt.nut_length, {"leg": section}
    yield Bound(where, long, "nut-over-leg", below=section, spare=10, aspect="length", fields=fields)
    yield Bound(where, nut, "nut-splits-leg", below=section / 2, spare=4, aspect="diameter", fields=fields)
    high = sizes.base_top + bolt.bore + sizes.profile.top.thickness
    fields = {"long": bolt.length, "leg": sizes.leg_height}
    yield Bound("top.height", sizes.profile.top.height, "bolt-over-legs", above=high, spare=10, fields=fields)
    lean = abs(sin(leg_axis(sizes).rake)) * bolt.below + bolt.nut / 2
    yield Bound("legs.section", section, "bolt-out-of-leaning-leg", above=2 * lean, spare=10)


def _pegs(sizes: Sizes) -> Iterator[Bound]:
    """A peg stays in its wood, below the slats, and comes in between two rails."""
    peg, profile = top_peg(sizes), sizes.profile
    if peg is None:
        return
    where, half = "legs.peg", peg.thickness / 2
    fields: Fields = {"peg": peg.thickness, "slats": sizes.slat_underside}
    most = float(fields["slats"]) - half
    if most > -half:  # else the slats are thicker than the rim, which is told as that
        yield Bound(where, peg.rise, "peg-behind-slats", below=most, spare=1, aspect="rise", fields=fields)
    low = half + peg.draw
    yield Bound(where, peg.rise, "peg-into-shoulder", above=low, spare=3, aspect="rise", fields=fields)
    yield Bound(where, peg.draw, "draw-over-peg", below=half, spare=half / 2, aspect="draw", fields=fields)
    most, fields = profile.legs.tenon[1], {"tenon": profile.legs.tenon[1]}
    yield Bound(where, peg.thickness, "peg-over-tenon", below=most, spare=most / 2, aspect="thickness", fields=fields)
    end = profile.joints.end_clearance  # past the tenon the bit would go on through the mortise's floor
    need, fields = half + max(peg.in_tenon, peg.rise - end), {"peg": peg.thickness, "at": peg.in_tenon}
    yield Bound("legs.tenon", profile.legs.tenon[2], "peg-past-tenon", above=need, spare=8, aspect="length",
                fields=fields)  # fmt: skip
    if sizes.rails > 2:
        turn, half_rail = sizes.field_angle, sizes.half_rail
        need = (peg.length + half_rail * (1 + 1 / cos(turn))) / tan(turn)
        out, fields = profile.legs.centre_distance, {"long": peg.length}
        yield Bound("legs.centre_distance", out, "peg-between-rails", above=need, spare=20, fields=fields)


def _steepest(section: float, width: float, length: float) -> float | None:
    """The tangent of the rake up to which an upright tenon fits, None where it always does.

    The root of section^2 / 4 (1 + t^2) = (width / 2 + length t)^2.
    """
    a, b, c = section**2 / 4 - length**2, width * length, (section**2 - width**2) / 4
    if c <= 0:
        return 0.0
    square = b * b - 4 * a * c
    return None if square < 0 else 2 * c / (b + sqrt(square))


def _pole(sizes: Sizes) -> Iterator[Bound]:
    """The pole must pass between the legs."""
    legs, hole = sizes.profile.legs, sizes.profile.top.pole_hole
    if hole <= 0:
        return
    half = legs.section / 2 / cos(leg_axis(sizes).rake)
    room = 2 * (min(legs.centre_distance, legs.base_centre_distance) - half)
    if room > 0:
        yield Bound(
            "top.pole_hole", hole, "pole-between-legs", below=room, spare=2, closed=True, fields={"room": room}
        )

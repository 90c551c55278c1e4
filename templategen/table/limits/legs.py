"""What legs, their tenons and mortises must keep to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, degrees, hypot, sin, sqrt, tan

from templategen.joinery.bolt import CLEARANCE
from templategen.table.limits.bound import Bound, mm
from templategen.table.pedestal import base_lap, leg_axis
from templategen.table.rails import lap_of, leg_joint, top_bolt, top_leg_joint
from templategen.table.sizes import Sizes
from templategen.units import angle_words


def leg_bounds(sizes: Sizes) -> Iterator[Bound]:
    """Every bound of `[legs]`, where the height leaves any legs."""
    legs = sizes.profile.legs
    if sizes.leg_height <= 0:
        return
    yield from _shoulders(sizes)
    yield from _mortise_thickness(sizes)
    yield from _mortise_depth(sizes)
    if legs.corner != "square":
        found = f"{mm(legs.corner_size)} meets across the leg"
        yield Bound("legs.corner_size", legs.corner_size, found, below=legs.section / 2, spare=legs.section / 4)
    for stand in _stands(sizes):
        yield from _distance(sizes, stand)
    yield from _rake(sizes)
    yield from _pole(sizes)
    yield from _drains(sizes)
    yield from _bolts(sizes)


def _shoulders(sizes: Sizes) -> Iterator[Bound]:
    section, tenon, rake = sizes.profile.legs.section, leg_joint(sizes), leg_axis(sizes).rake
    found = f"{mm(tenon.thickness)} thick leaves no shoulders on a leg of {mm(section)}"
    spare = section * 0.3
    yield Bound("legs.tenon", tenon.thickness, found, below=section, spare=spare, aspect="thickness")
    found = f"{mm(tenon.width)} wide leaves no shoulders on a leg of {mm(section)}"
    yield Bound("legs.tenon", tenon.width, found, below=section / cos(rake), spare=spare, aspect="width")
    raked = section / cos(rake) - 2 * abs(tan(rake)) * tenon.length
    yield Bound("legs.tenon", tenon.width, below=raked, closed=True, aspect="width")


def _mortise_thickness(sizes: Sizes) -> Iterator[Bound]:
    tenon, base, top = leg_joint(sizes), sizes.profile.base, top_leg_joint(sizes)
    near_groove = top.depth > sizes.groove.bottom
    room = 2 * (sizes.half_rail - (sizes.groove.depth if near_groove else 0.0))
    what = "grooves" if near_groove else "sides"
    found = f"{mm(tenon.thickness)} thick: the mortise breaks into the rail's {what}, {mm(room)} apart"
    do = "a shorter tenon or wider rails" if near_groove else "wider rails"
    most = room - top.clearance
    yield Bound("legs.tenon", tenon.thickness, found, below=most, spare=10, aspect="thickness", other=do)
    found = f"{mm(tenon.thickness)} thick: the mortise is wider than the base rail"
    most = base.rail_width - tenon.clearance
    do = "wider base rails"
    yield Bound("legs.tenon", tenon.thickness, found, below=most, spare=20, aspect="thickness", other=do)


def _mortise_depth(sizes: Sizes) -> Iterator[Bound]:
    profile, tenon = sizes.profile, leg_joint(sizes)
    tops = (("top.thickness", profile.top.thickness),) if sizes.is_glued_on_top else ()
    for key, thickness in (*tops, ("base.thickness", profile.base.thickness)):
        found = f"a mortise {mm(tenon.depth)} deep goes right through {key} {mm(thickness)}"
        most = thickness - tenon.end_clearance
        yield Bound("legs.tenon", tenon.length, found, below=most, spare=8, aspect="length", other=f"a larger {key}")
    if profile.base.feet == "relieved":
        found = f"{mm(tenon.length)} long: the mortise meets the relief under the base rail"
        most = profile.base.thickness - profile.base.foot_thickness - tenon.end_clearance
        do = "less relief or a thicker base"
        yield Bound("legs.tenon", tenon.length, found, below=most, spare=4, aspect="length", other=do)


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
    low, high, spare, do = stand.lap + half, stand.end - half, 10.0, "longer or narrower rails"
    found = f"{mm(distance)}: the mortise cuts into the lap"
    yield Bound(where, distance, found, above=low, spare=spare, closed=True, other=do)
    found = f"{mm(distance)}: the mortise runs past the rail's end"
    yield Bound(where, distance, found, below=high, spare=spare, closed=True, other=do)
    section = sizes.profile.legs.section
    found = f"at {mm(distance)} neighbouring legs of {mm(section)} collide"
    yield Bound(where, distance, found, above=_apart(sizes, stand), spare=20, other="thinner legs")


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
    found = f"raked by {angle_words(degrees(abs(rake)))}, the upright tenon runs out of the leg"
    low, high = legs.centre_distance - out, legs.centre_distance + out
    where, do = "legs.base_centre_distance", "a narrower or shorter tenon"
    yield Bound(where, legs.base_centre_distance, found, low, high, closed=True, other=do)
    low, high = legs.base_centre_distance - out, legs.base_centre_distance + out
    yield Bound("legs.centre_distance", legs.centre_distance, "", low, high, closed=True)


def _drains(sizes: Sizes) -> Iterator[Bound]:
    """A drain hole stays within its mortise."""
    hole, tenon = sizes.profile.base.drain_hole, leg_joint(sizes)
    if hole <= 0:
        return
    least = min(tenon.mortise_thickness, tenon.mortise_width)
    found = f"a hole of {mm(hole)} is wider than the floor of a leg's mortise, {mm(least)}"
    yield Bound("base.drain_hole", hole, found, below=least, spare=least / 2)


def _bolts(sizes: Sizes) -> Iterator[Bound]:
    """Head and nut stay in their wood, and the bolt within its nut, its tenon and its leg."""
    bolt, legs = top_bolt(sizes), sizes.profile.legs
    if bolt is None:
        return
    web = 2 * (sizes.half_rail - sizes.groove.depth)
    found = f"a head of {mm(bolt.head)} breaks into the rail's grooves, {mm(web)} apart"
    yield Bound("legs.bolt", bolt.head, found, below=web - CLEARANCE, spare=6, aspect="head", other="wider rails")
    found = f"a thread of {mm(bolt.thread)} is wider than its head of {mm(bolt.head)}"
    yield Bound("legs.bolt", bolt.thread, found, below=bolt.head - CLEARANCE, spare=4, aspect="thread")
    tenon = leg_joint(sizes)
    room = min(tenon.thickness, tenon.width)
    found = f"a bolt of {mm(bolt.thread)} leaves nothing of a tenon {mm(room)} wide"
    yield Bound("legs.bolt", bolt.thread, found, below=room - CLEARANCE, spare=16, aspect="thread")
    thick, stub = sizes.profile.top.thickness, top_leg_joint(sizes)
    found = f"a mortise {mm(stub.depth)} deep and a counterbore of {mm(bolt.sink)} meet in {mm(thick)} of rail"
    most = thick - bolt.sink - stub.end_clearance
    yield Bound("legs.stub", stub.length, found, below=most, spare=8, other="a larger top.thickness")
    found = f"a nut of {mm(bolt.nut)} has no room for a thread of {mm(bolt.thread)} across it"
    yield Bound("legs.barrel_nut", bolt.nut, found, above=bolt.thread, spare=4, aspect="diameter")
    found = f"a nut {mm(bolt.nut_length)} long lies in the open on a leg of {mm(legs.section)}"
    yield Bound("legs.barrel_nut", bolt.nut_length, found, below=legs.section, spare=10, aspect="length")
    found = f"a nut of {mm(bolt.nut)} splits a leg of {mm(legs.section)}"
    yield Bound("legs.barrel_nut", bolt.nut, found, below=legs.section / 2, spare=4, aspect="diameter")
    found = f"a bolt {mm(bolt.length)} long needs more than legs of {mm(sizes.leg_height)}"
    high = sizes.base_top + bolt.bore + sizes.profile.top.thickness
    yield Bound("top.height", sizes.profile.top.height, found, above=high, spare=10)
    lean = abs(sin(leg_axis(sizes).rake)) * bolt.below + bolt.nut / 2
    found = f"on a leg that leans so far the bolt leaves {mm(legs.section)} of it"
    yield Bound("legs.section", legs.section, found, above=2 * lean, spare=10, other="legs more upright")


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
    found = f"a pole of {mm(hole)} does not pass between the legs, {mm(room)} apart"
    if room > 0:
        yield Bound("top.pole_hole", hole, found, below=room, spare=2, closed=True, other="legs further apart")

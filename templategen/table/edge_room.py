"""Room for eased edges: how much may be taken off each arris, and what a default gives way to."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import replace
from math import cos, floor, hypot, sqrt
from typing import Any

from templategen.parts.kinds import BEAD_ROUND
from templategen.table.pedestal import leg_axis
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.table.rails import leg_joint
from templategen.table.sizes import Sizes

SHARE = 0.75
"""A default that gives way takes no more than this share of what may be taken off an arris."""

STEPS = {"mm": 0.5, "in": 25.4 / 32}
"""Sizes in which bits are sold, by the profile's units, mm."""

EVEN = 1e-6
"""A default and its room that differ by less are the same, mm."""

HALVINGS = 30
"""By which the room at a leg's corner is found."""

EASED = (
    "edges.rim", "edges.rail", "edges.slat", "edges.base", "top.edge_round", "slats.chamfer", "legs.corner_size",
)  # fmt: skip
"""The keys of what is taken off arrises."""


def room_for_edges(sizes: Sizes) -> Mapping[str, float]:
    """What each of them has to stay under, mm: the cheek beside a groove, half the wood between two, the shoulder
    over a tongue, what the limits ask for beside a groove of the ring and at a tenon's corner."""
    base, slats, groove = sizes.profile.base, sizes.profile.slats, sizes.groove
    cheek = min(groove.bottom, sizes.profile.top.thickness - groove.top)
    least = base.foot_thickness if base.feet == "pads" else base.thickness - base.foot_thickness
    shoulder = (slats.thickness - sizes.slat_groove.tongue_thickness) / 2
    room = (
        cheek, cheek, min(slats.thickness, slats.width) / 2, min(base.rail_width, base.thickness, least) / 2,
        _at_the_rim(sizes), min(shoulder, slats.width / 2), _at_a_leg(sizes),
    )  # fmt: skip
    return dict(zip(EASED, room, strict=True))


def _at_the_rim(sizes: Sizes) -> float:
    """Between both faces, beside the groove, a spline that shows and a drip groove."""
    top, joints = sizes.profile.top, sizes.profile.joints
    wall = min(sizes.wall_at_joint, sizes.wall_at_middle) - joints.groove_depth - sizes.profile.limits.ring_edge
    room = min(top.thickness / 2, wall)
    if joints.spline == "through":
        room = min(room, (top.thickness - joints.spline_thickness) / 2)
    return min(room, top.drip_groove[0]) if top.drip_groove[2] > 0 else room


def _at_a_leg(sizes: Sizes) -> float:
    """What leaves the tenon's corner the shoulder that is asked for, or the one at its sides where that is less."""
    legs, half = sizes.profile.legs, sizes.profile.legs.section / 2
    if legs.corner == "square" or sizes.leg_height <= 0:
        return half
    wanted = min(sizes.profile.limits.tongue_shoulder[1], leg_shoulders(sizes, 0.0)[0])
    low, high = 0.0, half
    for _ in range(HALVINGS):
        size = (low + high) / 2
        low, high = (size, high) if leg_shoulders(sizes, size)[1] >= wanted else (low, size)
    return low


def leg_shoulders(sizes: Sizes, size: float) -> tuple[float, float]:
    """The least shoulder at the sides of a leg's tenon, and at its corners: from there to an arris of `size`."""
    legs, tenon = sizes.profile.legs, leg_joint(sizes)
    half, across = legs.section / 2, legs.section / 2 / cos(leg_axis(sizes).rake)
    one, other = half - tenon.thickness / 2, across - tenon.width / 2
    if legs.corner == "rounded":
        past = max(0.0, size - one), max(0.0, size - other)
        corner = size - hypot(*past) if all(past) else min(one, other)
    elif legs.corner == "beaded":
        quirk = BEAD_ROUND * size  # a quirk is as deep as the round's radius
        corner = min(hypot(max(0.0, a - size), max(0.0, b - quirk)) for a, b in ((one, other), (other, one)))
    else:
        corner = (one + other - size) / sqrt(2)
    return min(one, other), min(one, other, corner)


def with_room(profile: Profile, asked: Container[str]) -> Profile:
    """The profile with those eased edges smaller that nobody `asked` for and that have no room, down to none."""
    for path, size in _less(profile).items():
        if path not in asked:
            section, _, name = path.partition(".")
            less: dict[str, Any] = {section: replace(getattr(profile, section), **{name: size})}
            profile = replace(profile, **less)
    return profile


def gave_way(profile: Profile) -> Mapping[str, float]:
    """The eased edges that are smaller than by default for want of room, each with its default, mm."""
    return {path: _usual(profile, path) for path in _less(profile) if not profile.line_of(path)}


def _usual(profile: Profile, path: str) -> float:
    usual = KEYS[path].default_in(profile.units)
    assert isinstance(usual, int | float)
    return float(usual)


def _less(profile: Profile) -> Mapping[str, float]:
    """The defaults that have no room, each as far as it gives way; those of `[edges]` as soon as they take more than
    their share, for a cheek's room is all of its wood."""
    step = STEPS[profile.units]
    return {
        path: max(0.0, floor(SHARE * most / step) * step)
        for path, most in room_for_edges(Sizes(profile)).items()
        if (SHARE * most if path.startswith("edges.") else most) < _usual(profile, path) - EVEN
    }

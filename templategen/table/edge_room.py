"""Room for eased edges: how much may be taken off each arris, and what a default gives way to."""

from __future__ import annotations

from collections.abc import Container, Mapping
from dataclasses import replace
from math import floor
from typing import Any

from templategen.table.profile.model import Edges, Profile
from templategen.table.sizes import Sizes

SHARE = 0.75
"""A default takes no more than this share of what may be taken off an arris."""

STEP = 0.5
"""Sizes in which bits are sold, mm."""


def room_for_edges(sizes: Sizes) -> Mapping[str, float]:
    """What each of the `[edges]` has to stay under, mm: the cheek beside a groove, or half the wood between two."""
    base, slats, groove = sizes.profile.base, sizes.profile.slats, sizes.groove
    cheek = min(groove.bottom, sizes.profile.top.thickness - groove.top)
    least = base.foot_thickness if base.feet == "pads" else base.thickness - base.foot_thickness
    return {
        "rim": cheek,
        "rail": cheek,
        "slat": min(slats.thickness, slats.width) / 2,
        "base": min(base.rail_width, base.thickness, least) / 2,
    }


def with_room(profile: Profile, asked: Container[str]) -> Profile:
    """The profile with those eased edges smaller that nobody `asked` for and that have no room, down to none."""
    less: dict[str, Any] = {name: size for name, size in _less(profile).items() if name not in asked}
    return replace(profile, edges=replace(profile.edges, **less)) if less else profile


def gave_way(profile: Profile) -> Mapping[str, float]:
    """The `[edges]` that are smaller than by default for want of room, each with its default, mm."""
    unasked = (name for name in _less(profile) if not profile.line_of(f"edges.{name}"))
    return {name: getattr(Edges(), name) for name in unasked}


def _less(profile: Profile) -> Mapping[str, float]:
    """The defaults that have no room, each as far as it gives way."""
    room, usual = room_for_edges(Sizes(profile)), Edges()
    return {
        name: max(0.0, floor(SHARE * most / STEP) * STEP)
        for name, most in room.items()
        if SHARE * most < getattr(usual, name)
    }

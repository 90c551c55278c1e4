"""Room for the sitters' feet: the ground cross that nobody set keeps out of their way where it can."""

from collections.abc import Container
from dataclasses import replace
from math import floor

from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile

LENGTH = "base.length"

STEPS = {"mm": 10.0, "in": 12.7}
"""Steps in which it gets shorter, by the profile's units, mm."""

STANDS = 0.575
"""The least share of the top's diameter; on 0.555 of it one of thirty woods tips sooner than `limits` allow."""

SLACK = 1e-6
"""How much of a step counts as none: rounding."""


def with_foot_room(profile: Profile, asked: Container[str]) -> Profile:
    """The profile with `limits.foot_room` round a ground cross whose length nobody `asked` for, at a table to sit at,
    if it still stands on that as it should, and carries its legs."""
    top, legs, (low, high) = profile.top, profile.legs, profile.limits.sitting_height
    step = STEPS[profile.units]
    room = floor((top.diameter - 2 * profile.limits.foot_room) / step + SLACK) * step
    stands = room >= max(STANDS * top.diameter, 2 * profile.base.foot_length)
    carries = room / 2 >= legs.base_centre_distance + legs.section
    if LENGTH in asked or room >= profile.base.length or not (stands and carries and low <= top.height <= high):
        return profile
    return replace(profile, base=replace(profile.base, length=room))


def gave_foot_room(profile: Profile) -> bool:
    """Whether it is shorter than by default, which nobody asked for."""
    usual = KEYS[LENGTH].default_in(profile.units)
    return not profile.line_of(LENGTH) and isinstance(usual, int | float) and profile.base.length < usual - SLACK

"""Profiles and tables with some sizes changed, by key."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from templategen.packet.shipped import shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text

RUNS = ("across", "along", "straight")

SHAPES = ((2, 8), (2, 12), (2, 16), (3, 6), (3, 12), (3, 18), (3, 24))
"""Rails and segments: odd and even numbers of segments in a field."""


TIGHT = {
    "joints.slide_clearance": 0.1,
    "joints.shoulder_clearance": 0.0,
    "joints.lap_clearance": 0.1,
    "joints.tenon_clearance": 0.1,
}
"""Every joint with the play of a glued one: shoulders stand against their rails, as the plain definitions have it."""


def changed(profile: Profile, changes: dict[str, Any]) -> Profile:
    """The profile with other values at the keys of `changes`."""
    for path, value in changes.items():
        section, key = path.split(".")
        profile = replace(profile, **{section: replace(getattr(profile, section), **{key: value})})
    return profile


def profile_of(changes: dict[str, Any] | None = None, name: str = "towpath-dining") -> Profile:
    """A shipped profile with changes."""
    return changed(profile_from_text(shipped_text(name), name), changes or {})


def table_of(changes: dict[str, Any] | None = None, name: str = "towpath-dining") -> Table:
    """The table of a shipped profile with changes."""
    return build_table(profile_of(changes, name))


def shaped(rails: int, segments: int, changes: dict[str, Any] | None = None) -> Table:
    """A tight dining table of another number of rails and segments, its rim wide enough for long ones."""
    shape = {
        "top.rails": rails,
        "top.segments": segments,
        "top.rim_width": 190.0 if segments == 6 else 126.0,
        "top.rail_width": 70.0,
    }
    return table_of(shape | TIGHT | {"legs.tenon": (30.0, 46.0, 24.0)} | (changes or {}))

"""Limits that a maker sets in the profile are those that findings ask for."""

from __future__ import annotations

from typing import Any

import pytest

from templategen.checks.fields import field_findings
from templategen.checks.movement import movement_findings
from templategen.checks.stance import stance_findings
from templategen.checks.walls import wall_findings
from templategen.errors import ProfileError
from templategen.fit.plan import Plan
from templategen.shop.closing.study import closing_findings
from templategen.table.profile.keys import SECTIONS
from templategen.table.profile.read import profile_from_text
from tests.table.made import TIGHT, table_of

STRICT: dict[str, tuple[Any, str, str]] = {
    "cheek": ((50.0, 60.0), "stop", "joints.tongue"),
    "mortise_floor": ((30.0, 40.0), "stop", "top.thickness"),
    "mortise_to_lap": ((8.0, 300.0), "caution", "legs.centre_distance"),
    "hole_side": ((30.0, 40.0), "stop", "top.pole_hole"),
    "lap_left": ((5.0, 15.0), "caution", "top.thickness"),
    "rail_web": ((60.0, 70.0), "stop", "top.rail_width"),
    "tongue_shoulder": ((6.0, 7.0), "stop", "slats.thickness"),
    "spline_apart": ((300.0, 400.0), "stop", "joints.spline_depth"),
    "ring_edge": (90.0, "stop", "top.rim_width"),
    "ring_wall": (120.0, "caution", "top.rim_width"),
    "slat_width": ((15.0, 60.0), "caution", "slats.width"),
    "drain_gap": ((8.0, 9.0), "stop", "slats.gap"),
    "movement_factor": (3.0, "caution", "top.rail_width"),
    "squeeze": ((0.5, 1.0), "stop", "top.rail_width"),
    "mitre_opening": (0.5, "caution", "top.rim_width"),
    "joint_gap": (0.01, "caution", "shop.mitre_error"),
    "tongue_hold": ((12.0, 13.0), "stop", "joints.groove_depth"),
    "leg_height": ((700.0, 800.0), "stop", "top.height"),
    "tipping_force": (900.0, "caution", "base.length"),
    "rim_sink": (1.0, "caution", "top.thickness"),
    "lean_load": (900.0, "caution", "legs.tenon"),
    "sitting_load": (2000.0, "note", "limits.sitting_load"),
    "strength": ((20.0, 30.0), "stop", "legs.tenon"),
    "rim_load": (2000.0, "caution", "top.thickness"),
    "finger_gap": ((20.0, 30.0), "note", "slats.gap"),
    "sitting_height": ((800.0, 900.0), "note", "top.height"),
    "knee_height": (700.0, "caution", "top.height"),
    "foot_room": (300.0, "caution", "base.length"),
    "seat_width": ((500.0, 500.0), "note", "top.diameter"),
    "wheelchair": ("ADA", "caution", "legs.centre_distance"),
    "wind": (20.0, "note", "top.parasol"),
}

ROOMY = {"wind": {"base.foot_thickness": 60.0}}
"""What a limit needs beside it: wind is measured where a parasol's base has room under the table."""

REFITTING = ("joint_step", "refit_angle", "refit_length")


def told(changes: dict[str, Any]) -> set[tuple[str, str, float, tuple[float | None, float | None]]]:
    """The dining table's findings without their words."""
    table = table_of(TIGHT | changes)
    checks = (wall_findings, field_findings, movement_findings, stance_findings)
    closing = closing_findings(table, Plan((), "two halves", (), "halves"))
    found = (*(f for check in checks for f in check(table)), *closing)
    return {(f.level, f.where, f.measured, f.wanted) for f in found}


def test_every_limit_is_tried() -> None:
    """No key of the limits is left out here; those of re-fitting are tried where a ring is re-fitted."""
    assert {*STRICT, *REFITTING} == {key.name for key in SECTIONS["limits"]}


@pytest.mark.wide
@pytest.mark.parametrize("name", STRICT)
def test_a_stricter_limit_is_asked_for(name: str) -> None:
    """Each limit changes what is found, at its level and key."""
    value, level, where = STRICT[name]
    beside = ROOMY.get(name, {})
    new = told(beside | {f"limits.{name}": value}) - told(beside)
    if name == "finger_gap":
        assert told({}) != told({"limits.finger_gap": value})
    assert any((one, key) == (level, where) for one, key, _, _ in new)


def test_limits_are_read() -> None:
    """Limits stand in the profile like any other key, with their own units."""
    profile = profile_from_text('format = 1\n[limits]\ncheek = ["1/8 in", 6]\nwheelchair = "ada"\n', "terrace")
    assert profile.limits.cheek == (3.175, 6.0)
    assert profile.limits.wheelchair == "ADA"


def test_the_smaller_limit_comes_first() -> None:
    """Two limits the wrong way round are refused with what to write."""
    with pytest.raises(ProfileError, match=r"limits\.cheek: 5 to 3 is no range"):
        profile_from_text("format = 1\n[limits]\ncheek = [5, 3]\n", "terrace")

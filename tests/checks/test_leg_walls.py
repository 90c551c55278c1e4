"""Wood round the legs: each finding on a seeded fault, its measure by hand arithmetic, none on the shipped tables."""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.leg_walls import leg_wall_findings
from templategen.packet.shipped import shipped_names
from tests.table.made import TIGHT, table_of

BASE = table_of(TIGHT).profile
LEG, TENON = BASE.legs.section, BASE.legs.tenon
REACH = BASE.legs.base_centre_distance + (TENON[1] + 0.1) / 2
"""From the axis to the far end of a base rail's mortise."""

AT_CORNER = "shoulder of the legs' tenons at the eased corners"
SEEDED: dict[str, tuple[dict[str, Any], str, str, float, str]] = {
    "sides": ({"legs.section": 39.0, "legs.tenon": (38.0, 30.0, 24.0)}, "legs.tenon", "stop", 0.5, "shoulder of"),
    "across": ({"legs.tenon": (30.0, LEG - 4, 24.0)}, "legs.tenon", "caution", 2.0, "shoulder of the legs' tenons"),
    "chamfer": (
        {"legs.corner": "chamfered", "legs.corner_size": 16.0, "legs.tenon": (LEG - 18, LEG - 16, 24.0)},
        "legs.corner_size", "stop", (9 + 8 - 16) / sqrt(2), AT_CORNER,
    ),
    "chamfer through the tenon": (
        {"legs.corner": "chamfered", "legs.corner_size": 19.0, "legs.tenon": (LEG - 18, LEG - 16, 24.0)},
        "legs.corner_size", "stop", (9 + 8 - 19) / sqrt(2), AT_CORNER,
    ),
    "round": (
        {"legs.corner": "rounded", "legs.corner_size": 20.0, "legs.section": 52.0, "legs.tenon": (38.0, 36.0, 24.0)},
        "legs.corner_size", "caution", 20 - sqrt(13**2 + 12**2), AT_CORNER,
    ),
    "end of the base": (
        {"base.length": 2 * REACH + 0.1}, "base.length", "stop", 0.05, "wood between leg mortise and the rail's end",
    ),
    "over the end": (
        {"base.length": 2 * REACH + 0.1}, "base.length", "caution",
        REACH + 0.05 - BASE.legs.base_centre_distance - LEG / 2,
        "base rail past its legs",
    ),
}  # fmt: skip


def found(changes: dict[str, Any], name: str = "towpath-dining") -> list[Finding]:
    """What is found round the legs."""
    return list(leg_wall_findings(table_of(TIGHT | changes, name)))


@pytest.mark.parametrize("fault", SEEDED)
def test_thin_wood_round_a_leg_is_found_and_measured(fault: str) -> None:
    """Each seeded fault is told at its key, as grave as it is, with what arithmetic gives, and why."""
    changes, where, level, measured, says = SEEDED[fault]
    told = [one for one in found(changes) if one.where == where and one.says.startswith(says) and one.level == level]
    assert told and all(one.measured == pytest.approx(measured, abs=1e-9) and one.why for one in told)


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_tables_have_wood_enough(name: str) -> None:
    """Nothing is found on them."""
    assert not list(leg_wall_findings(table_of({}, name)))

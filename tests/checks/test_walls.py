"""Walls: each finding on a seeded fault, its measure against hand arithmetic, and none on the shipped tables."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.walls import wall_findings
from templategen.packet.shipped import shipped_names
from tests.table.made import TIGHT, table_of

SEEDED: dict[str, tuple[dict[str, Any], str, float, str]] = {
    "thin ring": (
        {"top.rim_width": 56.0, "joints.spline": "none"},
        "top.rim_width",
        670 - (675 - 56) / cos(pi / 12),
        "wall along the joint",
    ),
    "low cheek": ({"slats.thickness": 38.0, "joints.tongue": 32.0}, "joints.tongue", 3.0, "cheek under the groove"),
    "high cheek": ({"joints.tongue": 15.0}, "joints.tongue", 3.5, "cheek over the groove"),
    "shoulder": (
        {"joints.tongue": 18.0, "edges.rim": 1.0, "edges.rail": 1.0},
        "slats.thickness",
        (22 - 17.9) / 2,
        "shoulder of the slats' tongues",
    ),
    "web": (
        {"top.rail_width": 46.0, "legs.tenon": (6.0, 46.0, 24.0), "base.drain_hole": 0.0},
        "top.rail_width",
        46 - 2 * 14.0,
        "rail left between the grooves",
    ),
    "spline cheek": ({"joints.spline_thickness": 30.0}, "joints.spline_thickness", 4.0, "cheek on each side"),
    "mortise floor": ({"legs.tenon": (38.0, 46.0, 31.0)}, "top.thickness", 6.0, "floor under the leg mortise"),
    "mortise wall": ({"legs.tenon": (47.0, 46.0, 24.0)}, "legs.tenon", 42 - 14 - 47.1 / 2, "wall beside the leg"),
    "mortise to lap": (
        {"legs.centre_distance": 110.0},
        "legs.centre_distance",
        110 - 23.05 - (42.05 + 42 * cos(pi / 3)) / sin(pi / 3),
        "wood between leg mortise and lap",
    ),
    "lap": (
        {"base.thickness": 27.0, "legs.tenon": (38.0, 46.0, 12.0)},
        "base.thickness",
        9.0,
        "wood left in the lap",
    ),
    "pole": ({"top.pole_hole": 50.0}, "top.pole_hole", 42 - 25.0, "wood beside the pole hole"),
}


def found(changes: dict[str, Any], name: str = "towpath-dining") -> list[Finding]:
    """The wall findings that ask for a change."""
    return [finding for finding in wall_findings(table_of(TIGHT | changes, name)) if finding.level != "note"]


@pytest.mark.parametrize("fault", SEEDED)
def test_a_thin_wall_is_found_and_measured(fault: str) -> None:
    """Each seeded wall is told at its key with the thickness that arithmetic gives."""
    changes, where, measured, says = SEEDED[fault]
    told = [finding for finding in found(changes) if finding.where == where and says in finding.says]
    assert [finding.measured for finding in told] == [pytest.approx(measured)] * len(told)
    assert told
    wanted = told[0].wanted[0]
    assert wanted is not None
    assert measured < wanted


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_walls_are_thick_enough(name: str) -> None:
    """No shipped table has a wall that asks for a change."""
    assert found({}, name) == []


def test_a_thinner_wall_is_graver() -> None:
    """The same wall is a caution while thin and a stop once it would burst."""
    levels = [found({"top.pole_hole": size})[0].level for size in (50.0, 66.0)]
    assert levels == ["caution", "stop"]


def test_walls_of_equal_rails_are_told_once() -> None:
    """One finding names all rails that measure the same."""
    told = [f for f in found({"top.pole_hole": 50.0}) if "RAIL-LOW" in f.says]
    assert len(told) == 1
    assert all(code in told[0].says for code in ("RAIL-LOW", "RAIL-MID", "RAIL-HIGH"))


@pytest.mark.parametrize("fault", SEEDED)
def test_how_much_more_would_do_is_told(fault: str) -> None:
    """A wall's reason ends in what it lacks, and a wall that much thicker is no longer told."""
    changes, where, measured, says = SEEDED[fault]
    told = next(finding for finding in found(changes) if finding.where == where and says in finding.says)
    wanted = told.wanted[0]
    assert wanted is not None
    more = float(told.why.rpartition("; ")[2].removesuffix(" mm more would do"))
    assert wanted - measured - 1e-6 <= more < wanted - measured + 0.1

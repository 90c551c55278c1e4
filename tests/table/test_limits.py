"""Refusals: each on its own, and what it offers works."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import DesignError, Fault
from templategen.table.assembly import build_table
from templategen.table.bounds.bound import Bound, faults_of
from templategen.table.bounds.refusals import REFUSALS as KINDS_OF_REFUSAL
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from tests.table.made import changed, profile_of

REFUSALS: dict[str, dict[str, Any]] = {
    "top.rim_width: 500.0 mm is more than the whole radius": {
        "top.rim_width": 500.0,
        "top.diameter": 900.0,
        "top.saw_allowance": 0.0,
    },
    "top.rim_width: 60.0 mm: the finished circle passes inside": {"top.rim_width": 60.0, "top.segments": 6},
    "top.rail_width: 310.0 mm is wider than the inner edge": {"top.rail_width": 310.0, "legs.centre_distance": 420.0},
    "top.rail_width: the rails of 395.0 mm fill the whole top": {
        "top.rail_width": 395.0,
        "top.diameter": 600.0,
        "top.rails": 2,
        "top.segments": 8,
    },
    "top.rail_width: 27.0 mm: the grooves of both sides": {
        "top.rail_width": 27.0,
        "top.pole_hole": 0.0,
        "legs.tenon": (9.0, 46.0, 8.0),
    },
    "top.pole_hole: a hole of 90.0 mm leaves nothing of a lapped rail": {"top.pole_hole": 90.0},
    "top.pole_hole: a pole of 80.0 mm does not pass between": {
        "top.pole_hole": 80.0,
        "legs.section": 130.0,
        "top.rails": 2,
        "legs.centre_distance": 100.0,
        "top.segments": 8,
        "legs.tenon": (30.0, 40.0, 24.0),
        "legs.base_centre_distance": 100.0,
        "legs.corner": "square",
        "legs.corner_size": 0.0,
    },
    "top.edge_round: rounds of 20.0 mm from both faces": {"top.edge_round": 20.0},
    "top.edge_round: 45.0 mm is wider than the rim": {
        "top.edge_round": 45.0,
        "top.thickness": 100.0,
        "top.rim_width": 65.0,
        "joints.spline": "none",
    },
    "top.height: 200.0 mm leaves nothing for the legs": {"top.height": 200.0, "base.thickness": 170.0},
    "slats.thickness: 40.0 mm is thicker than the rim": {"slats.thickness": 40.0},
    "slats.chamfer: 12.0 mm is half the slat": {"slats.chamfer": 12.0},
    "slats.chamfer: the chamfers meet across": {"slats.chamfer": 10.0, "slats.width": 19.0},
    "slats.width: no slat of 300.0 mm": {"slats.width": 300.0, "slats.hold": "width", "top.diameter": 800.0},
    "slats.width: no 2 slats of 290.0 mm": {"slats.width": 290.0, "slats.hold": "width", "slats.run": "along"},
    "joints.groove_depth: 5.0 mm leaves no tongue": {"joints.groove_depth": 5.0, "joints.end_clearance": 5.0},
    "joints.groove_depth: 60.0 mm cuts through": {
        "joints.groove_depth": 60.0,
        "top.rim_width": 80.0,
        "joints.spline": "none",
        "top.rail_width": 130.0,
        "legs.centre_distance": 250.0,
    },
    "joints.tongue: a groove of 23.0 mm breaks out": {"joints.tongue": 23.0, "slats.thickness": 23.0},
    "joints.tongue: 26.0 mm is not thinner than the slats": {"joints.tongue": 26.0, "slats.face": "centred"},
    "joints.spline_thickness: 40.0 mm is not thinner": {"joints.spline_thickness": 40.0},
    "joints.spline_depth: 5.0 mm leaves no spline": {"joints.spline_depth": 5.0, "joints.end_clearance": 5.0},
    "joints.spline_depth: slots of 110.0 mm from both ends": {
        "joints.spline_depth": 110.0,
        "top.diameter": 900.0,
        "base.length": 600.0,
    },
    "joints.spline: the wall at the joint": {"joints.spline_thickness": 36.0, "top.rim_width": 90.0},
    "legs.tenon: 72.0 mm thick leaves no shoulders": {
        "legs.tenon": (72.0, 46.0, 8.0),
        "top.rail_width": 110.0,
        "base.rail_width": 110.0,
    },
    "legs.tenon: 71.0 mm wide leaves no shoulders": {"legs.tenon": (38.0, 71.0, 24.0)},
    "legs.tenon: 57.0 mm thick: the mortise breaks into the rail's grooves": {"legs.tenon": (57.0, 46.0, 24.0)},
    "legs.tenon: 50.0 mm thick: the mortise is wider than the base rail": {
        "legs.tenon": (50.0, 46.0, 24.0),
        "base.rail_width": 50.0,
    },
    "legs.tenon: a mortise 39.0 mm deep goes right through top.thickness": {"legs.tenon": (38.0, 46.0, 38.0)},
    "legs.tenon: a mortise 31.0 mm deep goes right through base.thickness": {
        "legs.tenon": (38.0, 46.0, 30.0),
        "base.thickness": 30.0,
    },
    "legs.tenon: 24.0 mm long: the mortise meets the relief": {"base.feet": "relieved", "base.thickness": 36.0},
    "legs.corner_size: 35.0 mm meets across": {"legs.corner_size": 35.0},
    "legs.centre_distance: 90.0 mm: the mortise cuts into the lap": {
        "legs.centre_distance": 90.0,
        "legs.section": 50.0,
        "legs.tenon": (30.0, 46.0, 10.0),
    },
    "legs.centre_distance: 560.0 mm: the mortise runs past": {
        "legs.centre_distance": 560.0,
        "legs.tenon": (38.0, 46.0, 8.0),
    },
    "legs.centre_distance: at 120.0 mm neighbouring legs of 90.0 mm collide": {
        "legs.centre_distance": 120.0,
        "legs.section": 90.0,
    },
    "legs.base_centre_distance: 387.5 mm: the mortise runs past": {
        "legs.base_centre_distance": 387.5,
        "legs.centre_distance": 380.0,
        "base.end_round": 42.0,
        "legs.tenon": (60.0, 40.0, 10.0),
        "base.foot_length": 110.0,
    },
    "legs.base_centre_distance: raked by": {"legs.base_centre_distance": 370.0, "legs.tenon": (38.0, 62.0, 24.0)},
    "base.length: 150.0 mm is all lap": {"base.length": 150.0, "base.rail_width": 120.0},
    "base.foot_length: feet of 345.0 mm": {"base.foot_length": 345.0},
    "base.end_round: 43.0 mm is more than half": {"base.end_round": 43.0},
    "base.end_round: the rounding is longer": {"base.end_round": 30.0, "base.foot_length": 25.0},
    "base.foot_thickness: a relief of 45.0 mm out of 58.0 mm leaves": {
        "base.feet": "relieved",
        "base.foot_thickness": 45.0,
        "legs.tenon": (38.0, 46.0, 8.0),
    },
}
"""Seeded faults by how their message starts."""


def faults(profile: Profile) -> tuple[Fault, ...]:
    """Why a table can't be built."""
    try:
        build_table(profile)
    except DesignError as refusal:
        return refusal.faults
    return ()


def offered(fault: Fault) -> list[float]:
    """The sizes that a remedy names for its own key."""
    return [float(size) for size in re.findall(r"(\d+\.\d) mm", fault.remedy.split(", or ")[0])]


def remedied(profile: Profile, fault: Fault, size: float) -> Profile:
    """The profile with the offered size at the fault's key."""
    if fault.where != "legs.tenon":
        return changed(profile, {fault.where: size})
    tenon = list(profile.legs.tenon)
    tenon[next(i for i, word in enumerate(("thick", "wide", "long")) if word in fault.remedy.split(", or ")[0])] = (
        size
    )
    return changed(profile, {"legs.tenon": tuple(tenon)})


@pytest.mark.parametrize("message", REFUSALS)
def test_what_cannot_be_built_is_refused_and_the_remedy_works(message: str) -> None:
    """Each seeded fault is told at its key, and every size that its remedy names makes it vanish."""
    profile = profile_of(REFUSALS[message])
    told = [fault for fault in faults(profile) if str(fault).startswith(message)]
    assert len(told) == 1, [str(fault) for fault in faults(profile)]
    fault = told[0]
    assert fault.where in KEYS and fault.kind in KINDS_OF_REFUSAL
    assert fault.remedy
    if fault.where == "joints.spline":
        assert faults(changed(profile, {"joints.spline": "none"})) == ()
        return
    assert offered(fault), str(fault)
    for size in offered(fault):
        left = faults(remedied(profile, fault, size))
        assert not any((f.kind, f.where) == (fault.kind, fault.where) for f in left), (size, left)


def test_the_shipped_profile_is_not_refused() -> None:
    """The seeded faults start from a table that can be built."""
    assert faults(profile_of()) == ()


def test_several_faults_are_told_at_once() -> None:
    """Reasons that don't hang together are told in one refusal."""
    told = {fault.where for fault in faults(profile_of({"top.edge_round": 30.0, "base.end_round": 60.0}))}
    assert told == {"top.edge_round", "base.end_round"}


@settings(max_examples=100)
@given(
    value=st.floats(0, 120),
    lows=st.lists(st.floats(0, 100), max_size=3),
    highs=st.lists(st.floats(0, 100), max_size=3),
    spare=st.floats(0, 30),
    closed=st.booleans(),
)
def test_offered_sizes_meet_every_bound(
    value: float, lows: list[float], highs: list[float], spare: float, closed: bool
) -> None:
    """Whatever bounds a size has, the sizes offered lie inside all of them and inside the key's range."""
    where = "joints.spline_depth"
    bounds = [Bound(where, value, "no-spline-in-glue", above=low, spare=spare, closed=closed) for low in lows]
    bounds += [Bound(where, value, "round-over-rim", below=high, spare=spare, closed=closed) for high in highs]
    for fault in faults_of(bounds):
        for size in offered(fault):
            again = [Bound(where, size, above=b.above, below=b.below, closed=b.closed) for b in bounds]
            assert all(bound.met for bound in again), (fault, size)
            assert KEYS[where].low <= size <= KEYS[where].high

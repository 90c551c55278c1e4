"""Each limit broken in turn raises its level and names a value that would do, and that value works."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.run import found_by_sizes
from templategen.checks.stance import stance_findings
from templategen.checks.would_do import with_values
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text

NAMED = re.compile(r"([a-z]+\.[a-z_]+) = (.+) would do$")

WALLS = ("cheek", "mortise_floor", "mortise_to_lap", "hole_side", "lap_left", "rail_web", "tongue_shoulder",
         "spline_apart", "slat_width", "drain_gap", "tongue_hold", "leg_height")  # fmt: skip
LEAST = ("ring_edge", "ring_wall", "tipping_force")
MOST = ("mitre_opening", "rim_sink")

HUGE = {"cheek": 60, "mortise_floor": 60, "mortise_to_lap": 300, "hole_side": 60, "lap_left": 60, "rail_web": 90,
        "tongue_shoulder": 40, "spline_apart": 450, "slat_width": 300, "drain_gap": 30, "tongue_hold": 40,
        "leg_height": 500, "ring_edge": 100, "ring_wall": 450, "tipping_force": 4000,
        "mitre_opening": 0.01, "rim_sink": 0.01}  # fmt: skip

Levels = dict[tuple[str, str], tuple[str, float]]


def sized(profile: Profile, name: str, value: float) -> Any:
    """A limit as it is written in the profile's units: its caution, nothing a stop."""
    plain = value / 25.4 if profile.units == "in" and name != "tipping_force" else value
    return [0, round(plain, 5)] if name in WALLS else round(plain, 5)


def found(profile: Profile) -> tuple[Table, list[Finding]]:
    """What is found by sizes and stance."""
    table = build_table(profile)
    return table, [*found_by_sizes(table), *stance_findings(table)]


def above(findings: Sequence[Finding]) -> list[Finding]:
    """Those that aren't notes."""
    return [one for one in findings if one.level != "note"]


def value_of(profile: Profile, key: str, words: str) -> Any:
    """A value as a finding names it, put into the profile as its reader would."""
    if words.startswith(("[", '"')):
        return tomllib.loads(f"x = {words}")["x"]
    if words.endswith("°"):
        return f"{words[:-1]} deg"
    return float(words) if re.fullmatch(r"[\d.]+", words) else words


def named_and_tried(profile: Profile, every: bool = True) -> int:
    """Findings above a note name a value, every one or one at least, and with it that finding is a note; how many."""
    table, before = found(profile)
    named = 0
    for one in above(with_values(table, before, (found_by_sizes, stance_findings))):
        match = NAMED.search(one.why)
        assert match or not every, one
        if match:
            key, words = match.groups()
            after = above(found(changed(profile, {key: value_of(profile, key, words)}))[1])
            assert not any((other.where, other.says) == (one.where, one.says) for other in after), (one, after)
            assert len(after) < len(above(before))
            named += 1
    return named


def just_broken(profile: Profile, name: str) -> Profile | None:
    """The profile with a limit a little past what one of its walls measures, or none has such a wall."""
    known = {(one.where, one.says) for one in above(found(profile)[1])}
    huge = changed(profile, {f"limits.{name}": sized(profile, name, HUGE[name])})
    new = [one for one in above(found(huge)[1]) if (one.where, one.says) not in known]
    if not new:
        return None
    worst = min(one.measured for one in new) if name not in MOST else max(one.measured for one in new)
    if name == "ring_edge":
        top, joints = profile.top, profile.joints
        worst -= joints.groove_depth + top.edge_round
    value = worst * 0.97 if name in MOST else worst * 1.03 + 0.05
    return changed(profile, {f"limits.{name}": sized(profile, name, value)})


def shipped(name: str) -> Profile:
    """A shipped profile."""
    return profile_from_text(shipped_text(name), name)


@pytest.mark.parametrize("name", ["tongue_hold", "rim_sink"])
def test_a_broken_limit_names_a_value_that_works(name: str) -> None:
    """A tongue's hold and the stiffness, each just broken."""
    profile = just_broken(shipped("towpath-inch" if name == "tongue_hold" else "towpath-dining"), name)
    assert profile and named_and_tried(profile) >= 1


def test_a_choice_and_what_is_left_to_us_are_named() -> None:
    """A parasol that the table can't hold, a clearance set too tight."""
    changes = {"top.parasol": "table", "joints.slide_clearance": 0.05}
    table, before = found(changed(shipped("towpath-dining"), changes))
    told = {one.where: one.why for one in with_values(table, before, (found_by_sizes, stance_findings))}
    assert told["top.parasol"].endswith("under the table")
    assert told["joints.slide_clearance"].endswith('; joints.slide_clearance = "auto" would do')


@pytest.mark.slow
@pytest.mark.parametrize("table", shipped_names())
@pytest.mark.parametrize("name", [*WALLS, *LEAST, *MOST])
def test_every_limit_names_a_value_that_works(table: str, name: str) -> None:
    """Each limit of a size on each shipped table."""
    profile = just_broken(shipped(table), name)
    if profile is None:
        pytest.skip("it has no such wall")
    assert named_and_tried(profile) >= 1


DESIGNS: dict[str, dict[str, Any]] = {
    "finger_gap": {"slats.gap": 9}, "slats held by width": {"slats.gap": 9, "slats.hold": "width"},
    "lean_load": {"limits.lean_load": 680}, "strength": {"legs.tenon": [20, 30, 24]},
    "parasol": {"top.parasol": "table", "limits.wind": 12},
    "squeeze of tenons": {"joints.tenon_clearance": 0.0, "limits.movement_factor": 2.4, "shop.build_moisture": 9},
    "squeeze of laps": {"joints.lap_clearance": 0.1, "limits.movement_factor": 2.4},
    "shoulders": {"joints.shoulder_clearance": 0.1}, "slivers": {"slats.width": 22},
    "wet wood": {"shop.build_moisture": 19}, "wood that rots": {"shop.build_moisture": 24},
    "feet outside": {"base.length": 1400}, "height by ADA": {"top.height": 600, "limits.wheelchair": "ADA"},
    "blade": {"shop.bandsaw_blade": [80, 0.8], "top.diameter": 900}, "bit": {"shop.router_bit": 40},
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", DESIGNS)
def test_every_broken_design_names_a_value_that_works(name: str) -> None:
    """What isn't a wall: gaps, strength, clearances, moisture, access, tools."""
    assert named_and_tried(changed(shipped("towpath-dining"), DESIGNS[name]), every=False) >= 1

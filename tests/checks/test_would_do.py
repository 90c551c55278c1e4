"""Each limit broken in turn raises its level and names a value that would do, and that value works."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from templategen.checks import would_do
from templategen.checks.finding import Finding
from templategen.checks.run import found_by_sizes
from templategen.checks.sentences import SENTENCES
from templategen.checks.stance import stance_findings
from templategen.checks.would_do import COMFORT, with_values
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed
from templategen.table.profile.keys import SECTIONS
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from tests.checks.test_limits import REFITTING

NAMED = re.compile(r"([a-z]+\.[a-z_]+) = (.+) would do$")

WALLS = ("cheek", "mortise_floor", "mortise_to_lap", "hole_side", "lap_left", "rail_web", "tongue_shoulder",
         "spline_apart", "drain_gap", "tongue_hold", "leg_height")  # fmt: skip
LEAST = ("ring_edge", "ring_wall", "tipping_force")
MOST = ("mitre_opening", "rim_sink")

HUGE = {"cheek": 60, "mortise_floor": 60, "mortise_to_lap": 300, "hole_side": 60, "lap_left": 60, "rail_web": 90,
        "tongue_shoulder": 40, "spline_apart": 450, "drain_gap": 30, "tongue_hold": 40,
        "leg_height": 490, "ring_edge": 95, "ring_wall": 450, "tipping_force": 4000,
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


def named_and_tried(profile: Profile) -> int:
    """Every finding above a note names a value, and with it that finding is a note; how many."""
    table, before = found(profile)
    named = 0
    for one in above(with_values(table, before, (found_by_sizes, stance_findings))):
        match = NAMED.search(one.why)
        assert match, one
        key, words = match.groups()
        after = above(found(changed(profile, {key: value_of(profile, key, words)}))[1])
        assert not any((other.where, other.says) == (one.where, one.says) for other in after), (one, after)
        assert fewer(one.kind, after, above(before))
        named += 1
    return named


def just_broken(profile: Profile, name: str) -> Profile:
    """The profile with a limit a little past what one of its walls measures; past the gap as built, which no other
    number of slats mends by itself."""
    known = {(one.where, one.says) for one in above(found(profile)[1])}
    huge = changed(profile, {f"limits.{name}": sized(profile, name, HUGE[name])})
    new = [one for one in above(found(huge)[1]) if (one.where, one.says) not in known]
    worst = (min if name in (*WALLS, *LEAST) and name != "drain_gap" else max)(one.measured for one in new)
    if name == "ring_edge":
        top, joints = profile.top, profile.joints
        worst -= joints.groove_depth + top.edge_round
    value = worst * 0.97 if name in MOST else worst * 1.03 + 0.05
    return changed(profile, {f"limits.{name}": sized(profile, name, value)})


def shipped(name: str) -> Profile:
    """A shipped profile."""
    return profile_from_text(shipped_text(name), name)


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
    """Each limit of a size on each shipped table; one without a pole's hole gets one, legs higher than any limit are
    shortened."""
    profile = shipped(table)
    if name == "hole_side" and not profile.top.pole_hole:
        profile = changed(profile, {"top.pole_hole": 20})
    if name == "leg_height":
        profile = changed(profile, {"top.height": 19 if profile.units == "in" else 480})
    assert named_and_tried(just_broken(profile, name)) >= 1


DINING, HEX, INCH, SIDE = "towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"
BOLTED = {"legs.top_joint": "bolted"}
PEGGED = {
    "legs.top_joint": "draw-bored", "top.thickness": 40, "legs.peg": [8, 1.2, 11], "legs.tenon": [22, 28, 26],
}  # fmt: skip
THICK = {
    "legs.top_joint": "draw-bored", "top.thickness": 52, "base.thickness": 95, "legs.tenon": [38, 46, 36],
}  # fmt: skip

KINDS: dict[str, tuple[str, dict[str, Any]]] = {
    "ring-wall": (DINING, {"limits.ring_wall": 115}),
    "cheek-under-groove": (DINING, {"slats.face": "centred", "joints.tongue": 30, "slats.thickness": 36}),
    "cheek-over-groove": (DINING, {"joints.tongue": 16, "slats.thickness": 22}),
    "slat-shoulder": (DINING, {"joints.tongue": 17}),
    "rail-web": (DINING, {"limits.rail_web": [10, 60]}),
    "spline-cheek": (SIDE, {"joints.spline_thickness": 20}),
    "between-spline-slots": (DINING, {"limits.spline_apart": [10, 280]}),
    "mortise-floor": (DINING, {"legs.tenon": [38, 46, 31]}),
    "mortise-holds-water": (DINING, {"base.drain_hole": 0}),
    "mortise-wall": (DINING, {"legs.tenon": [48, 46, 24]}),
    "mortise-to-lap": (DINING, {"legs.centre_distance": 110, "legs.base_centre_distance": 110}),
    "mortise-to-end": (DINING, {"base.length": 450}),
    "lap-left": (
        DINING,
        {"top.thickness": 28, "slats.thickness": 18, "joints.tongue": 8, "legs.tenon": [38, 46, 18]},
    ),
    "hole-side": (DINING, {"top.pole_hole": 50}),
    "tenon-shoulder": (DINING, {"legs.section": 50}),
    "tenon-shoulder-at-corner": (DINING, {"legs.corner": "chamfered", "legs.corner_size": 24}),
    "past-the-legs": (DINING, {"base.length": 430}),
    "leg-shoulders": (SIDE, {"top.height": 200}),
    "feet-outside": (DINING, {"base.length": 1400}),
    "sliver": (SIDE, {"slats.width": 24}),
    "draining-gap": (DINING, {"slats.gap": 3.5, "limits.drain_gap": [2, 4]}),
    "wettest-gap": (DINING, {"slats.gap": 3}),
    "finger-gap": (DINING, {"slats.gap": 9}),
    "moisture": (DINING, {"shop.build_moisture": 19}),
    "laps-squeezed": (DINING, {"joints.lap_clearance": 0.1, "limits.movement_factor": 2.4}),
    "tenons-squeezed": (
        DINING,
        {"joints.tenon_clearance": 0.0, "limits.movement_factor": 2.4, "shop.build_moisture": 9},
    ),
    "mitre-opening": (HEX, {"limits.mitre_opening": 1.0}),
    "slat-tongue-left": (INCH, {"joints.groove_depth": "5/16 in"}),
    "rail-tenon-left": (HEX, {"joints.groove_depth": 6}),
    "shoulders-pushed": (DINING, {"joints.shoulder_clearance": 0.1}),
    "sliding-play": (DINING, {"joints.slide_clearance": 0.05}),
    "tipping": (DINING, {"base.length": 560, "limits.tipping_force": 240}),
    "parasol-in-table": (DINING, {"top.parasol": "table", "limits.wind": 13}),
    "rim-sinks": (DINING, {"limits.rim_load": 2000}),
    "strength": (DINING, {"legs.tenon": [20, 30, 24]}),
    "access-knees": (DINING, {"top.height": 650, "limits.wheelchair": "ADA"}),
    "access-depth": (DINING, {"limits.wheelchair": "ADA"}),
    "access-height": (DINING, {"top.height": 900, "limits.wheelchair": "ADA"}),
    "blade-too-wide": (DINING, {"shop.bandsaw_blade": [80, 0.8], "top.diameter": 900}),
    "mitre-past-saw": (HEX, {"shop.mitre_reach": "25 deg"}),
    "groove-too-narrow": (DINING, {"shop.groove_cutter": 14, "shop.router_bit": 14}),
    "bit-too-wide": (DINING, {"shop.router_bit": 40, "work.mortises": "hand-held"}),
    "under-the-head": (DINING, {**BOLTED, "limits.mortise_floor": [4, 20]}),
    "beside-the-nut": (SIDE, {**BOLTED, "legs.barrel_nut": [18, 24], "limits.cheek": [3, 14]}),
    "behind-the-nut": (SIDE, {**BOLTED, "legs.barrel_nut": [16, 40]}),
    "under-the-peg": (SIDE, {**PEGGED, "legs.peg": [8, 0.4, 8.6]}),
    "peg-to-groove": (SIDE, {**PEGGED, "limits.cheek": [3, 12.5]}),
    "peg-to-shoulder": (SIDE, {**PEGGED, "legs.peg": [8, 2, 10.4]}),
    "peg-to-tenon-end": (SIDE, {**PEGGED, "legs.tenon": [22, 28, 18]}),
    "peg-draw": (SIDE, {**PEGGED, "legs.peg": [8, 2.4, 14]}),
    "peg-play": (SIDE, {**PEGGED, "legs.peg": [8, 0.4, 15], "shop.build_moisture": 19.5, "shop.humidity": [20, 95]}),
    "peg-pull": (DINING, {**THICK, "legs.peg": [4, 0.5, 18]}),
    "spline-in-round-over": (DINING, {"top.edge_round": 16}),
    "spline-to-rim": (DINING, {"joints.spline": "stopped", "limits.cheek": [3, 30]}),
    "slot-to-groove": (DINING, {"joints.spline": "stopped", "limits.cheek": [3, 30]}),
    "glue-unfit": (DINING, {"shop.glue": "white"}),
    "glue-cold": (DINING, {"shop.glue_temperature": 3}),
}
"""Each kind of finding that sizes, stance and strength make above a note: the table and the change that raise it."""

LIMITS: dict[str, tuple[str, dict[str, Any], Any, str]] = {
    "slat_width": (SIDE, {}, [15, 46.5], "sliver"),
    "finger_gap": (HEX, {}, [5, 12], "finger-gap"),
    "squeeze": (DINING, {"joints.lap_clearance": 0.4}, [0.5, 3], "laps-squeezed"),
    "knee_height": (INCH, {}, "28 in", "knee-room"),
    "foot_room": (HEX, {}, 262, "foot-room"),
    "lean_load": (SIDE, {}, 820, "strength"),
    "strength": (DINING, {}, [44, 90], "strength"),
}
"""Limits that no wall measures: the table, what is changed besides, the value that breaks it, what is then raised.
Those above and these are all but the ones of the mitres and of re-fitting, and three that nothing breaks."""

NO_LIMIT = {"sitting_height", "seat_width", "sitting_load"}
"""What kind of table it is, and how much rim a sitter has: what is told by them is told, never judged. A load that
nobody may put on a rim: past the wood's strength it becomes an instruction."""

ELSEWHERE = {"touch", "same-wood", "missed-joint", "thin-wood", "holds-water", "edge-in-rail"}
"""Found by putting the table together, or by a search through its wood; they have tests of their own."""


def graded_kinds() -> set[str]:
    """The kinds that the checks raise above a note, as their code names them."""
    raises = re.compile(
        r'(?:if_short|once_if_short|at_least|at_most)\(\s*f?"([a-z{}-]+)"|Finding\(\s*"([a-z-]+)", (?!"note")\S'
    )
    found: set[str] = set()
    for path in Path(would_do.__file__).parent.glob("*.py"):
        for one, other in raises.findall(path.read_text(encoding="utf-8")):
            name = one or other
            found |= {name.format(name=way) for way in ("under", "over")} if "{" in name else {name}
    return found


def test_every_kind_has_its_study() -> None:
    """No kind that the checks raise above a note is left out of the table above."""
    assert graded_kinds() - {*KINDS, *(kind for *_, kind in LIMITS.values())} - ELSEWHERE == set()
    assert len(graded_kinds()) > 40 and set(KINDS) <= set(SENTENCES)


def fewer(kind: str, after: Sequence[Finding], before: Sequence[Finding]) -> bool:
    """Whether less is graver than a note; what hurts nobody may come up for what does."""
    known = {other.kind for other in before}
    new = [other for other in after if kind not in COMFORT and other.kind in COMFORT - known]
    return len(after) - len(new) < len(before)


def broken(kind: str, name: str, changes: dict[str, Any]) -> None:
    """The finding of that kind is raised, names a value, and with that value is gone, as is one finding at least."""
    profile = changed(shipped(name), changes)
    table, before = found(profile)
    one = next(one for one in above(before) if one.kind == kind)
    (told,) = with_values(table, [one], (found_by_sizes, stance_findings))
    assert told.would, told
    key, words = told.would.key, told.would.words
    after = above(found(changed(profile, {key: value_of(profile, key, words)}))[1])
    assert not any((other.kind, other.where) == (kind, one.where) for other in after), (told.would, after)
    assert fewer(kind, after, above(before))


@pytest.mark.wide
@pytest.mark.parametrize("kind", ["sliver", "rail-tenon-left", "draining-gap"])
def test_a_broken_limit_names_a_value_that_works(kind: str) -> None:
    """A number of slats, a tongue's hold beside another finding, a gap."""
    broken(kind, *KINDS[kind])


def raised(limit: str) -> None:
    """What is a note, or nothing at all, is raised by that limit alone, and names a value that works."""
    name, besides, value, kind = LIMITS[limit]
    assert not any(one.kind == kind for one in above(found(changed(shipped(name), besides))[1]))
    broken(kind, name, {**besides, f"limits.{limit}": value})


def test_a_limit_that_no_wall_measures_is_raised() -> None:
    """Rails pressed in their laps."""
    raised("squeeze")


@pytest.mark.slow
@pytest.mark.parametrize("limit", LIMITS)
def test_every_limit_that_no_wall_measures_is_raised(limit: str) -> None:
    """Slats, fingers, laps, knees, feet, leaning, strength."""
    raised(limit)


def test_no_limit_is_left_out() -> None:
    """Every key is broken in a study, here or where rings are closed and re-fitted, or is told to be none."""
    by_kind = {key.split(".")[1] for _, changes in KINDS.values() for key in changes if key.startswith("limits.")}
    told = {*WALLS, *LEAST, *MOST, *by_kind, *LIMITS, *NO_LIMIT, "joint_gap", *REFITTING}
    assert told == {key.name for key in SECTIONS["limits"]}


def test_a_load_nobody_may_put_on_it_is_an_instruction() -> None:
    """Sitters use the more of the wood the more they weigh; past all of it the owner is told, and no level is raised:
    what is told is that nobody may sit there."""
    shares = {}
    for load in (300, 1100):
        (one,) = (one for one in found(changed(shipped(DINING), {"limits.sitting_load": load}))[1]
                  if one.kind.startswith("strength-"))  # fmt: skip
        assert one.asks == (one.measured > 100) and one.level == "note"
        shares[load] = one.measured
    assert shares[1100] / shares[300] == pytest.approx(1100 / 300, rel=0.02) and shares[300] < 100 < shares[1100]


@pytest.mark.slow
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_names_a_value_that_works(kind: str) -> None:
    """Walls, gaps, strength, clearances, moisture, access, tools, hardware, glue."""
    broken(kind, *KINDS[kind])


def test_a_gap_that_would_do_keeps_the_slats_as_wide() -> None:
    """Where another number of slats clears the fingers, one of half their width isn't offered."""
    profile = profile_from_text(
        'format = 1\nunits = "mm"\n[top]\ndiameter = 1180\nrails = 2\nsegments = 8\nedge = "faceted"\npole_hole = 0\n'
        'thickness = 40\nrail_width = 90\nrim_width = 130\n[slats]\nrun = "straight"\nwidth = 62\ngap = 7\n'
        'apex = "closed"\nthickness = 20\nface = "centred"\n',
        "fingers",
    )
    table, findings = found(profile)
    (fingers,) = [one for one in findings if one.kind == "finger-gap"]
    (told,) = [one.would for one in with_values(table, findings, (found_by_sizes_only,)) if one.kind == fingers.kind]
    assert told is not None and told.key == "slats.gap"
    other = build_table(changed(profile, {"slats.gap": told.value}))
    assert abs(other.spacing.width - table.spacing.width) <= table.spacing.width / 4
    assert not [one for one in found_by_sizes(other) if one.kind == "finger-gap" and one.level != "note"]


def found_by_sizes_only(table: Table) -> tuple[Finding, ...]:
    """What is found by sizes, as a check."""
    return tuple(found_by_sizes(table))

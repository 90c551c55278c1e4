"""What is to be had at hand: every cutter that a set-up asks for, with the reach that it needs."""

from __future__ import annotations

import re
from math import cos, sin

import pytest

from templategen.fit.plan import plan_assembly
from templategen.jigs.push_block import push_blocks
from templategen.packet.shipped import shipped_names
from templategen.packet.stages import WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.pins import pins_of
from templategen.table.assembly import build_table
from templategen.units import length_by_rule, parse_length
from templategen.work.plan import work_plan
from templategen.work.tools import BLADES, tools_of
from tests.table.made import profile_of, table_of

SMALL = {"narrow brush": "narrow brush", "measure the moisture": "moisture meter", "gauged": "marking gauge"}
"""Words of the plan, and the small thing that is wanted for them."""


@pytest.mark.parametrize("name", shipped_names())
def test_every_cutter_of_a_set_up_is_listed_once_and_reaches(name: str) -> None:
    """Each set-up with a cutter of its own stands in one row; no row's reach is less than the set-up's height."""
    worked = begun(profile_of(name=name))
    rows, set_ups = tools_of(worked[TABLE], worked[WORK]), worked[WORK].set_ups
    cutters = {one.cutter for one in set_ups}
    named = [row for row in rows if row.item in cutters and row.use.startswith("set-up")]
    listed = [number for row in named for number in _numbers(row.use)]
    wanted = [one.number for one in set_ups if one.cutter not in BLADES]
    assert wanted and sorted(listed) == sorted(wanted)
    scale = 25.4 if worked[TABLE].profile.units == "in" else 1.0
    for row in rows:
        if reach := re.search(r"(?:standing|cutting) ([\d.]+)(?:-(\d+)/(\d+))? (?:mm|in)", row.size):
            whole, over, under = (float(part) if part else 0.0 for part in reach.groups())
            told = (whole + (over / under if under else 0.0)) * scale
            heights = [one.value("height", cut) for one in set_ups if one.number in _numbers(row.use)
                       for cut in one.cuts if one.setting("height", cut)]  # fmt: skip
            assert all(told > height - 1e-6 for height in heights), row


def _numbers(use: str) -> list[int]:
    """The set-ups or steps that a row names."""
    if not use.startswith(("set-up", "gluing")):
        return []
    found: list[int] = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", use):
        found += range(int(first), int(last or first) + 1)
    return found


@pytest.mark.parametrize("name", shipped_names())
def test_a_pin_goes_in_flush(name: str) -> None:
    """A pin ends above the cone that the drill's point leaves, and within a step of it."""
    pins = pins_of(build_table(profile_of(name=name)))
    cone = 2.0 / 1.6642794823505174  # half of 4 mm over tan 59 degrees
    assert 0 <= pins.depth - cone - pins.length < 25.4 / 16


@pytest.mark.parametrize("name", shipped_names())
def test_whatever_a_set_up_or_a_step_is_worked_with_is_listed(name: str) -> None:
    """A bit in its bush and the flush bit after it, hollow chisels, chisels that square what is round, the pins' bit,
    clamps that open over a leg, sand for where none reaches."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    profile, rows = table.profile, {row.item: row for row in tools_of(table, work)}
    rounded = [one for one in work.set_ups if one.operation == "round corner" and "hand router" in one.needs]
    if rounded:
        assert "guide bush" in rows["bit led by the template"].size
        under = length_by_rule(profile.jigs.thickness, profile.units)
        assert f"under a template {under} thick" in rows["bit led by the template"].size
        thick = max(table.part(code).thickness for one in rounded for code in one.codes)
        assert ("flush bit" in rows) == (thick > profile.shop.bit_length)
    assert ("hollow chisel" in rows) == any("mortiser" in one.needs for one in work.set_ups)
    if any("square it with a chisel" in words for one in work.set_ups for words in map(str, one.warnings)):
        assert "chisels" in rows
    assert any(row.use == "slat pins" and row.item == "bit" for row in tools_of(table, work))
    glued = [step for step in work.gluing.steps if "leg tenon" in step.joints]
    assert ("sandbags" in rows) == any(step.hold.weights for step in glued)
    if "sandbags" in rows:
        asked = {one.operation.does for one in work.operations if "sandbag" in one.operation.way and not one.step}
        band = {one.operation.does for one in work.operations if re.search(r"\ba band\b", one.operation.way)}
        assert "try the table" in asked and all(does in rows["sandbags"].use for does in asked)
        banded = rows["band with a ratchet, corner guards"].use
        assert all(does in banded for does in (*(band - {one.does for one in work.gluing.steps}), "dry fit"))
        bag, ways = rows["sandbags"].size.removesuffix(" each"), [one.operation.way for one in work.operations]
        assert f"{rows['sandbags'].count} sandbags of {bag}" in ways


@pytest.mark.parametrize("name", shipped_names())
def test_the_list_and_each_step_ask_for_the_same_clamps(name: str) -> None:
    """Every step that is clamped tells how many and how wide they open, and stands in the list's row of just those;
    of each row one step takes all. Over a leg they open over cross, leg and rail, with waste under both jaws."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    rows = [row for row in tools_of(table, work) if row.item in ("clamp", "clamps") and row.use.startswith("gluing")]
    clamped = [step for step in work.gluing.steps if step.hold.clamps]
    assert clamped and {number for row in rows for number in _numbers(row.use)} == {one.number for one in clamped}
    for row in rows:
        steps = [step for step in clamped if step.number in _numbers(row.use)]
        assert row.count == max(step.hold.clamps for step in steps)
        assert row.item == ("clamps" if row.count > 1 else "clamp"), "one clamp is no clamps"
        for step in steps:
            many = f"{step.hold.clamps} clamp{'s' if step.hold.clamps > 1 else ''}"
            assert any(f"lay {many} ready, {row.size}," in line for line in step.advice), step.does
            opens = float(re.findall(r"[0-9.]+", row.size)[0]) * (25.4 if table.profile.units == "in" else 1)
            thick = max(table.part(code).thickness for code in step.adds)
            over = table.profile.top.height if "leg tenon" in step.joints else thick
            assert opens >= over + 2 * 15 - 1e-6


@pytest.mark.parametrize("name", shipped_names())
def test_what_set_ups_and_jigs_name_besides_is_listed(name: str) -> None:
    """A shooting board, push blocks for all that is fed by hand, the pivot's rod and dowel, the jigs' screws."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    rows = {row.item: row for row in tools_of(table, work)}
    told = [" ".join((one.machine, *one.does)) for one in work.set_ups]
    assert ("shooting board" in rows) == any("shooting board" in words for words in told)
    fed = {"planer", "table saw", "router table", "groove cutter"}
    assert ("push stick, push blocks, two with soft soles, featherboards, two stands" in rows) == any(
        fed.intersection(one.needs) for one in work.set_ups
    )
    dowels = [line for jig in work.jigs.jigs for line in jig.use if "dowel" in line]
    assert ("steel rod and a wooden dowel" in rows) == bool(dowels)
    screwed = any("screw" in line for jig in work.jigs.jigs for line in jig.use)
    assert not screwed or "screws" in rows["small things"].size
    small = rows["small things"].size
    told = " ".join(line for one in work.operations for line in one.operation.tells)
    assert "foil" not in told or "kitchen foil" in small
    assert "wrapped in its film" not in told or "food film" in small
    battened = any("a batten under each arm" in line for step in work.gluing.steps for line in step.advice)
    assert battened == ("battens of one height" in rows)
    done = (one.operation for one in work.operations if one.operation.step)
    on_them = {one.step.number for one in done if one.step and any("its battens" in line for line in one.tells)}
    assert on_them <= set(_numbers(rows["battens of one height"].use)) if battened else not on_them


@pytest.mark.parametrize("name", shipped_names())
def test_a_hole_saw_reaches_half_way(name: str) -> None:
    """It cuts from both faces, as its set-up tells: half the thickest piece and a little more is enough."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    sawn = [one for one in work.set_ups if one.cutter == "hole saw"]
    for one in sawn:
        assert any("from both faces" in told or "from the other face" in told for told in one.does)
    thick = max((table.part(code).thickness for one in sawn for code in one.codes), default=0.0)
    for row in (row for row in tools_of(table, work) if row.item == "hole saw"):
        deep = parse_length(row.size.split("cutting ")[1].removesuffix(" deep"), "mm")
        assert thick / 2 < deep <= thick / 2 + 3


@pytest.mark.parametrize("name", shipped_names())
def test_whatever_cards_plan_and_jigs_name_is_listed(name: str) -> None:
    """What they tell to file, chop, pare, bore and drive with, to weigh and to pack up by has a row, or stands among
    the small things; whoever starts doesn't stop for it."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    rows = tools_of(table, work)
    listed = {row.item: row for row in rows}
    for word, item in {
        "file until": "file",
        "chop": "chisels",
        "pared": "chisels",
        "saw and chop": "tenon saw",
    }.items():
        for one in work.set_ups:
            if any(word in line for line in (*one.does, *one.warnings, *one.cautions)):
                assert one.number in _numbers(listed[item].use), (one.number, word)
    for one in (planned.operation for planned in work.operations):
        if "hammer" in one.way or "screwdriver" in one.way:
            assert one.way in listed, one.way
        told = " ".join(map(str, one.tells))
        for word, item in SMALL.items():
            assert word not in told or item in listed["small things"].size
        assert not re.search(r"\ba stand\b", told) or any("two stands" in item for item in listed)
    jigs = {jig.code: " ".join((*jig.use, *jig.proof)) for jig in work.jigs.jigs}
    packed = [row.use.split(",")[0] for row in rows if row.item == "strips to pack up by"]
    assert ("CAUL" in packed) == ("on packing of" in jigs.get("CAUL", ""))
    assert ("ASSEMBLY" in packed) == ("Pack the slats up" in jigs.get("ASSEMBLY", ""))
    (band,) = (row for row in rows if row.item == "band with a ratchet, corner guards")
    told = " ".join(line for step in work.gluing.steps if step.hold.band for line in step.advice)
    assert ("as many as its step asks" in band.size) == ("as many bands as" in told) == (not band.count)
    assert ("luggage scale" in listed) == any("luggage scale" in words for words in jigs.values())


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_the_clamp_over_blocks_opens_wide_enough(name: str) -> None:
    """From the outlines as they lie: the piece and its blocks, one or two, across their edges."""
    worked = begun(profile_of(name=name))
    table, work = worked[TABLE], worked[WORK]
    widest = 0.0
    for block in push_blocks(table):
        for one in block.holds:
            lying = [corner for outline in block.lying(one) for corner in outline.vertices]
            across = [-point.x * cos(one.lean) + point.y * sin(one.lean) for point in (*lying, *one.ring)]
            widest = max(widest, max(across) - min(across))
    (told,) = [tool for tool in tools_of(table, work) if tool.item == "clamp" and "set-up" in tool.use]
    opening = float(re.findall(r"[\d.]+", told.size)[0])
    assert widest <= opening < widest + 10.0


def test_balks_beside_a_half_ring_bear_the_shop_s_own_router() -> None:
    """As long as a mitre's face and the router's base at both ends of it, however wide that base is."""
    for base in (120.0, 200.0):
        table = table_of({"jigs.router_base": base}, "towpath-hex")
        (balks,) = [one for one in tools_of(table, work_plan(table, plan_assembly(table))) if one.item == "balks"]
        assert balks.scrap is not None and 0 <= balks.scrap[0] - table.sizes.joint_face - 2 * base < 10

"""The gluing plan: areas and glue from the joints, time against the glue, letters, clamps, what weather it takes."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import cos, fsum, hypot, pi, sin, tan

import pytest
from shapely import Point, affinity, box

from templategen.checks.assembly import assembly_findings, minutes, spread
from templategen.checks.gluing import glue_findings, open_time
from templategen.explain.quantities import book_of
from templategen.fit.plan import Closing, Plan, Step, plan_assembly
from templategen.geometry.edge import Arc
from templategen.output.gluing_json import gluing_json
from templategen.output.table_csv import csv_bytes
from templategen.packet.page.steps import steps
from templategen.packet.shipped import shipped_names
from templategen.shop.closing.study import closing_study
from templategen.shop.explained import explained
from templategen.shop.finish import finish_of
from templategen.shop.gluing.advice import BATTENS_OUT
from templategen.shop.gluing.hold import JAWS, UNDER, glued_area, under_told
from templategen.shop.gluing.listed import gluing_list, marks_list
from templategen.shop.gluing.marks import copy_names, letter, spans
from templategen.shop.gluing.plan import GluingPlan, GluingStep, gluing_plan
from templategen.table.assembly import Table
from templategen.units import parse_length
from templategen.wood.glue import FITNESS, GLUES, pressure_for, slower
from templategen.work.glued import before_gluing, overnight, step_done
from templategen.work.plan import work_plan
from tests.table.made import profile_of, table_of


@lru_cache
def planned(name: str) -> tuple[Table, Plan, GluingPlan]:
    """A shipped table, the order it goes together in, and its gluing."""
    table = table_of(name=name)
    plan = plan_assembly(table)
    return table, plan, gluing_plan(table, plan)


def again(name: str, **changes: object) -> GluingPlan:
    """The gluing of a shipped table by a maker with another shop; its assembly stays."""
    table = table_of({f"shop.{key}": value for key, value in changes.items()}, name)
    return gluing_plan(table, planned(name)[1])


def ring_step(plan: GluingPlan) -> GluingStep:
    """The step in which most mitres are glued."""
    return max(plan.steps, key=lambda step: step.joints.get("mitre", 0))


@pytest.mark.parametrize("name", shipped_names())
def test_every_glued_joint_is_in_one_step(name: str) -> None:
    """The steps glue each of the table's glued joints once, and no dry tongue; of three lapped rails, in the top as
    in the base, the highest stays dry on the lowest."""
    table, plan, gluing = planned(name)
    glued = [number for step in plan.steps for number in step.glued]
    assert sorted(glued) == [number for number, joint in enumerate(table.joints) if joint.traits.glued]
    dry = 2 if table.sizes.rails == 3 else 0
    assert sum(sum(step.joints.values()) for step in gluing.steps) == len(glued) - dry
    assert not any("tongue" in kind for step in gluing.steps for kind in step.joints)


def test_a_leg_tenon_takes_glue_for_its_four_cheeks() -> None:
    """Six tenons of 38 by 46 by 24 mm take 200 g for each m2 of their cheeks."""
    _, _, gluing = planned("towpath-dining")
    step = next(step for step in gluing.steps if step.does == "add LEG")
    area = 6 * 2 * (38 + 46) * 24
    assert step.area == pytest.approx(area)
    assert step.grams == pytest.approx(area / 1e6 * 200)


def test_mitres_are_glued_as_blanks() -> None:
    """A mitre is glued over the blank's whole face less its through slot and groove and what is eased of its inner
    edges, before the ring is sawn; with a glue that it is sized with it takes half as much again."""
    table, _, gluing = planned("towpath-dining")
    face, slot_start = 126 / cos(pi / 12), (14 + 5) / cos(pi / 12)
    mitre = face * 38 - (face - slot_start) * 10 - 2 * (2 * 2 / 2) / cos(pi / 12)
    grooved = [joint for joint in table.joints if joint.kind == "mitre"]
    tenon = 2 * 2 * (42 - 14) * 13
    step = ring_step(gluing)
    assert step.joints == {"mitre": 12, "rail tenon": 6}
    assert step.area == pytest.approx(len(grooved) * mitre + 6 * tenon)
    for one, share in ((step, 1.0), (ring_step(again("towpath-dining", glue="epoxy")), 1.5)):
        assert one.grams == pytest.approx((len(grooved) * share * mitre + 6 * tenon) / 1e6 * 200)


@pytest.mark.parametrize("name", shipped_names())
def test_the_plan_is_explained(name: str) -> None:
    """Area, glue and minutes of each step, the open time and the sum have quantities of the same value."""
    table, plan, gluing = planned(name)
    pages = explained(table, plan)
    for step in gluing.steps:
        if not step.dry:
            for figure in ("area", "grams", "minutes"):
                told = pages[f"glue.step_{step.number}.{figure}"].value
                assert told == pytest.approx(getattr(step, figure), rel=1e-9), (step.does, figure)
    assert pages["glue.grams"].value == pytest.approx(gluing.grams)
    assert (pages["glue.open_time"].value, pages["glue.closed_time"].value) == (gluing.open_time, gluing.closed_time)


def test_no_go_takes_longer_than_the_glue() -> None:
    """What one hold draws up is glued in so many goes of whole pieces that none takes longer than the closed time, by
    two where a slow hand would; what is held or slid in piece by piece goes on in one."""
    for glue, warmth in (("polyurethane", 20.0), ("white", 30.0), ("resorcinol", 25.0)):
        gluing = again("towpath-dining", glue=glue, glue_temperature=warmth)
        for step in (one for one in gluing.steps if not one.dry):
            together = not step.together and (step.hold.band or "leg tenon" in step.joints)
            assert any(step.until_held) == together and (together or step.goes == 1)
            if together:
                assert step.until_held[0] * step.hands <= step.whole / step.goes + spread(step.at_once - 1)
                assert step.until_held[0] * step.hands <= max(gluing.closed_time, step.minutes)
                assert step.goes == 1 or step.whole / (step.goes - 1) > gluing.closed_time - spread(step.at_once - 1)
                slow = step.until_held[1] * step.hands
                assert step.hands == (
                    2 if slow > gluing.closed_time or step.home[1] * step.hands > gluing.open_time else 1
                )
    assert any(step.goes > 1 for step in gluing.steps)


@pytest.mark.parametrize("way", ("measure", "stop"))
@pytest.mark.parametrize("name", ("towpath-dining", "towpath-side", "towpath-inch"))
def test_a_go_takes_whole_pieces(name: str, way: Closing) -> None:
    """A segment whose mitre is glued in one go and its tenon in the next would have to be drawn off again for it:
    each go's letters are those of its own segments, as they come; where the open ring is filled a slow hand is home
    in time."""
    table = table_of(name=name)
    plan = plan_assembly(table, (way,))
    gluing = gluing_plan(table, plan)
    at, step = next((at, one) for at, one in enumerate(gluing.steps) if one.goes > 1 or one.joints.get("mitre"))
    told = next((line for line in step.advice if re.match(r"in \d goes", line)), "")
    goes = [letters_in(one) for one in re.findall(r"\((.+?)\)", told)[0].split(", then ")] if told else []
    assert len(goes) == (step.goes if step.goes > 1 else 0)
    names, turn = copy_names(table), [move.index for move in plan.steps[at].moves]
    comes = {mark.letter: max(turn.index(place) for place in map(names.index, mark.copies) if place in turn)
             for mark in step.marks}  # fmt: skip
    pieces = [{comes[one] for one in go} for go in goes]
    assert all(max(one) < min(other) for one, other in pairwise(pieces))
    assert not goes or max(map(len, goes)) == step.in_a_go
    assert way != "measure" or step.until_held[1] <= gluing.open_time


def letters_in(told: str) -> list[str]:
    """The letters of `L to Q, S`."""
    every = [letter(place) for place in range(60)]
    ends = (one.split(" to ") for one in told.split(", "))
    return [one for run in ends for one in every[every.index(run[0]) : every.index(run[-1]) + 1]]


@pytest.mark.parametrize("name", shipped_names())
def test_a_step_s_sheet_tells_minutes_that_hold(name: str) -> None:
    """From a middling to a slow hand, those who spread told, and both within what the glue gives."""
    table, plan, gluing = planned(name)
    work = work_plan(table, plan)
    sheets = {one.name: one for one in steps(table, plan, work, closing_study(table.sizes)).sheets}
    for step in (one for one in work.gluing.steps if not one.dry):
        words = " ".join(map(str, sheets[f"step-{step.number}"].words))
        (told,) = re.findall(r"Minutes from glue to home: (\d+) to (\d+) of (\d+)", words)
        low, high, least = map(float, told)
        faces = 2 * max(one.at_once for one in plan.steps if one.does == step.does) / step.hands
        assert (low, least) == (max(1, int(faces * 30 / 60)), gluing.open_time)
        assert faces * 40 / 60 <= high <= least
        assert ("Two persons spread at once." in words) == (step.hands > 1)
        held = re.findall(r"with (\d+) joints?, (\d+) to (\d+) for a go's (\d+); all drawn up by (\d+)", words)
        assert bool(held) == any(step.until_held) and all(int(most) <= int(by) for _, _, most, _, by in held)
        for piece, least, most, go, by in (tuple(map(int, one)) for one in held):
            assert (piece, by) == (faces * step.hands / 2, gluing.closed_time)
            each = low / piece, high / piece  # what is told of a piece's joints, and of a go's, is one figure a joint
            assert least <= each[1] * go and most <= each[1] * go + 1 and each[0] * go - 1 <= least
    if name == "towpath-hex":
        (closed,) = (
            one.operation for one in work.operations if one.operation.does == "close the two half rings on the cross"
        )
        assert closed.step and closed.step.hands == closed.persons == 2
        told = " ".join(closed.tells)
        assert "the tongues of all 30 slats" in told and "right-hand end" in told and "by turns" in told


@pytest.mark.parametrize("name", shipped_names())
def test_what_holds_a_step_lies_ready_before_anything_is_glued(name: str) -> None:
    """Told before who closes the joints and how, in the plan as on the step's sheet."""
    table, _, gluing = planned(name)
    held = [step for step in gluing.steps if step.hold.clamps or step.hold.band]
    for step in held:
        ready = [at for at, line in enumerate(step_done(table, gluing, step, 1).tells) if " ready, " in line]
        assert ready == [2], step.does


def test_a_wrapped_spline_is_tried_before_any_glue() -> None:
    """Two layers of film leave more than half of its play, and it is tried so at the dry fit; what is glued at once
    needs no film."""
    for name, wrapped in (("towpath-dining", True), ("towpath-hex", False)):
        table, plan, gluing = planned(name)
        dry = next(one for one in before_gluing(table, plan, gluing, 1) if one.does == "dry fit")
        tried = [line for line in dry.tells if "wrapped in its film" in line]
        assert bool(tried) == wrapped
        if wrapped:
            (thick,) = re.findall(r"([0-9.]+) mm or thinner", tried[0])
            assert 0 < 2 * float(thick) < table.profile.joints.glue_clearance / 2
            assert any(f"film of {thick} mm or thinner" in line for line in ring_step(gluing).advice)


def test_warmth_shortens_the_time() -> None:
    """Ten degrees more about halve a glue's times, ten fewer double them."""
    assert [slower(t) for t in (10, 20, 30)] == [2, 1, 0.5]
    assert open_time(profile_of({"shop.glue_temperature": 30.0})) == GLUES["polyurethane"].open_time[0] / 2


def test_what_sets_by_moisture_is_wiped_damp_and_never_sized() -> None:
    """Its open time runs from the first coat, so none is let go dull; no glue is reckoned for one either."""
    damp, sized = again("towpath-dining", glue="polyurethane"), again("towpath-dining", glue="epoxy")
    for plan, words, other in ((damp, "damp cloth", "thin coat"), (sized, "thin coat", "damp cloth")):
        mitred = [" ".join(step.advice) for step in plan.steps if "mitre" in step.joints]
        assert mitred and all(words in told and other not in told for told in mitred)
    assert damp.grams < sized.grams


def test_a_band_s_pull_is_told_in_units_of_its_country() -> None:
    """Labels in daN stand on straps where mm are used; in inches the tension is in pounds alone."""
    for name, has in (("towpath-dining", True), ("towpath-inch", False)):
        told = [line for step in planned(name)[2].steps for line in step.advice if "bands as together" in line]
        assert told and all(("daN" in line) is has and ("lbf" in line) is not has for line in told)


def test_what_the_tin_says_wins() -> None:
    """A written open time replaces the class's, whatever the warmth."""
    assert open_time(profile_of({"shop.open_time": 23.0, "shop.glue_temperature": 35.0})) == 23


def test_a_quick_glue_is_a_finding() -> None:
    """Where joints that close at once take longer than the glue stays open, check says so, and the plan too."""
    _, plan, _ = planned("towpath-hex")
    longest = max(minutes(step) for step in plan.steps)
    for tin, wanted in ((longest + 1, False), (longest - 1, True)):
        quick = table_of({"shop.open_time": tin}, "towpath-hex")
        found = [f for f in assembly_findings(quick, plan) if f.kind == "open-time"]
        assert bool(found) == wanted
        said = any("longer than the glue stays open" in w for s in gluing_plan(quick, plan).steps for w in s.advice)
        assert said == wanted


def test_indoor_glue_is_refused_outdoors() -> None:
    """Glue for rooms is a stop, glue for under a roof a caution, all others pass; each class is judged."""
    for name, glue in GLUES.items():
        found = list(glue_findings(profile_of({"shop.glue": name, "shop.glue_temperature": 25.0})))
        levels = [finding.level for finding in found if finding.where == "shop.glue"]
        assert levels == {"outdoors": [], "coated": ["note"], "sheltered": ["caution"], "indoors": ["stop"]}[glue.fit]
        assert glue.fit in FITNESS and glue.open_time[0] <= glue.open_time[1] and glue.source


def test_cold_wood_is_a_caution() -> None:
    """Wood colder than the glue takes is a caution with both temperatures."""
    found = list(glue_findings(profile_of({"shop.glue": "resorcinol", "shop.glue_temperature": 16.0})))
    assert [(f.level, f.where, f.measured, f.wanted) for f in found] == [
        ("caution", "shop.glue_temperature", 16.0, (21.0, None))
    ]


def test_pressure_follows_glue_and_wood() -> None:
    """Polyurethane and epoxy ask for little; others as much as the wood: light woods less than dense ones."""
    assert pressure_for(GLUES["resorcinol"], 441) == (0.7, 1.0)
    assert pressure_for(GLUES["resorcinol"], 750) == (1.2, 1.7)
    assert pressure_for(GLUES["polyurethane"], 750) == (0.3, 0.7)


def test_a_band_presses_every_mitre_with_its_tension() -> None:
    """The forces of the cauls on half a ring balance two mitres pressed with the band's tension; at the tension told
    the least pressure is met, just under it wedges are advised."""
    table, _, gluing = planned("towpath-dining")
    hold = ring_step(gluing).hold
    face = max(q.value for n, q in explained(table, planned("towpath-dining")[1]).items() if n.endswith(".glued"))
    assert hold.band and hold.cauls == 12
    assert hold.force == pytest.approx((0.3 * face, 0.7 * face))
    # Half a ring in balance: radial pulls of the corners sum to two tensions.
    radial = 2 * hold.force[0] * tan(pi / 12) * cos(pi / 12)
    pulls = [radial * cos((k + 0.5) * pi / 6) for k in range(-3, 3)]
    assert sum(pulls) == pytest.approx(2 * hold.force[0])
    for share, enough in ((1.01, True), (0.99, False)):
        step = ring_step(again("towpath-dining", band=hold.force[0] * share))
        assert step.hold.band_is_enough == enough
        assert any("wedges" in words for words in step.advice) != enough


def test_glue_keeps_off_slots_under_cauls() -> None:
    """Nothing is cleared out under a caul: glue keeps off the slot, its spline lies in it in film, its end under the
    caul's notch, and is tried without film before it is glued."""
    gluing, table = planned("towpath-dining")[2], planned("towpath-dining")[0]
    (words,) = (words for words in ring_step(gluing).advice if "slot" in words)
    assert "5 mm short of a slot" in words and "in film" in words and "under the caul's notch" in words
    splines = next(step for step in gluing.steps if step.adds == ("SPLINE",))
    told = step_done(table, gluing, splines, 1).tells
    assert splines.whole > gluing.open_time and splines.singly and not ring_step(gluing).singly
    assert told[1].endswith("one after another") and any("one spline after another" in line for line in told)
    assert any("nothing wet on the spline" in line for line in told)
    assert any("tried once more without film" in line for line in told)
    assert "clamps" not in overnight(step_done(table, gluing, splines, 1)).tells[-1]


def test_no_damp_cloth_is_told_for_joints_that_must_stay_dry() -> None:
    """A spline or a tongue that is wetted swells past its play: where a damp cloth is told, the joints it is for
    are named, and neither is among them; no table is told of joints that it hasn't."""
    for name in shipped_names():
        table, _, gluing = planned(name)
        assert table.profile.shop.glue == "polyurethane"
        assert not any("damp cloth" in one.water for one in GLUES.values())
        for step in gluing.steps:
            damp = [line for line in step.advice if "damp cloth" in line]
            wiped = [kind for kind in ("mitre", "pad") if kind in step.joints]
            assert len(damp) == len(wiped), step.does
            for line in damp:
                assert any(f"of each {kind}" in line for kind in wiped)
                assert not re.search("spline|slot|tongue|tenon", line), line


def test_legs_are_clamped_over_the_rails_that_stand_on_them() -> None:
    """A clamp on a leg's upper tenon would stand where the rail goes: it comes on over the rail."""
    table, _, gluing = planned("towpath-dining")
    legs = next(step for step in gluing.steps if step.adds == ("LEG",))
    (told,) = (line for line in step_done(table, gluing, legs, 1).tells if "upper tenons" in line)
    assert told.index("by mallet") < told.index("upper tenons") < told.index("a clamp over rail and cross")


def test_a_pads_rounded_end_goes_outwards() -> None:
    """As it lies in the table: the end of a foot that is rounded is the one away from the axis; where none is
    rounded none is told."""
    for changes, rounded in (({}, True), ({"base.end_round": 0.0}, False)):
        table = table_of(changes, "towpath-dining")
        gluing = gluing_plan(table, planned("towpath-dining")[1])
        pads = next(step for step in gluing.steps if step.adds == ("FOOT",))
        told = " ".join(step_done(table, gluing, pads, 1).tells)
        assert ("its rounded end outwards" in told) == rounded
        foot = next(copy for copy in table.placed if copy.code == "FOOT")
        arcs = [edge.point_at(0.5) for edge in table.part("FOOT").outline.edges if isinstance(edge, Arc)]
        middle = table.part("FOOT").outline.bounds.centre
        at = [foot.point(point.x, point.y, 0) for point in (*arcs, middle)]
        assert bool(arcs) == rounded
        assert all(hypot(point.x, point.y) > hypot(at[-1].x, at[-1].y) for point in at[:-1])


@pytest.mark.parametrize("name", shipped_names())
def test_as_many_laps_are_told_as_are_glued(name: str) -> None:
    """A step that tells so many laps spreads so many floors; of three rails the highest is glued to the middle one
    alone, and its seats on the lowest are told to stay dry."""
    table, _, gluing = planned(name)
    one = {step.area for step in gluing.steps if dict(step.joints) == {"lap": 1}}
    assert not any(step.joints.get("lap", 0) > 1 for step in gluing.steps)
    for step in gluing.steps:
        if "lap" in step.joints and step.adds[0].endswith("-HIGH") and table.sizes.rails == 3:
            low, mid = (step.adds[0].replace("HIGH", other) for other in ("LOW", "MID"))
            (told,) = (words for words in step.advice if "middle third" in words)
            assert step.hold.clamps == step.joints["lap"] == 1
            assert f"floor on {mid} alone" in told and f"three-cornered seats on {low}" in told
    assert len({round(area, 3) for area in one}) <= 2, "one for the top's rails, one for the base's"


def test_half_rings_are_told() -> None:
    """A ring that can't be closed whole is glued in two halves, which the plan and its list say: each with a band
    round all six cauls, the other half dry in its place, the splines between them by themselves, then both."""
    _, _, gluing = planned("towpath-hex")
    halves = [step for step in gluing.steps if "half ring" in step.does]
    assert [(step.hold.band, step.hold.cauls) for step in halves] == [(True, 6), (True, 6), (False, 0), (True, 6)]
    assert not any(step.hold.clamps for step in halves[:2])
    assert gluing.in_halves and not planned("towpath-dining")[2].in_halves
    assert all(step.letters for step in gluing.steps if not step.dry)
    mitres, last = {mark.letter for step in halves for mark in step.marks}, halves[2]
    assert not last.joints.get("mitre") and set(last.letters) <= mitres and len(last.letters) > 0
    _, rows = gluing_list(gluing)
    assert "two halves" in str(rows[-1][-1])


def test_each_joint_has_one_letter_on_two_parts() -> None:
    """Every joint but a spline's has its own letter, written on two copies that meet there, dry tongues last."""
    for name in shipped_names():
        table, _, gluing = planned(name)
        marks = [mark for step in gluing.steps for mark in step.marks]
        letters = [mark.letter for mark in marks]
        assert len(set(letters)) == len(letters) and not any(set(word) & set("IO") for word in letters)
        names = copy_names(table)
        assert len(set(names)) == len(names)
        for mark in marks:
            assert {names[index] for index in table.joints[mark.joint].placed} == set(mark.copies)
        assert len(marks) == sum(joint.kind != "spline" for joint in table.joints)
        dry = {mark.letter for mark in marks if mark.kind == "tongue-and-groove"}
        assert dry == {letter(len(marks) - 1 - place) for place in range(len(dry))}


def test_letters_go_on_after_z() -> None:
    """After Z come AA, AB; letters in a row are told by the first and the last."""
    assert [letter(place) for place in (0, 7, 8, 23, 24, 25, 48)] == ["A", "H", "J", "Z", "AA", "AB", "BA"]
    assert spans(["A", "B", "C", "H", "J", "L"]) == "A to C, H, J, L"


@pytest.mark.parametrize("name", shipped_names())
def test_lists_are_whole(name: str) -> None:
    """Both lists have as many cells in every row as headings, a row for each step and letter, and the sums."""
    _, plan, gluing = planned(name)
    header, rows = gluing_list(gluing)
    assert csv_bytes(header, rows) and len(rows) == len(plan.steps) + 1
    assert float(str(rows[-1][header.index("glue_g")])) == pytest.approx(gluing.grams, abs=0.05)
    assert sum(len(step.marks) for step in gluing.steps) == len(marks_list(gluing)[1])


@pytest.mark.parametrize("name", shipped_names())
def test_machines_are_told_the_same(name: str) -> None:
    """packet.json's gluing has the plan's steps that take glue, with their areas, glue and letters."""
    _, _, gluing = planned(name)
    told = json.loads(json.dumps(gluing_json(gluing), allow_nan=False))
    wet = [step for step in gluing.steps if not step.dry]
    assert [step["step"] for step in told["steps"]] == [step.number for step in wet]
    assert sum(step["grams"] for step in told["steps"]) == pytest.approx(told["grams"], abs=0.05)
    assert [len(step["marks"]) for step in told["steps"]] == [len(step.marks) for step in wet]


def test_a_table_that_locks_has_no_gluing() -> None:
    """Without an order of assembly the plan is empty, and so is its list."""
    table, _, _ = planned("towpath-dining")
    gluing = gluing_plan(table, Plan((), "locked", (("A", "B"),)))
    assert gluing.steps == () and gluing_list(gluing)[1] == [] and gluing.grams == 0


def test_dry_steps_take_no_glue() -> None:
    """Slats go in dry, with a word on why, and their rows have no figures."""
    _, _, gluing = planned("towpath-dining")
    header, rows = gluing_list(gluing)
    for step, row in zip(gluing.steps, rows, strict=False):
        if step.dry:
            assert step.grams == 0 and row[header.index("glue_g")] == ""
        assert ("dry so that slats can move" in str(row[-1])) == bool(re.search("SLAT", step.does))


def test_steps_without_moves_are_taken() -> None:
    """A step that moves nothing and glues nothing is dry."""
    table, _, _ = planned("towpath-side")
    gluing = gluing_plan(table, Plan((Step("wait", (), False, (), 0),), "one by one"))
    assert gluing.steps[0].dry and gluing.area == 0


@pytest.mark.parametrize(
    ("name", "changes"),
    [("towpath-dining", {"top.pole_hole": 31.0}), ("towpath-hex", {"base.rail_width": 101.0, "top.pole_hole": 17.0}),
     ("towpath-side", {"top.rail_width": 71.0})],
)  # fmt: skip
def test_of_a_laps_floor_its_middle_third_is_glued(name: str, changes: dict[str, float]) -> None:
    """Both bars' floor in common within a sixth of the width beside one's middle line, less the pole's hole, laid out
    as shapes; the step's area and the finish count that, and so does what explains them."""
    table = table_of(changes, name)
    gluing, pages = gluing_plan(table, plan_assembly(table)), book_of(table).pages
    laps = 0.0
    for width, cross in ((table.profile.top.rail_width, "top"), (table.profile.base.rail_width, "base")):
        bar = box(-900, -width / 2, 900, width / 2)
        third = box(-900, -width / 6, 900, width / 6)
        floor = third & affinity.rotate(bar, 180 / table.sizes.rails, origin=(0, 0))
        floor = floor.difference(Point(0, 0).buffer(table.profile.top.pole_hole / 2, 400))
        told = pages[f"joint.{cross}_lap.glued"].value
        assert told == pytest.approx(floor.area, rel=1e-4)
        laps += (table.sizes.rails - 1) * told
    others = fsum(
        glued_area(table, joint) for joint in table.joints if joint.traits.glued and "lap" not in joint.kind
    )
    assert gluing.area == pytest.approx(laps + others)
    covered = fsum(joint.contact_mm2 for joint in table.joints if joint.traits.glued and "lap" not in joint.kind)
    finish = finish_of(table)
    assert (finish.faces - finish.bare) * 1e6 == pytest.approx(2 * (covered + laps))
    assert finish_of(table, 4).bare == pytest.approx(4 * finish.bare)


def test_rails_that_were_drawn_anew_take_the_same_glue() -> None:
    """A re-fit gives parts codes of their own; the laps' area doesn't hang on them."""
    table, _, _ = planned("towpath-hex")
    parts = tuple(replace(part, code=f"{part.code}-2") if part.kind == "rail" else part for part in table.parts)
    anew = replace(table, parts=parts)
    for joint in (joint for joint in table.joints if joint.parts[0].startswith("RAIL") and "lap" in joint.kind):
        other = replace(joint, parts=(f"{joint.parts[0]}-2", f"{joint.parts[1]}-2"))
        assert glued_area(anew, other) == glued_area(table, joint)


def test_a_step_that_fills_the_open_time_asks_for_a_second_pair_of_hands() -> None:
    """Ten joints at thirty seconds a face are ten minutes, at forty a third more: with a glue that stays open ten the
    findings and the step tell what would do, with one that stays open as long as that neither does."""
    table, plan, gluing = planned("towpath-hex")
    step = max(gluing.steps, key=lambda one: one.minutes)
    assert (step.minutes, gluing.open_time, sum(step.joints.values())) == (10, 10, 10)
    assert any("no time to spare" in line and "open 14 minutes" in line for line in step.advice)
    (told,) = (one for one in assembly_findings(table, plan) if one.kind == "open-time-to-spare")
    assert told.list == "do" and "14 minutes" in told.do and told.measured == pytest.approx(10 * 2 * 40 / 60)
    slow = table_of({"shop.open_time": 14}, "towpath-hex")
    assert not any("no time to spare" in line for one in gluing_plan(slow, plan).steps for line in one.advice)
    assert "open-time-to-spare" not in {one.kind for one in assembly_findings(slow, plan)}
    assert all("no time to spare" not in line for one in planned("towpath-dining")[2].steps for line in one.advice)


@pytest.mark.parametrize("name", shipped_names())
def test_rails_come_on_to_battens_and_off_them(name: str) -> None:
    """The first rail lies flat on the board; whoever glues the next lifts it, and who then works by the board's lines
    takes the battens out: the step after the top's last lap, and no other."""
    table, _, gluing = planned(name)
    top = [
        step.number
        for step in gluing.steps
        if step.joints.get("lap") and all(table.part(code).kind == "rail" for code in step.adds)
    ]
    out = [step.number for step in gluing.steps if any("take out the battens" in line for line in step.advice)]
    assert top and out == [top[-1] + 1]
    after = gluing.steps[top[-1]]
    tells = step_done(table, gluing, after, 1).tells
    assert tells.index(BATTENS_OUT) < min(
        (place for place, line in enumerate(tells) if "packed up" in line or "tongues" in line), default=len(tells)
    )
    lifted = [step.number for step in gluing.steps if any(line.startswith("lift the rails") for line in step.advice)]
    assert lifted == [step.number for step in gluing.steps if step.joints.get("lap")]


@pytest.mark.parametrize("name", shipped_names())
def test_a_jaw_goes_in_under_each_glued_crossing(name: str) -> None:
    """Battens hold the arms up by more than a jaw and its waste; steps without a lap have none of them."""
    table, _, gluing = planned(name)
    laps = [step for step in gluing.steps if step.joints.get("lap")]
    assert laps
    for step in laps:
        (told,) = [line for line in step.advice if "a batten under each arm" in line]
        footed = any(table.part(code).cuts("relief") for code in step.adds)
        assert ("below its foot" in told) == footed, "all at one height"
        if footed:
            near, far = re.search(r"below its foot, (.+?) to (.+?) from the end", told).groups()  # type: ignore[union-attr]
            long = table.profile.base.foot_length
            units = table.profile.units
            assert 0 < parse_length(near, units) < parse_length(far, units) <= long, "clear of the relief's step"
        wide = max(table.part(code).size[1] for code in step.adds)
        corner = wide / 2 / sin(pi / (2 * table.sizes.rails))
        assert max(step.hold.reach, 80.0) >= corner, "from the arms' corner to the middle"
        assert any("reaching in" in line for line in step.advice) == (step.hold.reach > 0)
    for step in gluing.steps:
        told = [line for line in step.advice if "a batten under each arm" in line]
        assert len(told) == (step in laps), step.does
        assert all(under_told(table_of(name=name).profile.units) in line for line in told)
    assert all(high > JAWS for high in UNDER.values())

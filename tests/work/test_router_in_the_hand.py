"""Cards of a router in the hand: told and drawn as it is set and led, by what its maker has before him."""

from __future__ import annotations

import re
from functools import cache

import pytest

from templategen.drawing.drawing import Words
from templategen.drawing.set_up_picture import set_up_pictures
from templategen.fit.plan import plan_assembly
from templategen.jigs.bore_block import end_block_high
from templategen.jigs.jig import Jig
from templategen.packet.page.machines import machines
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.words import figure
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan, work_plan
from templategen.work.tools import SIZED, tools_of
from tests.proof.followed import faults, written
from tests.table.made import table_of

IN_THE_HAND = ("planer", "circular saw", "drill press", "hand router", "drill", "sander")

STRAIGHT = {
    "shop.machines": IN_THE_HAND, "slats.run": "straight", "slats.hold": "gap", "slats.apex": "closed",
    "top.rails": 2, "top.segments": 8, "top.edge": "faceted", "top.rim_width": 130.0, "top.rail_width": 90.0,
    "legs.top_joint": "bolted", "legs.centre_distance": 180.0, "legs.base_centre_distance": 180.0,
}  # fmt: skip
"""Slats that run straight into slanting corners, legs that are bolted, no machine with a table but a drill press."""


@cache
def planned() -> tuple[Table, WorkPlan]:
    table = table_of(STRAIGHT)
    return table, work_plan(table, plan_assembly(table, ("measure",)))


def led(*names: str) -> list[SetUp]:
    """The set-ups of those operations that a router in the hand does."""
    made = [one for one in planned()[1].set_ups if one.operation in names and one.way == "hand-held"]
    assert made
    return made


def card(set_up: SetUp) -> str:
    """All that its card says."""
    table, plan = planned()
    sheet = next(one for one in machines(table, plan).sheets if one.name == str(set_up.number))
    grids = (str(cell) for grid in sheet.grids for cell in (grid.rows, grid))
    return " ".join((*map(str, sheet.words), *grids))


def drawn(set_up: SetUp) -> list[list[str]]:
    """The words on each of its pictures."""
    table, plan = planned()
    parts = {part.code: part for part in table.parts}
    before = plan.set_ups[: plan.set_ups.index(set_up)]
    made = set_up_pictures(set_up, before, parts, lambda one: figure(one, "mm"))
    return [[mark.text for mark in one.drawing.marks if isinstance(mark, Words)] for one in made]


def test_the_whole_table_is_made_by_its_cards() -> None:
    """The bench, which knows nothing of how they came about, ends with the table's own parts."""
    assert faults(written(planned()[0], "measure")) == []


@pytest.mark.parametrize("name", ["rebate", "lap"])
def test_a_router_in_the_hand_is_set_below_its_base_and_led_along_a_straightedge(name: str) -> None:
    """Its depth is told below the base and it is let down, its lines lie on the wood, and it goes along a
    straightedge clamped across, on the cards as on the pictures: no word of a table, a fence or a gauge."""
    for one in led(name):
        told = card(one)
        assert "below the router's base" in told and "let down" in told and "trial groove" in told
        assert not re.search(r"fence|gauge's|mitre gauge|raised|lies on|over what", told), told
        for words in drawn(one):
            assert "straightedge" in words and not any("fence" in text or "stop" in text for text in words)


def test_slanting_ends_have_their_rows_their_gauge_and_their_picture() -> None:
    """A straightedge square to the piece would make one corner of such a tongue a whole shoulder, the other none."""
    table, _ = planned()
    (slats,) = (one for one in led("rebate") if one.codes[0].startswith("SLAT"))
    slanting = [cut for cut in slats.cuts if slats.setting("angle", cut)]
    assert slanting and {slats.value("angle", cut) for cut in slanting} == {45.0}
    assert all(lay.against.partition("-")[0] in ("left", "right") for cut in slanting for lay in cut.lays)
    assert "SLAT-GAUGE" in slats.jigs
    assert sum("scrap" in words for words in drawn(slats)) == 2
    assert all(table.part(lay.code).kind == "slat" for cut in slanting for lay in cut.lays)


def test_a_rebate_below_is_told_by_what_stays_of_the_wood() -> None:
    """Boards that come a little thinner then still have tongues as thick, and all lie as far under the top."""
    for one in led("rebate"):
        thick = planned()[0].part(one.codes[0]).thickness
        for cut in one.cuts:
            (worked,) = {lay.worked for lay in cut.lays}
            kept = one.setting("stays", cut)
            assert (kept is not None) == (worked == "bottom")
            assert kept is None or kept.figure.value == pytest.approx(thick - one.value("height"), abs=1e-6)
    assert any(cut.lays[0].worked == "bottom" for one in led("rebate") for cut in one.cuts)


def test_rows_of_a_leg_s_narrow_shoulders_name_their_ends() -> None:
    """Its tenons have two lengths: sawn the wrong way round the leg is lost."""
    (legs,) = (one for one in planned()[1].set_ups if one.operation == "shoulder" and one.codes == ("LEG",))
    assert len(legs.cuts) == len(drawn(legs)) == 2
    told = card(legs)
    assert re.search(r"LEG x \d: right end", told) and re.search(r"LEG x \d: left end", told)


def test_ends_of_a_groove_are_told_from_the_corner_in_hand() -> None:
    """That of the edge which is cut, not one that lies a rim's width below it; where the router is set down and where
    it stops is drawn, since it may begin at either end."""
    table, _ = planned()
    (grooves,) = led("groove")
    rim = [cut for cut in grooves.cuts if cut.codes[0].startswith("RIM") and cut.settings]
    assert rim
    for cut in rim:
        part = table.part(cut.codes[0])
        low = part.blank.bounds.bottom
        inner = sorted(point.x for point in part.blank.points if abs(point.y - low) < 1e-6)
        slots = [feature.outline.bounds for feature in part.cuts("groove")]
        for name, at in (("start", slots[0].left), ("end", slots[0].right)):
            if told := grooves.setting(name, cut):
                assert told.figure.value == pytest.approx(at, abs=1e-6) and 0 < at < inner[-1] - inner[0]
    words = [text for words in drawn(grooves) for text in words]
    assert {"block: set down", "block: stop"} <= set(words)
    assert any(text.startswith("near end") for text in words) and any(text.startswith("far end") for text in words)


def test_nothing_stands_where_the_edge_guide_runs() -> None:
    """A block level with the edge along that face would shut the guide out, or push the groove off by its thickness:
    the balk that carries the base, and the stops, are on the other face alone."""
    for one in led("groove", "spline slot"):
        told = card(one)
        assert "two blocks" not in told and "those two" not in told
        assert re.search(r"along the face that the guide doesn't run on clamp a balk of scrap, \d+ mm or wider", told)
        assert "block to the balk" in told


def test_a_mitre_s_corner_is_backed_where_the_bit_runs_out() -> None:
    """The balk lies along the face: without scrap behind it the outer edge's acute arris breaks away beside the
    spline. Told, and drawn on every picture of a slot that is open."""
    for one in led("spline slot"):
        assert "clamp scrap as thick, sawn to the mitre's angle" in card(one)
        assert all("scrap" in words for words in drawn(one))


def jig(code: str) -> Jig:
    return next(one for one in planned()[1].jigs.jigs if one.code == code)


def test_a_mortise_in_its_template_has_neither_fence_nor_stop() -> None:
    """The template is all that leads the router: its card tells what is marked, its picture the wood alone."""
    for one in led("mortise"):
        assert "fence" not in card(one) and "stop" not in card(one)
        assert not any("fence" in text or text == "stop" for words in drawn(one) for text in words)
    faces = {"MORTISE-RAIL": "from below", "MORTISE-BASE": "from above"}
    for code, face in faces.items():
        (deep,) = (line for line in jig(code).use if line.startswith("Depth"))
        assert deep.endswith(f"{face}.") and "rails" not in deep


def test_a_bit_goes_through_the_block_that_guides_it() -> None:
    """Its depth is told from the tenon's end, on which the block's plates stand by then."""
    table, plan = planned()
    (down,) = (one for one in plan.set_ups if one.operation == "end bore")
    through = down.value("height") + end_block_high(table)
    assert end_block_high(table) > 0 and f"{through:.0f} mm from its point" in card(down)
    (long,) = (one for one in tools_of(table, plan) if one.item == "long bit")
    assert float(re.findall(r"cutting ([\d.]+) mm", long.size)[0]) >= through
    assert "fence" not in card(down)


def test_a_stop_at_a_tenon_s_end_is_a_block_that_meets_it() -> None:
    """The end lies in from the fence and above the table by the tenon's shoulders and cheeks."""
    table, plan = planned()
    (across,) = (one for one in plan.set_ups if one.operation == "cross bore")
    ((wide,),) = (re.findall(r"a block ([\d.]+) mm or more wide", line) for line in across.does)
    legs = table.profile.legs
    assert float(wide) > (legs.section - min(legs.tenon[:2])) / 2 + 15


def test_a_bead_s_bit_has_a_bearing_and_no_depth() -> None:
    """No bit for a bead cuts as deep as a leg is thick."""
    assert SIZED["corner bead bit"] == "{across}, with a bearing"


def test_the_trial_of_a_leg_that_is_bolted_has_both_its_joints() -> None:
    """The top's mortise is shallower and wider than the base's, and its tenon shorter."""
    table, _ = planned()
    trial = jig("TEST-TENON")
    mortises = {part.code: part.cuts("mortise")[0] for part in trial.parts if part.cuts("mortise")}
    for test, kind in (("TEST-MORTISE", "rail"), ("TEST-MORTISE-BASE", "base-rail")):
        own = next(part for part in table.parts if part.kind == kind).cuts("mortise")[0]
        assert mortises[test].depth == pytest.approx(own.depth)
        assert mortises[test].outline.bounds.height == pytest.approx(own.outline.bounds.height)
    assert any(line.startswith("The long tenon is for TEST-MORTISE-BASE") for line in trial.use)


def test_sticks_are_named_by_their_rails_and_tell_bolts_from_drains() -> None:
    """Two sticks for the top's rails would else have one name; nothing drains through the top."""
    sticks = [one for one in planned()[1].jigs.jigs if one.code.startswith("STICK")]
    names = [part.name for one in sticks for part in one.parts]
    assert len(set(names)) == len(names) and any("RAIL-LOW" in name for name in names)
    rails = [one for one in sticks if one.serves[0].startswith("RAIL")]
    told = [str(scribe) for one in rails for scribe in one.scribes]
    assert any("bolt hole" in text for text in told) and not any("drain" in text for text in told)


def test_an_edge_beside_a_groove_is_eased_with_its_bearing_clear_of_it() -> None:
    """The last segment stays sharp until it is scribed; its groove is cut by then."""
    last = [one for one in planned()[1].set_ups if one.operation == "chamfer" and one.codes[0].startswith("RIM")][-1]
    assert any(line.startswith("its bearing within") for line in last.does)


def test_templates_are_laid_on_lines_that_stay_in_sight() -> None:
    """A line under plate and fences can't be laid on anything: the one for rounded ends shows where the plate is
    narrower than the rail, the legs' within the window."""
    table, _ = planned()
    narrow = [
        point.x for point in jig("ROUND").parts[0].outline.points if abs(point.y) < table.profile.base.rail_width / 2
    ]
    told = next(line for line in jig("ROUND").use if line.startswith("Square a line"))
    assert f" {-min(narrow):g} mm from its end: the template's shoulders" in told
    for code in ("MORTISE-RAIL", "MORTISE-BASE"):
        template = jig(code)
        box = template.parts[0].holes[0].bounds
        told = next(line for line in template.use if line.startswith("Knife"))
        (far,) = re.findall(r"([\d.]+) mm from the rail's", told)
        assert box.left < float(far) < box.right and "down the window's sides" in told
        starts = [one.edge.start for one in template.scribes if one.words == "leg's middle"]
        assert any(abs(one.x - float(far)) < 1e-6 and abs(one.y - box.top) < 1e-6 for one in starts)


def test_pads_are_rounded_with_the_bit_right_through_them() -> None:
    """The template lies between base and pad: its thickness counts, too."""
    table, _ = planned()
    told = [line for line in jig("ROUND").use if "FOOT the bit stands" in line]
    thick = table.part("FOOT").thickness + table.profile.jigs.thickness
    assert told and f"{thick:.0f} mm below the base" in told[0]

"""The order of the plan: what would meet wood that is gone already, or spoil what is done, comes first."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import cos

import pytest
from manifold3d import Manifold

from templategen.checks.tools import stopped_ends
from templategen.drawing.drawing import Words
from templategen.drawing.set_up_picture import set_up_pictures
from templategen.errors import DesignError
from templategen.fit.plan import plan_assembly
from templategen.fit.solid import part_solid
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table, build_table
from templategen.units import length_words, parse_length
from templategen.work.plan import WorkPlan, work_plan
from tests.proof.shops import profile_in_a_shop
from tests.table.made import table_of

EASED = ("round-over", "chamfer", "bead")

JOINTS = ("groove", "shoulder", "rebate", "nib", "lap")

BY_HAND = {
    "shop.machines": (),
    "shop.hand_tools": ("marking knife", "jointer plane", "block plane", "shoulder plane", "router plane",
                        "tenon saw", "rip saw", "bow saw", "spokeshave", "plough plane", "brace", "chisels"),
}  # fmt: skip

TABLES = ("towpath-dining", "towpath-side", "towpath-hex", "towpath-inch", "by hand", 3, 11)


@cache
def made(which: str | int) -> tuple[Table, WorkPlan]:
    """A shipped table, one without machines, or one of chance in a shop of chance, with its plan."""
    if isinstance(which, int):
        table = _of_chance(which)
    else:
        table = table_of(BY_HAND) if which == "by hand" else table_of(name=which)
    return table, work_plan(table, plan_assembly(table))


def _of_chance(seed: int) -> Table:
    """The first table from a seed on that can be built."""
    while True:
        try:
            return build_table(profile_in_a_shop(seed, stocked=False))
        except DesignError:
            seed += 1


def on(plan: WorkPlan, code: str) -> Iterator[SetUp]:
    """The set-ups that a part passes through, in order."""
    return (one for one in plan.set_ups if code in one.codes)


@pytest.mark.parametrize("which", TABLES)
def test_edges_are_eased_while_they_are_whole(which: str | int) -> None:
    """A bearing meets neither groove nor tenon where the joints that follow go as deep as the edge: rails, segments
    and legs have their long arrises eased before anything is cut there."""
    table, plan = made(which)
    seen = 0
    for part in table.parts:
        if part.kind not in ("rail", "rim-segment", "leg"):
            continue
        found = list(on(plan, part.code))
        shallow = min((cut.depth for kind in ("tenon", "lap") for cut in part.cuts(kind)), default=99.0)
        for place, one in enumerate(found):
            if one.operation in EASED and max(setting.figure.value for setting in one.settings) <= shallow:
                assert not {before.operation for before in found[:place]}.intersection(JOINTS), (
                    part.code,
                    one.number,
                )
                seen += 1
    assert seen or not any(cut.kind in EASED for part in table.parts for cut in part.features)


@pytest.mark.parametrize("which", TABLES)
def test_slats_are_eased_before_an_end_is_sawn(which: str | int) -> None:
    """No bearing runs round a point, and no end breaks out under the bit, where a slat is as wide as its strip."""
    table, plan = made(which)
    for part in (part for part in table.parts if part.kind == "slat"):
        done = [one.operation for one in on(plan, part.code)]
        if (part.body or part.outline).bounds.height == pytest.approx(part.outline.bounds.height):
            sawn = min(done.index(name) for name in ("crosscut", "mitre") if name in done)
            assert set(EASED).isdisjoint(done[sawn:]), (part.code, done)


def test_a_relieved_rails_bearing_runs_on_the_reliefs_floor_and_nowhere_else() -> None:
    """Words and picture agree: the router stands on the edge, the bearing on the floor."""
    table, plan = made("towpath-hex")
    (one,) = [one for one in plan.set_ups if one.relieved]
    told = " ".join((one.kerf_side, *one.does, *(setting.says for cut in one.cuts for setting in cut.settings)))
    assert "runs on the relief's floor" in told and "runs on the edge" not in told
    assert "the router's base on the one told" in told
    (picture,) = set_up_pictures(one, (), {part.code: part for part in table.parts}, lambda setting: setting.name)
    marks = picture.drawing.marks
    (base,) = [words for words in marks if isinstance(words, Words) and words.text == "base"]
    (edge,) = [words for words in marks if isinstance(words, Words) and words.text == "lower edge"]
    (face,) = [words for words in marks if isinstance(words, Words) and words.text == "underside"]
    assert base.at.y > edge.at.y and face.at.x > edge.at.x  # it lies on the edge; the bearing is at the underside
    assert any(isinstance(words, Words) and words.text == "on the relief's floor" for words in marks)


@pytest.mark.parametrize("which", TABLES)
def test_laps_are_the_last_that_is_cut_into_a_rail(which: str | int) -> None:
    """No machine takes a rail by its neck: once a lap is cut nothing else is before it is together but a relief, for
    which the rail lies as it did, and the edges on its floor."""
    table, plan = made(which)
    for part in table.parts:
        if not part.cuts("lap"):
            continue
        done = [one.operation for one in on(plan, part.code)]
        last = ["lap", "relief", *EASED] if part.cuts("relief") else ["lap"]
        assert "lap" in done and set(done[done.index("lap") :]) <= set(last), (part.code, done)
        assert sorted(done[done.index("lap") :], key=last.index) == done[done.index("lap") :]


@pytest.mark.parametrize("which", TABLES)
def test_nothing_is_gauged_from_a_face_that_is_gone(which: str | int) -> None:
    """A gauge and a router stand on the face that is cut: where a relief had taken it away a lap would go as much
    too deep, and the rail would lie hollow on a sled."""
    table, plan = made(which)
    for part in table.parts:
        lowered: set[str] = set()
        for one in on(plan, part.code):
            worked = {lay.worked for cut in one.cuts for lay in cut.lays if lay.code == part.code}
            if one.operation not in ("relief", *EASED):
                assert not lowered & worked, (part.code, one.number, one.operation)
            lowered |= worked if one.operation == "relief" else set()
        assert bool(lowered) == bool(part.cuts("relief"))


@pytest.mark.parametrize("which", TABLES)
def test_a_neck_is_told_as_thin_as_it_is_by_then(which: str | int) -> None:
    """What stays of a rail after each cut is measured in solids with all that is cut by then."""
    table, plan = made(which)
    for part in table.parts:
        if not part.cuts("lap"):
            continue
        cut: list[Feature] = []
        for one in on(plan, part.code):
            if one.operation not in ("lap", "relief"):
                continue
            here = [lay.worked for each in one.cuts for lay in each.lays if lay.code == part.code]
            cut += [
                new for new in part.cuts(one.operation)
                if new.face in here and new.depth <= one.value("height") + 1e-6 and new not in cut
            ]  # fmt: skip
            left = neck(part, cut)
            told = [words for words in one.warnings if "stay in the middle" in words and part.code in words]
            assert bool(told) == (left < 0.45 * part.thickness), (part.code, one.number, left)
            figures = [parse_length(re.findall("only (.*?) stay", words)[0]) for words in told]
            assert figures == pytest.approx([left] * len(told), abs=0.06), (told, left)
        assert left >= 0.45 * part.thickness or table.sizes.rails == 3 or part.cuts("relief")


def neck(part: Part, cut: list[Feature]) -> float:
    """The thickness of a part's solid in its middle, with so much cut into it."""
    solid = part_solid(replace(part, features=tuple(cut), holes=()))
    box = part.outline.bounds
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    core = Manifold.cube((0.2, 0.2, 4 * part.thickness), True).translate((x, y, 0))
    return float((solid ^ core).volume()) / 0.04


@pytest.mark.parametrize("which", TABLES)
def test_a_sawn_edge_is_fair_before_anything_runs_on_it(which: str | int) -> None:
    """A bearing or a guide's fence copies what a bandsaw leaves."""
    rounds = [one for one in made(which)[1].set_ups if one.operation == "saw round" and "bandsaw" in one.needs]
    assert all(any("sand the sawn edge fair" in words for words in one.does) for one in rounds)


def test_the_rounding_template_takes_two_bits() -> None:
    """A bit in a bush has no bearing: what it doesn't reach is left to a second one, and there is no window."""
    jigs = {jig.code: jig for jig in made("towpath-dining")[1].jigs.jigs}
    told = jigs["ROUND"]
    assert any("a second bit, a flush bit" in words and "33 mm" in words for words in told.use)
    assert not any("window" in words for words in (*told.use, *told.cautions))
    corner = jigs["LEG-CORNER"].use
    assert any("from end to end of the whole blank" in words for words in corner)


def told(plan: WorkPlan, does: str) -> str:
    """All that is said of the first operation of that name."""
    one = next(one.operation for one in plan.operations if one.operation.does == does)
    return " ".join((*map(str, one.tells), one.measure))


FACES_OF = {
    "half-lap": "floor", "three-way-lap": "floor", "rail-tenon": "rails' tenons",
    "leg-tenon": "walls of their mortises",
    "mitre": "mitres", "spline": "slots of splines", "foot": "seats under the ground cross",
}  # fmt: skip


@pytest.mark.parametrize("which", TABLES)
def test_whatever_is_glued_is_masked(which: str | int) -> None:
    """The first finish leaves bare what any joint of the table is glued with, and nothing of what stays dry; of the
    grooves that it floods the stretch where a rail's tenon is glued in, as wide as that is."""
    table, plan = made(which)
    said = told(plan, "first finish")
    kinds = {joint.kind: joint.traits.glued for joint in table.joints}
    assert {kind for kind, glued in kinds.items() if glued} <= set(FACES_OF)
    for kind, words in FACES_OF.items():
        assert (words in said) == bool(kinds.get(kind)) or kind in ("half-lap", "three-way-lap"), kind
    entered = {code for joint in table.joints if joint.kind == "rail-tenon" for code in joint.parts} & {
        part.code for part in table.parts if part.cuts("groove") and part.kind == "rim-segment"
    }
    assert all(code in said for code in entered)
    if which == "towpath-dining":
        assert "the middle of each groove: RIM-A 56 mm" in said


@pytest.mark.parametrize("which", TABLES)
def test_letters_outlive_the_sanding(which: str | int) -> None:
    """Nothing is sanded between the letters of the dry fit and the glue; S and codes stand where no paper comes."""
    plan = made(which)[1]
    does = [one.operation.does for one in plan.operations]
    glued = next(place for place, one in enumerate(plan.operations) if one.operation.step)
    assert does.index("sand") < does.index("dry fit") < does.index("first finish") < glued
    assert "sand" not in does[does.index("dry fit") : glued]
    assert "code on a tongue" in told(plan, "sand") and "keep off joint faces and tongues" in told(plan, "sand")
    slots = [one for one in plan.set_ups if one.operation == "pin slot"]
    assert all(any("S on that tongue" in words for words in one.does) for one in slots if one.does)


@pytest.mark.parametrize("which", TABLES)
def test_slats_stand_off_as_they_are_drawn(which: str | int) -> None:
    """No step asks a slat's shoulder home at a rail that it stands off by design; pinned, it stands so, too."""
    table, plan = made(which)
    free = table.sizes.clearances.shoulder
    steps = [one.operation for one in plan.operations if one.operation.step]
    slats = [one for one in steps if one.step and {table.part(code).kind for code in one.step.adds} == {"slat"}]
    assert slats
    if free > 0.05:
        assert all("off its rail" in one.measure and "home" not in one.measure for one in slats)
        assert "off the rails at each shoulder" in told(plan, "dry fit")
        pinned = [one.operation for one in plan.operations if one.operation.does == "bore and pin"]
        assert all(any("off every rail" in words for words in one.tells) for one in pinned)


def test_what_is_masked_in_a_groove_is_no_longer_than_it() -> None:
    """Where rails are told apart by their tenons, each groove keeps its own."""
    table, plan = made("towpath-inch")
    tells = (str(line) for one in plan.operations for line in one.operation.tells)
    lines = " ".join(line for line in tells if "middle of each groove" in line)
    wide = table.part("RIM-C").cuts("groove")[0].outline.bounds.width
    size = re.search(r"RIM-C ([\d/-]+) in", lines)
    assert size and parse_length(f"{size[1]} in") <= wide + 1e-6


def test_the_last_trial_is_read_off_a_rule() -> None:
    """Nothing is told to a thousandth that a rule measures."""
    _, plan = made("towpath-inch")
    tried = next(one.operation for one in plan.operations if one.operation.does == "try the table")
    assert "rule" in tried.way and re.search(r"sinks by about \d+/\d+ in", str(tried.measure))


def test_splines_go_in_as_far_as_they_are_drawn() -> None:
    """The spline's outer end is level with the ring's outer corner: that is the inset by which it is sawn round."""
    table, plan = made("towpath-dining")
    corner = (table.sizes.outer_apothem - table.sizes.inner_apothem) / cos(table.sizes.mitre)
    sawn = next(one for one in plan.set_ups if one.operation == "saw round")
    (inset,) = [sawn.value("inset", cut) for cut in sawn.cuts if "SPLINE" in cut.codes]
    assert inset + table.part("SPLINE").blank.bounds.height == pytest.approx(corner, abs=1e-6)
    glued = told(plan, "add SPLINE")
    assert "outer end level with the ring's corner" in glued
    assert f"before glue, it begins {length_words(inset, 'mm')} from the inner corner" in glued


def test_stopped_ends_are_counted_on_every_piece() -> None:
    """Six segments with two, three rails with four, twelve with one at each mitre; squaring them takes time."""
    table, plan = made("towpath-dining")
    assert stopped_ends(table) == 6 * 2 + 3 * 4 + 12 * 2
    slots = next(one.operation for one in plan.operations if one.operation.does == "spline slot")
    assert slots.minutes >= table.profile.rates.set_up + 2 * 24 * table.profile.rates.cut


def test_proofs_ask_what_the_joints_allow() -> None:
    """Play by design is told as it is drawn, on jigs and at the saw; no width is asked more than it needs."""
    plan = made("towpath-dining")[1]
    jigs = {jig.code: " ".join((*jig.use, *jig.proof)) for jig in plan.jigs.jigs}
    assert "1.32 mm of play" in jigs["TEST-LAP"] and "without light" not in jigs["TEST-LAP"]
    assert jigs["STOPS"].count("1.32 mm of play") == 2 and "hand pressure" not in jigs["STOPS"]
    assert "0.1 mm of play across the rail, 0.72 mm along it" in jigs["TEST-TENON"]
    for one in plan.set_ups:
        widths = [check for check in one.proof.checks if one.operation in ("rip", "lap") and "width" in check.measure]
        assert all(check.tolerance.figure.value >= 0.1 for check in widths), one.number
    close = table_of({"joints.lap_clearance": 0.2})
    laps = (one for one in work_plan(close, plan_assembly(close)).set_ups if one.operation == "lap")
    assert all(one.proof.checks[0].tolerance.figure.value <= 0.1 for one in laps)


def test_cauls_board_and_pivot_name_their_pieces() -> None:
    """How many cauls are glued of how many layers and what they lie on, what the board's stop lines are for, what the
    pin is made of and where the plug sits."""
    jigs = {jig.code: " ".join(jig.use) for jig in made("towpath-dining")[1].jigs.jigs}
    assert "Glue 2 together for each of the 12 cauls" in jigs["CAUL"] and "packing of 7 mm" in jigs["CAUL"]
    assert "stop lines are for the wedges' stops" in jigs["ASSEMBLY"] and "screws" not in jigs["ASSEMBLY"]
    assert "steel rod of 6 mm" in jigs["PIVOT"] and "lowest rail's hole" in jigs["PIVOT"]


@pytest.mark.parametrize("which", TABLES)
def test_glue_hardens_overnight_before_anything_pulls_at_it(which: str | int) -> None:
    """No plane, no saw and no load on a joint that is only just out of its clamps."""
    _, plan = made(which)
    pulls = ("level the joints", "trim the half rings", "try the table")
    for before, one in pairwise(plan.operations):
        if one.operation.does in pulls and before.operation.step and not before.operation.step.dry:
            assert before.operation.wait >= 12 and one.day > before.day, (before.number, one.operation.does)
            assert any("overnight" in words for words in before.operation.tells)
    assert [one.operation.does for one in plan.operations].count("level the joints") == 1


@pytest.mark.parametrize("which", TABLES)
def test_the_top_is_held_down_where_no_clamp_reaches(which: str | int) -> None:
    """Under a closed top no clamp comes to a rail from the rim: weights lie over the legs, as many as there are, and
    what is measured is what that step closes."""
    table, plan = made(which)
    down = next(one.operation for one in plan.operations if one.operation.does == "let the top down on the legs")
    assert down.step is not None and down.step.hold.clamps == 0 and "clamp" not in down.way
    if not down.step.dry:
        assert down.step.hold.weights == table.sizes.arms and "sandbags of" in down.way
        assert any("of sand over each" in str(words) for words in down.tells)
        (bag,) = re.findall(r"sandbags of ([0-9]+) kg", down.way) or [""]
        tried = next(one.operation for one in plan.operations if one.operation.does == "try the table")
        assert not bag or f"sandbags, {int(bag) * table.sizes.arms // 2} kg and as much again" in tried.way
        assert down.measure == "shoulders closed all round under every rail"

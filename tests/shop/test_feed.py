"""Pieces fed over a cutter: which end goes first, at which block they are let down, and at which they stop."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians

import pytest
from shapely import Point

from templategen.catalogue import figured, read_as
from templategen.drawing.drawing import Shape, Words
from templategen.drawing.machine_marks import WASTE
from templategen.drawing.set_up_picture import set_up_pictures
from templategen.fit.plan import plan_assembly
from templategen.packet.shipped import shipped_names
from templategen.parts.part import Part
from templategen.shop.set_ups.feed import FED, ON_THE_PIECE, OVER_THE_CUTTER, is_closed
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import Cut, Lay, SetUp
from templategen.shop.set_ups.tolerances import AT_THE_FENCE, FROM_EITHER
from templategen.shop.set_ups.words import lies, number
from templategen.units import length_by_rule
from templategen.work.plan import work_plan
from templategen.work.tools import tools_of
from tests.proof.followed import Record, alone, faults, without_steps, written
from tests.table.made import table_of

NEAR = 0.01


def fed(set_up: SetUp) -> bool:
    """Whether pieces go over its cutter."""
    return set_up.operation in FED and set_up.way == "machine"


def from_the_rear(part: Part, lay: Lay) -> list[tuple[float, float]]:
    """Each groove of the worked edge from the end that lies behind: its far and its near end. The maker sees the face
    that isn't at the fence, and the worked edge lies down."""
    long, low, sees_top = part.blank.bounds.width, lay.worked == "low", lay.against == "bottom"
    rear, leftmost = "right" if sees_top is low else "left", "left" if low else "right"  # seen from outside
    found = []
    for groove in part.cuts("groove"):
        face, box = part.face(groove.face).outline.bounds, groove.outline.bounds
        past = (long - face.width) / 2 - face.left
        ends = [past + box.left, past + box.right]
        if groove.face == f"edge-{1 if low else 2}":
            near, far = sorted(at if rear == leftmost else long - at for at in ends)
            found.append((far, near))
    return found


def blocks(set_up: SetUp, cut: Cut) -> dict[str, float]:
    """The blocks of a cut by name."""
    return {name: set_up.value(name, cut) for name in ("rear", "front") if set_up.setting(name, cut)}


@pytest.mark.parametrize("name", shipped_names())
def test_pieces_are_let_down_where_their_groove_starts_and_stop_where_it_ends(name: str) -> None:
    """A groove's far end, seen from the block behind, is where the cutter enters; its near end is left of the block
    before by the rest of the piece."""
    table = table_of(name=name)
    seen = 0
    for one in filter(fed, set_ups(table)):
        for cut in one.cuts if one.operation == "groove" else ():
            told = blocks(one, cut)
            for lay in cut.lays:
                part = table.part(lay.code)
                long = part.blank.bounds.width
                grooves = from_the_rear(part, lay)
                assert any(
                    (abs(told["rear"] - far) < NEAR if "rear" in told else True)
                    and (abs(long - told["front"] - near) < NEAR if "front" in told else True)
                    for far, near in grooves
                ), (lay, told, grooves)
                seen += bool(told)
    assert seen


@pytest.mark.parametrize("name", shipped_names())
def test_nothing_is_let_down_on_a_cutter_that_turns(name: str) -> None:
    """A groove that is open at one end is entered there, either face at the fence; one that isn't starts over a hole
    that is bored within its lines at both its ends, of which the list of tools names the bit."""
    table = table_of(name=name)
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    for one in filter(fed, plan.set_ups):
        closed = [cut for cut in one.cuts if "rear" in blocks(one, cut)]
        assert all({*blocks(one, cut)} == {"rear", "front"} for cut in closed)
        wide, deep = one.value("width"), one.value("height") + (1.0 if table.profile.units == "mm" else 25.4 / 32)
        bored = [told for told in one.does if "first bore both ends" in told]
        assert len(bored) == sum(len(cut.codes) for cut in closed)
        if closed and one.operation == "groove":
            across, depth = (figured(length_by_rule(size, table.profile.units)) for size in (wide, deep))
            assert all(f"{across} across and {depth} deep" in told for told in bored)
            assert any(tool.item == "bit" and f"{one.number}" in tool.use for tool in tools_of(table, plan))
        for part in (table.part(code) for cut in closed for code in cut.codes if one.operation == "groove"):
            (told,) = (told for told in bored if told.startswith(f"{part.code}:"))
            (groove,) = part.cuts("groove")
            face, box = part.face(groove.face).outline.bounds, groove.outline.bounds
            places = face.top - box.centre.y, box.left - face.left + wide / 2
            off, at = (figured(length_by_rule(size, table.profile.units)) for size in places)
            assert f"{off} from the face at the fence, {at}" in told and box.width > 2 * wide


@pytest.mark.parametrize("name", shipped_names())
def test_a_bit_stands_free_in_the_hole_that_it_starts_in(name: str) -> None:
    """At the rear block, where its far side is at the cut's end, and at the fence of every pass: it touches the wood
    nowhere round the squared hole, while in the round one alone it would."""
    table = table_of(name=name)
    for one in filter(fed, set_ups(table)):
        for _ in filter(is_closed, one.cuts):
            says = "chop the hole that lies over the cutter, the piece at the rear block, out to {square} square"
            read = (
                read_as(f"{says} about its middle: the bit stands free in it at every pass", told)
                for told in one.does
            )
            (found,) = filter(None, read)
            square, unit = found["square"].rsplit(" ", 1)
            side = float(sum(map(Fraction, square.split("-")))) * (25.4 if unit == "in" else 1.0)
            wide, bit = one.value("width"), one.value("cutter")
            middle = Point(wide / 2, wide / 2)  # in from the cut's end, and across it from its line at the fence
            hole = middle.buffer(side / 2, cap_style="square")
            step = one.value("step") if one.setting("step") else 0.0
            for place in range(round(one.value("passes"))):
                disc = Point(bit / 2, bit / 2 + place * step).buffer(bit / 2)
                assert hole.contains(disc.buffer(0.25)), (one.number, place)
                assert not middle.buffer(wide / 2).contains(disc.buffer(0.25))


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-inch", "towpath-side"])
def test_the_test_piece_is_fed_no_further_than_the_part(name: str) -> None:
    """From block to block a part goes as far as its own length leaves; a shorter piece of the scrap ring would go on
    until nothing presses it down."""
    table = table_of(name=name)
    (one,) = (one for one in filter(fed, set_ups(table)) if any(map(is_closed, one.cuts)))
    (cut,) = filter(is_closed, one.cuts)
    between = one.value("rear", cut) + one.value("front", cut) - one.value("cutter")
    way = min(between - table.part(code).size[0] for code in cut.codes)
    (told,) = (line for line in one.does if "scrap ring" in line)
    assert f"feed it {length_by_rule(way, table.profile.units)} at most" in told


def test_without_a_chisel_nothing_starts_in_the_wood() -> None:
    """A shop that can't square the hole cuts such grooves otherwise."""
    table = table_of({"shop.hand_tools": ("brace",)}, "towpath-side")
    assert not any(is_closed(cut) for one in filter(fed, set_ups(table)) for cut in one.cuts)


def test_an_open_end_goes_first_with_either_face_at_the_fence() -> None:
    """With the underside there the cutter stands as much further off as is left below the groove, so that it runs
    where the others do; a router in the hand goes by the top alone."""
    table = table_of(name="towpath-dining")
    (one,) = (one for one in set_ups(table) if one.operation == "groove")
    rail = table.part("RAIL-LOW")
    turned = [cut for cut in one.cuts if any(own.name == "fence" for own in cut.settings)]
    assert [{lay.against for lay in cut.lays} for cut in turned] == [{"bottom"}] and one.cuts[-1] == turned[0]
    assert one.value("fence") + one.value("width") == rail.thickness - one.value("fence", turned[0])
    by_hand = table_of({"shop.machines": ("hand router",)}, "towpath-dining")
    for other in (other for other in set_ups(by_hand) if other.operation == "groove"):
        assert {lay.against for cut in other.cuts for lay in cut.lays} == {"top"}
        assert not any(own.name == "fence" for cut in other.cuts for own in cut.settings)


def test_a_gauge_is_swung_once() -> None:
    """Of the rails in a lap's set-up all that lie one way are cut before any that lie the other."""
    for name in ("towpath-dining", "towpath-hex"):
        for one in set_ups(table_of(name=name)):
            for cut in one.cuts if one.operation == "lap" and one.way == "machine" else ():
                assert [lay.swung for lay in cut.lays] == sorted(lay.swung for lay in cut.lays), (name, one.number)


def test_what_is_open_is_entered_there() -> None:
    """No segment that stands on its mitre is let down on the bit where its slot runs out at the outer corner."""
    for name in shipped_names():
        table = table_of(name=name)
        through = table.profile.joints.spline == "through"
        for one in filter(fed, set_ups(table)):
            for cut in one.cuts if one.operation == "spline slot" else ():
                assert ("front" in blocks(one, cut)) is through, (name, one.cuts)


@pytest.fixture
def segment() -> Record:
    """The plan of a segment whose groove is stopped at both ends."""
    record = without_steps(alone(written(table_of(name="towpath-dining")), {"RIM-A", "SPLINE"}))
    assert faults(record) == []
    return record


def grooves(record: Record) -> list[Record]:
    """The cuts of grooves in a plan."""
    every = [one for one in record["plan"]["operations"] if one["operation"] == "groove"]
    return [cut for one in every for cut in one["set_up"]["cuts"]]


def test_the_bench_sees_a_piece_let_down_at_its_end(segment: Record) -> None:
    """Let down where it should stop, or at the block of the other end, the groove isn't there."""
    for cut in grooves(segment):
        (rear,) = (one for one in cut["settings"] if one["name"] == "rear")
        long = 2 * rear["value"] - 272.0
        rear["value"] = long - rear["value"]
        assert any("RIM-A" in told for told in faults(segment))


def test_the_bench_knows_front_from_rear(segment: Record) -> None:
    """Fed the other way round the figures are wrong, and so is the end at the block."""
    for cut in grooves(segment):
        for lay in cut["lays"]:
            lay["stop_at"] = "left" if lay["stop_at"] == "right" else "right"
    assert any("wrong end at its block" in told for told in faults(segment))


def test_the_bench_lets_nothing_down_on_a_disc(segment: Record) -> None:
    """A disc that turns throws what comes down on it."""
    (one,) = (one for one in segment["plan"]["operations"] if one["operation"] == "groove")
    one["set_up"]["cutter"] = "groove cutter"
    assert any("down on a disc" in told for told in faults(segment))


def test_each_pass_of_a_lap_has_its_stop() -> None:
    """From the trench's near side to where the cutter clears the far one, in equal steps, none left to the eye."""
    seen = 0
    for one in set_ups(table_of(name="towpath-dining")):
        if one.operation == "lap":
            found = (read_as("the stop pass by pass, on the side that is drawn: {stops}", told) for told in one.does)
            (stops,) = (list(map(float, told["stops"].removesuffix(" mm").split(", "))) for told in found if told)
            turned = cos(radians(one.value("angle")))
            reach = (one.value("width") - one.value("cutter")) / turned
            assert stops[0] == pytest.approx(one.value("stop", one.cuts[0]), abs=0.06)
            assert stops[-1] - stops[0] == pytest.approx(reach, abs=0.11) and len(stops) == one.value("passes")
            seen += 1
    assert seen == 4


def test_ripping_tells_the_edge_at_the_fence_and_the_blade_for_each_thickness() -> None:
    """The edge that was planed straight goes to the fence; thin stock isn't ripped by a blade set for thick."""
    table = table_of(name="towpath-dining")
    for one in set_ups(table):
        if one.operation == "rip":
            for code in one.codes:
                edge = "inner" if code.startswith("RIM") else "lower"
                (lay,) = (lay for lay in one.cuts[0].lays if lay.code == code)
                told = lies(one, lay, table.part(code).kind)
                assert told == f"the straight {edge} edge to the fence, top up; fed away from you"
            thick = {table.part(code).thickness for code in one.codes}
            assert any("the blade a tooth above each" in told for told in one.does) is (len(thick) > 1)


def test_a_short_piece_isn_t_held_between_blade_and_stop() -> None:
    """Where pieces come off a strip the strip stays in the clamp, and the block that set the length is loose."""
    table = table_of(name="towpath-dining")
    parts, ups = {part.code: part for part in table.parts}, set_ups(table)
    seen = set()
    for place, one in enumerate(ups):
        for shown in set_up_pictures(one, ups[:place], parts, number, 300.0) if one.operation == "crosscut" else ():
            words = {mark.text for mark in shown.drawing.marks if isinstance(mark, Words)}
            is_short, to_a_stop = parts[shown.code].size[0] < 300, any(lay.stop_at for lay in shown.lays)
            assert ("loose block" in words) is (is_short and to_a_stop)
            if is_short and to_a_stop:
                assert not [one for one in shown.drawing.marks if isinstance(one, Shape) and one.layer is WASTE]
                seen |= {lay.code for lay in shown.lays}
        if one.operation == "crosscut":
            assert any("a loose block at the stop is taken away" in told for told in one.cautions)
    assert seen == {"SPLINE", "FOOT"}


def test_a_stop_strip_is_for_one_angle() -> None:
    """It is named where slats are sawn to its lines at its angle, and nowhere else."""
    table = table_of(name="towpath-dining")
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    named = [one.operation.set_up for one in plan.operations if "STOP-STRIP" in one.operation.jigs]
    assert [one.value("angle") for one in named if one] == [30.0]
    ours = [jig for jig in plan.jigs.jigs if jig.code == "STOP-STRIP"]
    assert [(round(jig.angle or 0.0, 6), "SLAT-07" in jig.serves) for jig in ours] == [(30.0, True)]


@pytest.mark.parametrize("off", [-0.3, 0.3])
def test_a_groove_cut_off_either_face_lies_as_far_under_the_top(off: float) -> None:
    """Boards come thinner and thicker than told: with the underside at the fence that is set off the thickness
    measured, and one piece with both shows whether it was."""
    table, seen = table_of(name="towpath-hex"), 0
    for one in (one for one in set_ups(table) if fed(one) and one.operation == "groove"):
        turned = [cut for cut in one.cuts if any(own.name == "fence" for own in cut.settings)]
        measured = {check.measure for check in one.proof.checks if "fence" in check.of}
        assert measured == {FROM_EITHER if turned else AT_THE_FENCE}
        (top,) = [own.figure.value for own in one.settings if own.name == "fence"]
        for cut in turned:
            (told,) = [own for own in cut.settings if own.name == "fence"]
            assert told.says.endswith("measured thickness - width - the fence told for the top")
            thick = table.part(cut.lays[0].code).thickness
            assert thick - one.value("width") - top == pytest.approx(told.figure.value)
            fence = thick + off - one.value("width") - top
            assert thick + off - fence - one.value("width") == pytest.approx(top)
            seen += 1
    assert seen


def test_only_where_a_groove_stops_its_end_is_measured() -> None:
    """A groove that runs right through has none."""
    for one in (one for one in set_ups(table_of(name="towpath-hex")) if one.operation in FED):
        stopped = any(own.name in (*OVER_THE_CUTTER, *ON_THE_PIECE) for cut in one.cuts for own in cut.settings)
        told = any("stopped ends" in check.measure for check in one.proof.checks)
        assert told == stopped, (one.number, told)

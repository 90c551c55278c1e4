"""Ways of working: each operation in the first way that the shop's tools can do, whole plans by hand included."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from templategen.shop.set_ups.choose import DRIVEN_BY, NOTHING, way_findings
from templategen.shop.set_ups.remarks import CARRIED, IN_THE_MIDDLE, UNHELD
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.tolerances import FACE_TO_FACE
from templategen.shop.set_ups.ways import KNIFED_ROUND, WAYS
from templategen.shop.set_ups.words import name_of, set_of
from templategen.table.assembly import Table, build_table
from templategen.table.pins import pin_from_end
from templategen.table.profile.read import profile_from_text
from tests.proof.followed import alone, faults, without_steps, written
from tests.proof.shops import profile_in_a_shop
from tests.table.made import table_of

SMALL = ["hand router", "mitre saw"]


def in_shop(machines: Sequence[str], changes: dict[str, Any] | None = None, **hand: Sequence[str]) -> Table:
    """A lopsided table in a shop of those machines, and of hand tools if any are told."""
    own = {"shop.hand_tools": tuple(hand["tools"])} if hand else {}
    return table_of({"shop.machines": tuple(machines), **own, **(changes or {})})


def machine_of(table: Table, operation: str) -> set[str]:
    """What the set-ups of an operation are done with."""
    return {one.machine for one in set_ups(table) if one.operation == operation}


def test_a_small_shop_has_a_whole_plan() -> None:
    """A hand router, a mitre saw and hand tools: nothing is left to a machine that isn't there, the parts that come
    of the figures are the table's, and each way that isn't usual says how it is worked."""
    table = in_shop(SMALL)
    made = set_ups(table)
    missing = (
        "planer",
        "table saw",
        "bandsaw",
        "router table",
        "mortiser",
        "drill press",
        "groove cutter",
    )
    for one in made:
        assert not any(name in one.machine or name in one.cutter for name in missing), one
        usual = WAYS[one.operation][0].kind
        assert one.does or one.way in (usual, "by hand") or one.operation in ("crosscut", "mitre"), one
    assert list(way_findings(table, set_ups)) == []
    assert faults(written(table)) == []
    assert machine_of(table, "crosscut") == {"mitre saw"}
    assert machine_of(table, "saw round") == {"hand router on a trammel"}


@pytest.mark.wide
def test_hand_tools_alone_do() -> None:
    """No machine at all: every set-up is by hand, its caution that of hand tools, the parts still the table's."""
    table = in_shop([])
    made = set_ups(table)
    assert {one.way for one in made} == {"by hand"}
    assert all("guard on" not in words for one in made for words in one.cautions if words.startswith("Ripping"))
    assert faults(written(table)) == []
    assert list(way_findings(table, set_ups)) == []


@pytest.mark.parametrize(
    ("machines", "operation", "told"),
    [(["table saw"], "mitre", "table saw with a mitre gauge"),
     (["bandsaw"], "rip", "bandsaw with a fence, then a jointer plane"),
     (["router table"], "groove", "router table"), (["mortiser"], "mortise", "mortiser with a hollow chisel"),
     (["circular saw"], "rip", "circular saw along a guide, then a jointer plane"),
     (["drill"], "bore", "drill with a hole saw")],
)  # fmt: skip
def test_the_first_way_with_all_its_tools_is_taken(machines: Sequence[str], operation: str, told: str) -> None:
    """One machine more than none, and just its operation goes by it."""
    assert machine_of(in_shop(machines), operation) == {told}


def test_a_piece_that_is_too_large_goes_another_way() -> None:
    """A mitre saw that is too narrow for the rim leaves that to the table saw; a saw too low, to hands."""
    narrow = {"shop.mitre_saw": (90.0, 100.0)}
    assert machine_of(in_shop(["mitre saw", "table saw"], narrow), "mitre") == {
        "mitre saw",
        "table saw with a mitre gauge",
    }
    low = {"shop.saw_depth": 30.0}
    assert machine_of(in_shop(["table saw"], low), "rip") == {"table saw", "rip saw, then a jointer plane"}


def test_a_slat_that_no_clamp_holds_at_the_fence_is_rebated_by_hand() -> None:
    """Too short for the sled's blocks: told why, with tools that the shop has and no word of a cutter; the others go
    to the machine. Where no machine has a fence for them all go to the router in the hand, and none by hand."""
    table = build_table(profile_in_a_shop(7, stocked=False))
    short, others = (one for one in set_ups(table) if one.operation == "rebate" and "SLAT" in one.codes[0])
    assert short.codes == ("SLAT-01",) and short.way == "by hand" and others.way == "machine"
    assert short.machine == "tenon saw and shoulder plane" and not short.cutter and short.warnings == (UNHELD,)
    assert list(way_findings(table, set_ups)) == []
    assert faults(without_steps(alone(written(table), {"SLAT-01"}))) == []
    rebates = [one for one in set_ups(build_table(profile_in_a_shop(0, stocked=False))) if one.operation == "rebate"]
    assert {one.way for one in rebates if "SLAT" in one.codes[0]} == {"hand-held"}


def test_a_slot_is_told_where_it_is_drawn_though_its_pin_stands_near_the_end() -> None:
    """A wide eased edge drives pins out of the tongue's middle, and their slots' bores with them."""
    table = table_of({"edges.rim": 4.0})
    assert pin_from_end(table.sizes) < table.sizes.tongue_length / 2 - 0.1
    bored = [(one, cut) for one in set_ups(table) if one.operation == "pin slot" for cut in one.cuts]
    assert bored
    for one, cut in bored:
        for part in map(table.part, cut.codes):
            (slot,) = part.cuts("pin-slot")
            inner = slot.outline.bounds.left + one.value("width") / 2
            assert part.blank.bounds.right - inner == pytest.approx(one.value("stop", cut), abs=1e-6), part.code


def test_no_long_segment_is_stood_on_its_mitre() -> None:
    """One whose weight lies beyond the mitre goes to a router that is moved over it; where there is but a router
    table it is clamped to a carriage. A short one stands by itself."""
    long = {"shop.machines": ("router table", "hand router", "mitre saw")}
    (slot,) = (one for one in set_ups(table_of(long, name="towpath-hex")) if one.operation == "spline slot")
    assert slot.way == "hand-held" and CARRIED not in slot.warnings
    bare = {"shop.machines": ("router table", "mitre saw"), "shop.hand_tools": ("brace", "chisels")}
    (slot,) = (one for one in set_ups(table_of(bare, name="towpath-hex")) if one.operation == "spline slot")
    assert (
        slot.way == "machine"
        and CARRIED in slot.warnings
        and any("first bore both ends" in told for told in slot.does)
    )
    short = set_ups(table_of(name="towpath-side"))
    assert {one.way for one in short if one.operation == "spline slot"} == {"machine"}


def test_slots_of_a_router_in_the_hand_meet_however_thick_the_wood_is() -> None:
    """Both ends of a mitre are slotted off one face by hands and by what is in them; a machine takes either face, so
    it is told to set half of what is left of the thickness measured."""
    thick = 41.7
    for shop in (("hand router", "mitre saw"), ("mitre saw",), ("router table", "mitre saw")):
        made = set_ups(table_of({"shop.machines": shop}, name="towpath-hex"))
        (slot,) = (one for one in made if one.operation == "spline slot")
        fence = next(one for one in slot.settings if one.name == "fence")
        off = (thick - slot.value("width")) / 2 if fence.says.endswith(IN_THE_MIDDLE) else fence.figure.value
        tops = {
            off if lay.against == "top" else thick - off - slot.value("width")
            for cut in slot.cuts for lay in cut.lays
        }  # fmt: skip
        assert max(tops) - min(tops) < 1e-9, slot.machine
        assert any(one.measure == FACE_TO_FACE for one in slot.proof.checks) == (slot.way == "machine")


def test_a_router_in_the_hand_is_set_in_its_own_words() -> None:
    """Nothing is raised over a table and no fence stands on one; it goes the way in which the bit draws the guide to
    the wood."""
    made = set_ups(table_of({"shop.machines": ("hand router", "mitre saw")}, name="towpath-hex"))
    led = [one for one in made if one.machine == "hand router with an edge guide" and one.operation != "drip groove"]
    assert {one.operation for one in led} == {"groove", "spline slot"}
    for one in led:
        told = [says for cut in one.cuts for says in (*one.settings, *cut.settings)]
        words = " ".join((one.kerf_side, *(setting.says for setting in told)))
        assert not any(wrong in words for wrong in ("fence", "raised", "lies on", "height", "stop at")), words
        assert {name_of(one, setting) for setting in told}.isdisjoint(("fence", "height"))
        assert any("left to right" in line for line in one.does)


@pytest.mark.wide
def test_a_wish_comes_first() -> None:
    """`[work]` picks a way by name; one that the shop can't do is told, and the plan goes on in another."""
    by_hand = table_of({"work.laps": "by hand", "work.rounding": "hand-held"})
    assert machine_of(by_hand, "lap") == {"tenon saw, chisel, router plane"}
    assert machine_of(by_hand, "saw round") == {"hand router on a trammel"}
    assert faults(written(by_hand)) == []
    cannot = in_shop(SMALL, {"work.mortises": "machine"})
    (told,) = way_findings(cannot, set_ups)
    assert (told.level, told.where) == ("caution", "work.mortises") and "hand router in a template" in told.says


def test_what_nothing_does_is_a_stop() -> None:
    """Without rip saw and long planes much can't be done, a lap too deep for the bit among it: each such operation
    once, with the tools that would do it."""
    bare = in_shop(["hand router"], tools=["chisels", "marking knife", "tenon saw", "block plane"])
    found = {finding.says.split(" of ")[0]: finding for finding in way_findings(bare, set_ups)}
    assert set(found) == {"plane", "rip", "lap", "bore", "drain"} and all(
        one.level == "stop" for one in found.values()
    )
    assert "table saw" in found["rip"].why and "rip saw and jointer plane and marking knife" in found["rip"].why
    assert {one.operation for one in set_ups(bare) if one.machine == NOTHING} == set(found)


def drives(one: SetUp) -> bool:
    """Whether what a set-up is done with drives the cutter that it names."""
    owners = DRIVEN_BY[one.cutter]
    return any(name in one.machine for name in owners)


def test_cutters_have_something_that_drives_them() -> None:
    """Whatever is missing of router, router table and groove cutter."""
    for machines in (["router table"], ["groove cutter", "hand router"], ["groove cutter", "router table"]):
        made = [one for one in set_ups(in_shop(machines)) if one.cutter in DRIVEN_BY and one.operation != "saw round"]
        assert made and all(map(drives, made)), machines


def test_every_operation_can_be_done_by_hand() -> None:
    """Hand ways are whole ways: each operation has one, and every way names one machine or the hand tools, never a
    choice of two."""
    for operation, ways in WAYS.items():
        assert any(way.kind == "by hand" for way in ways), operation
        assert all(way.machine and way.needs and " or " not in way.machine for way in ways), operation


def test_unknown_tools_are_refused() -> None:
    """With what was found and what would do, all at once; a list is wanted."""
    for text, words in (('machines = ["hand rooter"]', "did you mean"), ('machines = "drill"', "write a list")):
        with pytest.raises(Exception, match=words):
            profile_from_text(f"format = 1\n[shop]\n{text}\n", "x")


EASED = ("chamfer", "round-over", "bead")


def eased(table: Table) -> dict[bool, set[str]]:
    """The slats whose edges are eased on their strips, and singly."""
    found: dict[bool, set[str]] = {True: set(), False: set()}
    for one in set_ups(table):
        if one.operation in EASED:
            found[one.in_strip] |= {code for code in one.codes if code.startswith("SLAT")}
    return found


def test_slats_are_eased_before_an_end_is_sawn() -> None:
    """On the strip as it is ripped, so that no bearing runs round a point; where the edge reaches below the tongue's
    shoulder no strip is eased, since the bevel would show beside the tongue."""
    table = table_of()
    slats = {one.code for one in table.parts if one.kind == "slat"}
    assert slats and eased(table) == {True: slats, False: set()}
    order = [(one.in_strip, one.operation) for one in set_ups(table)]
    last = max(at for at, (strip, _) in enumerate(order) if strip)
    assert last < min(at for at, (_, operation) in enumerate(order) if operation in ("crosscut", "mitre"))
    deep = table_of({"slats.chamfer": 5.0, "joints.tongue": 14.0, "edges.slat": 0.0})
    assert eased(deep)[True] == set()


def test_by_hand_nothing_is_told_of_bits() -> None:
    """No round end, ramp or corner that a cutter would leave, where a chisel cuts."""
    for one in set_ups(in_shop(())):
        assert one.way == "by hand" and not any(word in " ".join(one.warnings) for word in ("bit", "cutter leaves"))


def test_a_saw_in_the_hand_goes_along_a_line() -> None:
    """Neither fence nor stop: the finished length is knifed on the wood, sawn outside it and planed to; pieces too
    short for a guide go to the tenon saw, whatever their angle. What is planed is on a shooting board."""
    table = table_of({"shop.machines": ("planer", "circular saw", "hand router", "drill")}, "towpath-side")
    made = [one for one in set_ups(table) if one.operation in ("crosscut", "mitre")]
    short = {part.code for part in table.parts if part.size[0] < table.profile.shop.holding}
    assert {one.way for one in made} == {"hand-held", "by hand"}
    for one in made:
        assert "shooting board" in one.machine and "jointer plane" in one.needs and KNIFED_ROUND in one.does
        assert not one.kerf_side and not {name_of(one, setting) for setting in set_of(one)} & {"gauge", "stop"}
        says = " ".join(setting.says for cut in one.cuts for setting in cut.settings)
        assert not any(word in says for word in ("fence", "stop", "blade")), says
        assert short.isdisjoint(one.codes) if one.way == "hand-held" else short.issuperset(one.codes)
    assert faults(written(table)) == []

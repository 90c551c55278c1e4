"""The jigs of a written packet are those that its plan of work names, no more and no fewer, wherever they stand."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from inspect import getmembers, isfunction, signature
from io import StringIO
from pkgutil import iter_modules
from typing import Any

import pytest

import templategen.jigs
from templategen.fit.plan import plan_assembly
from templategen.jigs.angle_gauge import bevel_gauge, slat_gauge
from templategen.jigs.jig import Jig
from templategen.jigs.mitre_gauge import mitre_gauge
from templategen.packet.shipped import shipped_text
from templategen.packet.stages import WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.table.profile.choices import Machine
from templategen.table.profile.read import profile_from_text
from templategen.work.jigs import BY
from templategen.work.plan import work_plan
from tests.shipped_packets import packet_files
from tests.table.made import table_of

SHIPPED = ("towpath-dining", "towpath-side", "towpath-inch", "towpath-hex")


def rows(files: Mapping[str, bytes], path: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(files[path].decode())))


def words_of(value: Any) -> str:
    return value if isinstance(value, str) else " ".join(map(words_of, value))


def told(operations: Sequence[tuple[Any, Sequence[str]]], jigs: Sequence[Any], codes: Sequence[str]) -> None:
    """Whatever means a jig by its word names it, in an operation and on the sheet of another jig."""
    for words, named in operations:
        assert {code for code in TOLD if re.search(rf"\b{TOLD[code]}\b", words_of(words))} <= {*map(root, named)}, (
            words
        )
    for words in jigs:
        assert {code for code in TOLD if code in words_of(words)} <= {*map(root, codes)}, words


def made_first(codes: Sequence[str]) -> list[str]:
    """Jigs of sheet; test pieces and packing come off their strips as their set-ups are made."""
    return [code for code in codes if not code.startswith(("TEST-", "PACK-"))]


def planned(machines: Sequence[Machine], **changes: Any) -> set[str]:
    """The codes of the jigs that a shop's plan is worked by, held against its words."""
    table = table_of({"shop.machines": tuple(machines), **changes})
    plan = work_plan(table, plan_assembly(table))
    first, *rest = (one.operation for one in plan.operations)
    codes = [jig.code for jig in plan.jigs.jigs]
    assert first.jigs == tuple(made_first(codes)) and {code for one in rest for code in one.jigs} == set(codes)
    told(
        [([one.way, *one.tells], one.jigs) for one in rest], [[*jig.use, *jig.proof] for jig in plan.jigs.jigs], codes
    )
    return set(codes)


def check(files: Mapping[str, bytes]) -> set[str]:
    """The codes of the jigs of a packet; fails where two places of it differ."""
    record = json.loads(files["packet.json"])
    operations, jigs = record["plan"]["operations"], record["jigs"]
    codes = [jig["code"] for jig in jigs]
    assert made_first(codes) == operations[0]["jigs"] and operations[0]["operation"] == "make the jigs"
    named = {code for one in operations[1:] for code in one["jigs"]}
    assert set(codes) == named
    drawn = {path.removeprefix("jigs/").rpartition(".")[0] for path in files if path.startswith("jigs/")}
    assert drawn == set(codes)
    listed = [row["jigs"] for row in rows(files, "lists/plan.csv")]
    assert listed[:-1] == [", ".join(one["jigs"]) for one in operations]
    by_set_up = {str(one["set_up"]["number"]): ", ".join(one["jigs"]) for one in operations if "set_up" in one}
    assert {row["set_up"]: row["jigs"] for row in rows(files, "lists/set-ups.csv")} == by_set_up
    pieces = {piece["code"] for jig in jigs for piece in jig["pieces"]}
    assert {part["code"] for part in record["parts"] if part["kind"] in KINDS} == pieces
    laid = {one["code"] for sheet in record.get("stock", ()) for one in sheet["placements"]}
    assert laid <= pieces | {part["code"] for part in record["parts"]}
    told(
        [([one["way"], one["tells"]], one["jigs"]) for one in operations[1:]],
        [[jig["use"], jig["proof"]] for jig in jigs],
        codes,
    )
    return set(codes)


KINDS = ("jig", "gauge", "template", "caul", "spacer")
TOLD = {
    "PIVOT": "on a pivot",
    "TRAMMEL": "trammel",
    "SHOOTING": "shooting board",
    "CAUL": "cauls?",
    "SPACERS": "spacers?",
    "WEDGES": "wedges between",
    "ASSEMBLY": "assembly board",
    "BORE-BLOCK": "through a guide block(?! on)",
    "END-BLOCK": "guide block on the tenon",
}
"""Words of an operation that mean a jig."""


def root(code: str) -> str:
    return code if code.endswith("-BLOCK") else code.partition("-")[0]


def test_every_kind_of_jig_has_its_operations() -> None:
    """The table of uses has every public function of `jigs/` from a table to its jigs, so none is forgotten."""
    modules = [import_module(f"templategen.jigs.{one.name}") for one in iter_modules(templategen.jigs.__path__)]
    found = (function for module in modules for name, function in getmembers(module, isfunction) if name[0] != "_")
    made = {function for function in found if signature(function, eval_str=True).return_annotation == Iterator[Jig]}
    assert set(BY) == made and len(made) > 20


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side", "towpath-hex", "towpath-inch"])
def test_the_shipped_packets_have_the_jigs_that_their_plans_name(name: str) -> None:
    """With every machine a bandsaw's pivot, no trammel, no template of a hand router's, no wedges beside a band."""
    codes = check(packet_files(name))
    assert codes.isdisjoint({"TRAMMEL", "TEAR-OUT", "SLOT", "MORTISE", "WEDGES"})
    assert not any(code.startswith("GROOVE") for code in codes)
    assert {"CAUL", "ASSEMBLY", "SPACERS", "MITRE-GAUGE"} <= codes


def test_a_set_up_tells_by_what_of_its_jig_it_is_set() -> None:
    """A stop is measured where slats lie, along the strip's lined face, since the strip's slanting end makes the
    fence behind it another length; the same elsewhere is along the fence. Every height of a cutter is an opening of
    HEIGHTS, or the card names one as high as the figure less what it is raised by."""
    table = table_of()
    plan = work_plan(table, plan_assembly(table, ("stop",)), 1)
    heights = {mark.value for jig in plan.jigs.jigs if jig.code == "HEIGHTS" for mark in jig.figures}
    found, lined = [], set()
    for one in (one for one in plan.set_ups if one.way in ("auto", "machine")):
        of_all = (*one.settings, *(own for cut in one.cuts for own in cut.settings))
        strips = [code for code in one.jigs if code.startswith("STOP-STRIP")]
        for own in (own for own in of_all if own.name == "stop" and one.operation == "mitre"):
            assert own.says.startswith(f"along {strips[0]}'s lined face" if strips else "along the fence"), own.says
            lined |= set(strips)
        for own in (own for own in of_all if own.name == "height" and "HEIGHTS" in one.jigs):
            told = re.search(r"by the opening of ([\d.]+) mm of HEIGHTS, then raised by ([\d.]+) mm", own.says)
            if told:
                found.append(float(told[1]) + float(told[2]) - own.figure.value)
            assert any(abs(at - float(told[1] if told else own.figure.value)) < 0.011 for at in heights)
    assert lined and found and all(abs(off) < 0.011 for off in found)


@pytest.mark.parametrize("name", SHIPPED)
def test_every_stop_along_a_strip_has_its_line_there(name: str) -> None:
    """The strip is longer than the farthest stop of the cards that name it and no higher than what lies along it, so
    that the blade saws its end through; a card worked on SLED names none."""
    table = table_of(name=name)
    plan = work_plan(table, plan_assembly(table), 1)
    strips = {jig.code: jig for jig in plan.jigs.jigs if jig.code.startswith("STOP-STRIP")}
    named = set()
    for one in plan.set_ups:
        for strip in (strips[code] for code in one.jigs if code in strips):
            lines = [mark.edge.start.x for mark in strip.scribes if mark.kind == "scale"]
            box = strip.parts[0].outline.bounds
            named.add(strip.code)
            assert "SLED" not in one.jigs
            for cut in one.cuts:
                assert all(box.height <= table.part(code).thickness for code in cut.codes)
                if one.setting("stop", cut):
                    stop = one.value("stop", cut)
                    assert min(abs(at - stop) for at in lines) < 1e-6 and stop + 50 < box.right
    assert named == strips.keys() and (strips or name == "towpath-hex")


def test_a_shop_of_hand_tools_has_no_jig_of_a_machine() -> None:
    """Nothing that sets a cutter, turns a router or holds a stop; sticks to mark by."""
    codes = planned(())
    assert codes.isdisjoint({"PIVOT", "TRAMMEL", "HEIGHTS", "STOPS", "STOP-STRIP", "ROUND", "SLOT", "MORTISE"})
    assert "STICK-1" in codes


def test_a_hand_router_has_its_trammel_and_templates() -> None:
    """With what they stand in, nothing of the bandsaw's jig; templates for slots and stopped grooves where they are
    wished, and no others."""
    shop: tuple[Machine, ...] = ("hand router", "mitre saw")
    codes = planned(shop)
    assert {"TRAMMEL", "TEAR-OUT", "MORTISE"} <= codes and codes.isdisjoint({"PIVOT", "HEIGHTS", "STOPS", "SLOT"})
    wished = planned(shop, **{"work.slots": "template", "work.grooves": "template"})
    assert "SLOT" in wished and any(code.startswith("GROOVE") for code in wished)


@pytest.mark.wide
def test_bores_of_a_bolted_top_are_guided() -> None:
    """A drill in the hand by blocks, its end bore too where there is a drill press, for no leg stands on end under
    most; a drill press alone has neither."""
    bolted = {"legs.top_joint": "bolted"}
    assert {"BORE-BLOCK", "END-BLOCK"} <= planned(("drill",), **bolted)
    assert {"BORE-BLOCK", "END-BLOCK"} & planned(("drill press", "drill"), **bolted) == {"END-BLOCK"}
    assert planned((), **bolted).isdisjoint({"BORE-BLOCK"})


@pytest.mark.parametrize("name", SHIPPED)
def test_a_gauge_that_is_named_has_the_angle(name: str) -> None:
    """Whoever is sent to a board or a triangle finds the angle of the set-up on it."""
    worked = begun(profile_from_text(shipped_text(name), name))
    table, plan = worked[TABLE], worked[WORK]
    figures = {
        jig.code: [one.value for one in jig.figures if one.unit == "deg"]
        for build in (bevel_gauge, slat_gauge, mitre_gauge)
        for jig in build(table)
    }
    seen = 0
    for one in (planned.operation for planned in plan.operations):
        gauges = [code for code in one.jigs if code in figures]
        if not (gauges and one.set_up):
            continue
        angle = one.set_up.value("angle")
        assert any(abs(value - angle) < 0.005 for code in gauges for value in figures[code]), (angle, gauges)
        if "BEVEL" in gauges:
            assert any(abs(value - angle) < 0.005 for value in figures["BEVEL"]), (angle, one.does)
            seen += 1
    assert seen

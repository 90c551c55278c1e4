"""The jigs of a written packet are those that its plan of work names, no more and no fewer, wherever they stand."""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Mapping
from functools import cache
from io import StringIO
from typing import Any

import pytest

from templategen.jigs.run import BUILDERS
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text
from templategen.work.jigs import BY
from tests.shipped_packets import packet_files

SHOPS: Mapping[str, str] = {
    "hands": "machines = []\n",
    "hand router": 'machines = ["hand router", "mitre saw"]\n',
    "templates": 'machines = ["hand router", "planer"]\n',
}
"""Shops whose ways need other jigs than a shop with every machine."""


@cache
def files_of(name: str, shop: str = "") -> Mapping[str, bytes]:
    """A shipped packet, or one of a shop with sheet for its jigs, of jigs and lists alone."""
    if not shop:
        return packet_files(name)
    text = re.sub(r"(?m)^\[shop\]\n", f"[shop]\n{SHOPS[shop]}", shipped_text(name), count=1)
    text += '[work]\nslots = "template"\ngrooves = "template"\n' if shop == "templates" else ""
    return make_packet(profile_from_text(text, name), ("jigs", "lists")).files


def rows(files: Mapping[str, bytes], path: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(files[path].decode())))


def words_of(value: Any) -> str:
    return value if isinstance(value, str) else " ".join(map(words_of, value))


def check(files: Mapping[str, bytes]) -> set[str]:
    """The codes of the jigs of a packet; fails where two places of it differ."""
    record = json.loads(files["packet.json"])
    operations, jigs = record["plan"]["operations"], record["jigs"]
    codes = [jig["code"] for jig in jigs]
    assert codes == operations[0]["jigs"] and operations[0]["operation"] == "make the jigs"
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
    for one in operations:
        text = words_of([one["way"], one["tells"]]) if one is not operations[0] else ""
        assert {code for code in TOLD if re.search(rf"\b{TOLD[code]}\b", text)} <= {*map(root, one["jigs"])}, one
    for jig in jigs:
        for other in TOLD:
            if other in words_of([jig["use"], jig["proof"]]):
                assert other in map(root, codes), (jig["code"], other)
    return set(codes)


KINDS = ("jig", "gauge", "template", "caul", "spacer")
TOLD = {
    "PIVOT": "on a pivot",
    "TRAMMEL": "trammel",
    "CAUL": "cauls?",
    "SPACERS": "spacers?",
    "WEDGES": "wedges between",
}
"""Words of an operation that mean a jig."""


def root(code: str) -> str:
    return code.partition("-")[0]


def test_every_kind_of_jig_has_its_operations() -> None:
    """The table of uses has each builder once, so none is made for nothing and none is forgotten."""
    assert set(BY) == set(BUILDERS) and len(BUILDERS) == len(set(BUILDERS))


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side", "towpath-hex", "towpath-inch"])
def test_the_shipped_packets_have_the_jigs_that_their_plans_name(name: str) -> None:
    """With every machine a bandsaw's pivot, no trammel, no template of a hand router's, no wedges beside a band."""
    codes = check(packet_files(name))
    assert codes.isdisjoint({"TRAMMEL", "TEAR-OUT", "SLOT", "MORTISE", "WEDGES"})
    assert not any(code.startswith("GROOVE") for code in codes)
    assert {"CAUL", "BOARD", "SPACERS", "MITRE-GAUGE"} <= codes


def test_a_shop_of_hand_tools_has_no_jig_of_a_machine() -> None:
    """Nothing that sets a cutter, turns a router or holds a stop; sticks to mark by."""
    codes = check(files_of("towpath-side", "hands"))
    assert codes.isdisjoint({"PIVOT", "TRAMMEL", "HEIGHTS", "STOPS", "STOP-STRIP", "ROUND", "SLOT", "MORTISE"})
    assert "STICK-1" in codes


def test_a_hand_router_has_its_trammel_and_templates() -> None:
    """With what they stand in, nothing of the bandsaw's jig, no template that nobody wished."""
    codes = check(files_of("towpath-inch", "hand router"))
    assert {"TRAMMEL", "TEAR-OUT", "MORTISE"} <= codes and codes.isdisjoint({"PIVOT", "HEIGHTS", "STOPS", "SLOT"})


@pytest.mark.slow
def test_templates_are_made_where_they_are_wished() -> None:
    """For slots and for stopped grooves, by `[work]`."""
    wished = check(files_of("towpath-side", "templates"))
    assert "SLOT" in wished and any(code.startswith("GROOVE") for code in wished)

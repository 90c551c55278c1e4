"""What a hand may feed and a cutter can reach: cuts that the plan's own cautions and the shop's figures forbid."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.proof.bench.piece import EXACT
from templategen.proof.bench.written import Cut, Doing
from templategen.proof.read_record import Record

HELD = ("sled", "strip", "blocks")
"""Words by which a caution says what holds a short piece."""

IN_THE_RING = ("saw round", "trim", "edge round-over")
"""Work on the glued ring, which is long enough."""

WHOLE = ("face and edge", "saw flatwise", "plane", "rip")
"""Work along the grain of a whole blank or strip: a short one is never fed."""

DRIVEN = {"groove cutter": "groove_cutter", "router bit": "router_bit"}
"""Cutters of the shop, and where the plan tells their width, reach and deepest pass."""


def forbidden(doing: Doing, piece: Record, holding: float) -> Iterator[str]:
    """Why pieces of one part may not be worked so."""
    code, length = piece["code"], (piece["before"] or piece["after"])[0]
    if length >= holding - EXACT or doing.does in IN_THE_RING:
        return
    if doing.does in WHOLE:
        yield f"{code} is {length:.0f} mm long there, under the {holding:g} mm that a hand may feed"
    elif not doing.warns_of(code, *HELD):
        yield f"{code} is {length:.0f} mm long there, and no caution says what holds it"


def out_of_reach(doing: Doing, cut: Cut, shop: Record) -> Iterator[str]:
    """What the machine of a cut can't do."""
    turned = cut.figures.get("angle", 0.0) > shop["mitre_reach"] + EXACT and doing.does == "mitre"
    if turned and not any("sled" in told for told in doing.record["set_up"]["warnings"]):
        yield f"turns the saw {cut.figures['angle']:g} degrees, further than {shop['mitre_reach']:g}"
    if doing.cutter not in DRIVEN:
        return
    width, reach, once = shop[DRIVEN[doing.cutter]]
    depth = cut.value("height")
    if abs(cut.value("cutter") - width) > EXACT:
        yield f"the {doing.cutter} is {width:g} mm wide, {cut.value('cutter'):g} is told"
    if depth > reach + EXACT:
        yield f"goes {depth:g} mm deep, the {doing.cutter} reaches {reach:g}"
    if cut.figures.get("deepen", depth) > once + 1e-4:
        yield f"takes {cut.figures.get('deepen', depth):g} mm at once, the {doing.cutter} bears {once:g}"

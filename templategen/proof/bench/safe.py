"""What a hand may feed and a cutter can reach: cuts that the plan's own cautions and the shop's figures forbid."""

from collections.abc import Iterator
from math import cos, radians

from templategen.catalogue import translated, worded
from templategen.proof.bench.piece import EXACT, BenchPiece
from templategen.proof.bench.written import Cut, Doing, Lay
from templategen.proof.read_record import Record

HELD = ("sled", "blocks", "carrier", "carriage")
"""What may hold a short piece."""

TOPPLES = "{code} topples off its {worked} end, and nothing is told to carry it"

FLAT = 0.01
"""What lies this near to a sawn end stands on it, mm."""

CLEAR, JAW = 25.0, 20.0
"""From what a cutter takes to the nearest clamp, and of a clamp's jaw, mm."""

BARE = 3.0
"""What comes nearer than this to a running cutter is met, mm: the setting's own errors, and the teeth's."""

IN_THE_RING = ("saw round", "trim", "drip groove", "edge round-over")
"""Work on the glued ring."""

WHOLE = ("face and edge", "saw flatwise", "plane down", "plane", "rip")
"""Work along the grain of a whole blank or strip: a short one is never fed."""

RIGHT_THROUGH = ("plane", "rip", "crosscut", "mitre")
"""Work whose machine must take the whole piece."""

DRIVEN = {"groove cutter": "groove_cutter", "router bit": "router_bit"}
"""Cutters of the shop, and where the plan tells their width, reach and deepest pass."""


def forbidden(doing: Doing, piece: Record, holding: float) -> Iterator[str]:
    """Why pieces of one part may not be worked so."""
    code, length = piece["code"], (piece["before"] or piece["after"])[0]
    if length >= holding - EXACT or doing.record["on"] == "group":
        return
    if doing.does in WHOLE:
        yield worded(
            "{code} is {length:.0f} mm long there, under the {holding:g} mm that a hand may feed",
            code=code,
            length=length,
            holding=holding,
        )
    elif piece.get("held") not in HELD or not doing.warns_of(code):
        yield worded(
            "{code} is {length:.0f} mm long there, and it isn't told what holds it", code=code, length=length
        )


def topples(doing: Doing, piece: BenchPiece, lay: Lay) -> Iterator[str]:
    """Whether a piece that stands on its end over a cutter falls over there, and nothing is told to carry it."""
    held = next((one.get("held") for one in doing.record["pieces"] if one["code"] == lay.code), None)
    if doing.does != "spline slot" or lay.over or held == "carriage":
        return
    (x, y), (nx, ny) = piece.lines[lay.worked]
    corners = [(px - x, py - y) for px, py in piece.plan.convex_hull.exterior.coords]
    feet = [py * nx - px * ny for px, py in corners if abs(px * nx + py * ny) < FLAT]
    middle = piece.plan.centroid
    at = (middle.y - y) * nx - (middle.x - x) * ny
    if not min(feet) < at < max(feet):
        yield worded(TOPPLES, code=lay.code, worked=lay.worked)


def slips(doing: Doing, record: Record) -> Iterator[str]:
    """Rails and their test pieces whose trenches leave no room on a sled for a clamp at either end."""
    if doing.does != "lap" or doing.record.get("set_up", {}).get("way") != "machine":
        return
    tried = {
        one["code"] for jig in record.get("jigs", ()) if jig["code"] in doing.record["jigs"] for one in jig["pieces"]
    }
    worked = {one["code"] for one in doing.record["pieces"]}
    for part in (one for one in record["parts"] if one["code"] in tried | worked):
        trenches = [one for one in part["features"] if one["kind"] == "lap"]
        places = [-x if one["face"] == "bottom" else x for one in trenches for x, *_ in one["outline"]]
        ends = [x for x, *_ in part["blank"]]
        beside = min(min(places) - min(ends), max(ends) - max(places)) if places else CLEAR + JAW
        if beside < CLEAR + JAW:
            yield worded("{code}: only {beside:.0f} mm at an end for a clamp", code=part["code"], beside=beside)


def met(doing: Doing, cut: Cut) -> Iterator[str]:
    """Strips that hold an end off the fence for further passes, where they stand in the running cutter's way."""
    set_up, passes = doing.record["set_up"], round(cut.figures.get("passes", 1))
    if doing.does != "rebate" or set_up["way"] not in ("auto", "machine") or passes < 2:
        return
    strips, near = (passes - 1) * cut.value("step"), cut.value("fence") - cut.value("cutter")
    if strips > near - BARE and set_up.get("spacers") != "out":
        yield worded(
            "strips {strips:g} mm thick stand at the fence, {near:g} mm before the running cutter",
            strips=strips,
            near=near,
        )


def too_much(doing: Doing, piece: Record, shop: Record) -> Iterator[str]:
    """What the machines that the plan names can't take, or the shop hasn't got."""
    needs = doing.record.get("set_up", {}).get("needs", ())
    missing = [tool for tool in needs if tool not in (*shop["machines"], *shop["hand_tools"])]
    if missing:
        yield worded("needs {names}, which the shop hasn't got", names=" and ".join(missing))
    if doing.does not in RIGHT_THROUGH:
        return
    _, width, thick = piece["before"] or piece["after"]
    turned = max((radians(cut.figures.get("angle", 0.0)) for cut in doing.cuts), default=0.0)
    high = {"table saw": shop["saw_depth"], "circular saw": 2 * shop["circular_saw_depth"],
            "bandsaw": shop["bandsaw_height"], "planer": shop["planer"][1],
            "mitre saw": shop["mitre_saw"][0]}  # fmt: skip
    wide = {"planer": shop["planer"][0], "mitre saw": shop["mitre_saw"][1] * cos(turned)}
    for tool in needs:
        if thick > high.get(tool, thick) + EXACT or width > wide.get(tool, width) + EXACT:
            yield worded(
                "{code} is {width:.1f} x {thick:.1f} mm there, more than the {tool} takes",
                code=piece["code"],
                width=width,
                thick=thick,
                tool=translated(tool),
            )


def out_of_reach(doing: Doing, cut: Cut, shop: Record) -> Iterator[str]:
    """What the machine of a cut can't do."""
    set_up = doing.record["set_up"]
    turned = cut.figures.get("angle", 0.0) > shop["mitre_reach"] + EXACT and doing.does == "mitre"
    if turned and "mitre saw" in set_up["needs"]:
        yield worded(
            "turns the saw {angle:g}°, further than {mitre_reach:g}",
            angle=cut.figures["angle"],
            mitre_reach=shop["mitre_reach"],
        )
    if doing.cutter not in DRIVEN or doing.does in IN_THE_RING:
        return
    if doing.cutter == "groove cutter" and "rear" in cut.figures:
        yield translated("lets pieces down on a disc as it turns")
    width, reach, once = shop[DRIVEN[doing.cutter]]
    depth = cut.value("height")
    if abs(cut.value("cutter") - width) > EXACT:
        yield worded(
            "the {cutter} is {width:g} mm wide, {told:g} is told",
            cutter=translated(doing.cutter),
            width=width,
            told=cut.value("cutter"),
        )
    if depth > reach + EXACT:
        yield worded(
            "goes {depth:g} mm deep, the {cutter} reaches {reach:g}",
            depth=depth,
            cutter=translated(doing.cutter),
            reach=reach,
        )
    if cut.figures.get("deepen", depth) > once + 1e-4:
        yield worded(
            "takes {deepen:g} mm at once, the {cutter} bears {once:g}",
            deepen=cut.figures.get("deepen", depth),
            cutter=translated(doing.cutter),
            once=once,
        )

"""The plan of work: everything once, in an order that can be worked, the same sizes and ways wherever they stand."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from io import StringIO
from math import cos, pi
from typing import Any

import pytest

from templategen.fit.plan import Closing, Plan, plan_assembly
from templategen.job.minutes import Minutes, with_shares
from templategen.output.table_csv import csv_bytes
from templategen.shop.pins import pins_of
from templategen.shop.set_ups.feed import FED
from templategen.shop.set_ups.remarks import ON_THE_CUTTER
from templategen.shop.set_ups.run import set_ups
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table
from templategen.work.closing import SCRIBE
from templategen.work.plan import WorkPlan, plan_list, work_plan
from templategen.work.tools import tools_of
from tests.shipped_packets import packet_files
from tests.table.made import table_of


@cache
def planned(way: Closing = "stop", tables: int = 1, name: str = "") -> tuple[Table, Plan, WorkPlan]:
    """A table, how it goes together and its plan, the ring closed in a way by name where it can be."""
    table = table_of(name=name) if name else table_of()
    assembly = plan_assembly(table, (way,))
    return table, assembly, work_plan(table, assembly, tables)


def places(plan: WorkPlan) -> dict[str, int]:
    """The first number of each operation by its name."""
    found: dict[str, int] = {}
    for one in plan.operations:
        found.setdefault(one.operation.does, one.number)
    return found


def test_every_set_up_and_step_is_done_once() -> None:
    """Each set-up and each step of the assembly has one operation, numbered through, days never going back; where a
    jig gives a setting, only the words that it is told by are the jig's, and what comes off a fence is told first;
    where an earlier set-up's pieces are tried on again, that one is named."""
    table, assembly, plan = planned()
    work = [one.operation for one in plan.operations]

    def bare(one: SetUp) -> SetUp:
        told = tuple(says for says in one.warnings if "bare fence" not in says and "slips" not in says)
        tried = replace(one.proof, test_piece="") if "kept from" in one.proof.test_piece else one.proof
        one = replace(one, number=0, jigs=(), warnings=told, proof=replace(tried, test_piece=""))
        return one.told("stop", lambda _: "").told("height", lambda _: "")

    assert all(len(bare(one).warnings) == len(one.warnings) for one in set_ups(table))
    assert [bare(one) for one in plan.set_ups] == [bare(one) for one in set_ups(table)]
    assert [one.number for one in plan.set_ups] == list(range(1, len(plan.set_ups) + 1))
    assert [one.does for one in plan.gluing.steps] == [one.does for one in assembly.steps]
    assert [one.number for one in plan.gluing.steps] == list(range(1, len(assembly.steps) + 1))
    assert [one.number for one in plan.operations] == list(range(1, len(work) + 1))
    days = [one.day for one in plan.operations]
    assert days == sorted(days) and days[0] == 1


def test_the_order_can_be_worked() -> None:
    """Boards before blanks, blanks before parts, all parts before glue, the ring glued before it is sawn round, sawn
    before it is rounded over, pinned, sanded and oiled, and the top let down last."""
    plan = planned()[2]
    at = places(plan)
    order = ["saw out", "face and edge", "plane", "rip", "crosscut", "mitre", "dry ring", "spline slot",
             "mortise", "drain", "dry fit", "first finish", "saw round", "edge round-over", "bore and pin",
             "finish, coat 1 of 2"]  # fmt: skip
    assert [at[name] for name in order] == sorted(at[name] for name in order)
    last = [one.operation.does for one in plan.operations[-3:]]
    assert last == ["let the top down on the legs", "try the table", "hand it over"]
    glued = [one.number for one in plan.operations if one.operation.step]
    assert at["dry fit"] < min(glued) and max(glued[:-1]) < at["saw round"]


@pytest.mark.wide
def test_a_scrap_ring_comes_before_the_mitres() -> None:
    """It sets the saw, so it stands before the first good mitre, however the ring is closed."""
    at = places(planned("scrap")[2])
    assert at["face and edge"] < at["scrap ring"] < at["mitre"]
    for closing in ("halves", "measure"):
        at = places(planned(closing)[2])
        assert at["face and edge"] < at["scrap ring"] < at["mitre"], closing


def counted(found: Iterable[SetUp], operation: str) -> Counter[tuple[str, str]]:
    """How many pieces of each part are cut at each end, over all set-ups of an operation."""
    told: Counter[tuple[str, str]] = Counter()
    for lay in (lay for one in found if one.operation == operation for cut in one.cuts for lay in cut.lays):
        told[lay.code, lay.worked] += lay.pieces
    return told


@pytest.mark.parametrize("tables", (1, 3))
def test_halves_are_trimmed_before_their_ends_are_slotted(tables: int) -> None:
    """The half rings are glued, trimmed, slotted at their four ends and only then closed; every slot is cut once."""
    table, _, plan = planned("halves", tables, "towpath-hex")
    at = places(plan)
    waits = [one for one in plan.operations if one.operation.does == "spline slot" and one.number > at["dry fit"]]
    late = [one.operation.set_up for one in waits if one.operation.set_up]
    order = ["mitre", "glue half ring 1 flat on a board", "glue half ring 2 flat on a board", "trim the half rings",
             "glue the last splines into half ring 2", "close the two half rings on the cross"]  # fmt: skip
    assert [at[name] for name in order] == sorted(at[name] for name in order)
    assert at[order[2]] < at["add RAIL-LOW"], "the board is free for the half rings"
    (trimmed,) = [one.operation for one in plan.operations if one.operation.does == order[3]]
    told = " ".join(trimmed.tells)
    assert "from its left to its right" in told and "block" in told, "no end is a climb cut, none breaks out"
    assert waits and all(at["trim the half rings"] < one.number < at[order[4]] for one in waits)
    assert counted(late, "spline slot").total() == 4 * tables
    assert all(one.machine == "hand router with an edge guide" for one in late), "no half ring stands on a table"
    assert counted(plan.set_ups, "spline slot") == counted(set_ups(table, tables), "spline slot")
    early = [one for one in plan.set_ups if one.operation == "spline slot" and one not in late]
    assert all(any(words.startswith("leave uncut") for words in one.warnings) for one in early)
    assert not any(ON_THE_CUTTER in one.warnings for one in late), "no piece is let down on a router in the hand"
    assert all("both ends up" in one.does[0] and any("screw a block" in words for words in one.does) for one in late)
    ends = [one.operation.works_on for one in plan.operations if one.operation.does == "spline slot"]
    assert ends == [f"RIM-A: right end x {n * tables}, left end x {n * tables}" for n in (4, 2)]


def test_half_rings_are_trimmed_by_what_is_on_the_list_and_no_further_than_the_rails_allow() -> None:
    """The bit's bearing runs on a batten that lies over the wood; both are listed. What must stay is the way from the
    line through the outermost mitres to the middle of a half's inner edge, off the placed segments."""
    table, _, plan = planned("halves", 1, "towpath-hex")
    rows = {row.item: row for row in tools_of(table, plan)}
    assert "at the shank" in rows["pattern bit"].size and rows["straight batten"].count == 1
    sizes = table.sizes
    across = 2 * sizes.outer_apothem / cos(pi / sizes.segments)
    assert float(rows["straight batten"].size.split()[0]) > across
    wide, thick = map(float, re.findall(r"[\d.]+", rows["straight batten"].size)[1:])
    reach, once = table.profile.shop.bit_length, table.profile.jigs.pass_depth
    assert thick >= reach - once + 10 and wide >= 120, "the bearing over the bit finds it in the first light pass"
    (trimmed,) = [one.operation for one in plan.operations if one.operation.does == "trim the half rings"]
    rim = next(part for part in table.parts if part.kind == "rim-segment")
    inner = min((placed.at[0] ** 2 + placed.at[1] ** 2) ** 0.5 for placed in table.placed if placed.code == rim.code)
    assert any(f"{inner + rim.blank.bounds.bottom:.0f} mm must stay, 0.2 mm less" in line for line in trimmed.tells)


def test_a_half_ring_is_held_where_a_router_runs_free() -> None:
    """Over the bench's top by what is told, its own height told for a box under it; a balk carries the base."""
    table, _, plan = planned("halves", 1, "towpath-hex")
    rim = next(part for part in table.parts if part.kind == "rim-segment")
    out = min((placed.at[0] ** 2 + placed.at[1] ** 2) ** 0.5 for placed in table.placed if placed.code == rim.code)
    late = [one.operation.set_up for one in plan.operations if one.operation.does == "spline slot"][-1]
    assert late is not None
    told = " ".join(map(str, late.does))
    assert f"{out + rim.blank.bounds.top:.0f} mm high" in told and "on a firm box" in told, told
    assert "over the bench's top" in told and "100 mm or wider" in told and "floor" not in told


def test_which_edge_of_a_raked_leg_looks_outwards_is_told_and_true() -> None:
    """As they stand in the table, by their drawing; upright ones look the same all round."""
    for name, leans in (("towpath-hex", True), ("towpath-side", False)):
        table, _, plan = planned("halves" if leans else "", 1, name)
        steps = [one.operation for one in plan.operations if one.operation.step]
        step = next(one for one in steps if one.step and "leg tenon" in one.step.joints)
        assert any("left end down, its upper edge outwards" in line for line in step.tells) is leans
        for leg in (one for one in table.placed if leans and table.part(one.code).kind == "leg"):
            head, edge = leg.point(table.part(leg.code).outline.bounds.right, 0, 0), leg.point(0, 10, 0)
            assert head.z > leg.at.z + 500
            assert edge.x * leg.at.x + edge.y * leg.at.y > leg.at.x**2 + leg.at.y**2


def test_the_last_segment_waits_for_its_opening() -> None:
    """All but one are glued, that one is scribed over the opening, its free end sawn outside the line and planed
    until it fits, and no saw comes to it after; then both its ends are slotted."""
    table, assembly, plan = planned("measure")
    at, done = places(plan), assembly.steps
    last = next(step for step in done if step.last)
    assert [len(step.moves) for step in done if any("RIM" in move.code for move in step.moves)][:2] == [11, 1]
    late = [one.operation for one in plan.operations if one.number > at[SCRIBE] and one.set_up]
    sawn = next(one.number for one in plan.operations if one.operation.does == "mitre" and one.operation in late)
    slotted = next(
        one.number for one in plan.operations if one.operation.does == "spline slot" and one.operation in late
    )
    assert at[SCRIBE] < sawn < at["fit the last segment"] < slotted < at[last.does]
    waits = [one.set_up for one in late if one.does in ("mitre", "spline slot") and one.set_up]
    alone = next(one for one in waits if one.operation == "mitre")
    assert len(alone.proof.checks) == 1 and not any(one.name == "stop" for cut in alone.cuts for one in cut.settings)
    assert "1 mm outside that line" in alone.warnings[-1] and not any("strip" in told for told in alone.warnings)
    (code,) = {move.code for move in last.moves}
    assert counted(waits, "mitre") == {(code, "right"): 1}
    assert counted(waits, "spline slot") == {(code, "left"): 1, (code, "right"): 1}
    assert counted(plan.set_ups, "mitre") == counted(set_ups(table), "mitre")


def test_batches_go_operation_by_operation() -> None:
    """Three tables have the same operations as one, done to three times the pieces, and take longer, though less than
    three times as long: machines are set once."""
    one, three = planned()[2], planned(tables=3)[2]
    assert [work.operation.does for work in one.operations] == [work.operation.does for work in three.operations]
    assert one.minutes < three.minutes < 3 * one.minutes
    slats = next(work.operation for work in three.operations if work.operation.does == "chamfer")
    assert "SLAT-01 x 18" in slats.works_on


def test_hours_follow_the_makers_rates() -> None:
    """A maker who sets up in half the time is done sooner, by that for each set-up; a shorter day makes more days."""
    _, assembly, plan = planned()
    other = work_plan(table_of({"rates.set_up": 5.0, "rates.day": 2.0}), assembly)
    assert plan.minutes - other.minutes >= 10 * len(plan.set_ups)
    assert other.days > plan.days


def test_a_groove_takes_as_long_as_it_is_fed() -> None:
    """A piece is fed once for each pass at each level: two cuts each where it is let down on the cutter, half a one
    after the first where it runs in at an open end and the machine is stopped at a block; stopped ends are squared
    besides, all at the rate of a cut."""

    def fed(bit: float) -> dict[str, Minutes]:
        table = with_shares(table_of({"shop.router_bit": bit, "rates.set_up": 0.0}))
        told = work_plan(table, planned()[1]).operations
        found = {one.operation.does: one.operation.minutes for one in told if one.operation.does in FED}
        assert all(isinstance(one, Minutes) and set(one.of) <= {"set_up", "cut"} for one in found.values())
        return {does: one for does, one in found.items() if isinstance(one, Minutes)}

    rim, rails, squared, levels = 6, 12, 24, 5
    cut = planned()[0].profile.rates.cut
    for bit, passes in ((8.0, 2), (12.0, 1)):
        again = passes * levels - 1
        told = cut * (rim * 2 * (1 + again) + rails * (1 + again / 2) + squared)
        assert float(fed(bit)["groove"]) == pytest.approx(told)


def rows(data: bytes) -> list[dict[str, str]]:
    """A written list."""
    return list(csv.DictReader(StringIO(data.decode())))


NAMES = ("towpath-side", *(pytest.param(f"towpath-{name}", marks=pytest.mark.slow)
                           for name in ("dining", "inch", "hex")))  # fmt: skip


@cache
def packet(name: str) -> tuple[dict[str, list[dict[str, str]]], Any]:
    """A written packet: its lists by name, its record."""
    files = packet_files(name)
    lists = {
        path[6:-4]: rows(data) for path, data in files.items() if path.startswith("lists/") and path[-4:] == ".csv"
    }
    return lists, json.loads(files["packet.json"])


def pieces_of(record: Any) -> dict[str, list[Any]]:
    """How the plan tells each part's pieces, from first to last."""
    found: dict[str, list[Any]] = {}
    for piece in (piece for one in record["plan"]["operations"] for piece in one["pieces"]):
        found.setdefault(piece["code"], []).append(piece)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_sizes_are_the_same_everywhere(name: str) -> None:
    """Cut list, layouts, plan and jigs: sawn out as the layouts lay it and the plan begins with it, finished as the
    cut list and the plan's last operation have it; the strip of stops shows what set-ups set."""
    lists, record = packet(name)
    told, seen = pieces_of(record), 0
    cut = {row["code"]: row for row in lists["cut-list"]}
    assert set(cut) == set(told)
    for code, (first, *_, last) in told.items():
        row = cut[code]
        rough = float(row["rough_length_mm"]), float(row["rough_width_mm"])
        assert first["after"][:2] == pytest.approx(rough, abs=0.051), code
        assert row["sawn_out"].startswith(f"{first['count']} ")
        assert (f"of {first['holds']}" in row["sawn_out"]) == (first["holds"] > 1)
        ends = [piece for piece in told[code] if piece["holds"] == 1 and piece["count"] == int(row["count"])]
        assert ends and last["after"][2] == pytest.approx(float(row["thickness_mm"]), abs=0.006)
        assert any(piece["after"][0] == pytest.approx(float(row["length_mm"]), abs=0.006) for piece in ends), code
        assert any(piece["after"][1] == pytest.approx(float(row["width_mm"]), abs=0.006) for piece in ends), code
    for piece in record["stock"]:
        for code in set(piece["sawn_out"]) & set(told):
            box = [
                max(at) - min(at)
                for at in zip(*((x, y) for x, y, _ in piece["sawn_out"][code]["outline"]), strict=True)
            ]
            assert (*box, piece["thickness"]) == pytest.approx(told[code][0]["after"], abs=1e-6)
            seen += 1
    stops = [figure for jig in record["jigs"] for figure in jig["figures"] if figure["name"].startswith("stop for ")]
    cuts = [cut for one in record["plan"]["operations"] if "set_up" in one for cut in one["set_up"]["cuts"]]
    for figure in stops:
        for code in figure["name"].removeprefix("stop for ").split(", "):
            set_to = [
                setting["value"]
                for cut in cuts if any(lay["code"] == code for lay in cut["lays"])
                for setting in cut["settings"] if setting["name"] == "stop"
            ]  # fmt: skip
            assert any(value == pytest.approx(figure["value"], abs=1e-6) for value in set_to), code
    assert seen > 5 and len({figure["value"] for figure in stops}) > 1


@pytest.mark.parametrize("name", NAMES)
def test_set_ups_are_the_same_everywhere(name: str) -> None:
    """The list of set-ups has every figure of the plan by its number, with the same pieces and machine; the jig for
    the mitres has their angle."""
    lists, record = packet(name)
    plan = {row["set_up"]: row for row in lists["plan"] if row["set_up"]}
    done = {one["set_up"]["number"]: one for one in record["plan"]["operations"] if "set_up" in one}
    seen = 0
    for row in lists["set-ups"]:
        one = done[int(row["set_up"])]
        set_up, cut = one["set_up"], one["set_up"]["cuts"][int(row["cut"]) - 1]
        assert (row["operation"], row["machine"]) == (one["operation"], set_up["machine"])
        assert (plan[row["set_up"]]["operation"], plan[row["set_up"]]["way"]) == (one["operation"], one["way"])
        assert one["way"].startswith(row["machine"]) and one["works_on"] == plan[row["set_up"]]["works_on"]
        figures = {setting["name"]: setting for entry in (set_up, cut) for setting in entry["settings"]}
        for what, setting in figures.items():
            (column,) = [head for head in row if head in (what, f"{what}_{setting['unit']}")]
            assert float(row[column]) == pytest.approx(setting["value"], abs=0.0051), (row["set_up"], what)
            seen += 1
        own = ", ".join(dict.fromkeys(lay["code"] for lay in cut["lays"]))
        for setting in cut["settings"][:1]:
            named = "at" if set_up["way"] == "by hand" and setting["name"] == "stop" else setting["name"]
            assert re.search(rf"{own}(, [a-z ]+)?: {named} ", plan[row["set_up"]]["tells"]), row
        counted: Counter[str] = Counter()
        for lay in cut["lays"]:
            counted[lay["code"]] = max(counted[lay["code"]], lay["pieces"])
        assert row["parts"] == ", ".join(f"{code} x{count}" for code, count in counted.items())
    assert seen > 100 and len(plan) == len(done)
    (off,) = [fig["value"] for jig in record["jigs"] for fig in jig["figures"] if fig["name"] == "mitre off square"]
    angles = [
        setting["value"]
        for one in done.values()
        if one["operation"] == "mitre" and any(piece["code"].startswith("RIM") for piece in one["pieces"])
        for setting in one["set_up"]["settings"]
        if setting["name"] == "angle"
    ]
    assert angles and angles == pytest.approx([off] * len(angles))


@pytest.mark.parametrize("name", NAMES)
def test_steps_and_pins_are_the_same_everywhere(name: str) -> None:
    """Steps of the assembly, of the gluing and of the plan by number and name, with the same clamps, grams, letters;
    pins by number and words."""
    lists, record = packet(name)
    marks, done = {row["mark"]: row for row in lists["marks"]}, {row["step"]: row for row in lists["plan"]}
    for row in lists["gluing"][:-1]:
        plan = done[row["step"]]
        if row["glued_joints"] != "none":
            told = rf"glue {row['glued_joints']}: ([\d.]+) (g|oz), (?:in {row['goes']} go|one after another)"
            ((said, unit),) = re.findall(told, plan["tells"])
            grams = float(said) * {"g": 1.0, "oz": 28.35}[unit]
            assert grams == pytest.approx(float(row["glue_g"]), abs=1.0 if unit == "g" else 2.9)
            ends = {letter for run in row["marks"].split(", ") for letter in run.split(" to ")}
            assert ends and ends <= set(marks), row
        for count, word in ((row["clamps"], "clamp"), (row["cauls"], "caul")):
            assert (f"{count} {word}" in plan["way"]) == (count not in ("", "0")), row
        assert all(told in plan["tells"] for told in row["mind"].split("; ") if row["mind"] != "no glue")
    heads = {told.split(": ")[0] for row in lists["labels"] for told in row["letters"].split("; ")}
    lettered = {word for head in heads for run in head.split(", ") for word in run.split(" to ")}
    lettered -= {"", "slats"}
    assert lettered <= set(marks) and {word for word, row in marks.items() if row["joint"] == "tongue"} <= lettered
    steps = {row["step"]: row["operation"] for row in lists["plan"] if row["step"]}
    assert steps == {str(step["step"]): step["does"] for step in record["assembly"]}
    assert [(row["step"], row["does"]) for row in lists["gluing"][:-1]] == list(steps.items())
    assert all(str(step["step"]) in steps for step in record["gluing"]["steps"])
    (pins,) = [row for row in lists["hardware"] if row["item"] == "slat pins"]
    (bored,) = [row for row in lists["plan"] if row["operation"] == "bore and pin"]
    assert pins["for"] in bored["tells"] and bored["works_on"].startswith(pins["amount"])


def test_the_list_is_whole() -> None:
    """A row for each operation and one for the whole, no cell left over, and the pins told once."""
    table, _, plan = planned()
    found = rows(csv_bytes(*plan_list(plan)))
    assert len(found) == len(plan.operations) + 1
    assert all(None not in row for row in found)
    assert sum(all(one in row["tells"] for one in pins_of(table).tells(table.profile.units)) for row in found) == 1


def test_a_shop_without_tools_is_planned_all_the_same() -> None:
    """What nothing in it does is said and stands in its place."""
    table = table_of({"shop.machines": (), "shop.hand_tools": ()}, "towpath-side")
    plan = work_plan(table, plan_assembly(table))
    work = [one.operation for one in plan.operations]
    undone = [one for one in work if "nothing in your shop does this" in " ".join(one.tells)]
    assert len(undone) > 5 and all(one.minutes > 0 for one in undone)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side", "towpath-hex", "towpath-inch"])
def test_a_short_piece_comes_off_its_strip_once(name: str) -> None:
    """What is told of a short piece fits its state: on its strip until it is sawn off that, then off it."""
    _, _, plan = planned(name=name)
    off: set[str] = set()
    seen = set()
    for one in plan.set_ups:
        if one.operation not in ("crosscut", "mitre"):
            continue
        strips = [line for line in one.cautions if "longer strip" in line]
        held = [line for line in one.cautions if "Clamp them in the sled" in line or "Hold them" in line]
        for code in one.codes:
            seen |= {(code in off, "strip") for line in strips if code in line}
            seen |= {(code in off, "held") for line in held if code in line}
        off |= {code for cut in one.cuts if cut.settings for code in cut.codes}
    assert seen <= {(False, "strip"), (True, "held")} and seen

"""The plan of work followed by a bench that knows no table: rough wood becomes parts, and a wrong figure shows."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import pytest
from shapely.geometry import Polygon

from templategen.errors import DesignError
from templategen.fit.plan import Closing
from templategen.packet.make import make_packet
from templategen.shop.rough import rough_of
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.proof.followed import Record, alone, falsified, faults, without_steps, written
from tests.proof.shops import hand_shop_text, profile_in_a_shop
from tests.random_profiles import profile_text, tables
from tests.shipped_packets import packet_files
from tests.table.made import table_of


@cache
def lopsided() -> Table:
    """Raked legs, no two parts alike."""
    return table_of({"legs.base_centre_distance": 232.0})


WIDE = pytest.mark.wide


@pytest.mark.parametrize("way", ("stop", pytest.param("halves", marks=WIDE), pytest.param("measure", marks=WIDE)))
def test_every_way_of_closing_ends_with_the_table(way: Closing) -> None:
    """The bench ends with every part, two tables' worth, whatever waits for the ring's last joints."""
    assert faults(written(table_of(name="towpath-hex"), way, 2)) == []


def test_random_plans_end_with_the_table() -> None:
    """The same for some random ones: every run, both crossings, raked legs, relieved feet, stopped splines."""
    seen = list(tables(range(2, 8, 4)))
    assert len(seen) == 2
    assert [found for table in seen for found in faults(written(table))] == []


@pytest.mark.wide
@pytest.mark.parametrize("cutters", ((4.0, 3.0), (30.0, 28.0)))
def test_any_cutters_make_the_parts(cutters: tuple[float, float]) -> None:
    """Narrow cutters take more passes, a wide one gives way to the router bit; the parts stay the same."""
    table = table_of({"shop.groove_cutter": cutters[0], "shop.router_bit": cutters[1]})
    assert faults(written(table)) == []


def unseen(record: Record, every: int = 1, first: int = 0) -> tuple[list[str], int]:
    """Wrong figures that following the plan doesn't show, of every so manieth, and how many were tried."""
    found, tried = [], 0
    for number, told in enumerate(falsified(record)):
        if number % every == first:
            tried += 1
            if not faults(record):
                found.append(told)
    return found, tried


@pytest.mark.parametrize(
    "codes",
    (
        {"SLAT-03"},
        {"RIM-A", "SPLINE"},
        *(pytest.param({code}, marks=WIDE) for code in ("RAIL-HIGH", "LEG", "BASE-LOW")),
    ),
)
def test_a_wrong_figure_shows(codes: set[str]) -> None:
    """Half a millimetre, half a degree, one pass or piece too much on one figure in thirteen spoils the part."""
    record = without_steps(alone(written(lopsided()), codes))
    assert faults(record) == []
    found, tried = unseen(record, 13, len(codes))
    assert found == []
    assert tried > 15


@pytest.mark.slow
@pytest.mark.parametrize("name", ("towpath-hex", "towpath-dining", "towpath-inch", "towpath-side"))
def test_every_wrong_figure_shows(name: str) -> None:
    """Every figure of a whole plan in turn, each on the plan of a part that it is told for; splines beside their
    ring. What several parts share is tried on the first."""
    record, tried, found = written(table_of(name=name)), set[str](), list[str]()
    for part in [part["code"] for part in record["parts"] if part["kind"] != "spline"]:
        own = without_steps(alone(record, {part, *(("SPLINE",) if part.startswith("RIM") else ())}))
        assert faults(own) == []
        for told in falsified(own):
            found += [] if told in tried or faults(own) else [told]
            tried.add(told)
    assert found == []
    assert len(tried) > 1000


@pytest.mark.wide
def test_every_way_of_lying_matters_to_a_mitre() -> None:
    """A piece laid with its other face up, or with its other edge to the fence, is refused or spoilt."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"RIM-A", "SLAT-02L", "SLAT-03"}))
    over = {"top": "bottom", "bottom": "top", "low": "high", "high": "low"}
    tried = 0
    for lay in lays(record, "mitre"):
        for name in ("up", "against"):
            was, lay[name] = lay[name], over[lay[name]]
            assert faults(record), f"{lay['code']} {name}"
            lay[name], tried = was, tried + 1
    assert tried > 8 and faults(record) == []


@pytest.mark.parametrize(
    ("code", "names"), [("RAIL-LOW", {"stop"}), pytest.param("BASE-LOW", {"stop", "start"}, marks=WIDE)]
)
def test_an_eased_edge_that_stops_elsewhere_shows(code: str, names: set[str]) -> None:
    """A tenth of a millimetre further or less far, though it takes hardly any wood; past a foot there is none."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {code}))
    assert faults(record) == []
    set_ups = [one.get("set_up", {}) for one in record["plan"]["operations"] if one["operation"] == "chamfer"]
    cuts = [cut for set_up in set_ups for cut in set_up.get("cuts", ())]
    stops = [told for cut in cuts for told in cut["settings"] if told["name"] in ("stop", "start")]
    for told in stops:
        for off in (-0.1,) if told["quantity"] == "base.foot_length" else (0.1, -0.1):
            told["value"] += off
            assert faults(record)
            told["value"] -= off
    assert {told["name"] for told in stops} == names and faults(record) == []


@pytest.mark.wide
def test_an_arris_on_a_floor_is_eased_where_the_bit_is_led() -> None:
    """Under relieved rails the bench leads its bit along what the saw laid bare: told to lie elsewhere, it shows."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"BASE-MID"}))
    on_floor = [one for one in record["parts"][0]["features"] if "floor" in one]
    assert len(on_floor) == 4 and faults(record) == []
    for wrong in (0.0, 10.02):
        on_floor[2]["floor"] = wrong
        assert any("chamfer" in told for told in faults(record))


def test_a_short_piece_needs_something_that_holds_it() -> None:
    """Every operation on single short pieces says what holds them and names them in a caution; whichever is left out
    is told, and so is a strip in place of a sled."""
    record = without_steps(alone(written(lopsided()), {"SLAT-01", "FOOT"}))
    assert faults(record) == []
    held = [(one, piece) for one in record["plan"]["operations"] for piece in one["pieces"] if "held" in piece]
    single = [(one, piece) for one, piece in held if piece["before"][0] < record["plan"]["shop"]["holding"]]
    assert {piece["held"] for _, piece in held} == {"strip", "sled", "blocks", "carrier"} and len(single) > 2
    for one, piece in single[:2]:
        was, cautions = piece.pop("held"), one["cautions"]
        assert faults(record)
        piece["held"] = "strip"
        assert faults(record)
        piece["held"], one["cautions"] = was, []
        assert faults(record)
        one["cautions"] = cautions
    assert faults(record) == []


def test_edges_of_short_pieces_are_eased_on_their_strips() -> None:
    """Before any end is sawn; after it they are told."""
    record = without_steps(alone(written(table_of()), {"SLAT-01"}))
    operations = record["plan"]["operations"]
    own = [one["operation"] if one["pieces"] else "" for one in operations]
    at, end = own.index("chamfer"), own.index("mitre")
    assert at < end and operations[at]["on"] == "blanks" and faults(record) == []
    operations.insert(end, operations.pop(at))
    for number, one in enumerate(operations, 1):
        one["number"] = number
    assert any("as it was left" in told or "holds it" in told for told in faults(record))


def test_a_strip_must_give_its_pieces_by_the_cuts_as_told() -> None:
    """Slanting ends leave wedges: no strip as long as its pieces nest gives them, none whose pieces are told too near
    each other, and none of which both ends are cut while they hang together."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"SLAT-01L"}))
    assert faults(record) == []
    operations = [one for one in record["plan"]["operations"] if one["pieces"]]
    sawn_out, whole = operations[0]["pieces"][0], [piece["after"] for one in operations for piece in one["pieces"]]
    nested = [size for size in whole if size[0] == sawn_out["after"][0]]
    for size in nested:
        size[0] -= 100.0
    assert any("a strip of 3 takes" in told for told in faults(record))
    for size in nested:
        size[0] += 100.0
    (cut,) = [
        cut for one in operations if one["operation"] == "mitre" for cut in one["set_up"]["cuts"]
        if any(setting["name"] == "apart" for setting in cut["settings"])
    ]  # fmt: skip
    (apart,) = cut["settings"]
    apart["value"] -= 10.0
    assert any("pieces come off a strip every" in told for told in faults(record))
    cut["settings"] = []
    assert any("leaves the strip slanting otherwise" in told for told in faults(record))


def test_a_strip_whose_pieces_lose_an_end_is_told() -> None:
    """A gauge that stands half a degree off the angle saws that end nowhere, whatever the strip would hold."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"SLAT-01L"}))
    angles = [
        setting
        for one in record["plan"]["operations"]
        if one["operation"] == "mitre" and one["pieces"]
        for entry in (one["set_up"], *one["set_up"]["cuts"])
        for setting in entry["settings"]
        if setting["name"] in ("angle", "gauge")
    ]
    assert len(angles) == 4 and faults(record) == []
    for setting in angles:
        setting["value"] += 0.5
        assert any("an end of it is never sawn across" in told for told in faults(record))
        setting["value"] -= 0.5


def test_a_slot_that_is_shorter_on_the_last_pieces_is_told() -> None:
    """Slots of one kind that are cut on two days, on most pieces and on those of the last joints, are one and the
    same: half a millimetre between them shows, whichever is the shorter."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"RIM-A", "SPLINE"}))
    assert faults(record) == []
    cuts = [
        cut
        for one in record["plan"]["operations"]
        if one["operation"] == "spline slot" and one["pieces"]
        for cut in one["set_up"]["cuts"]
    ]
    assert len(cuts) == 2
    for setting in (one for cut in cuts for one in cut["settings"]):
        for off in (0.5, -0.5):
            setting["value"] += off
            assert any("told otherwise than it was" in told for told in faults(record))
            setting["value"] -= off


def test_a_saw_that_meets_no_wood_is_told() -> None:
    """A square tip told once by its own name and once as the whole end."""
    record = without_steps(alone(written(table_of(name="towpath-hex")), {"SLAT-03"}))
    assert faults(record) == []
    (square, *_) = [one for one in record["plan"]["operations"] if one["operation"] == "crosscut" and one["pieces"]]
    again = json.loads(json.dumps(square["set_up"]["cuts"][0]))
    again["lays"][0]["worked"] = "left"
    square["set_up"]["cuts"].insert(1, again)
    assert any("the saw meets no wood" in told for told in faults(record))


def test_wood_that_runs_out_beside_a_pointed_end_is_told() -> None:
    """Blanks that lean as their part's ends do, 8 mm larger all round: first cut square, a slat with two edges at an
    end is too short once its point is clean, and an edge too short for a fence is none for the hand. The blanks that
    are told for them hold both."""
    table = table_of()
    record = without_steps(alone(written(table), {"SLAT-04", "SLAT-05", "SLAT-07"}))
    told = {one["code"]: Polygon([at[:2] for at in one["blank"]]) for one in record["parts"]}
    pointed = {code: one.buffer(8.0, join_style="mitre").exterior.coords for code, one in told.items()}
    squared = {code: [(at.x, at.y) for at in rough_of(table.profile.shop, table.part(code)).outline] for code in told}
    fits, fed = "SLAT-07: doesn't come out of what is sawn out for it", "SLAT-04 has an edge 272 mm long at the fence"
    for outlines, wrong in ((pointed, True), (squared, False)):
        board = {"name": "slats", "piece": 1, "wood": "", "thickness": 0.0, "placements": []}
        laid = {code: {"outline": [[x, y, 0.0] for x, y in corners]} for code, corners in outlines.items()}
        found = faults({**record, "stock": [{**board, "sawn_out": laid}]})
        assert [any(says in one for one in found) for says in (fits, fed)] == [wrong, wrong], found
        assert not any("SLAT-05" in one for one in found)


def test_half_rings_and_the_cross_share_one_board() -> None:
    """A half ring that is glued when the cross lies there is told."""
    record = written(table_of(name="towpath-hex"), "halves")
    steps = record["assembly"]
    at = next(number for number, step in enumerate(steps) if step["does"].startswith("glue half ring 1"))
    assert not any("the board" in told for told in faults(record))
    steps.insert(len(steps) - 3, steps.pop(at))
    assert any("needs the board on which the cross lies" in told for told in faults(record))


def test_a_segment_that_topples_off_its_mitre_is_told() -> None:
    """A long one goes to a router in the hand; stood on a machine's table with nothing that carries it, it shows."""
    record = written(table_of(name="towpath-hex"))
    slots = [one for one in record["plan"]["operations"] if one["operation"] == "spline slot"]
    assert slots and all(one["set_up"]["way"] == "hand-held" for one in slots)
    assert faults(record) == []
    for one in slots:
        one["set_up"]["way"] = "machine"
        for lay in (lay for cut in one["set_up"]["cuts"] for lay in cut["lays"]):
            lay["up"] = {"left": "right", "right": "left"}[lay["worked"]]
    assert any("topples off its right end" in told for told in faults(record))
    for piece in (piece for one in slots for piece in one["pieces"]):
        piece["held"] = "carriage"
    assert not any("topples" in told for told in faults(record))


def test_strips_left_in_the_running_cutters_way_are_told() -> None:
    """Strips that hold an end off the fence reach to the cutter; left there they are met, taken out they aren't."""
    record = written(table_of(name="towpath-inch"))
    cut = [one["set_up"] for one in record["plan"]["operations"] if one["operation"] == "rebate"]
    spaced = [one for one in cut if any(figure["name"] == "step" for figure in one["settings"])]
    assert spaced and all(one.pop("spacers") == "out" for one in spaced)
    assert any("before the running cutter" in told for told in faults(record))


def lays(record: Record, operation: str) -> list[dict[str, Any]]:
    """How pieces lie in every cut of one operation."""
    return [
        lay
        for one in record["plan"]["operations"]
        if one["operation"] == operation
        for cut in one.get("set_up", {}).get("cuts", ())
        for lay in cut["lays"]
    ]


WAYS: tuple[Closing, ...] = ("stop", "halves", "measure", "scrap")


@pytest.mark.slow
def test_500_tables_and_shops_end_with_the_table() -> None:
    """Tables and shops of chance, raked, faceted, in inches, by hands alone: for one to three tables, closed in every
    way; every twentieth from boards of its own, as they are laid out."""
    wrong, seen = {}, 0
    for seed in range(100, 600):
        try:
            if seed % 20:
                table = build_table(profile_in_a_shop(seed, False))
                record = written(table, WAYS[seed % 4], 1 + seed % 3)
            else:
                packet = make_packet(profile_in_a_shop(seed, True), ("stock",))
                record = json.loads(packet.files["packet.json"])
        except DesignError:
            continue
        seen += 1
        if found := faults(record):
            wrong[seed] = found
    assert wrong == {} and seen > 400


@pytest.mark.parametrize("seed", [4, *(pytest.param(seed, marks=pytest.mark.wide) for seed in (1, 2, 7, 10, 12, 13))])
def test_a_shop_of_hand_held_saws_ends_with_the_table(seed: int) -> None:
    """A saw along a guide to a knife line, short pieces off by the tenon saw, thick ones from both faces."""
    table = build_table(profile_from_text(profile_text(seed) + hand_shop_text(seed), "hands"))
    record = written(table)
    assert faults(record) == []
    sawn = [one["set_up"] for one in record["plan"]["operations"] if one["operation"] in ("crosscut", "mitre")]
    assert {"hand-held", "by hand"} >= {one["way"] for one in sawn} >= {"hand-held"}


@pytest.mark.wide
def test_blanks_come_off_their_boards() -> None:
    """Board by board; a blank moved, a cut left out or one too many shows."""
    record = json.loads(packet_files("towpath-side")["packet.json"])
    assert faults(record) == []
    piece = record["stock"][0]
    for change in (_moved, _left_out, _cut_twice):
        was = json.dumps(piece)
        change(piece)
        assert any(piece["name"] in told or "saw out" in told for told in faults(record)), change
        piece.update(json.loads(was))
    assert faults(record) == []


def _moved(piece: Record) -> None:
    piece["placements"][-1]["x"] += 1.5


def _left_out(piece: Record) -> None:
    del piece["cuts"][len(piece["cuts"]) // 2]


def _cut_twice(piece: Record) -> None:
    """The last cut once more, across the first blank."""
    at, middle = piece["placements"][0], piece["size"][0] / 2
    inside = [at["x"] + 40.0, at["y"] + 20.0]
    piece["cuts"].append(
        {**piece["cuts"][-1], "from": [inside[0], 0.0], "to": [inside[0], middle], "through": inside}
    )


def test_a_test_piece_without_wood_for_two_clamps_is_told() -> None:
    """A crossing's test pieces end past all trenches, far enough for a clamp off the cutter at either end."""
    record = json.loads(packet_files("towpath-hex")["packet.json"])
    assert faults(record) == []
    (piece,) = [one for one in record["parts"] if one["code"] == "TEST-LAP-HIGH"]
    for corner in (one for one in piece["blank"] if one[0] > 0):
        corner[0] -= 16.0
    told = faults(record)
    assert told and all("TEST-LAP-HIGH: only 44 mm" in one for one in told), told

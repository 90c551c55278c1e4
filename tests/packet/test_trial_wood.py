"""The wood of test strips: out of offcuts of the real layouts where they hold it, else bought, listed and priced."""

from __future__ import annotations

import csv
import re
from collections import Counter
from functools import cache
from io import StringIO
from itertools import combinations
from math import pi, tan

import pytest
from shapely import Polygon, box

from templategen.packet.make import Packet, make_packet
from templategen.packet.offcut_list import offcuts_of
from templategen.packet.page.buy import buying
from templategen.packet.shipped import shipped_text
from templategen.packet.stages import LAID, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.packet.trial_offcuts import StripsSawn, strips_sawn
from templategen.proof.lists import list_differences
from templategen.proof.price import price_differences
from templategen.shop.trial_wood import ANY_WOOD, TrialWood, trial_wood
from templategen.table.profile.read import profile_from_text
from templategen.units import parse_length

NAMES = ("towpath-dining", "towpath-side", "towpath-inch", "towpath-hex")


@cache
def sawn(name: str) -> tuple[tuple[TrialWood, ...], StripsSawn, dict[str, tuple[float, float]]]:
    """The strips, what they are sawn out of, and the room of each offcut and of each kind of board."""
    worked = begun(profile_from_text(shipped_text(name), name), shares=("stock", "lists"))
    table, laid = worked[TABLE], worked[LAID]
    strips = trial_wood(table, worked[WORK].set_ups)
    room = {one.piece.name: (one.piece.length, one.piece.width) for sheet in laid.sheets for one in offcuts_of(sheet)}
    room |= {f"{one.name}, one more": (one.length, one.width) for one in table.profile.stock}
    return strips, strips_sawn(table.profile.shop, table.profile.stock, laid, strips), room


@pytest.mark.parametrize("name", NAMES)
def test_every_strip_comes_out_of_something_that_holds_it(name: str) -> None:
    """By area too: what is sawn out of an offcut, and out of all boards of a kind, is no more than there is."""
    strips, found, room = sawn(name)
    taken: dict[str, float] = {}
    for strip, names in zip(strips, found.out_of, strict=True):
        assert len(names) == strip.count
        for one in names:
            if one != "to be bought":
                assert strip.length <= room[one][0] and strip.width <= room[one][1]
                taken[one] = taken.get(one, 0.0) + strip.length * strip.width
    for one, area in taken.items():
        boards = found.boards.get(one.removesuffix(", one more"), 0) if one.endswith(", one more") else 1
        assert area <= boards * room[one][0] * room[one][1], one
    for strip in found.unserved:
        assert strip.wood == ANY_WOOD, "the shipped stock serves every strip of the table's own wood"
    assert {f"{one}, one more" for one in found.boards} <= set(taken)


@pytest.mark.parametrize(("name", "most"), [("towpath-side", 55.0), ("towpath-hex", 117.0)])
def test_no_board_is_bought_for_strips_that_others_hold(name: str, most: float) -> None:
    """Ripped first the rest of a board keeps its length, and the longest strips first leave room for short ones: in
    the order of the list, crosscut first, the side table's took two planks and two boards, for 103."""
    worked = begun(profile_from_text(shipped_text(name), name), shares=("stock", "lists"))
    price = {one.name: one.price for one in worked[TABLE].profile.stock}
    assert sum(price[one] * count for one, count in sawn(name)[1].boards.items()) <= most


def test_a_strip_comes_out_of_an_offcut_of_its_own_thickness() -> None:
    """One that a layout leaves as wide as the strip is sawn out, told a hair less: no thick offcut is sawn flatwise
    for it. What must be sawn flatwise is no more than what no board as cheap holds."""
    strips, found, _ = sawn("towpath-side")
    short = min((one for one in strips if one.code == "STRIP-SLAT"), key=lambda one: one.length)
    (name,) = found.out_of[strips.index(short)]
    assert name.startswith("iroko slat strips") and "offcut" in name
    assert found.resawn == 2, "a rail's and a long slat's strip beside each other out of one plank"


@pytest.mark.parametrize("name", NAMES)
def test_what_strips_take_is_not_left(name: str) -> None:
    """Pieces that are left lie in their offcut or board, clear of each other, and leave wood for the strips; what is
    too small for the rack isn't listed."""
    strips, found, room = sawn(name)
    lying: dict[tuple[str, int], list[tuple[str, Polygon]]] = {}
    for one in found.left:
        (x, y), long, wide = one.spot, one.piece.length, one.piece.width
        assert long <= room[one.piece.name][0] and wide <= room[one.piece.name][1]
        assert long >= 150 and wide >= 30
        if one.number:
            lying.setdefault((one.stock, one.number), []).append((one.piece.name, box(x, y, x + long, y + wide)))
    for shapes in lying.values():
        assert all(a.intersection(b).area < 1e-6 for (_, a), (_, b) in combinations(shapes, 2))
    taken, left = Counter[str](), Counter[str]()
    for strip, names in zip(strips, found.out_of, strict=True):
        for one in names:
            taken[one] += round(strip.rough[0] * strip.rough[1])
    for piece in found.left:
        left[piece.piece.name] += round(piece.piece.length * piece.piece.width)
    for one, area in left.items():
        boards = found.boards.get(one.removesuffix(", one more"), 0) if one.endswith(", one more") else 1
        assert area + taken[one] <= boards * room[one][0] * room[one][1] + 2, one
    assert taken and any(one in taken for one in room)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_slot_is_tried_on_is_wider_than_the_slot(name: str) -> None:
    """Else its stopped end lies off the wood: it is tried on a mitred piece of the scrap ring."""
    worked = begun(profile_from_text(shipped_text(name), name))
    table, set_ups = worked[TABLE], worked[WORK].set_ups
    long = [cut.outline.bounds.width for part in table.parts for cut in part.cuts("spline-slot")]
    slots = [one.number for one in set_ups if one.operation == "spline slot"]
    tried = [strip for strip in trial_wood(table, set_ups) if set(slots).intersection(strip.tried)]
    assert bool(slots) == bool(tried) and all(strip.width > max(long) for strip in tried)


@pytest.mark.parametrize("name", NAMES)
def test_a_piece_of_the_scrap_ring_reaches_over_the_cutter_from_the_rear_block(name: str) -> None:
    """A start over a hole is tried on one: its outer edge at the rear block, its inner one ends past the hole that
    lies over the cutter, mitred and as short as it may be told; and each is sawn anew a second and a third time."""
    worked = begun(profile_from_text(shipped_text(name), name))
    table, work = worked[TABLE], worked[WORK]
    (ring,) = (one.operation for one in work.operations if one.operation.does == "scrap ring")
    told = re.search(r"one length, (.+) or longer when it closes", str(ring.tells[0]))
    assert told
    least = parse_length(told[1], table.profile.units)
    tried = [
        (one.value("rear", cut), one.value("width", cut))
        for one in work.set_ups
        if one.operation == "groove"
        for cut in one.cuts
        if cut.codes[0].startswith("RIM") and any(setting.name == "rear" for setting in cut.settings)
    ]
    set_back = table.sizes.profile.top.rim_width * tan(pi / table.sizes.segments)
    assert bool(tried) == (name != "towpath-hex")
    assert all(least - set_back >= rear + wide / 2 for rear, wide in tried)
    strips = [one for one in trial_wood(table, work.set_ups) if one.code == "SCRAP-RING"]
    assert sum(int(one.length // (least + 50)) * one.count for one in strips) >= table.sizes.segments


@pytest.mark.parametrize("name", NAMES)
def test_the_page_has_every_strip_laid_on_wood_that_is_taken_or_bought(name: str) -> None:
    """Where a kind of strip comes out of several things it tells how many of each; what is bought for them, and
    what no stock holds, stands with its size and number among what is bought."""
    strips, found, _ = sawn(name)
    worked = begun(profile_from_text(shipped_text(name), name), shares=("stock", "lists"))
    sheet = buying(worked[TABLE], worked[LAID], (), strips)
    assert sheet
    grids = {grid.caption: grid for grid in sheet.grids}
    bought = grids["of the stock; after + for test strips"].rows
    more = {str(row[0]): int(str(row[3]).split("+")[1]) for row in bought if "+" in str(row[3])}
    wanted = Counter[str]()
    for strip, row in zip(strips, grids["wood for test pieces, sizes finished"].rows, strict=True):
        told = str(row[-1])
        each = re.findall(r"(?:^|, )(\d+) x ", told)
        assert not each or sum(map(int, each)) == strip.count, told
        if left := re.search(r"(?:(\d+) x )?to be bought", told):
            wanted[strip.code] += int(left[1] or strip.count)
    assert more == {**found.boards, **wanted}
    uncounted = {str(row[0]) for row in bought if row[-1] == "not counted"}
    assert uncounted == set(wanted), "what has no price says so"


@pytest.mark.parametrize("name", NAMES)
def test_every_angle_finds_two_ends_that_no_other_was_cut_at(name: str) -> None:
    """A pair of pieces has four ends, so it shows two angles; strips hold as many pairs as that takes."""
    worked = begun(profile_from_text(shipped_text(name), name))
    table, all_set_ups = worked[TABLE], worked[WORK].set_ups
    strips = trial_wood(table, all_set_ups)
    for code in {one.code for one in strips} - {"SCRAP-RING"}:
        pieces_of = [one.proof.test_piece for one in all_set_ups if code in one.proof.test_piece]
        pairs = [told for told in pieces_of if told != code]
        long = 406.4 if table.profile.units == "in" else 400.0
        pieces = sum(int(one.length // long) * one.count for one in strips if one.code == code)
        assert 2 * pieces >= 2 * len(pairs), (code, pairs)


RATES = "\n[rates]\nhourly = 40\n"


@cache
def packet() -> Packet:
    return make_packet(profile_from_text(shipped_text("towpath-side") + RATES, "priced"), ("lists", "stock"))


def rows(name: str) -> dict[str, dict[str, str]]:
    read = list(csv.DictReader(StringIO(packet().files[f"lists/{name}.csv"].decode())))
    return {next(iter(row.values())): row for row in read}


def test_what_no_offcut_holds_is_listed_and_priced() -> None:
    """Each further board at its price, in the list and in the price alike; any dry wood counts as nothing."""
    _, found, _ = sawn("towpath-side")
    listed, priced = rows("buy-list"), rows("price")
    assert found.boards
    for name, count in found.boards.items():
        row = listed[f"{name}, for test strips"]
        assert (int(row["pieces"]), row["price_each"]) == (count, listed[name]["price_each"])
        assert priced[f"{name}, for test strips"]["cost"] == row["cost"] and float(row["cost"]) > 0
    assert priced["SCRAP-RING"]["cost"] == "0.00" and "not in the price" in listed["SCRAP-RING"]["note"]


class Written:
    """The packet's files, its buy list with other words in it."""

    def __init__(self, old: str, new: str) -> None:
        self.old, self.new = old, new

    def read(self, path: str) -> bytes | None:
        data = packet().files.get(path)
        return data and (
            data.decode().replace(self.old, self.new).encode() if path.endswith("buy-list.csv") else data
        )


def test_the_proof_knows_strips_and_nothing_else_besides() -> None:
    """Rows of test strips aren't the record's; one of no strip, and a strip at another price, are noticed."""
    right, other = Written("", ""), Written(", for test strips", ", for shelves")
    dearer = Written("test strip,iroko,2", "test strip,iroko,3")
    assert not list(list_differences(packet().record, right, Counter()))  # type: ignore[arg-type]
    assert not list(price_differences(packet().record, right, Counter()))  # type: ignore[arg-type]
    assert list(list_differences(packet().record, other, Counter()))  # type: ignore[arg-type]
    assert list(price_differences(packet().record, dearer, Counter()))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ("towpath-side", "towpath-hex"))
def test_the_head_tells_what_all_boards_of_the_buy_list_cost(name: str) -> None:
    """Those of test strips too, whose share stands beside the sum."""
    made = make_packet(profile_from_text(shipped_text(name), name), ("lists", "stock", "page"))
    listed = list(csv.DictReader(StringIO(made.files["lists/buy-list.csv"].decode())))
    cost = [(row["item"], float(row["cost"])) for row in listed if row["cost"]]
    told = re.search(r"([0-9.]+) in all, ([0-9.]+) of it for test strips", made.files["index.html"].decode())
    assert told
    assert float(told[1]) == pytest.approx(sum(one for _, one in cost))
    assert float(told[2]) == pytest.approx(sum(one for item, one in cost if ", for test strips" in item))


def test_what_no_machine_saws_flatwise_comes_out_of_its_own_thickness() -> None:
    """A board more of the right thickness costs less than a thick one split by hand, whatever the boards cost."""
    text = shipped_text("towpath-side").replace("[shop]\n", '[shop]\nmachines = ["planer", "circular saw"]\n')
    worked = begun(profile_from_text(text, "hands"), shares=("stock", "lists"))
    table, laid = worked[TABLE], worked[LAID]
    strips = trial_wood(table, worked[WORK].set_ups)
    found = strips_sawn(table.profile.shop, table.profile.stock, laid, strips)
    thick = {one.name: one.thickness for one in table.profile.stock}
    ready = {one.code for one in strips if any(not one.resawn(table.profile.shop, size) for size in thick.values())}
    for strip, names in zip(strips, found.out_of, strict=True):
        for name in names if strip.code in ready and strip.wood != ANY_WOOD else ():
            stock = max((one for one in thick if name.startswith(one)), key=len)
            assert not strip.resawn(table.profile.shop, thick[stock]), (strip.code, name)

"""Which stock serves which part, offcuts as stock, and stock that several profiles share: no two sizes alike."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from math import pi

import pytest

from templategen.errors import ProfileError
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.jigs.jig import jigs_that_go
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.packet.jigs import plan_jigs
from templategen.packet.lay_out import LaidSheet
from templategen.packet.offcut_list import offcut_list, offcuts_of
from templategen.packet.shared_stock import shared_stock
from templategen.packet.shipped import shipped_text
from templategen.packet.supply import Order, Supply, item_of, joint_supplies, piece_of
from templategen.parts.part import Part
from templategen.table.assembly import build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Stock
from templategen.table.profile.read import profile_from_text
from templategen.work.jigs import BY, JigsUsed

SIDE = build_table(profile_from_text(shipped_text("towpath-side"), "side"))
DINING = build_table(profile_from_text(shipped_text("towpath-dining"), "dining"))


def stock(name: str, thickness: float, wood: str = "oak", mode: str = "sawn") -> Stock:
    """A board of a length that no other has."""
    length = 1000.0 + 100 * thickness
    return replace(DINING.profile.stock[0], name=name, thickness=thickness, wood=wood, mode=mode, length=length)


def part(code: str, thickness: float, wood: str = "oak", count: int = 3) -> Part:
    """A part of the dining table in another thickness and wood."""
    return replace(DINING.parts[0], code=code, thickness=thickness, wood=wood, count=count)


def order(*parts: Part, tables: int = 1, label: str = "", saw: float = 3.2, bit: float = 8.0) -> Order:
    """A table of these parts, in a shop with such a saw and router bit."""
    shop = replace(DINING.profile.shop, saw_kerf=saw, router_bit=bit, planing=4.0)
    table = replace(DINING, parts=parts, profile=replace(DINING.profile, shop=shop))
    return Order(table, tables, label)


def test_the_thinnest_stock_that_is_thick_enough_serves() -> None:
    """Within 0.05 mm of the part's thickness it does; other wood never; what nothing serves is named."""
    boards = [stock("thick", 45.0), stock("right", 28.0), stock("thin", 20.0), stock("pine", 28.0, "pine")]
    parts = (part("A", 28.05), part("B", 28.06), part("C", 19.0), part("D", 45.2), part("E", 30.0, "ash"))
    supplies, unserved = joint_supplies([order(*parts)], boards)
    served = {(one.thickness, item.code) for one in supplies for item in one.items}
    assert served == {(28.0, "A"), (45.0, "B"), (20.0, "C")}
    assert [one.code for one in unserved] == ["D", "E"]
    assert [piece.name for one in supplies for piece in one.pieces] == ["thin", "right", "thick"]


def test_what_takes_more_than_planing_is_told() -> None:
    """4 mm come off with the planer, more is sawn flatwise."""
    (one,), _ = joint_supplies([order(part("A", 24.0), part("B", 23.9))], [stock("right", 28.0)])
    assert one.resawn == ("B",) and not one.only_jigs


def test_sawn_boards_lose_a_kerf_and_routed_sheets_a_gap() -> None:
    """The largest kerf of all shops; where both stand side by side the boards keep the kerf as their own."""
    boards = [stock("board", 28.0), replace(stock("sheet", 28.0, mode="routed"), gap=9.5)]
    orders = [order(part("A", 28.0), label="one"), order(part("A", 28.0), label="two", saw=4.1, bit=6.0)]
    (one,), _ = joint_supplies(orders, boards)
    assert (one.spacing, one.kerf) == (9.5, 4.1)
    assert [piece.spacing for piece in one.pieces] == [4.1, 0.0]
    assert [item.code for item in one.items] == ["one/A", "two/A"]


def test_parts_are_made_for_every_table_and_jigs_once() -> None:
    """Five tables need five times the parts, under their label, and one set of jigs."""
    jigs = plan_jigs(DINING, JigsUsed(*jigs_that_go(DINING, BY)))
    five = Order(DINING, 5, "five", jigs.of_sheet(DINING.profile))
    supplies, _ = joint_supplies([five], DINING.profile.stock)
    counts = {item.code: item.count * item.pieces for one in supplies for item in one.items}
    for one in DINING.parts:
        # A strip may hold a piece more than is left for it.
        assert 5 * one.count <= counts[f"five/{one.code}"] < 5 * one.count + 12
    for piece in jigs.of_sheet(DINING.profile):
        assert counts[f"five/{piece.code}"] == piece.count
    assert {one.only_jigs for one in supplies} == {True, False}


def test_stock_keeps_its_sizes_and_faults_for_nesting() -> None:
    """Length, width, price, faults, margin and bad ends go over as they are; a board is one, a sheet isn't."""
    board = replace(
        stock("a", 20.0), length=1811.0, width=127.0, count=4, price=17.5, faults=((3.0, 4.0, 5.0),), margin=2.5,
        kind="board", fault_areas=((6.0, 7.0, 8.0, 9.0),), bad_ends=(11.0, 13.0), mode="sawn",
    )  # fmt: skip
    piece = piece_of(board)
    assert (piece.name, piece.length, piece.width, piece.count, piece.price) == ("a", 1811.0, 127.0, 4, 17.5)
    assert (piece.defects, piece.defect_areas, piece.bad_ends) == (board.faults, board.fault_areas, (11.0, 13.0))
    assert (
        piece.margin == 2.5
        and piece.mode == "sawn"
        and piece.grain
        and not piece_of(replace(board, kind="sheet")).grain
    )


def test_an_item_lies_with_its_grain_along_the_board() -> None:
    """A part with its grain up is turned a quarter back."""
    up = replace(part("A", 28.0), grain=Point(0.0, 1.0))
    order = Order(DINING, 1, "", ())
    for planed in (0.0, 28.0):
        assert item_of(up, order, planed).grain_turn == pytest.approx(-pi / 2)
        assert item_of(up, order, planed).outline == up.blank


def laid_sheet() -> LaidSheet:
    """A board with a knot, an area and a bad end, and two offcuts of which one has the knot."""
    outline = polygon([Point(0, 0), Point(300, 0), Point(300, 90), Point(0, 90)])
    piece = Piece("Oak 1", 1500.0, 130.0, 2, 30.0, ((1100.0, 40.0, 12.0),), 5.0, True, mode="sawn")
    sheet = Sheet(piece, 2, (Laid("A", Placement(x=10, y=10)),))
    supply = Supply("oak", 28.0, (Item("A", outline, 1),), (piece,), 3.2, 3.2)
    return LaidSheet(supply, sheet, (), ((900.0, 5.0, 400.007, 110.999), (320.0, 60.0, 250.0, 60.0)))


def test_offcuts_are_stock_for_the_next_profile() -> None:
    """Each is an entry that a profile reads: its size never longer than it is, the knot where it lies in it, one of
    it, nothing to trim and nothing to pay."""
    profile = replace(DINING.profile, stock=(stock("Oak 1", 28.0),), title="A  table")
    table = replace(DINING, profile=profile)
    text = offcut_list(table, tuple(offcuts_of(laid_sheet())))
    assert (
        "left of the boards of A table once" in text and "# 900, 5 mm from the lower left corner of piece 2" in text
    )
    first, second = tomllib.loads(text)["stock"]
    assert (first["name"], second["name"]) == ("Oak 1 2 offcut 1", "Oak 1 2 offcut 2")
    assert (first["length"], first["width"], first["thickness"]) == (400.0, 110.99, 28)
    assert (second["length"], second["width"]) == (250, 60)
    assert first["faults"] == [[200, 35, 12]] and "faults" not in second
    assert all(
        (one["count"], one["margin"], one["wood"], one["mode"]) == (1, 0, "oak", "sawn") for one in (first, second)
    )
    assert [one.spot for one in offcuts_of(laid_sheet())] == [(900.0, 5.0), (320.0, 60.0)]


def test_offcuts_of_a_table_in_inches_carry_their_unit() -> None:
    """Its profile reads bare numbers as inches, so lengths stand in quotes with mm."""
    profile = replace(DINING.profile, stock=(stock("Oak 1", 28.0),), units="in")
    text = offcut_list(replace(DINING, profile=profile), tuple(offcuts_of(laid_sheet())))
    first = tomllib.loads(text)["stock"][0]
    assert first["length"] == "400 mm" and first["faults"] == [["200 mm", "35 mm", "12 mm"]]


def test_nothing_left_is_said() -> None:
    """A list without offcuts says so and reads as an empty profile."""
    text = offcut_list(DINING, ())
    assert text.endswith("# Nothing.\n") and tomllib.loads(text) == {"format": 1, "units": "mm"}


def named(name: str, *boards: Stock) -> Profile:
    """A profile of such stock."""
    return replace(SIDE.profile, name=name, stock=boards, file=f"{name}.toml")


def test_stock_of_several_profiles_is_listed_once() -> None:
    """In the order in which it is first met; one name in other letters is the same stock."""
    a, b, c = stock("a", 20.0), stock("b", 28.0), stock("c", 45.0)
    assert shared_stock([named("one", b, a), named("two", c, b)]) == (b, a, c)


def test_stock_told_differently_is_refused_key_by_key() -> None:
    """Each key that contradicts is a fault of the later profile, with both values."""
    one, other = stock("a", 20.0), replace(stock("A", 20.0), price=99.5, count=7)
    with pytest.raises(ProfileError) as refusal:
        shared_stock([named("one", stock("b", 28.0), one), named("two", stock("c", 45.0), other)])
    faults = {fault.where: str(fault) for fault in refusal.value.faults}
    assert set(faults) == {"stock[2].name", "stock[2].price", "stock[2].count"}
    assert f"99.5 here and {one.price:g} in one" in faults["stock[2].price"]
    assert all(fault.file == "two.toml" for fault in refusal.value.faults)

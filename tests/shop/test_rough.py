"""Rough sizes: every blank holds its part with its allowances, strips hold their pieces, short ones stay on them."""

from __future__ import annotations

from csv import DictReader
from dataclasses import replace
from io import StringIO
from typing import Any

import pytest
from shapely.geometry import Polygon

from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.parts.part import Part
from templategen.proof.bench.follow import bench_differences
from templategen.shop.cut_list import cut_list
from templategen.shop.rough import SQUARED, resaw_kerf, rough_of
from templategen.shop.set_ups.run import set_ups
from templategen.table.profile.model_of_shop import Shop
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables
from tests.table.made import table_of


def shape(outline: object) -> Polygon:
    """An outline of straight lines, by another library."""
    return Polygon([(v.x, v.y) for v in outline])  # type: ignore[attr-defined]


def holds(shop: Shop, part: Part) -> bool:
    """Whether a single blank covers the part's with half the allowances on every side, the long edges square to them
    and the ends along the grain."""
    rough, blank = shape(rough_of(shop, part).outline), shape(part.blank)
    more = shop.wider[0 if part.size[0] <= 1000 else 1 if part.size[0] <= 2000 else 2] / 2 - 1e-6
    along = shop.longer / 2 - 1e-6
    moved = [
        [(x + dx, y + dy) for x, y in blank.exterior.coords]
        for dx, dy in ((-along, 0), (along, 0), (0, -more), (0, more))
    ]
    return all(rough.buffer(1e-6).contains(Polygon(one)) for one in moved)


def test_a_blank_holds_its_part_with_the_allowances() -> None:
    """On lopsided tables each single blank covers the finished blank moved by its allowances each way, and is no
    longer than these make it but for steep ends."""
    seen = 0
    for table in tables(range(1, 15)):
        for part in table.parts:
            rough = rough_of(table.profile.shop, part)
            if not rough.is_strip:
                seen += 1
                assert holds(table.profile.shop, part), part.code
                assert rough.length <= part.blank.bounds.width + 4 * table.profile.shop.longer
    assert seen > 100


def test_ends_lean_only_where_the_wood_between_them_serves() -> None:
    """A blank's ends lean as its part's do, or are square: where the first cut is, and where the shorter long edge
    would be under what a hand may feed, though the piece is longer from point to point."""
    table = table_of()
    corners = {part.code: {round(at.x, 3) for at in rough_of(table.profile.shop, part).outline}
               for part in table.parts}  # fmt: skip
    assert [len(corners[code]) for code in ("SLAT-04", "SLAT-05", "SLAT-06", "SLAT-07")] == [2, 4, 4, 2]
    fed_shorter = table_of({"shop.holding": 250.0})
    slat = rough_of(fed_shorter.profile.shop, fed_shorter.part("SLAT-04"))
    assert not slat.is_strip and len({round(at.x, 3) for at in slat.outline}) == 4


def test_strips_hold_all_their_pieces() -> None:
    """Twelve splines of 46 mm: eleven steps of length, kerf and trim, the last piece, and the end to hold it by.
    Strips together hold what is needed, none two pieces too many, and all of them may be fed by hand."""
    table = table_of()
    shop = table.profile.shop
    for tables_ in (1, 4):
        for part in table.parts:
            rough = rough_of(shop, part, tables_)
            needed = part.count * tables_
            assert rough.pieces * (rough.count - 1) < needed <= rough.pieces * rough.count
            assert rough.length >= shop.holding
            assert rough.is_strip == (part.blank.bounds.width < shop.holding)
    (spline,) = [part for part in table.parts if part.kind == "spline"]
    step = spline.size[0] + shop.saw_kerf + SQUARED
    assert abs(rough_of(shop, spline).length - (12 * step + shop.strip_end)) < 1e-6


@pytest.mark.wide
def test_no_blank_is_shorter_than_its_set_up_asks() -> None:
    """Every stop at which an end of one edge is sawn lies inside the blank as sawn out, raked legs too, with wood to
    trim; of an end with several the lines meet outside the piece."""
    for table in tables(range(1, 21)):
        roughs = {part.code: rough_of(table.profile.shop, part) for part in table.parts}
        for one in set_ups(table):
            for cut in one.cuts:
                stop = one.setting("stop", cut)
                if one.operation in ("crosscut", "mitre") and stop:
                    for code in {lay.code for lay in cut.lays if "-" not in lay.worked}:
                        assert stop.figure.value <= roughs[code].length - 5, (table.profile.name, code)


def test_the_cut_list_tells_both_sizes() -> None:
    """Each row has the finished blank, and what is sawn out for it."""
    table = table_of()
    header, rows = cut_list(table, 2)
    for part, row in zip(table.parts, rows, strict=True):
        told = dict(zip(header, row, strict=True))
        rough = rough_of(table.profile.shop, part, 2)
        assert float(told["rough_length_mm"]) == round(rough.length, 1)
        assert ("strip" in str(told["sawn_out"])) == rough.is_strip
        assert str(rough.count) == str(told["sawn_out"]).split()[0]


def test_even_a_single_short_piece_may_be_fed_by_hand() -> None:
    """Where a hand may feed nothing under 1,130 mm, the one rail of 1,124 is sawn out longer than it needs, as are
    strips of two."""
    table = table_of({"shop.holding": 1130.0})
    roughs = {part.code: rough_of(table.profile.shop, part) for part in table.parts}
    assert all(rough.length >= 1130.0 for rough in roughs.values())
    assert (roughs["RAIL-LOW"].pieces, roughs["RAIL-LOW"].count) == (1, 1)


def test_thick_boards_are_sawn_flatwise_into_several() -> None:
    """By the closed formula: n thicknesses, n - 1 kerfs, two faces for each; never where the board is planed down.
    The pieces of all layers together are enough, none a layer too many, and no strip too short to feed."""
    table = table_of()
    shop = table.profile.shop
    (spline,) = [part for part in table.parts if part.kind == "spline"]
    kerf, face, thick = resaw_kerf(shop), shop.resaw_face, spline.thickness
    for layers in (2, 3):
        least = layers * thick + (layers - 1) * kerf + 2 * layers * face
        for bought, found in ((least + 0.01, layers), (least - 0.01, layers - 1)):
            rough = rough_of(shop, spline, 3, bought)
            assert rough.layers == found and rough.pieces % found == 0
            assert rough.pieces * (rough.count - 1) < 3 * spline.count <= rough.pieces * rough.count
    assert rough_of(shop, spline, 1, thick + shop.planing).layers == 1
    assert rough_of(shop, spline, 1, 9 * thick).length >= shop.holding
    by_hand = replace(shop, machines=())
    assert resaw_kerf(by_hand) == shop.saw_kerf > kerf


@pytest.mark.wide
def test_a_packet_of_thick_boards_is_followed_to_its_end() -> None:
    """Layouts, cut list and plan tell the same two layers, and who follows the plan ends with the table; told as
    three out of the same board it is refused."""
    text = shipped_text("towpath-side").replace("thickness = 18\nprice", "thickness = 31\nprice")
    packet = make_packet(profile_from_text(text, "side"), ("stock", "lists"), tables=2)
    record: Any = packet.record
    told = {row["code"]: row for row in DictReader(StringIO(packet.files["lists/cut-list.csv"].decode()))}
    flat = next(one for one in record["plan"]["operations"] if one["operation"] == "saw flatwise")
    deep = [one["code"] for one in flat["pieces"] if "into" in told[one["code"]]["sawn_out"]]
    assert deep and list(bench_differences(record)) == []
    for piece in flat["pieces"]:
        piece["after"][2] *= 2
    assert any("out of one thickness" in one.says for one in bench_differences(record))

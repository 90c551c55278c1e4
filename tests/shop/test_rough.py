"""Rough sizes: every blank holds its part with its allowances, strips hold their pieces, short ones stay on them."""

from __future__ import annotations

from shapely.geometry import Polygon

from templategen.parts.part import Part
from templategen.shop.cut_list import cut_list
from templategen.shop.rough import SQUARED, rough_of
from templategen.shop.set_ups.run import set_ups
from templategen.table.profile.model import Shop
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

"""Cut list, buy list and mass, each figure against another way to it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import cos, pi, tan
from typing import Any

import pytest

from templategen.output.packet_json import part_json
from templategen.shop.buy_list import buy_list
from templategen.shop.cut_list import cut_list
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from tests.table.made import table_of

Row = dict[str, Any]


def rows(listed: tuple[list[str], list[list[Any]]]) -> dict[str, Row]:
    """A list's rows as mappings, by their first cell."""
    header, lines = listed
    assert all(len(line) == len(header) for line in lines)
    return {str(line[0]): dict(zip(header, line, strict=True)) for line in lines}


def test_every_part_is_listed_once_with_its_count() -> None:
    """The cut list has a row for each kind of part."""
    table = table_of()
    listed = rows(cut_list(table))
    assert {code: int(row["count"]) for code, row in listed.items()} == {p.code: p.count for p in table.parts}


def test_a_rim_blank_is_listed_as_it_is_sawn() -> None:
    """Length 2 A tan(pi/N), width and thickness as given, ends at the mitre."""
    row = rows(cut_list(table_of()))["RIM-A"]
    assert float(row["length_mm"]) == pytest.approx(2 * 675 * tan(pi / 12), abs=0.005)
    assert (row["width_mm"], row["thickness_mm"]) == ("126.00", "38.00")
    assert row["ends"] == "15° off square (gauge 75°)"


def test_a_spline_is_measured_along_its_grain() -> None:
    """A spline's length is across the joint, its width what the groove leaves of the joint face."""
    row = rows(cut_list(table_of()))["SPLINE"]
    assert row["length_mm"] == "46.00"
    assert float(row["width_mm"]) == pytest.approx((126 - 14 - 5) / cos(pi / 12) - 1, abs=0.005)


def test_work_is_counted() -> None:
    """A slat's two tongues, its pin's slot and two eased edges are told, each once."""
    row = rows(cut_list(table_of({"joints.slide_clearance": 0.32})))["SLAT-03"]
    assert row["features"] == "2 tongue 5.16 deep, 1 pin-slot 16.84 deep, 2 chamfer 2.00 deep, 2 chamfer 1.00 deep"


def value_of(text: str) -> Fraction:
    """Millimetres of an inch fraction as written."""
    parts = text.removesuffix(" in").replace("-", " ").split()
    return sum((Fraction(part) for part in parts), Fraction(0)) * Fraction(127, 5)


def test_inch_fractions_and_their_error_give_the_size() -> None:
    """What the fraction shows, less its error, is the size in mm, and the error is under half a 64th."""
    table = table_of(name="towpath-inch")
    by_code = {part.code: part for part in table.parts}
    for code, row in rows(cut_list(table)).items():
        for name, size in zip(("length", "width", "thickness"), by_code[code].size, strict=True):
            error = row[f"{name}_in_error_mm"]
            assert float(value_of(row[f"{name}_in"])) - error == pytest.approx(size, abs=1e-9)
            assert abs(error) <= 25.4 / 128 + 1e-9


def test_metric_lists_have_no_inches() -> None:
    """Only inch profiles get inch columns and board feet."""
    assert not any("_in" in name for name in cut_list(table_of())[0])
    assert "board_feet" not in buy_list(table_of(), {}, ())[0]
    assert "board_feet" in buy_list(table_of(name="towpath-inch"), {}, ())[0]


def test_bought_stock_is_counted_and_priced() -> None:
    """Pieces used give volume and cost; stock that isn't used is left out."""
    table = table_of()
    listed = rows(buy_list(table, {"rim boards": 4}, ()))
    assert set(listed) == {"rim boards"}
    row = listed["rim boards"]
    assert float(row["volume_m3"]) == pytest.approx(4 * 2.4 * 0.15 * 0.038, abs=5e-5)
    assert (row["pieces"], row["price_each"], row["cost"]) == ("4", "21.50", "86.00")


def test_board_feet_are_144_cubic_inches() -> None:
    """A stock of 96 by 6 by 1 1/2 inches holds six board feet."""
    table = table_of(name="towpath-inch")
    stock = replace(table.profile.stock[0], length=96 * 25.4, width=6 * 25.4, thickness=1.5 * 25.4)
    table = replace(table, profile=replace(table.profile, stock=(stock,)))
    row = rows(buy_list(table, {stock.name: 3}, ()))[stock.name]
    assert float(row["board_feet"]) == pytest.approx(3 * 96 * 6 * 1.5 / 144)


def test_parts_without_stock_are_listed_net() -> None:
    """Parts that no stock serves are bought by their own sizes, all copies together."""
    leg = table_of().part("LEG")
    row = rows(buy_list(table_of(), {}, (leg,)))["LEG"]
    length, width, thickness = leg.size
    assert row["pieces"] == "6"
    assert float(row["volume_m3"]) == pytest.approx(6 * length * width * thickness / 1e9, abs=5e-5)


def sharp(table: Table) -> Table:
    """The table with no rounded or eased edges."""
    blunt = ("round-over", "chamfer")
    parts = (replace(p, features=tuple(f for f in p.features if f.kind not in blunt)) for p in table.parts)
    return replace(table, parts=tuple(parts))


@pytest.mark.parametrize("wood", ["european larch", "western redcedar"])
def test_mass_is_the_solids_by_their_density(wood: str) -> None:
    """The mass of a table with sharp edges is its solids' volume at the wood's density."""
    pytest.importorskip("manifold3d")
    from templategen.wood.species import SPECIES
    from tests.solids import solid

    plain = table_of()
    table = sharp(replace(plain, parts=tuple(replace(part, wood=wood) for part in plain.parts)))
    litres = sum(part.count * solid(part_json(part, [])).volume() for part in table.parts) / 1e9
    assert mass_kg(table) == pytest.approx(litres * SPECIES[wood].density, rel=1e-4)


def test_rounding_makes_it_lighter() -> None:
    """Eased edges weigh something, though under a fiftieth of the table."""
    table = table_of()
    assert 0.98 < mass_kg(table) / mass_kg(sharp(table)) < 1

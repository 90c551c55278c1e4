"""The keys of stock: faults, bad ends, how parts are freed."""

from __future__ import annotations

from pathlib import Path

import pytest

from templategen.errors import ProfileError
from templategen.table.profile.model_of_shop import Stock
from templategen.table.profile.read import read_profile


def stock(folder: Path, text: str, units: str = "mm") -> Stock:
    """The one stock of a profile that lists it so."""
    path = folder / "t.toml"
    path.write_text(f'format = 1\nunits = "{units}"\n[[stock]]\n{text}', encoding="utf-8")
    return read_profile(path).stock[0]


def test_boards_are_sawn_and_sheets_routed_unless_told(tmp_path: Path) -> None:
    """The kind decides about the mode, and what is written overrules it."""
    assert stock(tmp_path, 'kind = "board"').mode == "sawn"
    assert stock(tmp_path, 'kind = "sheet"').mode == "routed"
    assert stock(tmp_path, 'kind = "sheet"\nmode = "sawn"').mode == "sawn"


def test_faults_are_read_in_the_units_of_the_profile(tmp_path: Path) -> None:
    """Rectangles and ends in inches become millimetres."""
    one = stock(tmp_path, "fault_areas = [[10, 1, 2, 1]]\nbad_ends = [1, 0]", "in")
    assert one.fault_areas == (pytest.approx((254, 25.4, 50.8, 25.4)),)
    assert one.bad_ends == pytest.approx((25.4, 0))


def test_a_margin_is_one_number_or_four(tmp_path: Path) -> None:
    """One number trims every edge, four are left, right, bottom and top, each in the units of the profile."""
    assert stock(tmp_path, "").margin == 5
    assert stock(tmp_path, "margin = 8").margin == 8
    assert stock(tmp_path, 'margin = [60, 0, 3.5, "1/2 in"]').margin == (60, 0, 3.5, 12.7)
    assert stock(tmp_path, "margin = [1, 0, 0, 0]", "in").margin == (25.4, 0, 0, 0)


def test_a_router_has_room_beside_and_round_every_part(tmp_path: Path) -> None:
    """A bit and 1 mm between parts, a bit and 3 mm to the sides, pins besides at the ends; or as set."""
    one = stock(tmp_path, 'kind = "sheet"\n[shop]\nrouter_bit = "12.5 mm"')
    assert (one.gap, one.margin) == (13.5, (31.0, 35.0, 15.5, 15.5))
    assert stock(tmp_path, 'kind = "sheet"\n[shop]\nrouter_bit = 6').margin == (20.0, 24.0, 9.0, 9.0)
    longer = "[router]\nbits = [[10, 30, 4], [12, 60, 4], [16, 80, 4]]"
    assert [stock(tmp_path, f'mode = "routed"\nthickness = {t}\n{longer}').bit for t in (24, 29, 38, 90)] == [
        8,
        10,
        12,
        16,
    ]
    own = stock(tmp_path, 'mode = "routed"\ngap = 14\nmargin = [11, 60, 12, 13]')
    assert (own.gap, own.margin) == (14.0, (11.0, 60.0, 12.0, 13.0))
    assert (stock(tmp_path, "").gap, stock(tmp_path, "margin = 0").margin) == (0.0, 0.0)


@pytest.mark.parametrize("text", ["gap = 8.9", "margin = 10.9", "margin = [30, 30, 30, 5]"])
def test_too_little_room_for_the_bit_is_refused_with_what_would_do(tmp_path: Path, text: str) -> None:
    """At its key, with the bit and the least."""
    with pytest.raises(ProfileError) as refusal:
        stock(tmp_path, f'mode = "routed"\n{text}')
    told = str(refusal.value)
    least = "9 mm" if text.startswith("gap") else "11 mm"
    assert f"stock[1].{text.split()[0]}" in told and "bit of 8 mm" in told and f"write {least} or more" in told


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('mode = "hewn"', "stock[1].mode"),
        ("bad_ends = [1500, 1200]", "stock[1].bad_ends"),
        ("bad_ends = 20", "stock[1].bad_ends"),
        ("margin = [1, 2]", "stock[1].margin"),
        ("margin = [0, 0, 80, 80]", "stock[1].margin"),
        ("margin = [0, 0, -1, 0]", "stock[1].margin[3]"),
        ("margin = [0, 2000, 0, 0]\nbad_ends = [500, 0]", "stock[1].bad_ends"),
        ("fault_areas = [[1, 2, 3]]", "stock[1].fault_areas[1]"),
        ("fault_areas = [[9000, 0, 5, 5]]", "stock[1].fault_areas[1]"),
    ],
)
def test_wrong_stock_is_told(tmp_path: Path, text: str, where: str) -> None:
    """Each mistake is refused at its own key."""
    with pytest.raises(ProfileError) as refusal:
        stock(tmp_path, text)
    assert where in {fault.where for fault in refusal.value.faults}

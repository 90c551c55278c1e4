"""A workshop file holds where the table says nothing, in its own units; errors name its lines."""

from __future__ import annotations

from math import radians
from pathlib import Path

import pytest

from templategen.errors import Fault, ProfileError
from templategen.explain.given import where_set
from templategen.table.profile.change import changed
from templategen.table.profile.model import Profile
from templategen.table.profile.read import placed_in, profile_from_text, read_profile
from templategen.table.profile.read_workshop import read_workshop, workshop_from_text
from templategen.table.profile.starter import starter_text, workshop_text

SHOP = """# the boat shed
format = 1
units = "in"
[shop]
saw_kerf = 0.125   # measured
longer = "values.extra + round(0.6 in)"
groove_reach = [1.5, 0.25]
mitre_error = 0.07
[values]
extra = 1
board = 99
[rates]
hourly = 38
mitre = 2.5
[maker]
name = "Boat shed"
lines = ["Towpath 3", "by the lock"]
[[stock]]
name = "larch"
wood = "european larch"
length = 96
width = 6
thickness = 1.5
faults = [[10, 2, 1.5]]
[woods.apple]
radial = 5.5
tangential = 9
"""

OTHER = "format = 1\n[rates]\nhourly = 51\n[woods.apple]\nradial = 5\ntangential = 9\n"

TABLE = """format = 1
title = "Weir table"
wood = "apple"
[values]
board = 38
[top]
thickness = "values.board"
[shop]
file = "shop.toml"
saw_kerf = 2.6
[rates]
mitre = 3
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "shop.toml").write_text(SHOP, encoding="utf-8")
    (tmp_path / "weir.toml").write_text(TABLE, encoding="utf-8")
    return tmp_path


def of(folder: Path, shop: str | None = None) -> Profile:
    return read_profile(folder / "weir.toml", shop)


def test_what_the_table_sets_itself_wins_key_by_key(folder: Path) -> None:
    profile = of(folder)
    assert (profile.shop.saw_kerf, profile.rates.mitre, profile.rates.hourly) == (2.6, 3.0, 38.0)
    assert (profile.values, profile.top.thickness) == ({"extra": 25.4, "board": 38.0}, 38.0)
    assert profile.maker.lines == ("Towpath 3", "by the lock") and "apple" in profile.woods


def test_bare_numbers_are_in_the_units_of_their_own_file(folder: Path) -> None:
    profile = of(folder)
    assert profile.units == "mm"
    assert profile.shop.longer == pytest.approx(25.4 + 25.4)
    assert profile.shop.groove_reach == pytest.approx((38.1, 6.35))
    assert profile.shop.mitre_error == pytest.approx(radians(0.07))
    (board,) = profile.stock
    assert (board.length, board.thickness) == pytest.approx((2438.4, 38.1))
    assert board.faults[0] == pytest.approx((254.0, 50.8, 38.1))


def test_each_figure_knows_its_file_and_line(folder: Path) -> None:
    profile = of(folder)
    told = {
        key: where_set(profile, key) for key in ("shop.saw_kerf", "shop.groove_reach", "rates.hourly", "shop.band")
    }
    assert list(told.values()) == ["profile line 10", "workshop line 7", "workshop line 13", "default"]
    assert profile.file_of("stock[1].faults").endswith("shop.toml") and profile.line_of("stock[1].faults") == 24
    assert profile.file_of("rates.mitre").endswith("weir.toml") and profile.line_of("values.board") == 5


def test_stock_of_the_table_s_own_stands_alone(folder: Path) -> None:
    text = TABLE + '[[stock]]\nname = "pear"\nlength = 900\nwidth = 120\nthickness = 38\n'
    (folder / "weir.toml").write_text(text, encoding="utf-8")
    assert [one.name for one in of(folder).stock] == ["pear"]


def test_the_command_s_file_goes_before_the_profile_s_and_that_before_one_s_own(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "other.toml").write_text(OTHER, encoding="utf-8")
    monkeypatch.setenv("TEMPLATEGEN_SHOP", str(folder / "other.toml"))
    assert of(folder).rates.hourly == 38 and of(folder, str(folder / "other.toml")).rates.hourly == 51
    plain = folder / "plain.toml"
    plain.write_text("format = 1\n", encoding="utf-8")
    assert read_profile(plain).rates.hourly == 51
    monkeypatch.setenv("TEMPLATEGEN_SHOP", str(folder / "nowhere.toml"))
    with pytest.raises(ProfileError, match=r"nowhere\.toml: there is no such file"):
        read_profile(plain)
    plain.write_text('format = 1\nshop = "none"\n', encoding="utf-8")
    assert read_profile(plain).rates.hourly == 0 and read_profile(plain, "none").workshop is None


def test_both_files_name_the_state(folder: Path) -> None:
    before = of(folder).sha256
    (folder / "shop.toml").write_text(SHOP.replace("hourly = 38", "hourly = 39"), encoding="utf-8")
    assert of(folder).sha256 != before


def test_with_other_values_the_workshop_stays(folder: Path) -> None:
    wider = changed(of(folder), {"top.diameter": 1290, "shop.saw_kerf": None})
    assert (wider.top.diameter, wider.shop.saw_kerf, wider.rates.hourly) == (1290.0, pytest.approx(3.175), 38.0)
    short = profile_from_text('format = 1\nshop = "shop.toml"\n', "t", workshop=read_workshop(folder / "shop.toml"))
    assert changed(short, {"shop.saw_kerf": 2.2}).shop.longer == pytest.approx(50.8)


FAULTS = {
    "out of range": ("saw_kerf = 0.125", "saw_kef = 0.125", "shop.toml:5: shop.saw_kef: is not known; did you mean"),
    "a size too large": ("longer = ", "wider = [9, 1, 1]\nlonger = ", "shop.toml:6: shop.wider[1]: 9 in"),
    "a sum that is none": ("extra = 1", 'extra = "2 * 2"', "shop.toml:6: shop.longer: "),
    "a board of no wood": (
        'wood = "european larch"\n',
        "",
        "shop.toml:18: stock[1].wood: is missing; say it of every",
    ),
    "a table's key": ("[rates]", "[top]\ndiameter = 9\n[rates]", "shop.toml:12: top: belongs to a table"),
    "another workshop": ("[shop]", '[shop]\nfile = "b.toml"', "shop.toml:5: shop.file: names another file"),
    "no format": ("format = 1\n", "", "shop.toml: format: is missing"),
    "no units": ('units = "in"', 'units = "ell"', 'shop.toml:3: units: "ell" is not known here'),
    "no such section": ("[rates]", "[rats]", "shop.toml:12: rats: is not known; did you mean rates?"),
    "a section that is none": ("[shop]\n", "rates = 3\n[shop]\n", "shop.toml:13: "),
    "lines that are one": (
        'lines = ["Towpath 3", "by the lock"]',
        'lines = "Towpath 3"',
        "shop.toml:17: maker.lines",
    ),
    "signs that turn": (
        'name = "Boat shed"',
        'name = "Boat\\u202eshed"',
        "shop.toml:16: maker.name: holds the control",
    ),
    "no TOML": ("[rates]", "[rates", "shop.toml:12: "),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_is_wrong_is_told_with_the_right_file_and_line(folder: Path, name: str) -> None:
    old, new, told = FAULTS[name]
    assert SHOP.count(old) == 1
    (folder / "shop.toml").write_text(SHOP.replace(old, new), encoding="utf-8")
    with pytest.raises(ProfileError) as refusal:
        of(folder)
    assert told in str(refusal.value) and "weir.toml" not in str(refusal.value)


def test_faults_of_both_files_are_told_at_once(folder: Path) -> None:
    (folder / "shop.toml").write_text(SHOP.replace("hourly = 38", "hourly = -1"), encoding="utf-8")
    (folder / "weir.toml").write_text(TABLE.replace("mitre = 3", "mitre = 3\nlap = -2"), encoding="utf-8")
    with pytest.raises(ProfileError) as refusal:
        of(folder)
    places = [(Path(fault.file).name, fault.line) for fault in refusal.value.faults]
    assert places == [("weir.toml", 13), ("shop.toml", 13)]


def test_what_is_refused_later_is_told_in_its_file_too(folder: Path) -> None:
    placed = placed_in(of(folder), [Fault("shop.longer", "too long"), Fault("top.thickness", "too thin")])
    assert [(Path(one.file).name, one.line, one.found) for one in placed] == [
        ("weir.toml", 7, "too thin"), ("shop.toml", 6, "too long"),
    ]  # fmt: skip


@pytest.mark.parametrize(("written", "told"), [
    ('shop = "nowhere.toml"\n', "weir.toml:2: shop: "),
    ('[shop]\nfile = "nowhere.toml"\n', "weir.toml:3: shop.file: "),
    ("shop = 4\n", "weir.toml:2: shop: 4 stands here"),
    ("[shop]\nfile = [1]\n", "weir.toml:3: shop.file: a list stands here"),
    ('shop = "."\n', "this is a folder"),
    ('shop = "a\\u0000b"\n', "weir.toml:2: shop: "),
])  # fmt: skip
def test_a_file_that_isn_t_there_is_told_where_it_is_named(folder: Path, written: str, told: str) -> None:
    (folder / "weir.toml").write_text(f"format = 1\n{written}", encoding="utf-8")
    with pytest.raises(ProfileError) as refusal:
        of(folder)
    assert told in str(refusal.value)


def test_hostile_workshop_files_are_refused(folder: Path) -> None:
    for content in (b"\xff\xfe", b"x = 1\n" * 400_000, b"a = " + b"[" * 5000, b"\x00"):
        (folder / "shop.toml").write_bytes(content)
        with pytest.raises(ProfileError, match=r"shop\.toml"):
            of(folder)


def test_a_workshop_to_start_from_changes_nothing() -> None:
    workshop = workshop_from_text(workshop_text(), "shop.toml")
    plain = profile_from_text("format = 1\n", "t")
    led = profile_from_text(starter_text("t", shop="shop.toml"), "t", workshop=workshop)
    assert led.maker == plain.maker and led.paper == plain.paper and led.rates == plain.rates
    assert led.shop == plain.shop and led.limits == plain.limits and led.jigs == plain.jigs
    assert "saw_kerf" not in led.text and led.text.splitlines()[4] == 'shop = "shop.toml"'

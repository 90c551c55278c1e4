"""A profile as it is read."""

from __future__ import annotations

import hashlib
import math
import re
import subprocess
import sys
from dataclasses import asdict, replace
from pathlib import Path

import pytest

from templategen.errors import ProfileError
from templategen.table.profile.keys import KEYS, SECTIONS, STOCK, WOODS
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text, read_profile
from templategen.table.profile.starter import starter_text

FIVE_LINES = 'format = 1\ntitle = "Terrace"\nwood = "White  Oak"\n[top]\ndiameter = 1200\n'
INCHES = 'format = 1\nunits = "in"\n'


def read(body: str) -> Profile:
    """A profile of these lines."""
    return profile_from_text(f"format = 1\n{body}", "terrace", "terrace.toml")


def values_of(profile: Profile) -> Profile:
    """A profile without what tells one file from another."""
    return replace(profile, sha256="", lines={}, file="", name="", title="")


def test_five_lines_make_a_profile(tmp_path: Path) -> None:
    """Five lines are a whole profile: every other key stands at its default."""
    path = tmp_path / "terrace.toml"
    path.write_text(FIVE_LINES)
    profile = read_profile(path)
    assert (profile.name, profile.title, profile.wood) == ("terrace", "Terrace", "white oak")
    assert profile.top.diameter == 1200
    assert profile.legs.tenon == (38, 46, 24)
    assert profile.sha256 == hashlib.sha256(FIVE_LINES.encode()).hexdigest()
    assert profile.file == str(path)
    assert (profile.line_of("top.diameter"), profile.line_of("top.height")) == (5, 0)


def test_every_key_reaches_the_model() -> None:
    """Each key of the table of keys has its place in the profile, and each place its key."""
    profile = asdict(read(""))
    for section, known in SECTIONS.items():
        assert set(profile[section]) == {key.name for key in known}
    entry = asdict(read("[[stock]]\n").stock[0])
    assert set(entry) - {"bit"} == {key.name for key in STOCK}, "its bit is found, not written"
    wood = asdict(read("[woods.elm]\nradial = 4\ntangential = 8\n").woods["elm"])
    assert set(wood) == {key.name for key in WOODS}


def test_the_starter_is_the_default() -> None:
    """The starter profile shows every key, and reads as if nothing but `format` were written."""
    started = profile_from_text(starter_text("Terrace"), "terrace")
    assert values_of(started) == values_of(read(""))
    assert started.title == "Terrace"
    assert set(KEYS) <= set(started.lines)


def test_the_starter_in_inches_holds_clean_sizes_next_to_the_defaults() -> None:
    """Each length is in whole parts of an inch such as a rule has and near the metric default, and so it is where it
    is left out; threads stay metric."""
    started = profile_from_text(starter_text("Terrace", "in"), "terrace")
    assert values_of(started) == values_of(profile_from_text(INCHES, "x"))
    assert set(KEYS) <= set(started.lines) and started.paper.size == "letter"
    assert started.words.english == "american"
    assert (started.top.diameter, started.top.thickness, started.legs.bolt[0]) == pytest.approx((1346.2, 38.1, 10.0))
    assert started.limits.cheek == pytest.approx((3.175, 4.7625))
    for path, key in KEYS.items():
        if key.kind == "length" and isinstance(key.default, int | float) and key.default >= 1:
            section, name = path.split(".")
            inches = getattr(getattr(started, section), name) / 25.4
            assert inches * 32 == pytest.approx(round(inches * 32), abs=1e-6), path
            assert inches * 25.4 == pytest.approx(key.default, rel=0.22, abs=0.25), path


def test_the_starter_without_its_comment_signs() -> None:
    """What the starter only shows reads as well once its comment signs are taken off."""
    shown = re.sub(r"^# (\[|\w+ = )", r"\1", starter_text("Terrace"), flags=re.MULTILINE)
    profile = profile_from_text(shown, "terrace")
    assert profile.values == {"board": 38, "guests": 6}
    assert (profile.stock[0].name, profile.stock[0].count) == ("larch boards", 6)
    assert profile.woods["my larch"].radial == 3.3


@pytest.mark.parametrize("name", ['a "quoted" \\ name', "]\n[top]\ndiameter = 5", "", "x" * 500, "\u202e"])
def test_starter_names(name: str) -> None:
    """No name breaks out of the starter's title."""
    started = profile_from_text(starter_text(name), "terrace")
    assert values_of(started) == values_of(read(""))


def test_inches() -> None:
    """In a profile of inches bare lengths are inches, strings keep their unit, what is left out is clean."""
    profile = profile_from_text(
        INCHES + '[top]\ndiameter = 48\nthickness = "1-3/4 in"\nheight = "70 cm"\n[shop]\nhumidity = [40, 80]\n',
        "x",
    )
    assert (profile.top.diameter, profile.top.thickness, profile.top.height) == (1219.2, 44.45, 700)
    assert profile.top.rim_width == 127
    assert profile.shop.humidity == (40, 80)


def test_arithmetic() -> None:
    """Keys may lean on each other, on defaults and on the maker's own values, in any order."""
    profile = read(
        '[values]\nboard = 38\nguests = "6"\nhalf = "values.board / 2"\ntilt = "1 deg"\n'
        '[top]\nthickness = "values.board"\nsegments = "2 * values.guests"\n'
        '[slats]\nthickness = "values.half + 1 mm"\nwidth = "top.rail_width - 26 mm"\n'
        '[legs]\ntenon = ["legs.section / 2", 46, "values.half"]\n'
        '[shop]\nmitre_error = "values.tilt / 4"\n'
        '[[stock]]\nthickness = "values.board + 2 mm"\nfaults = [["values.board", 10, 20]]\n'
    )
    assert (profile.top.thickness, profile.top.segments) == (38, 12)
    assert type(profile.top.segments) is int
    assert (profile.slats.thickness, profile.slats.width) == (20, 58)
    assert profile.legs.tenon == (35, 46, 19)
    assert profile.shop.mitre_error == pytest.approx(math.radians(0.25))
    assert profile.values == {"board": 38, "guests": 6, "half": 19, "tilt": math.radians(1)}
    assert profile.stock[0].thickness == 40
    assert profile.stock[0].faults == ((38, 10, 20),)


def test_stock_defaults() -> None:
    """Stock is of the table's wood unless it is a sheet or says otherwise."""
    profile = read(
        'wood = "teak"\n[[stock]]\n[[stock]]\nname = "ply"\nkind = "sheet"\n[[stock]]\nname = "oak"\n'
        'wood = "European Oak"\ncount = 3\nprice = 21.50\nmargin = "1 cm"\n'
    )
    boards, sheet, oak = profile.stock
    assert (boards.name, boards.kind, boards.wood, boards.count, boards.margin) == (
        "stock 1",
        "board",
        "teak",
        None,
        5,
    )
    assert (sheet.wood, oak.wood) == ("plywood", "european oak")
    assert (oak.count, oak.price, oak.margin) == (3, 21.5, 10)


def test_own_woods() -> None:
    """A wood of the maker's own serves by name, whatever its letters, before the built-in ones."""
    profile = read('wood = "Garden Elm"\n[woods."garden elm"]\nradial = 4.2\ntangential = 7.9\ndensity = 560\n')
    assert profile.wood == "garden elm"
    assert profile.woods[profile.wood].tangential == 7.9
    assert profile.woods[profile.wood].fibre_saturation == 30


@pytest.mark.parametrize(
    ("written", "size"),
    [('"a3"', "A3"), ('"Letter"', "letter"), ("[300, 400]", (300.0, 400.0)), ('["91.4 cm"]', (914.0,))],
)
def test_paper(written: str, size: object) -> None:
    """Paper is a name, a width and a height, or the width of a roll."""
    assert read(f"[paper]\nsize = {written}\n").paper.size == size


def test_measured_is_kept_whole() -> None:
    """Sizes found on the bench are kept as written."""
    profile = read('[[measured]]\npart = "rim 3"\nwidth = 125.4\n[[measured]]\npart = "rail"\n')
    assert [dict(one.entries) for one in profile.measured] == [
        {"part": "rim 3", "width": 125.4},
        {"part": "rail"},
    ]


def test_other_editors(tmp_path: Path) -> None:
    """Windows line ends and a byte order mark change nothing."""
    path = tmp_path / "terrace.toml"
    path.write_bytes(b"\xef\xbb\xbf" + FIVE_LINES.replace("\n", "\r\n").encode())
    profile = read_profile(str(path))
    assert profile.top.diameter == 1200
    assert profile.line_of("top.diameter") == 5


@pytest.mark.parametrize("rails", [2, 3])
def test_segments(rails: int) -> None:
    """The ring has a multiple of twice the rails, and another count is told the nearest that works."""
    for segments in range(6, 25):
        body = f"[top]\nrails = {rails}\nsegments = {segments}\n"
        if segments % (2 * rails) == 0:
            assert read(body).top.segments == segments
            continue
        with pytest.raises(ProfileError) as refusal:
            read(body)
        near = int(str(refusal.value).rpartition("try ")[2])
        assert abs(near - segments) <= rails and near % (2 * rails) == 0


def test_reading_is_light() -> None:
    """Reading a profile loads none of the drawing, paper or command libraries."""
    code = (
        "import sys; from templategen.table.profile.read import profile_from_text as read; "
        "read('format = 1', 'x'); "
        "print([name for name in ('ezdxf', 'shapely', 'svgwrite', 'reportlab', 'click', 'numpy')"
        " if name in sys.modules])"
    )
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert shown.stdout.strip() == "[]"

"""What is wrong with a profile, and how the maker is told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import Fault, ProfileError
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.locate import line_of, lines_of, locate_faults
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text, read_profile
from templategen.table.profile.starter import starter_text


def faults(text: str) -> tuple[Fault, ...]:
    """The faults of a profile, which must have some."""
    with pytest.raises(ProfileError) as refusal:
        profile_from_text(text, "terrace", "terrace.toml")
    assert all(line.isprintable() for line in str(refusal.value).split("\n"))
    return refusal.value.faults


ONE_FAULT = [
    ('title = "a\\u202eb"', "title", "control character U+202E"),
    ('title = "a\\nb"', "title", "control character U+000A"),
    ("title = 3", "title", "text in quotes"),
    ('title = " "', "title", "nothing is written"),
    (f'title = "{"x" * 121}"', "title", "120 fit"),
    ('units = "cm"', "units", '"mm" or "in" is wanted'),
    ("units = 1", "units", '"mm" or "in" is wanted'),
    ('wood = "wite oak"', "wood", "did you mean white oak?"),
    ('wood = "larch"', "wood", "did you mean western larch or european larch?"),
    ('wood = "elk"\n[woods.elm]\nradial = 4\ntangential = 8', "wood", "did you mean elm?"),
    ('wood = "cheese"', "wood", "templategen list woods"),
    ("wood = 7", "wood", "text in quotes"),
    ("colour = 1", "colour", "is not known"),
    ("top = 5", "top", "write [top]"),
    ("[[top]]\nheight = 700", "top", "write [top]"),
    ("[tops]", "tops", "did you mean top?"),
    ("[top]\nrim_witdh = 9", "top.rim_witdh", "did you mean rim_width?"),
    ("[top]\ngap = 6", "top.gap", "gap belongs under [slats]"),
    ("[top]\nrails = true", "top.rails", "true stands here; a whole number is wanted"),
    ("[top]\nrails = 2.5", "top.rails", "not a whole number"),
    ("[top]\nrails = 4\nsegments = 8", "top.rails", "try 3"),
    ("[top]\nsegments = 13", "top.segments", "try 12"),
    ('[top]\ndiameter = "1340"', "top.diameter", 'such as "1340 mm"'),
    ('[top]\ndiameter = "1,5 mm"', "top.diameter", "write 1.5"),
    ('[top]\ndiameter = ""', "top.diameter", "nothing is written"),
    ("[top]\ndiameter = nan", "top.diameter", "no size"),
    ("[top]\ndiameter = -inf", "top.diameter", "no size"),
    ("[top]\ndiameter = 1e300", "top.diameter", "far too large"),
    (f"[top]\ndiameter = {'9' * 300}", "top.diameter", "a huge number"),
    (f"[top]\ndiameter = 0x{'f' * 3900}", "top.diameter", "a huge number"),
    ("[top]\ndiameter = 1979-05-27", "top.diameter", "a date or time"),
    ("[top]\ndiameter = [1]", "top.diameter", "a list stands here"),
    ("[top.diameter]", "top.diameter", "a table stands here"),
    ("[top]\ndiameter = 50", "top.diameter", "50 mm; 400 mm to 4000 mm is allowed"),
    ("[top]\nthickness = -1", "top.thickness", "try 12 mm"),
    ('[top]\nthickness = "top.rim_width - 1"', "top.thickness", "write - 1 mm"),
    ('[top]\nthickness = "1 deg"', "top.thickness", "is an angle, and a length is wanted"),
    ('[top]\nsegments = "12 mm"', "top.segments", "is a length, and a whole number is wanted"),
    ('[shop]\nmitre_error = "1 mm"', "shop.mitre_error", "is a length, and an angle is wanted"),
    ("[slats]\ngap = 2", "slats.gap", "2 mm; 3 mm to 40 mm is allowed, since rain must drain"),
    ('[slats]\ngap = "6 mm / 3"', "slats.gap", '"6 mm / 3" is 2 mm; 3 mm'),
    ('[slats]\nrun = "acros"', "slats.run", "did you mean across?"),
    ("[slats]\nrun = 1", "slats.run", '"across" or "along" or "straight" is wanted'),
    ('[slats]\nwidth = "legs.tenon / 2"', "slats.width", "legs.tenon is a list"),
    ('[slats]\nwidth = "stock.width"', "slats.width", "there may be several"),
    ('[slats]\nwidth = "slats.run"', "slats.width", "is a word"),
    ('[slats]\nwidth = "slats.withd"', "slats.width", "did you mean slats.width?"),
    ('[slats]\nwidth = "slat.width"', "slats.width", "did you mean slats.width?"),
    ('[slats]\nwidth = "values.board"', "slats.width", "set it under [values]"),
    ('[values]\nboard = 9\n[slats]\nwidth = "values.bord"', "slats.width", "did you mean values.board?"),
    ('[slats]\nwidth = "slats.width"', "slats.width", "slats.width -> slats.width"),
    (
        '[slats]\nwidth = "slats.gap"\ngap = "slats.width"',
        "slats.width",
        "slats.width -> slats.gap -> slats.width",
    ),
    (
        '[values]\na = "values.b"\nb = "values.c"\nc = "values.b"',
        "values.b",
        "values.b -> values.c -> values.b",
    ),
    ("[values]\nboard-width = 3", "values.board-width", "name it board_width"),
    ("[values]\nfrom = 3", "values.from", "name it from_"),
    ('[values]\n"1" = 3', "values.1", "name it n1"),
    ("[values]\nboard = [1]", "values.board", "a list stands here"),
    ("values = 1", "values", "write [values]"),
    ("[legs]\ntenon = [1, 2]", "legs.tenon", "3 are wanted"),
    ("[legs]\ntenon = 4", "legs.tenon", "3 are wanted"),
    ("[legs]\ntenon = [38, 46, 1]", "legs.tenon[3]", "try 4 mm"),
    ('[legs]\ntenon = [38, 46, "x"]', "legs.tenon[3]", "alone is no value"),
    ("[shop]\nhumidity = [85, 45]", "shop.humidity", "85 to 45 is no range"),
    ("[shop]\nhumidity = [45, 101]", "shop.humidity[2]", "try 99"),
    ('[paper]\nsize = "A33"', "paper.size", "did you mean A3?"),
    ("[paper]\nsize = []", "paper.size", "a list of 0"),
    ("[paper]\nsize = [1, 200]", "paper.size[1]", "try 50 mm"),
    ("[paper]\nsize = 4", "paper.size", "is not a paper size"),
    ("[paper]\nscale_x = 2", "paper.scale_x", "try 1.1"),
    ('[dxf]\nversion = "R14"', "dxf.version", "did you mean R12?"),
    ("[stock]\nlength = 3", "stock", "write [[stock]] with two brackets"),
    ("stock = [1]", "stock", "write [[stock]] with two brackets"),
    ("[[stock]]\nlenght = 3", "stock[1].lenght", "did you mean length?"),
    ('[[stock]]\nlength = "x"', "stock[1].length", "alone is no value"),
    ("[[stock]]\ncount = -1", "stock[1].count", "try 0"),
    ("[[stock]]\ncount = 1.5", "stock[1].count", "not a whole number"),
    ("[[stock]]\nfaults = 3", "stock[1].faults", "write [[x, y, diameter], ...]"),
    ("[[stock]]\nfaults = [[1, 2]]", "stock[1].faults[1]", "3 are wanted: [x, y, diameter]"),
    ("[[stock]]\nfaults = [[5000, 2, 3]]", "stock[1].faults[1]", "the knot lies off the board"),
    ("[[stock]]\nmargin = 75", "stock[1].margin", "nothing is left"),
    ("[[stock]]\nthickness = 0", "stock[1].thickness", "some thickness"),
    ('[[stock]]\nwood = "brass"', "stock[1].wood", "not a wood known here"),
    ('[[stock]]\nname = "a"\n[[stock]]\nname = "A"', "stock[2].name", "the name of another stock"),
    ('[[stock]]\nkind = "plank"', "stock[1].kind", '"board" or "sheet" or "roll" is wanted'),
    ("woods = 1", "woods", "write [woods]"),
    ("[woods]\nelm = 1", "woods.elm", "write [woods.elm]"),
    ("[woods.elm]\nradial = 3", "woods.elm.tangential", "is missing"),
    ("[woods.elm]\nradial = 30\ntangential = 8", "woods.elm.radial", "try 20"),
    ("[woods.elm]\nradial = 3\ntangential = 8\nmass = 1", "woods.elm.mass", "is not known"),
    ('[woods."a\\tb"]\nradial = 3\ntangential = 8', "woods.a?b", "control character U+0009"),
    ("[measured]\na = 1", "measured", "write [[measured]]"),
    ("[[measured]]\na = [1]", "measured[1].a", "a number or a text is wanted"),
    ("[[measured]]\na = nan", "measured[1].a", "a number or a text is wanted"),
]


@pytest.mark.parametrize(("body", "where", "says"), ONE_FAULT, ids=[f"{n}" for n in range(len(ONE_FAULT))])
def test_one_fault(body: str, where: str, says: str) -> None:
    """Each fault is told once, by file, line and key, with what would do."""
    (fault,) = faults(f"format = 1\n{body}\n")
    assert (fault.where, fault.file) == (where, "terrace.toml")
    assert says in str(fault)
    name = re.split(r"[.\[]", where.rstrip("]0123456789["))[-1]
    lines = f"format = 1\n{body}\n".split("\n")
    assert fault.line and (name in lines[fault.line - 1] or says == "is missing" or "\\" in body)


def test_format() -> None:
    """A profile says its format, and a missing or another one is told."""
    (missing,) = faults("[top]\nheight = 700\n")
    assert "add format = 1" in str(missing)
    for other in ("2", "true", '"1"', "1.5"):
        (fault,) = faults(f"format = {other}\n")
        assert (fault.where, fault.line) == ("format", 1)


def test_all_at_once() -> None:
    """All faults come together, in the order of the file, each on its own line."""
    found = faults('units = "in"\n[top]\nheight = 3000\nrails = 7\n[slats]\nwidth = "1,5 in"\n[tops]\n')
    assert [(fault.where, fault.line) for fault in found] == [
        ("top.height", 3),
        ("top.rails", 4),
        ("slats.width", 6),
        ("tops", 7),
        ("format", 0),
    ]


def test_a_key_at_fault_is_told_once() -> None:
    """A fault in one key is not told again by the keys that lean on it."""
    (fault,) = faults(
        'format = 1\n[values]\na = "1 +"\nb = "values.a"\n[slats]\nwidth = "values.b"\ngap = "values.a"\n'
    )
    assert (fault.where, fault.line) == ("values.a", 3)


def test_a_long_chain() -> None:
    """A long chain of keys is refused in words before it grows too deep to follow."""
    chain = "\n".join(f'a{n} = "values.a{n + 1}"' for n in range(2000))
    assert any("leans on more than" in str(fault) for fault in faults(f"format = 1\n[values]\n{chain}\na2000 = 1\n"))


def test_faults_without_end() -> None:
    """A file with thousands of faults tells the first hundred, and that there are more."""
    found = faults("format = 1\n" + "".join(f"key{n} = 1\n" for n in range(5000)))
    assert len(found) == 101
    assert "more faults" in found[-1].found


def test_growing_digits() -> None:
    """Values that multiply each other over and over are refused before they fill the memory."""
    chain = "\n".join(f'a{n} = "values.a{n + 1} * values.a{n + 1}"' for n in range(9))
    found = faults(f'format = 1\n[values]\n{chain}\na9 = "0.3333333333333333"\n')
    assert any("too many digits" in str(fault) for fault in found)


def test_files_that_are_none(tmp_path: Path) -> None:
    """A missing file, a folder, bytes that are no text, a large file: one readable line each."""
    (tmp_path / "bytes.toml").write_bytes(b"format = 1\n\xff\xfe")
    (tmp_path / "large.toml").write_bytes(b"#" * 1_000_001)
    (tmp_path / "long.toml").write_text(f"format = 1\n{'a.' * 5000}a = 1")
    (tmp_path / "parts.toml").write_text(f"format = 1\n{'a.' * 40}a = 1")
    (tmp_path / "broken.toml").write_text("format = 1\n[top\n")
    (tmp_path / "open.toml").write_text('format = 1\ntitle = """\n')
    (tmp_path / "deep.toml").write_text("a = " + "[" * 3900)
    (tmp_path / "digits.toml").write_text("\n" + "a = [\n" + "9" * 3900 + "9" * 90 + "]")
    (tmp_path / "twice.toml").write_text("format = 1\nformat = 1\n")
    expected = {
        "none.toml": ("there is no such file", 0),
        ".": ("this is a folder", 0),
        "bytes.toml": ("not UTF-8", 2),
        "large.toml": ("larger than 1 MB", 0),
        "long.toml": ("longer than 4000", 2),
        "parts.toml": ("too many parts", 2),
        "broken.toml": ("a bracket of the section is missing", 2),
        "open.toml": ("not TOML", 3),
        "deep.toml": ("nested too deep", 0),
        "digits.toml": ("is not known", 2),
        "twice.toml": ("format stands here again", 2),
        "a\0b": ("name is not one a file can have", 0),
        "x" * 5000: ("can't be read", 0),
        "bytes.toml/x": ("can't be read", 0),
    }
    for name, (says, line) in expected.items():
        with pytest.raises(ProfileError) as refusal:
            read_profile(tmp_path / name)
        fault = refusal.value.faults[0]
        assert says in fault.found, name
        assert fault.line == line, name
        assert str(refusal.value).isprintable() or "\n" in str(refusal.value), name


@pytest.mark.wide
def test_ranges_offer_what_works() -> None:
    """The nearest value that a range offers can be written as it stands, in mm and in inches."""
    for key in KEYS.values():
        if key.kind not in ("length", "angle", "number"):
            continue
        for units in ("mm", "in"):
            for wrong in (key.low - 1, key.high + 1):
                _offer_works(key, units, wrong)


def _offer_works(key: Key, units: str, wrong: float) -> None:
    unit = {"length": " mm", "angle": " deg"}.get(key.kind, "")
    written = f'"{wrong}{unit}"' if unit else f"{wrong}"
    text = f'format = 1\nunits = "{units}"\n[{key.section}]\n{key.name} = '
    (fault,) = faults(text + written)
    offered = fault.remedy.rpartition("try ")[2]
    offered = f'"{offered}"' if unit else offered
    assert isinstance(profile_from_text(text + offered, "x"), Profile), (key.path, offered)


def test_defaults_lie_within_their_ranges() -> None:
    """Every default is itself allowed."""
    for key in KEYS.values():
        for part in key.parts or (key,):
            if part.kind in ("length", "angle", "number", "count") and part.default is not None:
                assert isinstance(part.default, (int, float))
                assert part.low <= part.default <= part.high and part.why and part.doc


def test_lines() -> None:
    """Plain, dotted, inline and listed keys are found on their lines."""
    text = (
        'format = 1\n\n[top] # rim\nheight = 1\nx.y.z = """\n[slats]\n"""\n[[stock]]\nname = "a"\n'
        '[[stock]]\nfaults = [\n  [1, 2, 3],\n]\n"odd key" = 1\n[woods]\nelm = {radial = 1}\n'
    )
    expected = {
        "format": 1,
        "top": 3,
        "top.height": 4,
        "top.x.y.z": 5,
        "stock[1].name": 9,
        "stock[2]": 10,
        "stock[2].faults[1][3]": 11,
        "stock[2].odd key": 14,
        "woods.elm.radial": 16,
        "top.missing": 3,
        "slats.gap": 0,
        "": 0,
    }
    assert {path: line_of(text, path) for path in expected} == expected


def test_faults_from_elsewhere_find_their_line() -> None:
    """A fault raised when the table is built finds its file and line by its key."""
    text = "format = 1\n[top]\nheight = 700\n"
    placed = locate_faults(text, "a.toml", [Fault("joints", "b"), Fault("top.height", "a"), Fault("", "c", line=1)])
    assert [(fault.where, fault.file, fault.line) for fault in placed] == [
        ("", "", 1),
        ("top.height", "a.toml", 3),
        ("joints", "a.toml", 0),
    ]


STARTER = starter_text("Terrace").split("\n")
PIECES = st.sampled_from(
    [
        "[top]", "[[stock]]", "[stock]", "[woods.elm]", "[values]", "[[measured]]", "stock = 1", "woods = []",
        "format = 1", "rails = 2", 'gap = "values.a"', 'a = "values.a + 1 mm"', "faults = [[1, [2], {}]]",
        'wood = "\\u0000"', "tenon = []", "size = [1e9]", "units = []", "title = {}",
        "[paper.size]", "[top.rails.x]",
        'count = "1/0"', "price = -inf", "name = 07:32:00", '"" = 1', '[woods.""]', "[values.a]", "dxf = 1",
    ]
)  # fmt: skip


def survives(text: str) -> None:
    """Reading gives a profile or a ProfileError, whose faults all say something, and nothing else."""
    try:
        assert isinstance(profile_from_text(text, "x"), Profile)
    except ProfileError as refusal:
        assert refusal.faults and all(fault.found for fault in refusal.faults)
        assert all(line.isprintable() for line in str(refusal).split("\n"))


@given(st.lists(st.tuples(st.integers(0, len(STARTER) - 1), PIECES | st.text(max_size=12)), max_size=6))
@settings(max_examples=150, deadline=None)
def test_mutated_lines(changes: list[tuple[int, str]]) -> None:
    """A profile with lines replaced by other ones is read or refused, never anything else."""
    lines = list(STARTER)
    for at, piece in changes:
        lines[at] = piece
    survives("\n".join(lines))


SCALARS = st.one_of(
    st.booleans().map(lambda b: str(b).lower()),
    st.integers(-(10**30), 10**30).map(str),
    st.floats().map(str),
    st.sampled_from(['"values.a"', '"1-3/4 in"', '"5 deg"', '"x.y"', "{}", "[]", "[[]]", "1979-05-27", '"\\u001b"']),
    st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFF, exclude_characters='"\\\x7f'), max_size=20).map(
        lambda text: f'"{text}"'
    ),
)
PATHS = st.sampled_from([*KEYS, "title", "wood", "units", "values.a", "woods.elm.radial"])


@given(st.dictionaries(PATHS, SCALARS, max_size=5))
@settings(max_examples=200, deadline=None)
def test_any_value(written: dict[str, str]) -> None:
    """Any value under any key is read or refused, never anything else."""
    survives("format = 1\n" + "\n".join(f"{path} = {value}" for path, value in written.items()))


@given(st.dictionaries(PATHS, SCALARS, min_size=1, max_size=5))
@settings(max_examples=100, deadline=None)
def test_lines_agree_with_the_text(written: dict[str, str]) -> None:
    """Each key written on a line of its own is found on that line."""
    lines = lines_of("format = 1\n" + "\n".join(f"{path} = {value}" for path, value in written.items()))
    assert [lines[path] for path in written] == list(range(2, len(written) + 2))

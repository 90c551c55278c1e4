"""Common slips in a profile are named, and what is told to be written instead is read."""

from __future__ import annotations

import re

import pytest

from templategen.errors import ProfileError
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text

HEAD = 'format = 1\ntitle = "Lock keeper\'s table"\n'

SLIPS = {
    "decimal comma": ("[top]\ndiameter = 1340,5", "decimals take a point", 1340.5),
    "unit without quotes": ("[top]\ndiameter = 1340 mm # wide", "without quotes", 1340.0),
    "curly quotes": ("[top]\ndiameter = \u201c1.3 m\u201d", "curly quotes", 1300.0),
    "bare fraction": ("[top]\ndiameter = 52-1/2", "without quotes and unit", 1333.5),
    "a number in curly quotes": ("[top]\ndiameter = \u201c1290\u201d", "curly quotes", 1290.0),
    "feet by signs": ("[top]\ndiameter = 4' 2\"", "as signs", 1270.0),
    "a word for a number": ("[top]\ndiameter = wide", "where a number is wanted", 1340.0),
    "inch sign": ('[top]\ndiameter = 53"', "without quotes", 1346.2),
    "feet and inches": ("[top]\ndiameter = 4 ft 6 in", "without quotes", 1371.6),
    "colon": ("[top]\ndiameter: 1290", "a colon stands", 1290.0),
    "semicolon": ("[top]\ndiameter = 1290;", "a semicolon", 1290.0),
    "no sign": ("[top]\ndiameter 1290 # wide", "there is no = ", 1290.0),
    "slashes": ("[top]\ndiameter = 1290 mm // wide", "a remark begins with #", 1290.0),
    "a space in a fraction": ('units = "in"\n[top]\ndiameter = "52 1/2"', "has no unit", 1333.5),
    "missing quote": ('[top]\ndiameter = "1290 mm', "a quote is missing", 1290.0),
    "a comma that parts thousands": ('[top]\ndiameter = "1.340,5 mm"', "decimals take a point", 1340.5),
}


def refused(text: str) -> str:
    with pytest.raises(ProfileError) as told:
        profile_from_text(text, "slip")
    return str(told.value)


def put_right(text: str, message: str) -> Profile:
    """The profile with its last line written as the message says."""
    words = re.search(
        r"write (?:diameter = )?(.+?)(?: for a length.*|, or another number)?$", message.splitlines()[0]
    )
    assert words is not None
    value = words[1] if words[1].startswith('"') or "mm" not in text.splitlines()[-1] else f'"{words[1]} mm"'
    return profile_from_text("\n".join([*text.splitlines()[:-1], f"diameter = {value}"]), "slip")


@pytest.mark.parametrize("name", SLIPS)
def test_a_slip_is_named_and_its_remedy_works(name: str) -> None:
    lines, found, meant = SLIPS[name]
    message = refused(HEAD + lines)
    assert found in message and f":{2 + len(lines.splitlines())}: " in message
    assert put_right(HEAD + lines, message).top.diameter == pytest.approx(meant)


OTHERS = {
    "no bracket": ("top\ndiameter = 1300", ":3: ", "write [top]"),
    "another bracket": ("(stock)\nlength = 3000", ":3: ", "write [[stock]]"),
    "sections on one line": ("[top] [slats]\ndiameter = 1300", ":3: ", "write each on a line of its own"),
    "nothing": (
        "[top]\ndiameter = \nthickness = 38",
        ":4: ",
        "write diameter = ... with a value, or leave the line out",
    ),
    "a list left open": (
        '[[stock]]\nlength = 3000\nfaults = [[600, 40, 60]\nprice = 4\n[words]\nlanguage = "english"',
        "the list that begins on line 5 isn't closed",
        "write faults = [[600, 40, 60]]",
    ),
    "a quote left open": ("[top]\nedge = 'sawn # round\nrails = 3", "a quote is missing", 'write edge = "sawn"'),
    "money": ("[[stock]]\nprice = 21.50 EUR", ":4: ", "write price = 21.50"),
    "a list for a list of lists": (
        "[[stock]]\nlength = 3000\nwidth = 150\nthickness = 38\nfaults = [600, 40, 60]",
        ":7: stock[1].faults: one list",
        "write [[600, 40, 60]]",
    ),
    "bracket": ("[top\ndiameter = 1300", ":3: ", "write [top]"),
    "list of sections": ("[[stock\nlength = 3000", ":3: ", "write [[stock]]"),
    "one bracket": ("[stock]\nlength = 3000", ":3: ", "write [[stock]] with two brackets"),
    "one bracket twice": (
        "[stock]\nlength = 3000\n[stock]\nlength = 2000",
        ":5: ",
        "write [[stock]] with two brackets",
    ),
    "single curly quotes": ("[top]\nedge = \u2018sawn\u2019", ":4: ", 'write edge = "sawn"'),
    "fraction in one sign": ('[top]\ndiameter = "52\u00bd in"', ":4: ", 'write "52-1/2 in"'),
    "inch sign in quotes": ("[top]\ndiameter = '52-1/2\"'", ":4: ", 'write "52-1/2 in"'),
    "section twice": (
        "[top]\ndiameter = 1300\n[slats]\ngap = 5\n[top]\nthickness = 38",
        ":7: ",
        "it began on line 3",
    ),
    "key twice": ("[top]\ndiameter = 1300\nthickness = 38\ndiameter = 1310", ":6: ", "it is set on line 4"),
    "space in a key": ("[top]\nrail width = 84", ":4: ", "write rail_width = 84"),
    "bare word": ("[top]\nedge = sawn", ":4: ", 'write edge = "sawn"'),
    "yes": ("[jigs]\nmarks = yes", ":4: ", "write marks = true"),
    "arithmetic": ("[top]\ndiameter = 2 * 650 mm", ":4: ", 'write diameter = "2 * 650 mm"'),
    "degrees": ("[shop]\nmitre_reach = 47\u00b0", ":4: ", 'write mitre_reach = "47 deg"'),
    "percent": ("[limits]\nlap_share = 20 %", ":4: ", "write lap_share = 20"),
    "degrees in quotes": ('[shop]\nmitre_reach = "47\u00b0"', ":4: ", '"15 deg"'),
    "feet by signs": ('[top]\ndiameter = "4\'6"', ":4: ", '"4 ft 6 in"'),
}


@pytest.mark.parametrize("name", OTHERS)
def test_a_slip_is_told_with_its_line(name: str) -> None:
    lines, line, remedy = OTHERS[name]
    message = refused(HEAD + lines)
    assert line in message and remedy in message


def test_sizes_of_the_other_unit_are_noticed() -> None:
    small = refused(HEAD + "[top]\ndiameter = 53")
    assert 'if inches are meant, "53 in"' in small
    large = refused(HEAD + 'units = "in"\n[top]\ndiameter = 1340')
    assert 'if mm are meant, "1340 mm"' in large
    assert profile_from_text(HEAD + '[top]\ndiameter = "53 in"', "x").top.diameter == pytest.approx(1346.2)
    assert "are meant" not in refused(HEAD + "[top]\ndiameter = 0.01")
    assert "or 1340 mm if metres are meant" in refused(HEAD + "[top]\ndiameter = 1.340")

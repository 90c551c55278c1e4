"""Tables whose sizes chance has broken: what is refused and what is found never tells a size below nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from random import Random

import pytest

from templategen.checks.run import found_by_sizes
from templategen.checks.stance import stance_findings
from templategen.errors import TemplategenError
from templategen.packet.build import in_units
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import profile_text

BELOW = re.compile(r"(?<![\w.)/\d])[-\N{MINUS SIGN}]\d")
"""A negative number in words; temperatures, which may be, are left to themselves here."""

SIZE = re.compile(r"^(\w+) = ([\d.]+)$")

FACTORS = (0.05, 0.2, 0.5, 0.8, 1.3, 2, 3, 5, 9)


def broken(seed: int) -> str:
    """A random profile with up to three of its sizes many times as large, or a share of it."""
    rng, lines = Random(seed * 7 + 1), profile_text(seed).splitlines()
    places = [place for place, line in enumerate(lines) if SIZE.match(line) and not line.startswith("format")]
    for place in rng.sample(places, rng.choice((0, 1, 1, 2, 3))):
        (key, value), factor = SIZE.findall(lines[place])[0], rng.choice(FACTORS)
        if key not in ("rails", "segments"):
            lines[place] = f"{key} = {float(value) * factor:.4f}"
    return "\n".join(lines) + "\n"


def told(text: str) -> Iterator[str]:
    """Every word of what it is refused with, or of what is found, in the profile's units."""
    try:
        profile = profile_from_text(text, "broken")
    except TemplategenError:
        return  # outside a key's own range
    try:
        table = build_table(profile)
    except TemplategenError as refusal:
        for fault in (in_units(fault, profile.units) for fault in refusal.faults):
            yield f"{fault.where}: {fault.found}; {fault.remedy}"
        return
    for one in (*found_by_sizes(table), *stance_findings(table)):
        words = one.described(profile.units)
        yield f"{one.kind}: {words.whole}; {words.why}; {words.do}"


BREAKING = (1, 207, 488, 561, 971, 987, 1358)
"""Gaps that close, grooves that meet, reliefs, grooves and screws that go too far, splines in the round,
short bases."""


@pytest.mark.parametrize("seed", BREAKING)
def test_no_size_is_below_nothing(seed: int) -> None:
    """Those in which one was once told so."""
    assert [words for words in told(broken(seed)) if BELOW.search(words)] == []


@pytest.mark.slow
def test_no_size_of_many_tables_is_below_nothing() -> None:
    """2,000 tables of chance, without packets."""
    assert [(seed, words) for seed in range(2000) for words in told(broken(seed)) if BELOW.search(words)] == []


def test_what_is_lacking_is_told() -> None:
    """A table too low for its legs says by how much, and slats that press on each other how far."""
    (fault,) = told("format = 1\n[top]\nheight = 205\nthickness = 88\n[base]\nthickness = 122\nlength = 900\n")
    assert fault == (
        "top.height: 205.0 mm leaves nothing for the legs: top, base and feet take 222.0 mm, 17.0 mm too much; "
        "322.0 mm or more, or thinner top, base and feet"
    )
    gap = next(words for words in told(broken(1)) if words.startswith("wettest-gap"))
    assert "at the wettest: none (0.33 mm is lacking), at least 3 mm is wanted" in gap

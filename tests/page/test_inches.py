"""A packet in inches tells nothing else."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from html import unescape
from io import StringIO

import pytest

from tests.shipped_packets import packet_files, page_of

NAME = "towpath-inch"

METRIC = re.compile(r"\d ?(mm|cm|m|mm²|cm²|m²|mm2|cm2|m2|kg|g|N|MPa|m/s|°C)(?![\w/²)]| joint| face)")

DECIMAL = re.compile(r"(?<![\w.])(\d*\.\d+) in\b(?! all)")

OF_ONE_STYLE = re.compile(r"\d*\.\d+ x \d*\.\d+ in\b")
"""Width by length, of which one comes to no fraction: then both are decimals."""


def _words() -> Iterator[tuple[str, str]]:
    """Whatever is told in words: the cells of lists whose columns name no unit, and the page's lines."""
    for path, data in packet_files(NAME).items():
        if path.startswith("lists/") and path.endswith(".csv"):
            head, *rows = csv.reader(StringIO(data.decode()))
            yield from ((f"{path} {column}", cell) for row in rows for column, cell in zip(head, row, strict=True))
    page = re.sub(r"<(script|style).*?</\1>", "", page_of(NAME), flags=re.DOTALL)
    yield from (("page", unescape(line)) for line in re.sub(r"<[^>]*>", "\n", page).split("\n"))


@pytest.mark.wide
def test_nothing_is_told_in_metric_units() -> None:
    """In lists and on the page, but for figures that are reckoned so and say it."""
    told = [(where, line) for where, line in _words() if METRIC.search(line)]
    assert [one for one in told if "reckoned in metric" not in one[1] and "rulers" not in one[1]] == []


@pytest.mark.wide
def test_what_a_rule_shows_is_a_fraction() -> None:
    """No decimals where they come to a 64th, but in formulas."""
    lines = [(where, OF_ONE_STYLE.sub("", line)) for where, line in _words() if " = " not in line]
    decimals = [(where, line, float(one[1])) for where, line in lines for one in DECIMAL.finditer(line)]
    assert len(decimals) > 50
    assert [one for one in decimals if one[2] > 0 and abs(round(one[2] * 64) / 64 - one[2]) < 1e-9] == []


@pytest.mark.wide
def test_it_is_printed_on_letter() -> None:
    """Whoever prints templates on letter has no A4."""
    assert "@page{size:letter" in page_of(NAME) and "@page{size:A4" in page_of("towpath-side")

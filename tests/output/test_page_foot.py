"""What stands at the foot of the page, and how its figures stay in one piece."""

from __future__ import annotations

import re

import pytest

from templategen.output.page.content import Grid, Page, Picture, Section, Sheet
from templategen.output.page.render import page_html


@pytest.mark.parametrize("at_machines", [True, False])
def test_guards_are_told_of_where_there_are_machines(at_machines: bool) -> None:
    """In a shop of hand tools none stands on any."""
    html = page_html(Page("Towpath table", "", "1", "key", (), at_machines=at_machines))
    foot = html[html.index("<footer") :]
    assert ("Guards on." in foot) is at_machines
    assert "a competent person come before this page" in foot and "screening checks" in foot


def test_no_line_ends_within_a_mixed_fraction() -> None:
    """27-3/4 isn't told as 27- and 3/4: in one piece with its unit, where it is no drawing or name."""
    svg = "<svg><title>2-1/2</title><text>3-5/8 in</text></svg>"
    grid = Grid(
        ("size",),
        (
            ("7-1/2 in",),
            ("stop 391.12 mm",),
            ("stop 391.12 mm each",),
            ("as wide as the slat, 6-11/64 in and 0.004 in",),
        ),
    )
    words = ("blanks, 27-3/4 in long, 2-7/16 wide", "11/64 in, RAIL-1/2")
    sheet = Sheet("one", "1-1/8 in", words, (Picture(svg, "3-1/4 in"),), (grid,))
    html = page_html(Page("9-1/2 in table", "", "1", "key", (Section("first", "First", (sheet,)),)))
    whole = re.findall(r'<span class="whole">(.*?)</span>', html)
    assert set(whole) == {"27-3/4 in", "2-7/16", "7-1/2 in", "6-11/64 in", "1-1/8 in", "3-1/4 in", "9-1/2 in"}
    assert '<td dir="auto" class="whole">stop 391.12 mm</td>' in html
    assert '<td dir="auto" class="some">stop 391.12 mm each</td>' in html
    assert svg in html and "<title>9-1/2 in table" in html

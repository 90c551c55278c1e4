"""Titles that try to break the page: they must come out as text."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from templategen.drawing.tidy import printable
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text
from tests.page.browser import looked_at, written

MARKUP = "</title></script><script>alert(1)</script><img src=x onerror=alert(2)>\"'`&amp; <!-- ]]> --> </style>"

BRACKETS = "<style>*{display:none} {{ 7 * 7 }} {% for x in y %} {# gone #}"

SCRIPTS = "שולחן עגול \u202eelbat\u202c طاولة 圆桌 \x00\u2028 e\u0301"

HOSTILE = ("圆" + "W" * 189, f"{MARKUP} {BRACKETS} {SCRIPTS}")
"""The first can add no element. Both hold a letter that paper cannot show, so both pages tell of that."""

ASKED = """({
  heading: document.querySelector("h1").textContent, title: document.title, shown: document.body.innerText.length,
  scripts: document.scripts.length, images: document.images.length, alerts: window.alerts || 0, found: measured()
})"""

TRAP = "<script>window.alert = function () { window.alerts = (window.alerts || 0) + 1; };</script>"


def page_with(title: str) -> str:
    """The page alone of the side table under another title, which no file could hold."""
    profile = replace(profile_from_text(shipped_text("towpath-side"), "side"), title=title)
    return make_packet(profile, ("page",)).files["index.html"].decode()


class Tags(HTMLParser):
    """How often each element stands on a page."""

    def __init__(self) -> None:
        super().__init__()
        self.counts: Counter[str] = Counter()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.counts[tag] += 1


def tags(html: str) -> Counter[str]:
    """The elements of a page."""
    read = Tags()
    read.feed(html)
    return read.counts


@pytest.mark.wide
def test_titles_are_text_and_break_nothing(browser: Any, tmp_path: Path) -> None:
    """Markup, quotes, a template's own brackets, right-to-left words and 190 letters show as they are: no script
    runs, no element is added or lost, nothing overlaps, nothing runs over the edge of a phone."""
    pages = [page_with(title) for title in HOSTILE]
    assert tags(pages[0]) == tags(pages[1])
    for title, html in zip(HOSTILE, pages, strict=True):
        page = written(tmp_path, html.replace("<title>", TRAP + "<title>", 1))
        (told,) = looked_at(browser, page, 390, ASKED)
        assert told["heading"] == printable(title) and told["title"] == printable(title)
        assert told["alerts"] == 0 and told["images"] == 0 and told["shown"] > 5000
        found = told["found"]
        assert (found["errors"], found["overlaps"], found["clipped"], found["requests"]) == ([], [], [], []), title
        assert found["scroll"] <= 390

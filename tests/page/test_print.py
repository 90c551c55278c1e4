"""The page on paper, as a browser prints it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pdfplumber
import pypdfium2
import pytest

from tests.page.browser import printed
from tests.shipped_packets import page_of

MM = 72 / 25.4

FULL = 0.6
"""A sheet goes on to the next page only where this share of the one before is used."""


class Sheets(HTMLParser):
    """Titles of the sheets that start a page, each under the title of its section where that comes first."""

    def __init__(self) -> None:
        super().__init__()
        self.starts: list[str] = []
        self.alone = False
        self.heading = ""
        self.text = ""
        self.section = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "article":
            self.alone = "alone" in (dict(attrs).get("class") or "")
            if self.section and self.alone:
                self.starts.append(self.section)
            elif self.alone:
                self.starts.append("")
            self.section = ""
        if tag in ("h2", "h3"):
            self.heading, self.text = tag, ""

    def handle_data(self, data: str) -> None:
        self.text += data if self.heading else ""

    def handle_endtag(self, tag: str) -> None:
        if tag == self.heading:
            if tag == "h2":
                self.section = self.text
            elif self.alone and self.starts[-1] == "":
                self.starts[-1] = self.text
            self.heading = ""


@cache
def sheets() -> tuple[str, ...]:
    """The titles that pages of the side table's packet start with."""
    found = Sheets()
    found.feed(page_of("towpath-side"))
    return tuple(found.starts)


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed page: its size in mm, its first line, the share of its height down to its last words."""

    width: float
    height: float
    first: str
    used: float


@pytest.fixture(scope="module")
def paper(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The packet of the side table, printed."""
    return printed(tmp_path_factory.mktemp("print"), page_of("towpath-side"))


@pytest.fixture(scope="module")
def pages(paper: Path) -> list[Printed]:
    """Its pages."""
    return [_page(page) for page in pypdfium2.PdfDocument(paper)]


def _page(page: Any) -> Printed:
    width, height = page.get_size()
    words = page.get_textpage()
    lows = [words.get_rect(number)[1] for number in range(words.count_rects())]
    first = words.get_text_range().strip().split("\n")[0].strip()
    return Printed(width / MM, height / MM, first, 1 - min(lows, default=height) / height)


def squeezed(text: str) -> str:
    """Words without the spaces between them, which a page may break otherwise."""
    return "".join(text.split())


def test_every_sheet_starts_a_page_and_none_is_empty(pages: list[Printed]) -> None:
    """The sheets that stand by themselves start pages, in their order; no page is empty; a sheet goes on to another
    page only where the one before is well filled."""
    firsts = [squeezed(page.first) for page in pages]
    assert all(firsts)
    at, starts = 0, []
    for title in sheets():
        wanted = squeezed(title)
        at = next(number for number in range(at, len(firsts)) if wanted.startswith(firsts[number][:40]))
        starts.append(at)
        at += 1
    assert len(set(starts)) == len(sheets()) > 60
    follow = [number for number in range(1, len(pages)) if number - 1 in starts and number not in starts]
    assert len(follow) < len(starts) / 3
    for number in follow:
        assert pages[number - 1].used > FULL, (number, pages[number - 1].first)


def test_pages_are_the_paper_that_is_asked_for(pages: list[Printed]) -> None:
    """Every page is A4 upright."""
    for page in pages:
        assert (page.width, page.height) == pytest.approx((210, 297), abs=0.5)


def test_rulers_measure_true_both_ways(pages: list[Printed], paper: Path) -> None:
    """The rulers' lines are 100 mm long on paper, to a tenth of a millimetre, level and upright."""
    number = next(number for number, page in enumerate(pages, 1) if page.first == "Printing and checking")
    with pdfplumber.open(paper, pages=[number]) as opened:
        page = opened.pages[0]
        spans = [(line["width"] / MM, line["height"] / MM) for line in (*page.lines, *page.curves)]
    assert any(abs(width - 100) < 0.1 and height < 0.1 for width, height in spans), spans
    assert any(abs(height - 100) < 0.1 and width < 0.1 for width, height in spans), spans

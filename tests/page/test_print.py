"""The page on paper, as a browser prints it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape
from itertools import pairwise
from math import hypot
from pathlib import Path
from typing import Any

import numpy
import pdfplumber
import pypdfium2
import pytest

from templategen.packet.shipped import shipped_names
from tests.page.browser import loaded, looks, printed, written
from tests.shipped_packets import page_of

MM = 72 / 25.4

MARGIN = 8.0
"""The margin at a sheet's foot, in which its number stands, mm."""

MOST = 60
"""So many sheets a shipped packet may take."""

SIDE = 9.0
"""The margin at its left, mm."""

SET_UP_LETTERS = 5.3
"""Set-ups are read at the machine: no letter of theirs is smaller on paper, points."""

FULL = 2 / 3
"""So much of a sheet's height is used, unless a chapter ends on it."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed page: its size in mm, its words, its topmost line, the share of its height down to its last ink."""

    width: float
    height: float
    words: str
    first: str
    used: float


SHEETS = {"towpath-inch": (215.9, 279.4)}
"""The sheets that are asked for, where they aren't A4 upright, mm."""


@pytest.fixture(scope="module", params=shipped_names())
def name(request: pytest.FixtureRequest) -> str:
    """Each shipped table's."""
    return str(request.param)


@pytest.fixture(scope="module")
def paper(name: str, browser: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The packet's page, printed."""
    return printed(browser, written(tmp_path_factory.mktemp("print"), page_of(name)))


@pytest.fixture(scope="module")
def pages(paper: Path) -> list[Printed]:
    """Its pages."""
    return [_page(page) for page in pypdfium2.PdfDocument(paper)]


def _page(page: Any) -> Printed:
    width, height = page.get_size()
    ink = numpy.asarray(page.render(scale=0.5).to_pil().convert("L")) < 200
    rows = numpy.nonzero(ink[: round(len(ink) * (1 - MARGIN * MM / height))].any(axis=1))[0]
    text = page.get_textpage()
    used = (rows.max() + 1) / len(ink) if len(rows) else 0.0
    return Printed(width / MM, height / MM, text.get_text_range().strip(), _topmost(text), used)


def _topmost(text: Any) -> str:
    """The line that stands highest; the words' order in the file is that of painting, pictures beside text first."""
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    _, low, _, high = max(boxes, key=lambda box: box[3], default=(0.0, 0.0, 0.0, 0.0))
    return text.get_text_bounded(bottom=low, top=high).strip()


def test_sheets_are_numbered(paper: Path) -> None:
    """Each tells its number and how many there are, at its foot."""
    sheets = pypdfium2.PdfDocument(paper)
    for number, sheet in enumerate(sheets, 1):
        foot = sheet.get_textpage().get_text_bounded(bottom=0, top=MARGIN * MM)
        assert foot.strip() == f"{number} / {len(sheets)}"


def test_sheets_are_few_and_filled(name: str, pages: list[Printed]) -> None:
    """No more than may be; none left less than two thirds full, unless the next one begins a chapter."""
    chapters = [unescape(title) for title in re.findall(r'<h2 id="[^"]*">([^<]*)</h2>', page_of(name))]
    assert len(pages) <= MOST and len(chapters) > 8
    short = {
        number: page
        for number, (page, after) in enumerate(pairwise(pages), 1)
        if page.used <= FULL and after.first not in chapters
    }
    assert not short, short


def test_cards_stay_together(name: str, pages: list[Printed]) -> None:
    """A card with one picture or two stands on one sheet; words of one with up to four are on its first picture's."""
    text = page_of(name)
    cards = re.findall(r'<article id="machines-\d+".*?</article>', text, re.DOTALL)
    assert len(cards) > 20
    for card in cards:
        title, count = unescape(re.findall(r"<h3[^>]*>([^<]*)<", card)[0]), card.count("<figure")
        sheet = "".join(next(page.words for page in pages if title in page.words).split())
        ticks = re.findall(r"<label>.*?<span[^>]*>([^<]*)</span>", card, re.DOTALL)
        if count <= 2 and ticks:
            assert "".join(unescape(ticks[-1]).split())[-30:] in sheet, title
        elif 2 < count <= 4:
            first = unescape(re.findall(r"<figcaption[^>]*>([^<]*)<", card)[0])
            assert "".join(first.split())[:30] in sheet, title


def test_words_stand_beside_the_ruler(name: str, browser: Any, tmp_path: Path) -> None:
    """The upright ruler takes a strip of the sheet, not a third of it."""
    view = loaded(browser, written(tmp_path, page_of(name)))
    looks(view, 720, "print")
    of = "(of) => Object.values(document.querySelector(of).getBoundingClientRect().toJSON())"
    (_, top, *_, right, low, _), words = view.evaluate(of, ".ruler.up"), view.evaluate(of, "#files .sheets")
    view.close()
    assert words[0] > right and top < words[1] < low


def test_nothing_stands_in_the_margin_where_it_is_cut_off(paper: Path) -> None:
    """Numbers of steps, too, begin within what is printed on."""
    for number, page in enumerate(pypdfium2.PdfDocument(paper), 1):
        text = page.get_textpage()
        lefts = [text.get_rect(place)[0] / MM for place in range(text.count_rects())]
        assert min(lefts) > SIDE - 0.3, number


def test_set_ups_can_be_read_at_the_machine(paper: Path, pages: list[Printed]) -> None:
    """Their smallest letters."""
    last = next(at for at, page in enumerate(pages) if re.search(r"^Jigs\s*$", page.words, re.MULTILINE))
    first = max(at for at, page in enumerate(pages[:last]) if re.search("^Set-ups", page.words, re.MULTILINE))
    found = {}
    for number, page in enumerate(list(pypdfium2.PdfDocument(paper))[first + 1 : last], first + 2):
        found[number] = min(_letters(page.get_textpage()))
    assert len(found) > 5 and min(found.values()) > SET_UP_LETTERS, found


def _letters(text: Any) -> Iterator[float]:
    """The sizes of all letters, points."""
    turn = pypdfium2.raw.FS_MATRIX()
    for at in range(text.count_chars()):
        pypdfium2.raw.FPDFText_GetMatrix(text, at, turn)
        if chr(pypdfium2.raw.FPDFText_GetUnicode(text, at)).strip():
            yield pypdfium2.raw.FPDFText_GetFontSize(text, at) * hypot(turn.a, turn.b)


def test_pages_are_the_paper_that_is_asked_for(name: str, pages: list[Printed]) -> None:
    """Every page, upright."""
    for page in pages:
        assert (page.width, page.height) == pytest.approx(SHEETS.get(name, (210, 297)), abs=0.5)


def test_rulers_measure_true_both_ways(pages: list[Printed], paper: Path) -> None:
    """The rulers' lines are 100 mm long on paper, to a tenth of a millimetre, level and upright."""
    number = next(number for number, page in enumerate(pages, 1) if "Printing and checking" in page.words)
    with pdfplumber.open(paper, pages=[number]) as opened:
        page = opened.pages[0]
        spans = [(line["width"] / MM, line["height"] / MM) for line in (*page.lines, *page.curves)]
    assert any(abs(width - 100) < 0.1 and height < 0.1 for width, height in spans), spans
    assert any(abs(height - 100) < 0.1 and width < 0.1 for width, height in spans), spans

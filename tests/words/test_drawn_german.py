"""What is drawn in a German packet is German throughout, and its figures have commas: read back by other libraries
out of the written SVG, DXF and PDF."""

import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest

from templategen.catalogue import texts_of
from templategen.drawing.set_up_picture import set_up_pictures
from templategen.english import speak
from templategen.output.svg_inline import inline_svg
from templategen.packet import share_files as made
from templategen.packet.pipeline import Worked
from templategen.packet.shipped import shipped_text
from templategen.packet.stages import SET_UPS
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.set_ups.words import figure
from templategen.table.profile.read import profile_from_text
from tests.gdal import lettered

LETTERS = re.compile(r"[^\W\d_]{2,}")

NO_WORDS = re.compile(
    r"\[[A-Z0-9_, ]+, [\w -]+, [\w -]+\]|\[[A-Z0-9_, ]+\]|\S*[/.]\S*[A-Za-z]\S*|\w+ = \S+|\[paper\]"
    r"|\b[A-Z][A-Z0-9_]+(-\w+)*\b|Towpath side(?: ta\w*)?|(?:iroko|jig) [a-z]+(?: [a-z]+)?"
)
"""Layers, paths, keys, codes, and what the maker has named."""


@cache
def english_words() -> frozenset[str]:
    """Words of our English texts that no German one has."""
    pairs = texts_of("german")
    of_ours = r"\{[^}]*\}|\S*[/._]\S*|\b[A-Z]+(-[A-Z0-9]+)+\b"
    bare = {text: re.sub(of_ours, " ", text) for pair in pairs.items() for text in pair}
    english, german = ({word.casefold() for text in told for word in LETTERS.findall(bare[text])}
                       for told in (pairs.keys(), pairs.values()))  # fmt: skip
    return frozenset(english - german)


def wrong(line: str) -> list[str]:
    """The English words in a line, and figures with a point."""
    own = NO_WORDS.sub(" ", line)
    return [word for word in LETTERS.findall(own) if word.casefold() in english_words()] + re.findall(
        r"\d+\.\d+", re.sub(r"\[[^\]]*\]|\w+ = \S+", " ", line)
    )


@pytest.fixture(scope="module")
def worked() -> Iterator[Worked]:
    """The side table's packet, as far as it is asked for; other tests speak as before."""
    profile = profile_from_text(f'{shipped_text("towpath-side")}\n[words]\nlanguage = "german"\n', "tisch")
    yield begun(profile, ("parts", "stock", "paper", "jigs", "lists"))
    speak("british")


def test_english_would_be_found() -> None:
    """Words that stand on the sheets of an English packet, and a point in a figure."""
    assert {"grain", "fence", "blank", "thick", "wanted", "groove", "edge"} <= english_words()
    assert wrong("A: groove, 12.5 mm deep, meets RIM-A [TOP_GROOVE_12_5MM, blue, dashed]") == [
        "groove", "deep", "meets", "12.5",
    ]  # fmt: skip
    assert not wrong("A: Nut, 12,5 mm tief, trifft RIM-A [TOP_GROOVE_12_5MM, blau, gestrichelt]")


@pytest.mark.wide
def test_sheets_of_parts_stock_and_machine_are_german(worked: Worked, tmp_path: Path) -> None:
    """Part sheets, plan and elevation, boards, files for a routing machine, labels, pictures of set-ups."""
    files = {**worked[made.PART_FILES], **worked[made.STOCK_FILES], **worked[made.ROUTER_FILES]}
    files["lists/labels.pdf"] = worked[made.BENCH_LISTS]["lists/labels.pdf"]
    told = [*_told(files, tmp_path), *_on_pictures(worked)]
    assert len(told) > 1500
    assert not [(where, line, found) for where, line in told if (found := wrong(line))]


@pytest.mark.slow
def test_paper_and_jigs_are_german(worked: Worked, tmp_path: Path) -> None:
    """Templates with their first pages, the test sheet, whole drawings, jigs, the book of part sheets."""
    files = {**worked[made.PAPER].files, **worked[made.JIG_FILES].files, **worked[made.BOOK]}
    told = _told(files, tmp_path)
    assert len(told) > 3000
    assert not [(where, line, found) for where, line in told if (found := wrong(line))]


def _told(files: Mapping[str, bytes], folder: Path) -> list[tuple[str, str]]:
    """Every line of words in the files, and where it stands."""
    readers = {"svg": _of_svg, "dxf": _of_dxf, "pdf": _of_pdf}
    return [
        (path, line)
        for path, data in files.items()
        for line in readers[path.rpartition(".")[2]](data, folder)
        if not (path.endswith(".pdf") and LETTERS.fullmatch(line.strip()))
    ]


def _of_svg(data: bytes, _: Path) -> Iterator[str]:
    for element in ElementTree.fromstring(data).iter():
        if element.text and element.tag.rpartition("}")[2] in ("text", "title", "desc"):
            yield re.sub(r"[A-Z0-9_]+: ", "", element.text)


def _of_dxf(data: bytes, folder: Path) -> list[str]:
    path = folder / "drawing.dxf"
    path.write_bytes(data)
    return [re.sub(r"\\U\+([0-9A-F]{4})", lambda code: chr(int(code[1], 16)), line) for line in lettered(path)]


def _of_pdf(data: bytes, _: Path) -> Iterator[str]:
    for page in pypdfium2.PdfDocument(data):
        for line in page.get_textpage().get_text_range().splitlines():
            yield re.sub(r"\w+…", "", line)


def _on_pictures(worked: Worked) -> Iterator[tuple[str, str]]:
    """What stands on pictures of set-ups, and what is said of their layers."""
    parts, before = {part.code: part for part in worked[TABLE].parts}, []
    for set_up in worked[SET_UPS]:
        for shown in set_up_pictures(set_up, before, parts, lambda setting: figure(setting, "mm")):
            for line in re.findall(r">([^<>]+)<", inline_svg(shown.drawing, "p")):
                yield shown.drawing.title, line
        before.append(set_up)

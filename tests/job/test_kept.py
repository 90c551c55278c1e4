"""A packet keeps the workshop file that it leaned on, so it is proved by itself; its sheet for the customer."""

from __future__ import annotations

import re
from pathlib import Path
from shutil import copytree

import pytest

from templategen.english import speak, spoken, tag
from templategen.output.customer_sheet import CustomerSheet, customer_html
from templategen.output.maker_mark import mark_of
from templategen.output.pdf_customer import NO_PICTURE, customer_pdf
from templategen.packet.proved import proved
from templategen.proof.customer import html_differences, html_lines, pdf_differences, pdf_words
from templategen.proof.read_record import read_record
from tests.job.made import made, weir


@pytest.mark.wide
def test_a_packet_is_proved_without_the_workshop_file(tmp_path: Path) -> None:
    """With another one it can't be."""
    assert proved(weir()).true and b"pins" in made("lists/price.csv")
    folder = tmp_path / "other"
    copytree(weir(), folder)
    (folder / "workshop.toml").write_bytes(made("workshop.toml").replace(b"hourly = 34", b"hourly = 35"))
    assert "isn't the profile that the record was made from" in str(proved(folder).differences)


def test_the_customer_s_sheet_says_what_the_lists_say() -> None:
    """Maker, size, mass and price, once each; nothing of machines."""
    said = html_lines(made("customer/sheet.html"))
    price = re.search(rb"price,,,,([\d.]+),", made("lists/price.csv"))
    tax = re.search(rb"tax,20,%,,([\d.]+),", made("lists/price.csv"))
    assert price and tax
    assert said[:4] == [
        "The boat shed", "Behind the Towpath tea garden, at the third lock", "ask for whoever is at the bandsaw",
        "Weir & <lock> table",
    ]  # fmt: skip
    told = dict(zip(said[4::2], said[5::2], strict=False))
    assert told["Size"] == "820 mm across, 735 mm high"
    assert told["Price"] == f"{price[1].decode()} crowns, of which {tax[1].decode()} are 20 % tax"
    assert told["Stands for"].startswith("45 days") and "canal" in told["Delivery"]
    assert told["Weight"] == f"about {read_record(weir())['table']['mass_kg']:.0f} kg"
    assert not re.search("kerf|fence|router|bandsaw|blade|cutter", " ".join(said[4:]))


def test_words_of_any_script_are_no_difference() -> None:
    """Hebrew is turned round on paper, other letters have no face, a long word is cut; the page has them all."""
    said = ("שולחן ליד המים, 3", "桌子 and ⌀ → here", "x" * 110, "Zażółć <b>&amp; Æsir")
    sheet = CustomerSheet(said[0], said, (("Size", "9 mm"), ("Delivery", said[2])), (("Year", (*said, "plain")),))
    page, paper = customer_html(sheet, "<svg></svg>").encode(), customer_pdf(sheet, NO_PICTURE, (210.0, 297.0))
    assert not list(html_differences("p", page, sheet.lines)) and not list(pdf_differences("p", paper, sheet.lines))
    assert list(pdf_differences("p", paper, [*sheet.lines, "more"])) and list(html_differences("p", page, said))


def test_the_sheet_is_proved_in_the_english_that_it_is_told_in() -> None:
    """American words on page and paper, the maker's own as they stand; read as British they differ."""
    sheet = CustomerSheet("Grey parasol", ("Centre & Co",), (("Parasol", "grey"),), (("Fibres", ("a grey centre",)),))
    british = list(sheet.lines)
    speak("american", (sheet.title, *sheet.maker))
    try:
        page, paper = customer_html(sheet, "").encode(), customer_pdf(sheet, NO_PICTURE, (215.9, 279.4))
        lines = list(sheet.lines)
    finally:
        speak("british")
    assert lines == ["Centre & Co", "Grey parasol", "Umbrella", "gray", "Fibers", "a gray center"]
    assert not list(html_differences("p", page, lines)) and not list(pdf_differences("p", paper, lines))
    assert list(html_differences("p", page, british)) and list(pdf_differences("p", paper, british))


def test_page_and_paper_say_the_same() -> None:
    """Every line of the page stands on paper; a word changed on either is found, and so is a script."""
    page, paper = made("customer/sheet.html"), made("customer/sheet.pdf")
    lines = html_lines(page)
    assert not list(html_differences("p", page, lines)) and not list(pdf_differences("p", paper, lines))
    wrong = [line.replace("820 mm", "830 mm") for line in lines]
    assert list(html_differences("p", page, wrong)) and list(pdf_differences("p", paper, wrong))
    assert list(html_differences("p", page.replace(b"</main>", b"<p>One more</p></main>"), lines))
    assert list(html_differences("p", page.replace(b"<main>", b"<main><script>x()</script>"), lines))
    assert list(html_differences("p", page.replace(b"<main>", b'<main onclick="x()">'), lines))
    assert len(pdf_words(paper)) > 1000 and list(pdf_differences("p", paper[:900], lines))


def test_the_customer_may_be_told_in_another_english_under_the_maker_s_mark() -> None:
    """What is proved is what is written, though the packet speaks otherwise; the mark is no word of it."""
    mark = mark_of("M0 0H9V4L2 7z")
    facts, chapters = (("Parasol", "grey"),), (("Fibres", ("a grey centre",)),)
    sheet = CustomerSheet("Grey parasol", ("Centre & Co",), facts, chapters, mark, "american", ("Centre & Co",))
    with spoken(sheet.words, sheet.own):
        page, paper = customer_html(sheet, "").encode(), customer_pdf(sheet, NO_PICTURE, (215.9, 279.4))
    lines = list(sheet.lines)
    assert lines == ["Centre & Co", "Gray umbrella", "Umbrella", "gray", "Fibers", "a gray center"]
    assert not list(html_differences("p", page, lines)) and not list(pdf_differences("p", paper, lines))
    assert b'lang="en-US"' in page and b"M0 0L9 0L9 4L2 7Z" in page and tag() == "en-GB"

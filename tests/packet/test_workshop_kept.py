"""A packet keeps the workshop file that it leaned on, so it is proved by itself; its sheet for the customer."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from templategen.packet.make import Packet, make_packet
from templategen.packet.proved import proved
from templategen.packet.shipped import shipped_folder
from templategen.packet.write import write_packet
from templategen.proof.customer import html_differences, html_lines, pdf_differences, pdf_words
from templategen.table.profile.read import read_profile

TABLE = """format = 1
title = "Weir & <lock> table"
shop = "shop.toml"
[top]
diameter = 820
segments = 6
[slats]
gap = 7
"""


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Packet, Path]:
    """A packet with lists and the customer's sheet, written; the files it was made from are gone."""
    home = tmp_path_factory.mktemp("workshop")
    shop, profile = home / "shop.toml", home / "weir.toml"
    shop.write_bytes((shipped_folder() / "workshops" / "towpath.toml").read_bytes())
    profile.write_text(TABLE)
    packet = make_packet(read_profile(profile), ("lists", "customer"))
    folder = write_packet(packet, home / "packet")
    shop.unlink()
    profile.unlink()
    return packet, folder


def test_a_packet_is_proved_without_the_workshop_file(made: tuple[Packet, Path]) -> None:
    """Without the kept one it can't be, nor with another."""
    packet, folder = made
    assert proved(folder).true and b"pins" in packet.files["lists/price.csv"]
    kept = folder / "workshop.toml"
    text = kept.read_bytes()
    kept.write_bytes(text.replace(b"hourly = 34", b"hourly = 35"))
    assert "isn't the profile that the record was made from" in str(proved(folder).differences)
    kept.write_bytes(text)


def test_the_customer_s_sheet_says_what_the_lists_say(made: tuple[Packet, Path]) -> None:
    """Maker, size, mass and price, once each; nothing of machines."""
    packet, _ = made
    said = html_lines(packet.files["customer/sheet.html"])
    price = re.search(rb"price,,,,([\d.]+),", packet.files["lists/price.csv"])
    tax = re.search(rb"tax,20,%,,([\d.]+),", packet.files["lists/price.csv"])
    assert price and tax
    assert said[:4] == [
        "The boat shed", "Behind the Towpath tea garden, at the third lock", "ask for whoever is at the bandsaw",
        "Weir & <lock> table",
    ]  # fmt: skip
    told = dict(zip(said[4::2], said[5::2], strict=False))
    assert told["Size"] == "820 mm across, 735 mm high"
    assert told["Price"] == f"{price[1].decode()} crowns, of which {tax[1].decode()} are 20 % tax"
    assert told["Stands for"].startswith("45 days") and "canal" in told["Delivery"]
    assert told["Weight"] == f"about {packet.record['table']['mass_kg']:.0f} kg"
    assert not re.search("kerf|fence|router|bandsaw|blade|cutter", " ".join(said[4:]))


def test_page_and_paper_say_the_same(made: tuple[Packet, Path]) -> None:
    """Every line of the page stands on paper; a word changed on either is found, and so is a script."""
    packet, _ = made
    page, paper = packet.files["customer/sheet.html"], packet.files["customer/sheet.pdf"]
    lines = html_lines(page)
    assert not list(html_differences("p", page, lines)) and not list(pdf_differences("p", paper, lines))
    wrong = [line.replace("820 mm", "830 mm") for line in lines]
    assert list(html_differences("p", page, wrong)) and list(pdf_differences("p", paper, wrong))
    assert list(html_differences("p", page.replace(b"</main>", b"<p>One more</p></main>"), lines))
    assert list(html_differences("p", page.replace(b"<main>", b"<main><script>x()</script>"), lines))
    assert list(html_differences("p", page.replace(b"<main>", b'<main onclick="x()">'), lines))
    assert len(pdf_words(paper)) > 1000 and list(pdf_differences("p", paper[:900], lines))

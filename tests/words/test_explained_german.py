"""How figures came about, told in German: what they are, where they come from, the words of their formulas."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.catalogue import texts_of
from templategen.cli import main
from templategen.english import speak
from templategen.errors import DesignError
from templategen.explain.book import Quantity
from templategen.explain.evaluate import FUNCTIONS
from templategen.explain.words import SYMBOLS, symbol_words
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.shop.explained import explained
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from tests.words.test_drawn_german import wrong

CHANGED = (
    {}, {"legs.top_joint": '"bolted"'}, {"legs.top_joint": '"draw-bored"', "slats.apex": '"closed"'},
    {"slats.run": '"along"', "base.glides": '"screwed"'},
    {"slats.run": '"straight"', "base.feet": '"relieved"', "top.drip_groove": "[14, 6, 5]"},
    {"joints.spline": '"stopped"', "slats.hold": '"width"', "shop.build_moisture": "14"},
)  # fmt: skip
"""Ways of building a table, so that each way's figures are there; a table that can't be built so is left out."""

OWN = re.compile(
    r"segments_per_field|1995-1-1, [78][.][14.]+|Wood Handbook, Forest.*?,|European Wood|Equilibrium.*?Laboratory"
    r"|\b(board|slab|k_mod|K_ser)\b"
)
"""Names that stay: of books, of chapters, of what the maker has named."""


def changed(text: str, keys: dict[str, str]) -> str:
    """A profile with other values for these keys."""
    for path, value in keys.items():
        section, name = path.split(".")
        text = re.sub(rf"(?m)(^\[{section}\]\n(?:(?!\[).*\n)*?){name} *=.*\n", r"\1", text)
        text = text.replace(f"[{section}]\n", f"[{section}]\n{name} = {value}\n", 1)
    return text


@cache
def told() -> tuple[Quantity, ...]:
    """Every figure of shipped tables, as they are and built otherwise, told in German."""
    speak("british", language="german")
    found: list[Quantity] = []
    try:
        for name in ("towpath-side", "towpath-hex"):
            for keys in CHANGED:
                text = changed(shipped_text(name), keys)
                profile = profile_from_text(f'{text}\n[words]\nlanguage = "german"\n', "tisch")
                with suppress(DesignError):
                    found += explained(build_table(profile)).values()
    finally:
        speak("british")
    return tuple(found)


@pytest.fixture(autouse=True)
def british_after() -> Iterator[None]:
    """Other tests speak as before."""
    yield
    speak("british")


@pytest.mark.wide
def test_every_figure_is_told_in_german() -> None:
    """What it is and where it comes from, names and words of the profile left out."""
    words = {text for one in told() for text in (one.says, re.sub(r'\S+ = "[^"]*"', "", one.source))}
    assert len(words) > 900 and {"legs.bolt_spring", "legs.peg_spring"} <= {one.name for one in told()}
    assert not [(text, found) for text in words if (found := wrong(OWN.sub("", text)))]


@pytest.mark.wide
def test_words_of_formulas_are_german_and_none_means_two() -> None:
    """Each symbol that is a word is asked for, and in one formula no two are told alike, nor as a function."""
    texts = texts_of("german")
    used = {symbol for one in told() for symbol, _ in one.terms if re.fullmatch("[a-z]{3,}", symbol)} - {"rho"}
    assert used <= {*SYMBOLS} and all(texts[f"symbol {one}"].startswith("symbol ") for one in SYMBOLS)
    speak("british", language="german")
    for one in told():
        words = [symbol_words(symbol) for symbol, _ in one.terms]
        assert len({*words}) == len(words) and not {*words} & {*FUNCTIONS}, one.name


def test_explain_speaks_german(tmp_path: Path) -> None:
    """Formulas with German words and figures, and a semicolon between the values of a function; an unknown name."""
    name = next(one for one in shipped_names() if "side" in one)
    profile = tmp_path / "tisch.toml"
    profile.write_text(f'{shipped_text(name)}\n[words]\nlanguage = "german"\n', encoding="utf-8")
    story, unknown = (
        CliRunner().invoke(main, ["explain", str(profile), asked, "--shop", "none"])
        for asked in ("joint.mitre.spline.contact", "legs.lenght")
    )
    assert "(min(Ende; Steg) - at) * st" in story.output and "    Gehrung = top.mitre = 22,5°" in story.output
    assert "\ngegeben\n  values.board " in story.output and "Profil, Zeile 8" in story.output
    assert unknown.exit_code == 2
    assert "„legs.lenght“ ist keine Größe dieses Tisches; ist legs.length " in unknown.output

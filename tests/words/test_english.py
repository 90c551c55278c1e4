"""British sentences in American words: what changes, what stays, and that a packet speaks one English throughout."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.english import AMERICAN, speak, spelt
from templategen.packet.shipped import shipped_text

BRITISH = re.compile(
    r"(?<![\w./\\-])(mitres?|rebates?|colours?|parasols?|fibres?|grey|bush|spindle)(?![\w\\]|[./-]\w)"
)


@pytest.fixture(autouse=True)
def british_after() -> Iterator[None]:
    """Other tests speak as before."""
    yield
    speak("british")


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("Mitres: a mitred end, the mitre's angle", "Miters: a mitered end, the miter's angle"),
        ("spindle or router table, groove cutter", "shaper or router table, groove cutter"),
        ("planer or jointer plane, straightedge", "jointer or jointer plane, straightedge"),
        ("guide bush 17 mm, two bushes", "guide bushing 17 mm, two bushings"),
        ("the rim's centre, CENTRE: grey", "the rim's center, CENTRE: gray"),
        ("shop.mitre_error, MITRE-GAUGE.pdf, mitre-gauge", "shop.mitre_error, MITRE-GAUGE.pdf, mitre-gauge"),
        ("a rebate for the Rebate Yard's parasol", "a rabbet for the Rebate Yard's umbrella"),
        ("the mit on a mitre", "the mit on a miter"),
    ],
)  # fmt: skip
def test_words_change_and_names_stay(said: str, wanted: str) -> None:
    """Words by themselves change, capitals kept; keys, paths, codes and the maker's own names don't."""
    speak("american", ["Rebate Yard", "mit"])
    assert spelt(said) == wanted
    speak("british")
    assert spelt(said) == said


def test_no_american_word_is_changed_again() -> None:
    """Told twice, a sentence stays as it is."""
    speak("american")
    once = {word: spelt(word) for word in AMERICAN}
    assert once == AMERICAN
    assert {spelt(word) for word in AMERICAN.values() if word != "planer"} == {*AMERICAN.values()} - {"planer"}


@pytest.mark.wide
def test_a_packet_speaks_one_english(tmp_path: Path) -> None:
    """Lists, page and drawings have no British word left; the title is the maker's; it is proved as any packet."""
    profile = tmp_path / "side.toml"
    text = re.sub("(?m)^title = .*", 'title = "Mitre Wharf"', shipped_text("towpath-side"))
    profile.write_text(f'{text}\n[words]\nenglish = "american"\n', encoding="utf-8")
    packet = tmp_path / "packet"
    asked = [
        "make",
        str(profile),
        "-o",
        str(packet),
        "--shop",
        "none",
        "--only",
        "parts",
        "--only",
        "lists",
        "--only",
        "page",
    ]
    made = CliRunner().invoke(main, asked)
    assert made.exit_code == 0, made.output
    assert BRITISH.findall(made.output.replace("Mitre Wharf", "")) == []
    for path in (p for p in packet.rglob("*") if p.suffix in (".html", ".csv", ".svg")):
        said = re.sub(r"<(script|style)\b.*?</\1>", "", path.read_text(encoding="utf-8"), flags=re.DOTALL)
        shown = re.sub(r'\s(?:id|href|class|data-[a-z]+|aria-labelledby|xlink:href)="[^"]*"', "", said)
        assert BRITISH.findall(shown.replace("Mitre Wharf", "")) == [], path.name
    proved = CliRunner().invoke(main, ["prove", str(packet)])
    assert proved.exit_code == 0, proved.output[-500:]

"""German as a second language: whole, with the same fields, in a joiner's figures, and spoken where it was asked."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.catalogue import column, texts_of, translated
from templategen.checks.describe import filled, said
from templategen.checks.finding import Finding
from templategen.checks.run import measured
from templategen.cli import main
from templategen.drawing.drawing import Drawing, Shape, Words
from templategen.drawing.layers import FRAME, TEXT
from templategen.english import AMERICAN, language, speak, spoken
from templategen.errors import ProfileError
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.live.spoken import PAGE, live_page
from templategen.output.customer_sheet import customer_html
from templategen.output.page.content import Page, Section, Sheet
from templategen.output.page.render import page_html
from templategen.output.pdf_customer import NO_PICTURE, customer_pdf
from templategen.output.svg import svg_text
from templategen.output.table_csv import csv_bytes
from templategen.packet.customer import customer_sheet
from templategen.packet.shipped import shipped_text
from templategen.packet.stages import CLOSING, GLUING, HARDWARE, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.parts.revision import part_revision
from templategen.proof.customer import html_differences, pdf_differences
from templategen.proof.lists import read_rows
from templategen.shop.boards import boards_list
from templategen.shop.cautions import MITRES
from templategen.shop.closing.listed import closing_list
from templategen.shop.cut_list import SIZES, cut_list
from templategen.shop.gluing.listed import gluing_list, marks_list
from templategen.shop.hardware import hardware_list
from templategen.shop.set_ups.rows import set_up_list
from templategen.table.profile.read import profile_from_text, read_profile
from templategen.work.plan import plan_list
from tests.words.samples import LONGEST, PLACE
from tests.words.test_sentences import ALL, said_in
from tests.words.texts import other_texts, texts

ENGLISH = re.compile(r"\b(the|of|and|with|without|is|are|to|by|wanted|would|other|piece|rim|rail|slat|leg|mm wide)\b")


HEAD = re.compile(r"(?<![a-z])(and|length|width|step|stop|how|what|error|count|pieces|wood|cost|size|at)(?![a-z])")


@pytest.fixture(autouse=True)
def british_after() -> Iterator[None]:
    """Other tests speak as before."""
    yield
    speak("british")


def test_every_text_has_its_german_and_no_other_stands_there() -> None:
    """`python -m tests.words` puts in what is missing, to be translated, and takes out what nothing says any more."""
    german, asked = set(texts_of("german")), set(texts())
    assert asked - german == set()
    assert german - asked == set()


def test_fields_are_the_same() -> None:
    """No field more or fewer, each in the same form and as sure to be there; what is counted has one and many."""
    pairs = texts_of("german").items()
    assert not [english for english, german in pairs if _forms(german) != _forms(english)]
    assert not [english for english, german in pairs if _perhaps(german) != _perhaps(english)]
    counts = [(place[2], text) for text in dict(pairs).values() for place in PLACE.finditer(text)]
    assert not [text for form, text in counts if (form or "").startswith("#") and "|" not in form]


def _forms(text: str) -> list[tuple[str, str]]:
    forms = ((place[1], place[2] or "") for place in PLACE.finditer(text))
    return sorted((name, "#" if form.startswith("#") else form) for name, form in forms)


def _perhaps(text: str) -> list[list[str]]:
    return sorted(sorted(place[1] for place in PLACE.finditer(group)) for group in re.findall(r"\[[^\[\]]*\]", text))


def test_german_is_german_throughout() -> None:
    """No English word is left, no number with a point, no word that American would change."""
    found = [
        (one.kind, text)
        for one in ALL
        for text in (words.replace(LONGEST, "") for words in said_in(one))
        if one.words == "german" and (ENGLISH.search(text) or re.search(r"\d\.\d", text))
    ]
    assert not found
    words = re.compile(rf"(?<!\w)({'|'.join(AMERICAN)})(?!\w)", re.IGNORECASE)
    bare = (re.sub(r"\{[^}]*\}|\w+\.\w+", "", text) for text in texts_of("german").values())
    assert not [text for text in bare if words.search(text)]


MANY = "Teile|Stücke|Bretter|Leisten|Segmente|Federn|Fugen|Leimfugen|Verbindungen|Durchgänge|Stellen|Schritte"
MANY += (
    "|Paare|Personen|Dateien|Vorrichtungen|Tische|Arten|Enden|Tage|Stunden|Minuten|Rohlinge|Beine|Löcher|Plätze|Lagen"
)
ONE = (
    "Teil|Brett|Leiste|Segment|Feder|Fuge|Leimfuge|Verbindung|Durchgang|Stelle|Schritt|Paar|Person|Datei|Vorrichtung"
)
ONE += "|Tisch|Art|Ende|Tag|Stunde|Minute|Rohling|Bein|Loch|Platz|Lage"

FAULTS = {
    "an article before a size": r"\bein(e|en|em|er|es)? \d[\d,/-]*(?![\d,/-]|Grad)"
    r"(?!( mm| in)? (lang|breit|dick|tief))",
    "one of many": rf"(?<![\d.,/-])1 ({MANY})\b",
    "many as one": rf"(?<![\d.,/-])(?:[2-9]|\d\d+) ({ONE})\b",
    "an empty list": r"\b(von|für) (und|oder)\b|\b(von|für) ?[,;:)]| \(\s*\)|: ?[;,.](?!\w)|, ?[;,]|\w[;,]$",
    "a double unit": r"\b(mm|kg|N|m|min|Grad|Stück|Zoll)\b \1\b|%\s*%|°\s*°",
    "a unit that hugs its number": r"\d(mm|cm|kg|min|°C|%)",
    "two blanks, or one before a mark": r"^(?!  ).*  | [,;:)]| [.](?![.\w])",
    "a double word": r"\b(und|oder|in|an|auf|von|mit|zu|ist|wird|den|dem) \1\b",
    "an old spelling": r"\b(daß|muß|müßte|Schluß|naß|paßt|läßt)\b",
    "a short form of English": r"n't\b|\w's\b",
}


@pytest.mark.parametrize("fault", FAULTS)
def test_no_german_sentence_has(fault: str) -> None:
    """Nor any other text, with one and with many of what it counts."""
    pattern = re.compile(FAULTS[fault])
    assert len(german_told()) > 2000
    assert not [one for one in german_told() if pattern.search(one[1])]


@cache
def german_told() -> list[tuple[str, str]]:
    """Findings and refusals with all their values, other texts with names and numbers, each with what it is of."""
    told = [(one.kind, text.replace(LONGEST, "LEG")) for one in ALL if one.words == "german" for text in said_in(one)]
    with spoken("german", ()):
        return told + [(text, filled(text, with_(number, text), "mm")) for text in plain() for number in (1, 24)]


def plain() -> Iterator[str]:
    """All other texts that take nothing but names and numbers."""
    for text, _ in other_texts():
        forms = [place[2] or "" for place in PLACE.finditer(text)]
        if all(form in ("", "all", "word") or form.startswith("# ") for form in forms) and "{}" not in text:
            yield text


def with_(number: int, text: str) -> dict[str, object]:
    """What stands in the fields of a text that only counts and names."""
    return {place[1]: number if (place[2] or "").startswith("#") else "LEG" for place in PLACE.finditer(text)}


def test_sizes_counts_and_units() -> None:
    """One and many, decimal commas, what is written into a file with its point."""
    grooves = Finding(
        "passes", "note", "joints.tongue", 2.0, fields={"cut": "grooves", "passes": 1, "tool": "router bit"}
    )
    moist = {"low": 44.5, "high": 85, "warmth": 15, "driest": 8.61, "wettest": 18.25, "rots": False, "wait": True}
    with spoken("german", ()):
        assert grooves.described("mm").says == "Nuten brauchen 1 Durchgang mit dem Schaftfräser"
        assert said("{count:# slat} to a field", count=3) == "3 slats to a field"
        wet = Finding("moisture", "caution", "shop.build_moisture", 19.25, (8.6, 18.2), moist).described("mm")
        assert wet.whole == "Holzfeuchte beim Bauen: 19,2 %, 8,6 % bis 18,2 % gefordert"
        assert wet.why.startswith("Luft von 44,5 bis 85 % bei 15 °C bringt das Holz auf 8,6 bis 18,2 % Feuchte")
        assert said("{change} would do", change="slats.width = 78.5 mm") == "slats.width = 78.5 mm reicht"
    assert grooves.described("mm").says == "the grooves take 1 pass of the router bit"


def test_check_speaks_german_alone(tmp_path: Path) -> None:
    """Findings, what stands round them, and the refusal of a table that can't be built; JSON keeps its kinds."""
    text = f'{shipped_text("towpath-side")}\n[words]\nlanguage = "german"\nenglish = "american"\n'
    profile = tmp_path / "tisch.toml"
    profile.write_text(re.sub("(?m)^title = .*", 'title = "Beistelltisch"', text), encoding="utf-8")
    checked = CliRunner().invoke(main, ["check", str(profile), "--shop", "none", "--whole"])
    assert checked.exit_code == 0, checked.output
    spoken_words = checked.output.replace(str(profile), "")
    assert not [line for line in spoken_words.splitlines() if ENGLISH.search(line)]
    assert "Hinweis  " in spoken_words and spoken_words.rstrip().endswith("zu tun")
    profile.write_text(re.sub(r"(?m)^tongue = .*", "tongue = 18.5", text), encoding="utf-8")
    refused = CliRunner().invoke(main, ["check", str(profile), "--shop", "none"])
    assert refused.exit_code == 2
    told = r"^Fehler: .*tisch\.toml:\d+: joints\.tongue: eine Nut von 18,5 mm bricht aus .*; 2,0 mm bis 16,0 mm$"
    assert re.search(told, refused.output, re.MULTILINE)
    assert "in der Datei steht statt des Kommas ein Punkt: 12.5" in refused.output


SLIPS = {
    "diamter = 1200": "top.diamter: ist nicht bekannt; ist diameter gemeint?",
    "diameter = 12": "top.diameter: 12 mm; erlaubt ist 400 mm bis 4000 mm; weniger wäre ein Hocker, und über mehr "
    "reicht kein Arm; möglich: 400 mm",
    "diameter = 1,2": "in einer Zahl steht ein Komma, hier gehört ein Punkt hin; so schreiben: diameter = 1.2",
    'diameter = "120{0} cm"': 'top.diameter: in "120{0} cm" steht "{"; es gehen Zahlen, Einheiten, Schlüssel, '
    "+ - * / und runde Klammern",
    "rails = 2\nsegments = 10": "top.segments: 10; bei 2 Riegeln ein Vielfaches von 4: 8, 12, 16, 20, 24; möglich: 8",
}


@pytest.mark.parametrize(("slip", "home"), [*((slip, "profile") for slip in SLIPS), ("diamter = 1200", "workshop")])
def test_what_is_wrong_in_a_file_is_told_in_german(slip: str, home: str, tmp_path: Path) -> None:
    """Wherever the language is asked for, even under a line that is no TOML; after it English is spoken again."""
    asked, profile, shop = '\n[words]\nlanguage = "german"\n', tmp_path / "tisch.toml", tmp_path / "werkstatt.toml"
    profile.write_text(f"format = 1\n[top]\n{slip}\n{asked if home == 'profile' else ''}", encoding="utf-8")
    shop.write_text(f"format = 1\n{asked}", encoding="utf-8")
    with pytest.raises(ProfileError) as refusal:
        read_profile(profile, str(shop) if home == "workshop" else "none")
    assert [str(fault).partition(": ")[2] for fault in refusal.value.faults] == [SLIPS[slip]]
    assert (refusal.value.language, language()) == ("german", "english")


@pytest.mark.wide
def test_the_customer_is_told_in_german() -> None:
    """Page and paper alike, tagged as German, whatever the packet speaks; the maker's own words stay."""
    words = '\n[words]\ncustomer = "german"\n[maker]\nname = "Mitre Wharf"\n'
    worked = begun(profile_from_text(shipped_text("towpath-dining") + words, "tisch"))
    table = worked[TABLE]
    sheet = customer_sheet(table, measured(table), worked[GLUING], None, (), worked[WORK])
    lines = list(sheet.lines)
    assert lines[0] == "Mitre Wharf" and "1340 mm Durchmesser, 735 mm hoch" in lines
    assert any(
        "35 kg schwer; ein dickerer" in line and line.endswith("das Loch führt nur den Stock.") for line in lines
    )
    ours = [line for line in lines if line not in ("Mitre Wharf", table.profile.title)]
    assert not [line for line in ours if ENGLISH.search(line) or re.search(r"\d\.\d", line)]
    with spoken(sheet.words, sheet.own):
        picture = '<svg class="d" aria-labelledby="t"><title id="t">top</title></svg>'
        page, paper = customer_html(sheet, picture), customer_pdf(sheet, NO_PICTURE, (210.0, 297.0))
    assert '<html lang="de">' in page and 'aria-label="Der Tisch"' in page and "<title>top" not in page
    assert b"/Lang (de)" in paper
    assert not list(html_differences("p", page.encode(), lines)) and not list(pdf_differences("p", paper, lines))


def test_the_plan_of_work_is_told_in_german() -> None:
    """All its operations and set-ups: nothing there is told as in English."""
    text = shipped_text("towpath-side")
    english = list(_told_of_work(text))
    german = list(_told_of_work(f'{text}\n[words]\nlanguage = "german"\n'))
    assert len(english) == len(german) > 300
    alike = {one for one, other in zip(english, german, strict=True) if one == other and re.search("[a-z]{3}", one)}
    assert alike == set()
    assert not [told for told in german if ENGLISH.search(told) or re.search(r"\d\.\d", told)]
    assert any(told.startswith("rechtes Ende schneiden; Oberseite oben; ") for told in german)


def _told_of_work(profile: str) -> Iterator[str]:
    """Every cell of the plan and of the set-ups that says something, figures and names of quantities left out."""
    worked = begun(profile_from_text(profile, "tisch"))
    plan = worked[WORK]
    for one, row in zip(plan.operations, plan_list(plan)[1], strict=False):
        yield from (str(row[at]) for at in (2, 3, 4, 5, 12, 13))
        yield from map(translated, one.operation.tells)
    header, rows = set_up_list(plan.set_ups, worked[TABLE])
    told = [at for at, name in enumerate(header) if name in SAYS]
    yield from (str(row[at]) for row in rows for at in told)


SAYS = (
    "operation", "machine", "tool", "kerf_side", "up", "against", "stop_at", "how_it_lies", "from_where",
    "test_piece", "measure", "warnings", "cautions",
)  # fmt: skip


def test_jigs_gluing_and_what_is_bought_are_told_in_german() -> None:
    """All that jigs say, with their pieces and what is scribed on them, and the words of the lists; figures of lists
    keep their point."""
    asked = '\n[words]\nlanguage = "german"\n'
    with spoken("german", ()):
        worked = begun(profile_from_text(shipped_text("towpath-side") + asked, "tisch"))
        jigs = [told for jig in worked[WORK].jigs.jigs for told in _told_of_jig(jig)]
        lists = (gluing_list(worked[GLUING]), marks_list(worked[GLUING]), hardware_list(worked[HARDWARE]))
        lists += (closing_list(worked[CLOSING]), cut_list(worked[TABLE]), boards_list(worked[TABLE], {}))
        rows = [row for _, of_list in lists for row in of_list]
        lists += (set_up_list((), worked[TABLE]), plan_list(worked[WORK]))
        heads = [[column(name) for name in head] for head, _ in lists]
        listed = read_rows(csv_bytes(*cut_list(worked[TABLE])).decode())[0]
    assert all(len({*head}) == len(head) for head in heads)
    assert not [name for head in heads for name in head if HEAD.search(name)]
    part = worked[TABLE].parts[0]
    assert [listed[name] for name in ("name", "wood", "revision")] == [part.name, "Iroko", part_revision(part)]
    assert [float(listed[f"{name}_mm"]) for name in SIZES] == [pytest.approx(size, abs=0.0051) for size in part.size]
    assert len(jigs) > 300 and len(rows) > 60
    assert not [told for told in jigs if ENGLISH.search(told) or re.search(r"\d\.\d", told)]
    cells = [re.sub(r"\w+\.\w+", "", str(cell)) for row in rows for cell in row]
    assert not [told for told in cells if ENGLISH.search(told)]
    assert any(told.endswith(" anfügen") for told in cells)


def _told_of_jig(jig: Jig) -> Iterator[str]:
    yield from (jig.name, *jig.use, *jig.proof, *(one.name for one in jig.figures))
    yield from (re.sub(r"\w+\.\w+|tan 0.5°", "", one.how) for one in jig.figures)
    yield from (words for part in jig.parts for words in (part.name, *part.notes))
    yield from (one.words for one in jig.scribes)


def test_the_live_page_speaks_german() -> None:
    """Its own words, its labels and those of its script; in English it is the file as it stands."""
    assert live_page() == (PAGE / "index.html").read_text(encoding="utf-8")
    with spoken("german", ()):
        page = live_page()
    words = json.loads(page.partition('id="words">')[2].partition("</script>")[0])
    assert words["● Beware"] == "● Zu beachten" and words["board"] == "Brett"
    assert page.startswith('<!doctype html>\n<html lang="de">') and 'aria-label="das Lager"' in page
    bare = re.sub(r"<script.*?</script>|<link[^>]*>|(?<=“).*?(?=”)", "", page, flags=re.DOTALL)
    assert not [text for text in re.findall(r">([^<>]+)<", bare) if ENGLISH.search(text)]


def test_what_is_german_is_tagged() -> None:
    """On an English page, and of a drawing the whole, so that readers aloud change their voice."""
    found = Section("found", "Vor dem Zuschnitt", (Sheet("settle", "Zu beachten"),), language="de")
    sheets = Section("sheets", "Set-ups", (Sheet("1", "1. mitre", cautions=(MITRES,)),))
    frame = Shape(FRAME, rectangle(-5, -20, 90, 20))
    assert 'lang="de"' not in page_html(Page("t", "", "r", "k", (sheets,)))
    with spoken("german", ()):
        marks = tuple(Words(TEXT, Point(0, -y), 5, words) for y, words in ((2, "rail"), (9, translated(MITRES))))
        page, svg = page_html(Page("t", "", "r", "k", (found, sheets))), svg_text(Drawing("t", (frame, *marks)))
    assert '<html lang="en-GB">' in page and '<li lang="de"><a href="#found">' in page
    assert re.search(r'<section id="found"[^>]* lang="de">', page) and '<section id="sheets"' in page
    assert re.search(r'<div class="care" lang="de"><strong>Vorsicht</strong>\s*<ul>\s*<li>Gehrungen: ', page)
    assert re.findall(r'<(\w+)[^>]* xml:lang="(\w+)"', svg) == [("svg", "de")]

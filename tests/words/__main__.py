"""Writes the table of all sentences for somebody to read through, and puts what the catalogue lacks into the files of
its languages: `python -m tests.words`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import polib

import templategen.catalogue
from templategen.catalogue import translated
from templategen.english import spelt, spoken
from tests.words.samples import Rendered, refused, rendered, standing_cautions
from tests.words.texts import other_texts, texts

TABLE = Path(__file__).with_name("sentences.md")
GERMAN = Path(templategen.catalogue.__file__).with_name("german.po")
HELP = GERMAN.parent / "de/LC_MESSAGES/templategen.po"
"""What --help says in German; its texts are put in by hand, and asked for by a test."""

ABOUT = """\
What templategen says in German. Sentences are filled in: {name} stands for a field, {name:form} for a size, a word
or a number in some form, and what stands in [square brackets] is left out where one of its fields is. Fields and
brackets stay as they are; {count:# coat} counts, and names one and many: {count:# Anstrich|Anstriche}. Over each text
it is told where it stands. What has no translation is told in English."""


def table() -> str:
    """Findings, refusals and cautions: British and German in mm, American in inches, the shortest and the longest."""
    findings = _rows("# Every sentence of a finding", rendered())
    refusals = _rows("# What a table that can't be built is refused with", refused())
    return "\n".join((*findings, "", *refusals, "", *_cautions(), "", *_others(), ""))


def _rows(title: str, told: Iterator[Rendered]) -> Iterator[str]:
    """A row for each kind."""
    rows: dict[str, dict[tuple[str, str, bool], str]] = {}
    for one in told:
        rows.setdefault(one.kind, {})[one.words, one.units, one.long] = _cell(one)
    yield from _head(title)
    yield from (_row(kind, cells) for kind, cells in rows.items())


def _cautions() -> Iterator[str]:
    yield "# Every caution"
    yield ""
    yield "| where it stands | British | American | German |"
    yield "| --- | --- | --- | --- |"
    for name, said in dict.fromkeys(standing_cautions()):
        with spoken("american", ()):
            american = spelt(said)
        with spoken("german", ()):
            yield f"| {name} | {said} | {american} | {translated(said)} |"


def _others() -> Iterator[str]:
    """Texts without samples: places stand for what is filled in."""
    yield "# Every other text: what is wrong in a file, pages, what commands print"
    yield ""
    yield "| where it stands | British | American | German |"
    yield "| --- | --- | --- | --- |"
    for said, place in other_texts():
        with spoken("american", ()):
            american = spelt(said)
        with spoken("german", ()):
            cells = (place, said, american, translated(said))
        yield f"| {' | '.join(cell.replace('|', chr(92) + '|').strip() for cell in cells)} |"


def _head(title: str) -> Iterator[str]:
    columns = [f"{words}, {length}" for words in COLUMNS for length in ("shortest", "longest")]
    yield title
    yield ""
    yield "Made by `python -m tests.words`. What was measured and the limits are samples."
    yield ""
    yield f"| kind | {' | '.join(columns)} |"
    yield "| --- " * (1 + len(columns)) + "|"


def _row(kind: str, cells: dict[tuple[str, str, bool], str]) -> str:
    shown = (cells[english, units, long] for english, units in COLUMNS.values() for long in (False, True))
    return f"| {kind} | {' | '.join(shown)} |"


def _cell(one: Rendered) -> str:
    told = one.told
    parts = (told.whole, told.why and f"*Why:* {told.why}", told.do and f"*Do:* {told.do}")
    return "<br>".join(part for part in parts if part)


COLUMNS = {"British": ("british", "mm"), "American": ("american", "in"), "German": ("german", "mm")}


def renewed() -> str:
    """The German file with an entry for each text of the catalogue: those that it has, and open ones for the rest."""
    file = polib.POFile(wrapwidth=110)
    file.header = ABOUT
    file.metadata = {
        "Language": "de",
        "Content-Type": "text/plain; charset=utf-8",
        "Content-Transfer-Encoding": "8bit",
    }
    known = {one.msgid: one.msgstr for one in polib.pofile(str(GERMAN))} if GERMAN.exists() else {}
    for text, place in texts().items():
        file.append(polib.POEntry(msgid=text, msgstr=known.get(text, ""), comment=place))
    return f"{file}"


def compiled(help_texts: Path) -> bytes:
    """The form (MO) in which gettext takes the texts of --help."""
    return bytes(polib.pofile(str(help_texts)).to_binary())


if __name__ == "__main__":
    GERMAN.write_text(renewed())
    HELP.with_suffix(".mo").write_bytes(compiled(HELP))
    TABLE.write_text(table())

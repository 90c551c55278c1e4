"""Writes the table of all sentences for somebody to read through: `python -m tests.words`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from templategen.english import speak, spelt
from tests.words.samples import Rendered, refused, rendered, warned

TABLE = Path(__file__).with_name("sentences.md")


def table() -> str:
    """Findings, refusals and cautions: British in mm and American in inches, the shortest and the longest."""
    findings = _rows("# Every sentence of a finding", rendered())
    refusals = _rows("# What a table that can't be built is refused with", refused())
    return "\n".join((*findings, "", *refusals, "", *_cautions(), ""))


def _rows(title: str, told: Iterator[Rendered]) -> Iterator[str]:
    """A row for each kind."""
    rows: dict[str, dict[tuple[str, str, bool], str]] = {}
    for one in told:
        rows.setdefault(one.kind, {})[one.english, one.units, one.long] = _cell(one)
    yield from _head(title)
    yield from (_row(kind, cells) for kind, cells in rows.items())


def _cautions() -> Iterator[str]:
    yield "# Every caution"
    yield ""
    yield "| where it stands | British | American |"
    yield "| --- | --- | --- |"
    speak("american")
    yield from [f"| {name} | {said} | {spelt(said)} |" for name, said in warned()]
    speak("british")


def _head(title: str) -> Iterator[str]:
    yield title
    yield ""
    yield "Made by `python -m tests.words`. What was measured and the limits are samples."
    yield ""
    yield "| kind | British, shortest | British, longest | American, shortest | American, longest |"
    yield "| --- | --- | --- | --- | --- |"


def _row(kind: str, cells: dict[tuple[str, str, bool], str]) -> str:
    shown = (cells[english, units, long] for english, units in PAIRS for long in (False, True))
    return f"| {kind} | {' | '.join(shown)} |"


def _cell(one: Rendered) -> str:
    told = one.told
    parts = (told.whole, told.why and f"*Why:* {told.why}", told.do and f"*Do:* {told.do}")
    return "<br>".join(part for part in parts if part)


PAIRS = (("british", "mm"), ("american", "in"))

if __name__ == "__main__":
    TABLE.write_text(table())

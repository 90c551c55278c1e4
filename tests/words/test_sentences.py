"""Every sentence with its shortest and longest values: grammar that a form can break, units, digits."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import templategen
from templategen.checks.finding import Finding
from templategen.checks.sentences import EACH, PHRASES, SENTENCES
from templategen.checks.wording import IMPERIAL
from templategen.table.bounds.refusals import REFUSALS
from tests.words.__main__ import TABLE, table
from tests.words.samples import PLACE, Rendered, fields_of, refused, rendered, texts, warned
from tests.words.texts import other_texts

ALL = (*rendered(), *refused())

FAULTS = {
    "a place left open": r"[{}\[\]]",
    "two blanks": r"  ",
    "an empty list": r"\(\s*\)|: ?[;,.]|, ?[;,.]|; ?[;:,.]|^[;:,]|[;:,]$|\bof (and|in|at|to)\b",
    "a double unit": r"\b(mm|in|kg|lb|lbf|N|m|ft|deg)\.? \1\b|%\s*%|°\s*°|° C|\bdeg\b|\bdegrees? °",
    "a for an": r"\ba (8|11|18|8\d)\b|\ba (?!one|uni|use|eu)[aeiou]",
    "one of many": r"(?<![\d./-])1 (boards|blanks|glued joints|jigs|joints|kinds|letters|pairs|parts|passes"
    r"|pieces|places|sitters|slats|stages|stopped ends|strips)\b",
    "more digits than anybody measures": r"\d\.\d{3,} ?(mm|%|kg|lb|N|lbf|m\b)|\d\.\d{4,}",
    "a degree without its sign": r"\d (deg|degrees)\b",
    "a percent that hugs its number": r"\d%",
    "a word for plus-minus": r"\+-|\+/-",
}


@pytest.mark.parametrize("fault", FAULTS)
def test_no_sentence_has(fault: str) -> None:
    """Whatever its values, no sentence shows one of the faults."""
    pattern = re.compile(FAULTS[fault])
    found = [(one.kind, one.units, said) for one in ALL for said in said_in(one) if pattern.search(said)]
    assert not found


@pytest.mark.parametrize(
    ("measured", "wanted"), [(4.76, (4.7625, None)), (8.004, (None, 8.0)), (3.9996, (4.0, 9.0)), (7.0, (7.02, None))]
)
@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_misses_its_limit_doesnt_read_like_it(
    measured: float, wanted: tuple[float | None, float | None], units: str
) -> None:
    """However little is lacking: a maker who reads `3/16 in, at least 3/16 in is wanted` looks for no fault."""
    kind = next(name for name, one in SENTENCES.items() if one.unit == "mm")
    told = Finding(kind, "caution", "top.height", measured, wanted, fields_of(kind, False)).described(units)
    sizes = re.findall(r"[\d./-]+(?= (?:mm|in)\b)", f"{told.measured} {told.wanted}")
    assert len(sizes) == 1 + sum(one is not None for one in wanted) and len(set(sizes)) == len(sizes)
    met = Finding(kind, "caution", "top.height", wanted[0] or wanted[1], wanted, fields_of(kind, False)).described(
        units
    )
    assert met.measured in met.wanted


@pytest.mark.parametrize("fault", FAULTS)
def test_no_caution_has(fault: str) -> None:
    """The same of cautions, each of which ends as a sentence does."""
    pattern = re.compile(FAULTS[fault])
    found = [(name, said) for name, said in warned() if pattern.search(said) or not said.endswith(".")]
    assert len([*warned()]) > 30 and not found


@pytest.mark.parametrize(
    "fault",
    [
        "one of many",
        "a for an",
        "a percent that hugs its number",
        "a word for plus-minus",
        "more digits than anybody measures",
    ],
)
def test_no_other_text_has(fault: str) -> None:
    """The same of what is told of files and on pages, its places filled with one and with many."""
    pattern = re.compile(FAULTS[fault])
    said = [(place, _filled(text, number)) for text, place in other_texts() for number in ("1", "24")]
    assert len(said) > 1000 and not [one for one in said if pattern.search(one[1])]


def _filled(text: str, number: str) -> str:
    return re.sub(r"\{(\w*)[^}]*\}", lambda place: number if place[1] in COUNTED else "RIM-A", text)


COUNTED = ("count", "number", "most", "hours", "days", "goes", "minutes", "sheets", "kinds", "joints", "files")
"""Places that hold a number."""


def test_every_refusal_is_made_and_every_one_made_is_there() -> None:
    """No text that nothing is refused with."""
    root = Path(templategen.__file__).parent
    files = (path for room in ("table", "jigs") for path in (root / room).rglob("*.py"))
    code = "\n".join(path.read_text() for path in files if path.name != "refusals.py")
    assert {kind for kind in REFUSALS if f'"{kind}"' not in code} == set()


def test_in_inches_nothing_is_told_in_metric_units() -> None:
    """Lengths, masses, forces, speeds and warmth."""
    metric = re.compile(r"\d ?(mm|cm|m|kg|N|N m|m/s|°C|mm²|mm³)(?![\w/²³])")
    found = [(one.kind, said) for one in ALL if one.units == "in" for said in said_in(one) if metric.search(said)]
    assert not [one for one in found if one[0] not in SOLIDS]


SOLIDS = ("same-wood", "missed-joint")
"""Areas and volumes of a clash are the program's own, so they stay in mm."""


def test_american_words_stand_in_american_sentences() -> None:
    """What stays British is told in the table of words."""
    from templategen.english import AMERICAN

    british = re.compile(
        rf"(?<![\w./-])({'|'.join(word for word in AMERICAN if word not in AMERICAN.values())})(?![\w./-])"
    )
    found = [(one.kind, said) for one in ALL if one.words == "american" for said in said_in(one)]
    assert not [(kind, said) for kind, said in found if british.search(said)]
    assert any("umbrella" in said for _, said in found)


def test_every_kind_is_used_and_every_form_known() -> None:
    """No sentence that nothing says, none said that isn't there, no form that isn't one."""
    root = Path(templategen.__file__).parent
    code = "\n".join(path.read_text() for path in root.rglob("*.py") if "sentences" not in path.parts)
    named = set(
        re.findall(
            r'"([a-z]+(?:-[a-z]+)+|locked|moisture|mass|tipping|seats|strength|touch|passes|sliver|wafer)"', code
        )
    )
    made = {f"cheek-{side}-groove" for side in ("under", "over")} | {f"solved-{what}" for what in ("gap", "width")}
    made |= {f"{what}-{how}" for what in ("laps", "tenons") for how in ("free", "squeezed")}
    assert set(SENTENCES) <= named | made
    forms = {place[2] for kind in SENTENCES for place in PLACE.finditer(texts(kind)) if place[2]}
    known = {*PHRASES, *EACH, "word", "mm", "mm.2", "up", "deg", "all", "?", *IMPERIAL, "C"}
    assert all(form in known or form.startswith("# ") or re.fullmatch(r"\.?\d*[fg]", form) for form in forms)


def test_the_table_is_up_to_date() -> None:
    """`python -m tests.words` makes it anew."""
    assert TABLE.read_text() == table()


def said_in(one: Rendered) -> tuple[str, ...]:
    """Each text of it that says something."""
    told = one.told
    return tuple(said for said in (told.whole, told.why, told.do) if said)

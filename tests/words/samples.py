"""Every kind of finding with its shortest and its longest fields, rendered in both Englishes and both units."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple

import templategen.drawing.cautions
import templategen.shop.cautions
from templategen.checks.finding import Finding
from templategen.checks.sentences import EACH, PHRASES, SENTENCES
from templategen.checks.told import Told
from templategen.english import English, speak, spelt
from templategen.errors import Fault
from templategen.packet.build import in_units
from templategen.parts.kinds import KINDS
from templategen.table.limits.refusals import REFUSALS, refusal

PLACE = re.compile(r"\{(\w+)(?::([^}]*))?\}")
CODES = ("RIM-A", "RAIL-HIGH", "BASE-RAIL-LOW", "SLAT-08R", "FOOT", "SPLINE", "LEG", "SLAT-01L", "BASE-HIGH")
WHOLE = {"arm": (1, 6), "most": (2, 24), "count": (1, 24)}
"""Numbers that stand bare in a sentence."""

LISTS = ("parts", "pairs", "fit", "others", "left", "buy", "clean", "never", "stock", "recut", "sizes")
"""Fields that name several things; any other names one."""

ONE, LONGEST = "LEG", "the left end of SLAT-08R at place 12"

CHOICES = {
    "choice": ({"count": 1, "width": 30.04, "gap": 0.5}, {"count": 24, "width": 1234.567, "gap": 12.345}),
    "depth": ({"deep": 30.04, "parts": (ONE,)}, {"deep": 1234.567, "parts": CODES}),
    "sheet": ({"wood": "plywood", "size": 3.2}, {"wood": "film-faced birch plywood", "size": 18.26}),
}


class Rendered(NamedTuple):
    """One sentence as somebody reads it."""

    kind: str
    english: English
    units: str
    long: bool
    told: Told


def texts(kind: str) -> str:
    """All texts of a kind in one."""
    sentence = SENTENCES[kind]
    return " ".join((sentence.says, sentence.why, sentence.do))


def fields_of(kind: str, long: bool) -> dict[str, Any]:
    """Its fields; of the short one only those without which it doesn't stand."""
    text = texts(kind)
    needed = {place[1] for place in PLACE.finditer(re.sub(r"\[[^\[\]]*\]", "", text))}
    return {
        place[1]: _value(place[1], place[2] or "", long)
        for place in reversed(tuple(PLACE.finditer(text)))
        if (long and place[1] != "none") or place[1] in needed
    }


def _value(name: str, form: str, long: bool) -> Any:
    if form in PHRASES:
        return sorted(PHRASES[form], key=lambda key: len(PHRASES[form][key]))[-1 if long else 0]
    if form in EACH:
        return CHOICES[form] if long else CHOICES[form][:1]
    if form.startswith("#"):
        return 24 if long else 1
    if form == "?":
        return long
    if form in ("", "all"):
        if name in LISTS:
            return CODES if long else (ONE,)
        return WHOLE[name][long] if name in WHOLE else LONGEST if long else ONE
    return 1234.5678 if long else 1.0


def rendered() -> Iterator[Rendered]:
    """Every kind four times twice: British and American, in mm and inches, short and long."""
    for english, units, long in _ways():
        for kind in SENTENCES:
            yield Rendered(kind, english, units, long, _told(kind, units, long))


def refused() -> Iterator[Rendered]:
    """Every refusal of a table that can't be built, in the same eight ways."""
    for english, units, long in _ways():
        for kind, texts in REFUSALS.items():
            size = 1234.5678 if long else 1.0
            places = {place[1]: place[2] for text in texts for place in PLACE.finditer(text)}
            told = refusal(kind, {name: size if form else WORDY[name] for name, form in places.items()})
            fault = in_units(Fault(kind, told.found, told.other), units)
            yield Rendered(kind, english, units, long, Told(spelt(fault.found), "", "", "", spelt(fault.remedy)))


WORDY = {"key": "base.thickness", "fewest": "3"}


def _ways() -> Iterator[tuple[English, str, bool]]:
    try:
        for english in ENGLISHES:
            speak(english)
            yield from ((english, units, long) for units in ("mm", "in") for long in (False, True))
    finally:
        speak("british")


ENGLISHES: tuple[English, ...] = ("british", "american")


def warned() -> Iterator[tuple[str, str]]:
    """Every caution by its name, in British; those of short pieces with their longest values."""
    for room in (templategen.shop.cautions, templategen.drawing.cautions):
        for name, said in vars(room).items():
            if name.isupper() and isinstance(said, str):
                yield name, said
            elif name in ("ON_THE_MACHINE", "SAWING", "ROUTING") and isinstance(said, tuple):
                yield from ((name, one) for one in said)
    yield from ((kind.words, kind.caution) for kind in KINDS.values() if kind.caution)
    for holder, said in templategen.shop.cautions.SHORT_PIECES.items():
        listed = ", ".join(f"{code} (1234.6 mm)" for code in CODES)
        yield holder, said.format(short=", ".join(CODES), sizes=listed, least="300 mm", operation="crosscut")


def _told(kind: str, units: str, long: bool) -> Told:
    measured, wanted = (1234.5678, (None, 987.6543)) if long else (1.0, (1.0, None))
    told = Finding(kind, "caution", "top.height", measured, wanted, fields_of(kind, long)).told(units)
    return Told(*(spelt(getattr(told, field)) for field in Told.__slots__))

"""Every kind of finding with its shortest and its longest fields, in both Englishes and both units, and in German."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, NamedTuple, get_args

import templategen.drawing.cautions
import templategen.shop.cautions
from templategen.checks.describe import Description
from templategen.checks.finding import Finding
from templategen.checks.sentences import EACH, PHRASES, SENTENCES
from templategen.checks.shows import WOOD_AT
from templategen.checks.sitting import ACCESS
from templategen.checks.strength import WHERE as STRENGTH
from templategen.english import CustomerLanguage, spelt, spoken
from templategen.errors import Fault
from templategen.fit.plan import RING_WAYS
from templategen.joinery.joint import JointKind
from templategen.packet.build import in_units
from templategen.packet.page.steps import CARE
from templategen.parts.kinds import KINDS
from templategen.shop.cautions import LIFT
from templategen.shop.closing.ways import WAYS as CLOSING
from templategen.shop.refit.sizes import SIZES
from templategen.shop.set_ups.set_up import Operation
from templategen.shop.set_ups.ways import TO_A_KNIFE_LINE, WAYS
from templategen.suit.figures import WORDS as COUNTS
from templategen.table.bounds.refusals import REFUSALS, refusal
from templategen.table.profile.choices import Edge, HandTool, Machine, Run
from templategen.wood.glue import GLUES
from templategen.wood.movement import Sawn
from templategen.wood.species import SPECIES
from templategen.work.glued import GLUE
from templategen.work.handed_over import CRUSHED
from templategen.work.surfaces import RAGS

PLACE = re.compile(r"\{(\w+)(?::([^}]*))?\}")
CODES = ("RIM-A", "RAIL-HIGH", "BASE-RAIL-LOW", "SLAT-08R", "FOOT", "SPLINE", "LEG", "SLAT-01L", "BASE-HIGH")
SAW = ("rip saw", "jointer plane")

WHOLE = {"places": (2, 24), "arm": (1, 6), "most": (2, 24), "count": (1, 24)}
"""Numbers that stand bare in a sentence."""

LISTS = ("parts", "pairs", "fit", "others", "left", "buy", "clean", "never", "lacks", "stock", "recut", "sizes")
"""Fields that name several things; any other names one."""

ONE, LONGEST = "LEG", "the left end of SLAT-08R at place 12"

CHOICES = {
    "choice": ({"count": 1, "width": 30.04, "gap": 0.5}, {"count": 24, "width": 1234.567, "gap": 12.345}),
    "depth": ({"deep": 30.04, "parts": (ONE,)}, {"deep": 1234.567, "parts": CODES}),
    "sheet": ({"wood": "plywood", "size": 3.2}, {"wood": "film-faced birch plywood", "size": 18.26}),
}


LEVELS = ("stop", "caution", "note", "beware", "do")

_SIZES = tuple(dict.fromkeys(one.name.replace("_", " ") for sizes in SIZES.values() for one in sizes))

WORDS: dict[str, tuple[str, ...]] = {
    "beside": tuple(WOOD_AT.values()),
    "cut": ("grooves", "spline slots"),
    "glue": tuple(one.says for one in GLUES.values()),
    "joint": get_args(JointKind),
    "machine": (
        *get_args(Machine),
        *(way.machine for ways in (*WAYS.values(), (TO_A_KNIFE_LINE,)) for way in ways if way.machine),
    ),
    "one": get_args(HandTool),
    "work": (*(kind.words for kind in KINDS.values()), "the next cut or edge"),
    "operation": get_args(Operation),
    "place": tuple(STRENGTH),
    "ring": tuple(RING_WAYS.values()),
    "rule": tuple(one.name for one in ACCESS.values()),
    "short": ("short", "over"),
    "size": _SIZES,
    "sizes": _SIZES,
    "tool": ("groove cutter", "router bit"),
    "water": tuple(one.water for one in GLUES.values()),
    "way": tuple(one.title for one in CLOSING),
    "wish": tuple(one.title for one in CLOSING),
    "wood": (*SPECIES, "plywood"),
    "edge": get_args(Edge),
    "run": get_args(Run),
    "sawn": get_args(Sawn),
    "count": tuple(COUNTS.values()),
}
"""What stands in a place for a word of ours."""


class Rendered(NamedTuple):
    """One sentence as somebody reads it."""

    kind: str
    words: CustomerLanguage
    units: str
    long: bool
    told: Description


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
    if form in ("word", "both", "named"):
        words = sorted(WORDS.get(name, WORDS["one"]), key=len)
        return (
            words[-1 if long else 0]
            if form == "word"
            else tuple(words[-3:] if long else words[: 1 + (form == "both")])
        )
    if form == "ways":
        return (SAW, (*SAW, "marking knife")) if long else (SAW[:1],)
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
    """Every kind short and long, in mm and inches, in each language."""
    for words, units, long in _ways():
        for kind in SENTENCES:
            yield Rendered(kind, words, units, long, _told(kind, units, long))


def refused() -> Iterator[Rendered]:
    """Every refusal of a table that can't be built, in the same ways."""
    for words, units, long in _ways():
        for kind, texts in REFUSALS.items():
            size = 1234.5678 if long else 1.0
            places = {place[1]: place[2] for text in texts for place in PLACE.finditer(text)}
            told = refusal(kind, {name: size if form else WORDY[name] for name, form in places.items()})
            fault = in_units(Fault(kind, told.found, told.other, kind=kind), units)
            yield Rendered(kind, words, units, long, Description(spelt(fault.found), "", "", "", spelt(fault.remedy)))


WORDY = {"key": "base.thickness", "fewest": "3"}


def _ways() -> Iterator[tuple[CustomerLanguage, str, bool]]:
    for words in LANGUAGES:
        with spoken(words, ()):
            yield from ((words, units, long) for units in ("mm", "in") for long in (False, True))


LANGUAGES: tuple[CustomerLanguage, ...] = ("british", "american", "german")


def warned() -> Iterator[tuple[str, str]]:
    """Every caution by its name, in British; those of short pieces with their longest values."""
    yield from standing_cautions()
    for holder, said in templategen.shop.cautions.SHORT_PIECES.items():
        listed = ", ".join(f"{code} (1234.6 mm)" for code in CODES)
        yield (
            holder,
            said.format(
                short=", ".join(CODES), sizes=listed, least="300 mm", strip="STRIP-BASE", operation="crosscut"
            ),
        )


def standing_cautions() -> Iterator[tuple[str, str]]:
    """Those without any values."""
    for room in (templategen.shop.cautions, templategen.drawing.cautions):
        for name, said in vars(room).items():
            if name.isupper() and isinstance(said, str):
                yield name, said
            elif name in ("ON_THE_MACHINE", "BY_HAND", "ROUTING") and isinstance(said, tuple):
                yield from ((name, one) for one in said)
            elif name == "IN_SHORT":
                yield from ((name, one) for one in dict.fromkeys(said.values()))
    yield from ((kind.words, kind.caution) for kind in KINDS.values() if kind.caution)
    yield from (("gluing", said) for said in (*CARE, RAGS, LIFT, GLUE))
    yield "trying the table", CRUSHED


def _told(kind: str, units: str, long: bool) -> Description:
    measured, wanted = (1234.5678, (None, 987.6543)) if long else (1.0, (1.0, None))
    told = Finding(kind, "caution", "top.height", measured, wanted, fields_of(kind, long)).described(units)
    return Description(*(spelt(getattr(told, field)) for field in Description.__slots__))

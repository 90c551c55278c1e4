"""The texts that are told in more than one language, by their English: a file for each language, in the format (PO)
in which translators everywhere are handed texts. What a file lacks is told in English, so that none is ever told by
an old sentence whose fields have changed."""

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from templategen.english import Language, language, tag
from templategen.errors import Fault

_POINT = re.compile(r"(?<=\d)\.(?=\d)")

_UNIT_AT_END = re.compile(r"(.+?)(?:[_ ](mm|deg|in|in_error_mm))?")

TWO_MEANINGS = {"stop": "stop along the fence", "line": "line to stop at"}
"""Names of settings that mean something else elsewhere, by what a translator is asked."""

HEADS = {
    "rough_mm": "as sawn mm",
    "mark": "letters",
    "step": "step of the assembly",
    "stock": "from stock",
    "joint": "kind of joint",
}
"""Heads that do so, in the same way."""


def translated(text: str) -> str:
    """A text of the catalogue in the language that is spoken, its places for fields still open."""
    return text if language() == "english" else texts_of(language()).get(text, text)


def meant(word: str, asked: str) -> str:
    """A word that means something else elsewhere; in another language what stands for `asked`."""
    return word if language() == "english" else translated(asked)


def worded(text: str, /, **fields: object) -> str:
    """The same with its places filled; numbers in the fields keep their point, as files are written."""
    return translated(text).format(**fields) if fields else translated(text)


def read_as(text: str, said: str) -> Mapping[str, str] | None:
    """What stands in the places of a text, as it is told, where `said` is that text; None where it isn't."""
    found = _reader(text).fullmatch(said)
    return found.groupdict() if found else None


@cache
def _reader(text: str) -> re.Pattern[str]:
    shares = re.split(r"\{(\w+)\}", text)
    return re.compile("".join(f"(?P<{one}>.*)" if at % 2 else re.escape(one) for at, one in enumerate(shares)))


def fault_of(where: str, found: str, remedy: str = "", /, **fields: object) -> Fault:
    """A fault told out of the catalogue: what was found and what would do, each with these fields."""
    return Fault(where, worded(found, **fields), worded(remedy, **fields))


def figured(words: str) -> str:
    """Words with the numbers in them as they are written in the language that is spoken."""
    return words if language() == "english" else _POINT.sub(",", words)


def column(name: str) -> str:
    """The head of a list's column (`rough_length_mm`) in the language that is spoken, by the same rules."""
    if language() == "english":
        return name
    of_what, unit = _UNIT_AT_END.fullmatch(HEADS.get(name, name)).groups()  # type: ignore[union-attr]
    words = (translated(TWO_MEANINGS.get(one, one).replace("_", " ")) for one in (of_what, unit) if one)
    return "_".join(words).replace(" ", "_")


def tag_of(words: str) -> str:
    """The tag (BCP 47) of a text of the catalogue in another language; "" for any other words."""
    return tag(of_catalogue=True) if language() != "english" and words in _all_of(language()) else ""


@cache
def _all_of(spoken: Language) -> frozenset[str]:
    return frozenset(texts_of(spoken).values())


@cache
def texts_of(spoken: Language) -> dict[str, str]:
    """The texts of a language by their English."""
    import polib

    entries = polib.pofile(str(Path(__file__).with_name(f"{spoken}.po")))
    return {entry.msgid: entry.msgstr for entry in entries if entry.translated()}

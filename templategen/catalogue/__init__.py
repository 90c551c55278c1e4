"""The texts that are told in more than one language, by their English: a file for each language, in the format (PO)
in which translators everywhere are handed texts. What a file lacks is told in English, so that none is ever told by
an old sentence whose fields have changed."""

import re
from functools import cache
from pathlib import Path

from templategen.english import Language, language, tag
from templategen.errors import Fault

_POINT = re.compile(r"(?<=\d)\.(?=\d)")


def translated(text: str) -> str:
    """A text of the catalogue in the language that is spoken, its places for fields still open."""
    return text if language() == "english" else texts_of(language()).get(text, text)


def worded(text: str, /, **fields: object) -> str:
    """The same with its places filled; numbers in the fields keep their point, as files are written."""
    return translated(text).format(**fields) if fields else translated(text)


def fault_of(where: str, found: str, remedy: str = "", /, **fields: object) -> Fault:
    """A fault told out of the catalogue: what was found and what would do, each with these fields."""
    return Fault(where, worded(found, **fields), worded(remedy, **fields))


def figured(words: str) -> str:
    """Words with the numbers in them as they are written in the language that is spoken."""
    return words if language() == "english" else _POINT.sub(",", words)


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

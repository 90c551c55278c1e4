"""What a packet is told in: our sentences are British, told in American words where asked, and those that stand in
the catalogue in another language (`catalogue`).

Words change where they are written out (page, lists, drawings, paper, terminal), so that a sentence has one home. The
maker's own words, keys of the profile, codes, layers and names of files stay as they are.
"""

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Literal

from templategen.errors import TemplategenError

English = Literal["british", "american"]
Language = Literal["english", "german"]
CustomerLanguage = Literal["the same", "british", "american", "german"]

AMERICAN = {
    "planer or jointer plane": "jointer or jointer plane",
    "planer, straightedge": "jointer, straightedge",
    "spindle moulder": "shaper",
    "spindle": "shaper",
    "thicknesser": "planer",
    "mitre": "miter", "mitres": "miters", "mitred": "mitered", "mitring": "mitering",
    "rebate": "rabbet", "rebates": "rabbets", "rebated": "rabbeted", "rebating": "rabbeting",
    "bush": "bushing", "bushes": "bushings",
    "a parasol": "an umbrella", "parasol": "umbrella", "parasols": "umbrellas",
    "tenon saw": "backsaw",
    "vice": "vise", "vices": "vises",
    "centre": "center", "centres": "centers", "centred": "centered",
    "colour": "color", "colours": "colors", "coloured": "colored",
    "grey": "gray", "greyed": "grayed",
    "fibre": "fiber", "fibres": "fibers",
    "metre": "meter", "metres": "meters", "millimetre": "millimeter", "millimetres": "millimeters",
    "litre": "liter", "litres": "liters",
    "neighbour": "neighbor", "neighbours": "neighbors", "neighbouring": "neighboring",
    "mould": "mold", "timber": "lumber", "timbers": "lumber",
    "levelled": "leveled", "labelled": "labeled", "anticlockwise": "counterclockwise",
    "licence": "license", "judgement": "judgment", "ageing": "aging", "storey": "story",
    "aluminium": "aluminum", "tin": "can", "tins": "cans",
    "kilometre": "kilometer", "paraffin": "kerosene", "towards": "toward",
}  # fmt: skip
"""British words and what an American maker says, longest first where one begins another."""

_OF_OURS = r"(?<![\w./\\-])(?:{words})(?![\w\\]|[./-]\w)"
"""A word by itself: no share of a key, a path, a code or a word with a hyphen."""


_ASKED = re.compile(r"""^[^#\n]*\blanguage\s*=\s*["'](\w+)["']""", re.MULTILINE)
"""Where a file asks for a language, sound TOML or not."""


class _Speech:
    """What is spoken, for the whole process: a packet is made in one English, and its catalogue in one language."""

    pattern: re.Pattern[str] | None = None
    language: Language = "english"


def speak(english: English, own: Iterable[str] = (), language: Language = "english") -> None:
    """From here on what stands in the catalogue is written in `language` and whatever else in `english`; `own` are
    the maker's own words, which stay."""
    _Speech.language = language
    if english == "british":
        _Speech.pattern = None
        return
    kept, ours = _any_of({text for text in own if text} or {"\0"}), _OF_OURS.format(words=_any_of(AMERICAN))
    _Speech.pattern = re.compile(rf"(?-i:(?<!\w)({kept})(?!\w))|{ours}", re.IGNORECASE)


@contextmanager
def spoken(words: CustomerLanguage, own: Iterable[str]) -> Iterator[None]:
    """Meanwhile what is written is in these words, or goes on in the same."""
    before = _Speech.pattern, _Speech.language
    if words == "german" or (words == "the same" and language() == "german"):
        speak("british", own, "german")
    elif words != "the same":
        speak(words, own)
    try:
        yield
    finally:
        _Speech.pattern, _Speech.language = before


@contextmanager
def spoken_in(*files: str) -> Iterator[None]:
    """Meanwhile what is refused is told in the language that the first of these texts asks for, read or not."""
    asked = next((found[1].casefold() for text in files if (found := _ASKED.search(text))), "")
    words: dict[str, CustomerLanguage] = {"german": "german", "english": "british"}
    with spoken(words.get(asked, "the same"), ()):
        try:
            yield
        except TemplategenError as refusal:
            refusal.language = language()
            raise


def _any_of(words: Iterable[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=lambda word: (-len(word), word)))


def speech() -> str:
    """What is spoken, with the maker's own words: alike texts come out alike while it is the same."""
    return _Speech.language if _Speech.pattern is None else f"{_Speech.language} {_Speech.pattern.pattern}"


def language() -> Language:
    """What the texts of the catalogue are told in."""
    return _Speech.language


def tag(of_catalogue: bool = False) -> str:
    """The tag (BCP 47) of what is told in English, or of what stands in the catalogue."""
    if of_catalogue and _Speech.language == "german":
        return "de"
    return "en-GB" if _Speech.pattern is None else "en-US"


def spelt(text: str) -> str:
    """The text in the English that is spoken."""
    return text if _Speech.pattern is None else _Speech.pattern.sub(_american, text)


def _american(found: re.Match[str]) -> str:
    word = found.group()
    if found[1] is not None or word.isupper():
        return word
    other = AMERICAN[word.lower()]
    return other[0].upper() + other[1:] if word[0].isupper() else other

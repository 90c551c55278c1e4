"""Words on paper: the faces that are embedded, which of them a line is set in, and how long it gets."""

from bisect import bisect_right
from functools import cache, lru_cache
from typing import Any
from unicodedata import bidirectional

from templategen.units import tied, untied

FONT = "Vera"
BOLD = "VeraBd"
OTHER = "Arimo"
"""For lines with letters that the first face lacks: Greek, Cyrillic, Hebrew, the rest of Latin (SIL OFL 1.1)."""

CAP_SHARES = {FONT: 0.729, BOLD: 0.729, OTHER: 0.688}
"""Capital height as a share of the font's size (from each font's own outlines)."""

STAND_INS = {"⌀": "Ø", "→": ">", "←": "<", "′": "'", "″": '"', "−": "–", "‑": "-", "\u202f": " "}
"""Letters that the fonts lack, and what is set instead."""

MOST_LETTERS = 400
"""No line on paper has room for more."""

MIRRORED = str.maketrans("()[]{}<>", ")(][}{><")


@lru_cache(4096)
def typeset(words: str, bold: bool = False) -> tuple[str, str]:
    """The face that has all the letters, and the words as they are set from left to right.

    A question mark stands where no face has letter or stand-in.
    """
    words = _left_to_right(plain(words))
    face = _face_of(words, BOLD if bold else FONT)
    known = _letters(face)
    spelt = (STAND_INS.get(letter, letter) if ord(letter) not in known else letter for letter in words)
    return face, "".join(letter if ord(letter) in known else "?" for letter in spelt)


def unset(words: str) -> str:
    """The letters that stand as question marks on paper, each once, in the order in which they come."""
    lacking = _lacking(words, _face_of(words, FONT))
    return "".join(dict.fromkeys(letter for letter in plain(words) if letter in lacking))


def _face_of(words: str, first: str) -> str:
    """The first face, or the other where that lacks fewer letters."""
    lacking = _lacking(words, first)
    return OTHER if lacking and len(_lacking(words, OTHER)) < len(lacking) else first


def _lacking(words: str, face: str) -> set[str]:
    """The letters for which a face has neither a glyph nor a stand-in."""
    known = _letters(face)
    return {letter for letter in words if ord(letter) not in known and letter not in STAND_INS}


def _left_to_right(words: str) -> str:
    """Hebrew turned round for a library that sets from the left: runs by their strong letters, numbers as they are.

    Signs between two runs of one direction go with them, others with the line, whose direction its first letter tells
    (the common case of Unicode's annex 9).
    """
    kinds = [bidirectional(letter) for letter in words]
    if not {"R", "AL"} & set(kinds):
        return words
    strong = [1 if kind in ("R", "AL") else 0 if kind == "L" else None for kind in kinds]
    line = next(level for level in strong if level is not None)
    sides = [_side(strong, at, -1, line) if kind == "EN" else strong[at] for at, kind in enumerate(kinds)]
    levels = [_level(sides, at, line) for at in range(len(words))]
    letters = [c.translate(MIRRORED) if level else c for c, level in zip(words, levels, strict=True)]
    levels = [level if level and kind != "EN" else 2 if line or level else 0
              for level, kind in zip(levels, kinds, strict=True)]  # fmt: skip
    for least in (2, 1):
        start = 0
        for end in range(len(levels) + 1):
            if end == len(levels) or levels[end] < least:
                letters[start:end] = letters[start:end][::-1]
                levels[start:end] = levels[start:end][::-1]
                start = end + 1
    return "".join(letters)


def _level(strong: list[int | None], at: int, line: int) -> int:
    """1 for a letter that is read from the right; a sign goes with its neighbours where these agree."""
    own = strong[at]
    if own is not None:
        return own
    before, after = _side(strong, at, -1, line), _side(strong, at, 1, line)
    return before if before == after else line


def _side(strong: list[int | None], at: int, step: int, line: int) -> int:
    """The nearest strong direction on one side, else the line's."""
    beside = strong[at + 1 :] if step > 0 else strong[:at][::-1]
    return next((level for level in beside if level is not None), line)


@lru_cache(4096)
def text_length(words: str, height: float, bold: bool = False) -> float:
    """Length of a line of text of capital height `height`, mm."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    face, words = typeset(words, bold)
    return float(stringWidth(words, face, height / CAP_SHARES[face]))


def fitted(words: str, height: float, room: float, bold: bool = False) -> str:
    """The words, cut with an ellipsis where they are longer than `room` mm."""
    words = plain(words)[:MOST_LETTERS]
    if text_length(words, height, bold) <= room:
        return words
    letters = range(len(words) + 1)
    fits = bisect_right(letters, room, key=lambda n: text_length(words[:n] + "…", height, bold)) - 1
    return words[:fits].rstrip() + "…" if fits > 0 else ""


def wrapped(words: str, height: float, room: float) -> list[str]:
    """The words in lines no longer than `room` mm; a single word may be cut."""
    lines: list[str] = []
    rest = tied(plain(words)[:MOST_LETTERS]).split(" ")
    while rest:
        count = 1
        while count < len(rest) and text_length(" ".join(rest[: count + 1]), height) <= room:
            count += 1
        lines.append(fitted(untied(" ".join(rest[:count])), height, room))
        rest = rest[count:]
    return lines


@lru_cache(4096)
def plain(words: str) -> str:
    """One line of printing characters."""
    words = " ".join(str(words).split())
    return "".join(letter for letter in words if letter.isprintable())


@cache
def _letters(face: str) -> dict[int, int]:
    """The letters of a face, by their code points."""
    from reportlab.pdfbase.pdfmetrics import getFont

    register()
    if face == OTHER:
        _add(OTHER, _other_file())
    font: Any = getFont(face)
    letters: dict[int, int] = font.face.charToGlyph
    return letters


@cache
def register() -> None:
    """Makes the faces known to the PDF library; its streams are written as bytes, not as text a quarter longer."""
    from reportlab import rl_config

    rl_config.useA85 = 0
    for face in (FONT, BOLD):
        _add(face, f"{face}.ttf")


def _add(face: str, file: str) -> None:
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    registerFont(TTFont(face, file))


def _other_file() -> str:
    import fontpkg_arimo

    return str(fontpkg_arimo.ROOT / "files" / "Arimo[wght].ttf")

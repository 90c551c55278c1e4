"""One key of a profile: what kind of value it takes, its default, its range and the reason for the range."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, get_args

from templategen.catalogue import translated
from templategen.units import MM_PER_INCH

Default = float | int | str | None | tuple[float, ...] | tuple[str, ...]

CLEAN = ((Fraction(12), 2), (Fraction(5, 8), 8), (Fraction(1, 16), 16), (Fraction(1, 32), 32))
"""From so many inches on a clean size is in whole parts of this many to the inch; below that in thousandths."""

CHOSEN: dict[str, Fraction] = {"slats.gap": Fraction(3, 16)}
"""Where the nearest size would not do: a gap of 1/4 in comes to catch fingers in a dry summer."""

IN_INCHES = {"paper.size": "letter", "words.english": "american"}
"""Choices that are others where a profile counts in inches."""

METRIC = ("bolt", "barrel_nut")
"""Keys of what is metric everywhere."""

NUMBERS = ("length", "angle", "number", "count")
"""Kinds of key that hold one number."""


@dataclass(frozen=True, slots=True)
class Key:
    """A key as the table of keys describes it; lengths in mm, angles in degrees, percentages as such.

    `kind` is one of: length, angle, number, count, choice, words (of `choices`), list (of `parts`), text, lines,
    wood, paper, rows, faults.
    `default` None means that leaving the key out says something of its own, as `doc` tells.
    `low` and `high` are both allowed; `why` completes "since ...".
    """

    section: str
    name: str
    kind: str
    default: Default
    doc: str
    low: float = 0.0
    high: float = 0.0
    why: str = ""
    choices: tuple[str, ...] = ()
    parts: tuple[Key, ...] = ()

    @property
    def told(self) -> str:
        """What it means in the language that is spoken: a translator is asked with its path before it, as `doc` alone
        may belong to several."""
        return translated(f"{self.path}: {self.doc}").removeprefix(f"{self.path}: ")

    @property
    def path(self) -> str:
        """The key as it is spoken of: `slats.gap`, or `title` at the head of the file."""
        return f"{self.section}.{self.name}" if self.section else self.name

    def default_in(self, units: str) -> Default:
        """What it is where it is left out; in a profile that counts in inches lengths are clean inch sizes, and words
        and paper those of who counts so."""
        if units != "in" or self.name in METRIC:
            return self.default
        if self.path in IN_INCHES:
            return IN_INCHES[self.path]
        if self.kind == "list":
            return tuple(float(one) for part in self.parts if isinstance(one := part.default_in(units), int | float))
        clean = self.clean_inches
        return self.default if clean is None else float(clean)

    @property
    def clean_inches(self) -> Fraction | None:
        """The clean inch size next to a length's default, in mm: eighths and halves where it is long; none for what
        is no length, and where the key's range leaves none."""
        if self.kind != "length" or not isinstance(self.default, (int, float)):
            return None
        inches = CHOSEN.get(self.path) or Fraction(repr(self.default)) / MM_PER_INCH
        parts = next((parts for least, parts in CLEAN if inches >= least), 1000)
        clean = Fraction(round(inches * parts), parts) * MM_PER_INCH
        return clean if self.low <= clean <= self.high else None


def section(name: str, *keys: Key) -> tuple[Key, ...]:
    """The keys of one section; those of the functions below don't know theirs by themselves."""
    return tuple(replace(key, section=name, parts=section(name, *key.parts)) for key in keys)


def length(name: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """A length, default and range in mm."""
    return Key("", name, "length", default, doc, low, high, why)


def clearance(name: str, high: float, why: str, doc: str) -> Key:
    """A length that is reckoned from the wood and the year where it is left out, or "auto"."""
    return Key("", name, "length", None, doc, 0, high, why)


def angle(name: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """An angle, default and range in degrees."""
    return Key("", name, "angle", default, doc, low, high, why)


def number(name: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """A plain number: a ratio, a percentage, a price."""
    return Key("", name, "number", default, doc, low, high, why)


def count(name: str, default: int | None, low: int, high: int, why: str, doc: str) -> Key:
    """A whole number."""
    return Key("", name, "count", default, doc, low, high, why)


def choice(name: str, default: str, words: Any, doc: str) -> Key:
    """One word of a few, those of the Literal `words`."""
    choices = get_args(words)
    assert default in choices, f"{name}: its words are a Literal that holds its default"
    return Key("", name, "choice", default, doc, choices=choices)


def words(name: str, of: Any, doc: str) -> Key:
    """Any of the words of a Literal, all of them where the key is left out."""
    return Key("", name, "words", get_args(of), doc, choices=get_args(of))


def several(name: str, parts: tuple[Key, ...], doc: str) -> Key:
    """A list of fixed length; each part has its own default and range."""
    default = tuple(float(part.default) for part in parts if isinstance(part.default, (int, float)))
    return Key("", name, "list", default, doc, parts=parts)

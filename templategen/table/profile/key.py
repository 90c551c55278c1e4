"""One key of a profile: what kind of value it takes, its default, its range and the reason for the range."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, get_args

from templategen.units import MM_PER_INCH

Default = float | int | str | None | tuple[float, ...] | tuple[str, ...]

CLEAN = ((Fraction(12), 2), (Fraction(5, 8), 8), (Fraction(1, 16), 16), (Fraction(1, 32), 32))
"""From so many inches on a clean size is in whole parts of this many to the inch; below that in thousandths."""

CHOSEN: dict[str, Fraction] = {"slats.gap": Fraction(3, 16)}
"""Where the nearest size would not do: a gap of 1/4 in comes to catch fingers in a dry summer."""

METRIC = ("bolt", "barrel_nut")
"""Keys of what is metric everywhere."""


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
    def path(self) -> str:
        """The key as it is spoken of: `slats.gap`, or `title` at the head of the file."""
        return f"{self.section}.{self.name}" if self.section else self.name

    def default_in(self, units: str) -> Default:
        """What it is where it is left out; in a profile that counts in inches a length is a clean inch size."""
        if units != "in" or self.name in METRIC:
            return self.default
        if self.path == "paper.size":
            return "letter"
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


def length(path: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """A length, default and range in mm."""
    return _ranged("length", path, default, low, high, why, doc)


def clearance(path: str, high: float, why: str, doc: str) -> Key:
    """A length that is reckoned from the wood and the year where it is left out, or "auto"."""
    return _ranged("length", path, None, 0, high, why, doc)


def angle(path: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """An angle, default and range in degrees."""
    return _ranged("angle", path, default, low, high, why, doc)


def number(path: str, default: float, low: float, high: float, why: str, doc: str) -> Key:
    """A plain number: a ratio, a percentage, a price."""
    return _ranged("number", path, default, low, high, why, doc)


def count(path: str, default: int | None, low: int, high: int, why: str, doc: str) -> Key:
    """A whole number."""
    return _ranged("count", path, default, low, high, why, doc)


def choice(path: str, default: str, words: Any, doc: str) -> Key:
    """One word of a few, those of the Literal `words`."""
    section, name = path.split(".")
    choices = get_args(words)
    assert default in choices, f"{path}: its words are a Literal that holds its default"
    return Key(section, name, "choice", default, doc, choices=choices)


def words(path: str, of: Any, doc: str) -> Key:
    """Any of the words of a Literal, all of them where the key is left out."""
    section, name = path.split(".")
    return Key(section, name, "words", get_args(of), doc, choices=get_args(of))


def several(path: str, parts: tuple[Key, ...], doc: str) -> Key:
    """A list of fixed length; each part has its own default and range."""
    section, name = path.split(".")
    default = tuple(float(part.default) for part in parts if isinstance(part.default, (int, float)))
    return Key(section, name, "list", default, doc, parts=parts)


def _ranged(kind: str, path: str, default: float | None, low: float, high: float, why: str, doc: str) -> Key:
    section, name = path.split(".")
    return Key(section, name, kind, default, doc, low, high, why)

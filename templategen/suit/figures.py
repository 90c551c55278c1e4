"""What a proposal comes to and what it changes, in words and in the maker's own units."""

from collections.abc import Iterable

from templategen.catalogue import figured, translated
from templategen.checks.wording import IMPERIAL
from templategen.english import language
from templategen.suit.proposal import Proposal
from templategen.suit.variant import Value
from templategen.table.profile.choices import Counts, Units
from templategen.table.profile.keys import KEYS
from templategen.units import MM_PER_INCH, trimmed

WORDS: dict[Counts, str] = {
    "cost": "cost of stock", "boards": "boards", "to buy": "boards to buy", "rack": "used of the rack",
    "hours": "hours", "mass": "mass", "set-ups": "set-ups", "size": "diameter",
}  # fmt: skip

UNITS: dict[Counts, tuple[str, str]] = {"rack": ("m2", "ft2"), "mass": ("kg", "lb"), "size": ("mm", "in")}
"""In a profile in millimetres, and in inches."""

OF_LAYOUTS = ("cost", "boards", "to buy", "rack")
"""What a table that finds no room doesn't have."""

THE_MORE_THE_BETTER = ("rack", "size")

INCH = float(MM_PER_INCH)

PARTS = {"slats": "slat", "legs": "leg", "joints": "joint"}
"""Sections of a profile that are named after many."""


def named(what: Counts, units: Units) -> str:
    """What counts, with its unit: `mass, kg`."""
    unit = UNITS.get(what)
    told = translated(WORDS[what])
    return f"{told}, {unit[units == 'in']}" if unit else told


def figure(one: Proposal, what: Counts, units: Units) -> float | None:
    """What a table comes to; None where it finds no room, so that there is no such figure."""
    if one.short and what in OF_LAYOUTS:
        return None
    value = abs(one.count(what))
    if what == "rack":
        return value / 1e6 if units == "mm" else value / (12 * INCH) ** 2
    if units == "in" and what in ("mass", "size"):
        return value * IMPERIAL["kg"][0] if what == "mass" else value / INCH
    return value


def shown(one: Proposal, what: Counts, units: Units) -> str:
    """The figure as it is shown; a dash for none."""
    value = figure(one, what, units)
    if value is None:
        return "-"
    return figured(f"{value:.2f}" if what == "cost" else trimmed(value, 1 if what in ("mass", "hours") else 2))


def name_of(path: str) -> str:
    """A key of a profile in English words: `slats.width` is the slat width. Other languages name the key."""
    if language() != "english":
        return path
    section, _, name = path.partition(".")
    return f"{PARTS.get(section, section)} {name.replace('_', ' ')}"


def value_of(path: str, value: Value, units: Units) -> str:
    """A value as a profile in those units holds it, with its unit."""
    if isinstance(value, str):
        return value
    unit = {"length": f" {units}", "angle": "\N{DEGREE SIGN}"}.get(KEYS[path].kind, "")
    return f"{trimmed(value, 4)}{unit}"


def in_words(changes: Iterable[tuple[str, Value]], units: Units) -> str:
    """What is changed: `top diameter 1264 mm, slat width 58 mm`."""
    return ", ".join(f"{name_of(path)} {value_of(path, value, units)}" for path, value in changes)

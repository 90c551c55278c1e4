"""What a finding measured and what is wanted, in the maker's own units."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from templategen.geometry.tolerance import MET
from templategen.units import MM_PER_INCH, angle_words, inch_fraction, length_words, trimmed

SIGNS = {"C": "\N{DEGREE SIGN}C", "mm2": "mm\N{SUPERSCRIPT TWO}", "mm3": "mm\N{SUPERSCRIPT THREE}"}
"""Units as they are written for people."""

SINGULAR = {
    "boards": "board", "jigs": "jig", "pairs": "pair", "parts": "part", "passes": "pass", "pieces": "piece",
    "places": "place", "seats": "seat", "stages": "stage",
}  # fmt: skip
"""What is counted, and one of it."""

POUNDS = 2.204622622
"""In a kilogram (1/0.45359237)."""


def format_size(value: float, unit: str, units: str) -> str:
    """A size in the maker's own units; other units as they are; nothing for what has none."""
    if unit == "deg":
        return angle_words(value)
    if unit == "kg" and units == "in":
        return f"{value * POUNDS:.0f} lb ({trimmed(value, 1)} kg)"
    if unit != "mm":
        named = SINGULAR.get(unit, unit) if value == 1 else SIGNS.get(unit, unit)
        return f"{value:g} {named}" if unit else ""
    if units == "in":
        nearest, error = inch_fraction(value)
        return nearest if abs(error) <= abs(value) / 50 else length_words(value, units)
    return length_words(value, units)


def shown(size: float, units: str, digits: int = 1) -> str:
    """A length inside a sentence, in the maker's own units and short."""
    return format_size(size, "mm", units) if units == "in" else length_words(size, units, (digits, 3))


def rounded_up(size: float, units: str) -> str:
    """A length that does at least as much: to the next 0.1 mm or 64th."""
    step = MM_PER_INCH / 64 if units == "in" else Fraction(1, 10)
    steps = ceil(size / float(step) - MET)
    return inch_fraction(steps * step)[0] if units == "in" else f"{steps / 10:.1f} mm"


def format_range(wanted: tuple[float | None, float | None], unit: str, units: str) -> str:
    """What is wanted, in words; nothing for what has no unit."""
    low, high = (None if one is None else format_size(one, unit, units) for one in wanted)
    if not unit or (low is None and high is None):
        return ""
    if low is not None and high is not None:
        return f"asked {low}" if low == high else f"{low} to {high} is wanted"
    return f"at least {low} is wanted" if low is not None else f"at most {high} is wanted"

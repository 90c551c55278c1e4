"""Findings in words: sizes in the maker's own units, and what is wanted."""

from __future__ import annotations

from templategen.checks.finding import Finding
from templategen.units import angle_words, inch_fraction, length_words, trimmed

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


def describe_range(finding: Finding, units: str) -> str:
    """What is wanted, in words; nothing for what has no unit."""
    low, high = (None if one is None else format_size(one, finding.unit, units) for one in finding.wanted)
    if not finding.unit or (low is None and high is None):
        return ""
    if low is not None and high is not None:
        return f"asked {low}" if low == high else f"{low} to {high} is wanted"
    return f"at least {low} is wanted" if low is not None else f"at most {high} is wanted"

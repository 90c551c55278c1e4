"""Findings in words: sizes in the maker's own units, and what is wanted."""

from __future__ import annotations

from templategen.checks.finding import Finding
from templategen.units import angle_words, inch_fraction, length_words


def format_size(value: float, unit: str, units: str) -> str:
    """A size in the maker's own units; other units as they are."""
    if unit == "deg":
        return angle_words(value)
    if unit != "mm":
        return f"{value:g} {unit}".strip()
    if units == "in":
        nearest, error = inch_fraction(value)
        return nearest if abs(error) <= abs(value) / 50 else length_words(value, units)
    return length_words(value, units, fixed=True)


def describe_range(finding: Finding, units: str) -> str:
    """What is wanted, in words."""
    low, high = finding.wanted
    if low is not None and high is not None:
        if low == high:
            return f"asked {format_size(low, finding.unit, units)}"
        return f"wanted {format_size(low, finding.unit, units)} to {format_size(high, finding.unit, units)}"
    if low is not None:
        return f"wanted {format_size(low, finding.unit, units)} or more"
    return f"wanted {format_size(high, finding.unit, units)} or less" if high is not None else ""

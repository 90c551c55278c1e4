"""Measured figures against limits, told at every level: a stop, a caution, or a note where all is well."""

from __future__ import annotations

from templategen.checks.finding import Finding, Level
from templategen.checks.wording import format_size
from templategen.geometry.tolerance import MET
from templategen.units import length_words


def at_least(
    where: str, says: str, measured: float, limits: tuple[float | None, float], unit: str = "mm", why: str = ""
) -> Finding:
    """A stop under the first limit (None: never), a caution under the second, else a note."""
    stop, care = limits
    level: Level = "note" if measured >= care - MET else "caution"
    if stop is not None and measured < stop - MET:
        level = "stop"
    return Finding(level, where, says, measured, (care, None), unit, why)


def at_most(
    where: str, says: str, measured: float, limits: tuple[float, float | None], unit: str = "mm", why: str = ""
) -> Finding:
    """A caution over the first limit, a stop over the second (None: never), else a note."""
    care, stop = limits
    level: Level = "note" if measured <= care + MET else "caution"
    if stop is not None and measured > stop + MET:
        level = "stop"
    return Finding(level, where, says, measured, (None, care), unit, why)


def noted(
    where: str,
    says: str,
    measured: float,
    wanted: tuple[float | None, float | None] = (None, None),
    unit: str = "mm",
    why: str = "",
    do: str = "",
) -> Finding:
    """A figure that only informs, or asks for something to be done."""
    return Finding("note", where, says, measured, wanted, unit, why, do)


def shown(size: float, units: str) -> str:
    """A length inside a sentence, in the maker's own units and short."""
    return format_size(size, "mm", units) if units == "in" else length_words(size, units, (1, 3))

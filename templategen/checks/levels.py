"""Measured figures against limits: a stop, a caution, or a note where all is well."""

from collections.abc import Iterator
from typing import Any

from templategen.checks.finding import Finding, Level, Range
from templategen.geometry.tolerance import MET


def if_short(kind: str, where: str, measured: float, limits: tuple[float, float], **fields: Any) -> Iterator[Finding]:
    """A stop under the first limit, a caution under the second, nothing above; `more` is what is lacking."""
    found = at_least(kind, where, measured, limits, more=limits[1] - measured, **fields)
    if found.level != "note":
        yield found


def at_least(kind: str, where: str, measured: float, limits: tuple[float | None, float], **fields: Any) -> Finding:
    """A stop under the first limit (None: never), a caution under the second, else a note."""
    stop, care = limits
    level: Level = "note" if measured >= care - MET else "caution"
    if stop is not None and measured < stop - MET:
        level = "stop"
    return Finding(kind, level, where, measured, (care, None), fields)


def at_most(kind: str, where: str, measured: float, limits: tuple[float, float | None], **fields: Any) -> Finding:
    """A caution over the first limit, a stop over the second (None: never), else a note."""
    care, stop = limits
    level: Level = "note" if measured <= care + MET else "caution"
    if stop is not None and measured > stop + MET:
        level = "stop"
    return Finding(kind, level, where, measured, (None, care), fields)


def noted(kind: str, where: str, measured: float, wanted: Range = (None, None), **fields: Any) -> Finding:
    """A figure that only informs, or asks for something to be done."""
    return Finding(kind, "note", where, measured, wanted, fields)

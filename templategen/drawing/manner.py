"""The manner of a sheet: how tall its letters are, how far pockets run out, which unit its figures are in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Units = Literal["mm", "in"]

MM_PER_INCH = 25.4

DECIMALS: dict[Units, int] = {"mm": 2, "in": 3}
"""Digits behind the point: a hundredth of a millimetre, a thousandth of an inch."""


@dataclass(frozen=True, slots=True)
class Manner:
    """`height` of capitals and `overrun` of open pockets in mm, whatever the `units` of the figures. `relief` is how
    inside corners are cleared for square wood; the bit is then twice the overrun wide."""

    height: float
    overrun: float = 0.0
    units: Units = "mm"
    relief: str = "none"

    @property
    def unit_name(self) -> str:
        """The unit as a header says it."""
        return "inches" if self.units == "in" else "millimetres"

    def figure(self, mm: float) -> str:
        """A length as drawings say it: no unit, no trailing noughts."""
        value = mm / MM_PER_INCH if self.units == "in" else mm
        return trimmed(value, DECIMALS[self.units])

    def depth(self, mm: float) -> str:
        """A depth as notes say it."""
        return f"{self.figure(mm)} {self.units} deep"


def trimmed(value: float, decimals: int = 2) -> str:
    """The number with at most so many decimals, trailing noughts and minus nought left out."""
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text

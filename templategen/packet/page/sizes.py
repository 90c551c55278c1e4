"""Sizes and numbers of pieces as the page says them."""

from templategen.table.profile.choices import Units
from templategen.units import MM_PER_INCH, inch_fraction, trimmed

EXACT = 0.0005
"""A fraction of an inch this near to a length is that length, mm."""


def size(mm: float, units: Units) -> str:
    """A length to 0.01 mm; in inches as a fraction where it is one, else to 0.001 in."""
    if units == "mm":
        return f"{trimmed(mm, 2)} mm"
    fraction, error = inch_fraction(mm)
    return fraction if abs(error) < EXACT else f"{trimmed(mm / float(MM_PER_INCH), 3)} in"


def blank(mm: float, units: Units) -> str:
    """A size to saw to; where inches are no fraction the nearest one beside the figure."""
    told = size(mm, units)
    fraction = inch_fraction(mm)[0]
    return told if units == "mm" or told == fraction else f"{told} (about {fraction[:-3]})"


def counted(number: int, tables: int) -> str:
    """A number of pieces for one table, and for all where there are several."""
    return f"{number} ({number * tables} for {tables} tables)" if tables > 1 else str(number)

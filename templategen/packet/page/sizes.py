"""Sizes and numbers of pieces as the page says them."""

from templategen.catalogue import figured, worded
from templategen.table.profile.choices import Units
from templategen.units import inch_fraction, length_words


def size(mm: float, units: Units) -> str:
    """A length to 0.01 mm; in inches as a fraction where one tells it, else to 0.001 in."""
    return figured(length_words(mm, units))


def blank(mm: float, units: Units) -> str:
    """A size to saw to; where inches are no fraction the nearest one beside the figure."""
    told = size(mm, units)
    fraction = inch_fraction(mm)[0]
    return (
        told if units == "mm" or told == fraction else worded("{size} (about {near})", size=told, near=fraction[:-3])
    )


def counted(number: int, tables: int) -> str:
    """A number of pieces for one table, and for all where there are several."""
    told = {"number": number, "all": number * tables, "tables": tables}
    return worded("{number} ({all} for {tables} tables)", **told) if tables > 1 else str(number)

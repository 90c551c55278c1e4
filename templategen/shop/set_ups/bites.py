"""A mortise by a hollow chisel: how wide a chisel, in how many rows of how many bites."""

from collections.abc import Iterator, Mapping
from math import ceil

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.profile.choices import Units
from templategen.units import MM_PER_INCH, show_length

CHISELS: Mapping[Units, tuple[float, ...]] = {
    "mm": (6.0, 8.0, 10.0, 12.0, 16.0),
    "in": tuple(float(MM_PER_INCH) * share for share in (0.25, 0.375, 0.5, 0.625)),
}
"""Widths of hollow chisels that bench mortisers take, mm (shop practice)."""

EQUAL = 1e-6


def bites(set_up: SetUp, units: Units) -> Iterator[str]:
    """How a mortise is cleared: by the widest chisel that goes in, both ends of a row before what is between, so that
    each bite has wood all round it or on neither side."""
    if set_up.operation != "mortise":
        return
    across, along, wide = set_up.value("width"), set_up.value("length"), widest(set_up, units)
    yield said(
        "hollow chisel {wide} or narrower: with {wide} {rows:# row} of {bites:# bite}, the outermost on the lines; of"
        " each row both ends first, then every other bite, then what stands between",
        wide=figured(show_length(wide, units)),
        rows=ceil(across / wide - EQUAL),
        bites=ceil(along / wide - EQUAL),
    )


def widest(set_up: SetUp, units: Units) -> float:
    """The widest hollow chisel that goes into a mortise, mm."""
    least = min(set_up.value("width"), set_up.value("length"))
    return next((one for one in reversed(CHISELS[units]) if one <= least + EQUAL), CHISELS[units][0])

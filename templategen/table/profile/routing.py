"""How far apart parts lie, and how far from the edge, where a router frees them."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.errors import Fault
from templategen.geometry.tolerance import MET
from templategen.table.profile.model import Stock
from templategen.units import show_length

GAP = 1.0
"""Between parts besides a bit, so that the pass of one doesn't touch the other, mm."""

MARGIN = 3.0
"""Left standing between a pass and the edge of the sheet, mm."""

PIN = 8.0
"""Pins that a sheet is turned over on, unless the bit is wider, mm."""


def pin_of(bit: float) -> float:
    """The diameter of the pins: one the bit can make a hole for."""
    return max(PIN, bit)


def routed_gap(bit: float) -> float:
    """The least room between parts."""
    return bit + GAP


def routed_margin(bit: float) -> tuple[float, float, float, float]:
    """The least at the sides; at the ends as much more as a pin or a screw takes with wood on both sides of it."""
    side = bit + MARGIN
    end = side + pin_of(bit) + MARGIN
    return end, end, side, side


def routing_faults(where: str, stock: Stock, bit: float, units: str) -> Iterator[Fault]:
    """What is too little for the bit, of what is set by hand."""
    if stock.mode != "routed":
        return
    margins = stock.margin if isinstance(stock.margin, tuple) else (stock.margin,)
    for name, found, least in (("gap", stock.gap, routed_gap(bit)), ("margin", min(margins), bit + MARGIN)):
        if found < least - MET:
            wanted = f"{show_length(least, units)} or more, or leave the key out"
            says = f"{show_length(found, units)} is too little for a bit of {show_length(bit, units)}"
            yield Fault(f"{where}.{name}", says, f"write {wanted}")

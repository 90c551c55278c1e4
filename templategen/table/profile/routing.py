"""How far apart parts lie, and how far from the edge, where a router frees them."""

from collections.abc import Iterator, Sequence

from templategen.catalogue import worded
from templategen.errors import Fault
from templategen.geometry.tolerance import MET
from templategen.table.profile.model_of_shop import Stock
from templategen.units import show_length

GAP = 1.0
"""Between parts besides a bit, so that the pass of one doesn't touch the other, mm."""

MARGIN = 3.0
"""Left standing between a pass and the edge of the sheet, mm."""

PIN = 8.0
"""Pins that a sheet is turned over on, unless the bit is wider, mm."""


TURNED = 4.0
"""By how much the two pins stand off the ends unlike, so that a sheet turned about the wrong line shows, mm."""


def stock_bit(bits: Sequence[Sequence[float]], depth: float) -> float:
    """The diameter of the bit that frees what is so thick: of diameters and cutting lengths the first that reaches,
    else the longest."""
    reaching = [bit for bit in bits if bit[1] >= depth - MET]
    return reaching[0][0] if reaching else max(bits, key=lambda bit: bit[1])[0]


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
    return end, end + TURNED, side, side


def routing_faults(where: str, stock: Stock, units: str) -> Iterator[Fault]:
    """What is too little for the bit, of what is set by hand."""
    bit = stock.bit
    if stock.mode != "routed":
        return
    margins = stock.margin if isinstance(stock.margin, tuple) else (stock.margin,)
    for name, found, least in (("gap", stock.gap, routed_gap(bit)), ("margin", min(margins), bit + MARGIN)):
        if found < least - MET:
            wanted = worded("{least} or more, or leave the key out", least=show_length(least, units))
            says = worded(
                "{found} is too little for a bit of {bit}",
                found=show_length(found, units),
                bit=show_length(bit, units),
            )
            yield Fault(f"{where}.{name}", says, worded("write {wanted}", wanted=wanted))

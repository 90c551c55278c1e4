"""The printer's correction: from what was measured on the test sheet to scales and skew."""

from collections.abc import Sequence
from math import asin, degrees, hypot, radians

from templategen.catalogue import translated, worded
from templategen.errors import Fault
from templategen.units import MM_PER_INCH, show_length

SQUARES: dict[str, tuple[float, ...]] = {
    "mm": (500, 400, 300, 250, 200, 150, 120, 100, 80, 60),
    "in": tuple(float(inches * MM_PER_INCH) for inches in (20, 16, 12, 10, 8, 6, 5, 4, 3)),
}
"""Sides that the square of the test sheet may have, mm: far enough apart for a measured one to tell which it is."""

LEAST_SCALE, MOST_SCALE = 0.9, 1.1
"""A printer further off needs setting, not correcting."""

MOST_SKEW = radians(2)
"""The same, as an angle that the printer leans."""

CONTRADICTION = 1.5
"""Four measured lengths that no parallelogram has, by more than this, hold a misreading; mm."""


def square_side(across: float, units: str) -> float:
    """The side as drawn of the square that measures `across` mm."""
    return min(SQUARES[units], key=lambda side: abs(across / side - 1))


def correction(measured: Sequence[float], units: str) -> tuple[float, float, float]:
    """scale_x, scale_y and skew (radians) from the square's width, height, rising and falling diagonal, mm.

    The printed square is a parallelogram with sides a, d and diagonals u, v: scales are side / a and side / d,
    and u^2 - v^2 = 4 a d sin(skew), positive where the top leans to the right.
    """
    across, down, rising, falling = measured
    side = square_side(across, units)
    lean = (rising**2 - falling**2) / (4 * across * down)
    return side / across, side / down, asin(max(-1.0, min(1.0, lean)))


def contradiction(measured: Sequence[float], units: str) -> Fault | None:
    """What is wrong with four measured lengths, or None: they belong to no square printed by one printer."""
    across, down, rising, falling = measured
    scales = correction(measured, units)
    shown = ", ".join(show_length(value, units) for value in measured)
    again = translated("print the test sheet again and measure width, height, rising and falling diagonal")
    if not all(LEAST_SCALE <= scale <= MOST_SCALE for scale in scales[:2]) or abs(scales[2]) > MOST_SKEW:
        told = worded(
            "scales of {across:.3f} and {down:.3f} and a skew of {skew:.2f} deg",
            across=scales[0],
            down=scales[1],
            skew=degrees(scales[2]),
        )
        off = worded("{shown} ask for {told}", shown=shown, told=told)
        return Fault("paper.measured", off, worded("set the printer to 100 %; {again}", again=again))
    wanted = hypot(across, down)
    mean = hypot(rising, falling) / 2**0.5
    if abs(mean - wanted) > CONTRADICTION:
        found = worded(
            "{shown}: with those sides the diagonals are about {wanted}",
            shown=shown,
            wanted=show_length(wanted, units),
        )
        return Fault("paper.measured", found, again)
    return None

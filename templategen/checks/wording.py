"""What a finding measured and what is wanted, in the maker's own units."""

from fractions import Fraction
from math import ceil

from templategen.catalogue import translated
from templategen.geometry.tolerance import MET
from templategen.units import MM_PER_INCH, angle_words, decimal_figure, inch_fraction, length_words, trimmed

GRAVITY = 9.81
"""What a kilogram weighs, N: forces are told as the mass that weighs so much, which a shop can lay on."""

SIGNS = {
    "C": "\N{DEGREE SIGN}C",
    "mm2": "mm\N{SUPERSCRIPT TWO}",
    "mm3": "mm\N{SUPERSCRIPT THREE}",
    "cm2": "cm\N{SUPERSCRIPT TWO}",
    "m2": "m\N{SUPERSCRIPT TWO}",
    "gram": "g",
}
"""Units as they are written for people."""

IMPERIAL = {
    "kg": (2.204622622, 0.0, "lb"),
    "N": (0.224808943, 0.0, "lbf"),
    "N m": (0.737562149, 0.0, "lbf ft"),
    "m": (3.280839895, 0.0, "ft"),
    "m/s": (2.236936292, 0.0, "mph"),
    "C": (1.8, 32.0, "\N{DEGREE SIGN}F"),
    "gram": (0.035273962, 0.0, "oz"),
    "MPa": (145.037738, 0.0, "psi"),
    "cm2": (0.15500031, 0.0, "sq in"),
    "m2": (10.763910417, 0.0, "sq ft"),
}
"""What makers who work in inches say instead: times so much and more by so much (NIST SP 811,
appendix B)."""

Limits = tuple[float | None, float | None]
"""The least and the most that is wanted."""

FINEST = 7
"""A length is told with fewer decimals than these: a millionth is finer than anything in a shop."""

COUNTED = ("boards", "letters", "pairs", "parts", "pieces", "places")
"""What is counted."""


def counted(number: float, one: str) -> str:
    """So many of it: `1 slat`, `7 slats`, `2 passes`; other languages name both, as in `Feder|Federn`."""
    one, _, many = one.partition("|")
    return f"{number:g} {one if number == 1 else many or one + ('es' if one.endswith('s') else 's')}"


def format_size(value: float, unit: str, units: str, digits: int | None = None) -> str:
    """A size in the maker's own units, with no more digits than it is sure of; nothing for what has none. A length
    has `digits` decimals where they are asked for, and is no fraction then."""
    if digits is not None:
        return f"{decimal_figure(value, units, (digits, digits))} {units}"
    if unit == "deg":
        return angle_words(value)
    if unit == "N" and units == "mm":
        return f"{trimmed(value / GRAVITY, 0)} kg ({trimmed(value, 0)} N)"
    if unit in IMPERIAL:
        times, more, named = IMPERIAL[unit] if units == "in" else (1.0, 0.0, SIGNS.get(unit, unit))
        size = value * times + more
        return f"{trimmed(size, 0 if size >= 50 else 1)} {named}"
    if unit != "mm":
        named = unit.removesuffix("s") if value == 1 and unit in COUNTED else SIGNS.get(unit, unit)
        return f"{trimmed(value, 1)} {translated(named)}" if unit else ""
    return length_words(value, units)


def shown(size: float, units: str, digits: int = 1) -> str:
    """A length inside a sentence, in the maker's own units and short."""
    return length_words(size, units, (digits, 3))


def rounded_up(size: float, units: str) -> str:
    """A length that does at least as much: to the next 0.1 mm or 64th."""
    step = MM_PER_INCH / 64 if units == "in" else Fraction(1, 10)
    steps = ceil(size / float(step) - MET)
    return inch_fraction(steps * step)[0] if units == "in" else f"{trimmed(steps / 10, 1)} mm"


def finer(measured: float, wanted: Limits, unit: str, units: str) -> int | None:
    """With how many decimals a length outside its limits is told, lest it and a limit read alike; None where the
    usual words tell them apart."""
    low, high = wanted
    missed = low if low is not None and measured < low else high if high is not None and measured > high else None
    if unit != "mm" or missed is None or length_words(measured, units) != length_words(missed, units):
        return None
    tries = range(3, FINEST)
    return next(
        (one for one in tries if len({decimal_figure(size, units, (one, one)) for size in (measured, missed)}) == 2),
        None,
    )


def format_range(wanted: Limits, unit: str, units: str, digits: int | None = None) -> str:
    """What is wanted, in words, lengths with so many decimals where that many are asked for; nothing for what has no
    unit."""
    low, high = (None if one is None else format_size(one, unit, units, digits) for one in wanted)
    if not unit or wanted in ((None, None), (None, 0.0), (0.0, 0.0)):
        return ""
    if low is not None and high is not None:
        text = translated("{low} was asked for") if low == high else translated("{low} to {high} is wanted")
    else:
        text = translated("at most {high} is wanted") if low is None else translated("at least {low} is wanted")
    return text.format(low=low, high=high)

"""Lengths and angles as people write them: exact going in, fixed digits coming out.

Inside the program lengths are millimetres; this module is the edge where inches, feet and centimetres exist.
"""

import math
import re
from fractions import Fraction

from templategen.catalogue import fault_of, figured, translated, worded
from templategen.errors import Fault, UnitError

MM_PER_INCH = Fraction(127, 5)
LARGEST_MM = 1_000_000
TO_A_THOUSANDTH = 1e-3
LONGEST_TEXT = 200
LONGEST_QUOTE = 60

_MM_PER = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
    "foot": 12 * MM_PER_INCH,
    "feet": 12 * MM_PER_INCH,
}
_DEG_PER = {"deg": Fraction(1), "min": Fraction(1, 60), "rad": Fraction(180) / Fraction(math.pi)}

_AMOUNT = r"(?:\d+(?:[ ]+|-)\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+)"
_WORD = "|".join(sorted((*_MM_PER, *_DEG_PER), key=len, reverse=True))
_INCH_WORD = "in|inch|inches"
# One written quantity: an amount and its unit, or feet followed by inches. It never starts inside a name.
_LITERAL = (
    rf"(?<![\w.])(?:(?P<feet>{_AMOUNT})\s*(?:ft|foot|feet)\s+(?P<inches>{_AMOUNT})\s*(?:{_INCH_WORD})"
    rf"|(?P<amount>{_AMOUNT})\s*(?P<unit>{_WORD}))(?!\w)"
)


def literals() -> re.Pattern[str]:
    """The pattern of one written quantity, for `read_literal`; made when asked for, as that takes a while."""
    return re.compile(_LITERAL, re.ASCII | re.IGNORECASE)


def parse_length(text: str, units: str = "mm") -> Fraction:
    """The exact length in mm written as `45 mm`, `4.5 cm`, `1-3/4 in`, `2 ft 3 in`, or bare in `units`.

    Raises: UnitError for anything else, for more than a kilometre, and for a decimal comma.
    """
    kind, amount = _parse(text, units)
    if kind != "length":
        raise UnitError(fault_of("", "{text} is an angle, not a length", 'write it as "45 mm"', text=quoted(text)))
    if abs(amount) > LARGEST_MM:
        raise UnitError(
            fault_of("", "{text} is more than a kilometre", "check the number and its unit", text=quoted(text))
        )
    return amount


def parse_angle(text: str) -> float:
    """The angle in radians written as `0.1 deg`, `5 min`, `0.01 rad`, or bare in degrees.

    Raises: UnitError for anything else, and for more than a full turn.
    """
    kind, amount = _parse(text, "deg")
    if kind != "angle":
        raise UnitError(fault_of("", "{text} is a length, not an angle", 'write it as "0.1 deg"', text=quoted(text)))
    if abs(amount) > 360:
        raise UnitError(
            fault_of("", "{text} is more than a full turn", "check the number and its unit", text=quoted(text))
        )
    return math.radians(float(amount))


def read_literal(match: re.Match[str]) -> tuple[str, Fraction]:
    """The kind (`length`, `angle`) and the exact amount in mm or degrees of one match of `literals`."""
    if match["feet"]:
        feet, inches = _amount(match["feet"]), _amount(match["inches"])
        return "length", (12 * feet + inches) * MM_PER_INCH
    unit = match["unit"].lower()
    if unit in _MM_PER:
        return "length", _amount(match["amount"]) * _MM_PER[unit]
    return "angle", _amount(match["amount"]) * _DEG_PER[unit]


def refuse_decimal_comma(text: str) -> None:
    """Turns away `1,5 mm`: a comma could be a decimal sign or a thousands sign, and a guess costs a board.

    Raises: UnitError.
    """
    found = re.search(r"((?:\d+\.)*\d+),(\d+)", text, re.ASCII)
    if found and "(" not in text:
        remedy = worded(
            "decimals take a point: write {whole}.{decimals}", whole=found[1].replace(".", ""), decimals=found[2]
        )
        raise UnitError(Fault("", worded("{text} has a comma in a number", text=quoted(text)), remedy))


def is_amount(text: str) -> bool:
    """Whether `text` is a bare amount as makers write it: `45`, `4.5`, `3/4`, `1-3/4`, `1 3/4`."""
    return re.fullmatch(_AMOUNT, text.strip(), re.ASCII) is not None


_TIES = re.compile(r"(?<=\d) (?=(?:mm|cm|in|kg|N|%|x)(?!\w))|(?<=\d x) (?=\d)")


def tied(words: str) -> str:
    """The words with figure, unit and the sizes of one piece held together by spaces at which no line ends."""
    return _TIES.sub("\u00a0", words)


def untied(words: str) -> str:
    """The same with plain spaces."""
    return words.replace("\u00a0", " ")


def format_mm(value: float, digits: int = 1) -> str:
    """A number with fixed digits and never a negative zero.

    Raises: UnitError for a value that is not finite.
    """
    if not math.isfinite(value):
        raise UnitError(
            fault_of("", "{value} can't be written as a length", "check the sizes it came from", value=value)
        )
    text = f"{value:.{digits}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def inch_fraction(mm: float | Fraction, denominator: int = 64) -> tuple[str, float]:
    """The nearest inch fraction, reduced (`19 37/64 in`), and what it shows too much, in mm.

    Raises: UnitError for a value that is not finite or a denominator below 1.
    """
    if not math.isfinite(mm) or denominator < 1:
        raise UnitError(
            fault_of("", "{mm} can't be shown in {denominator}ths of an inch", mm=mm, denominator=denominator)
        )
    exact = Fraction(mm)
    shown = Fraction(round(exact * denominator / MM_PER_INCH), denominator)
    return f"{_mixed(shown)} in", float(shown * MM_PER_INCH - exact)


def show_length(mm: float | Fraction, units: str) -> str:
    """A length for a message, in the maker's own units and short: `2 mm`, `1-3/4 in`, `0.012 in`."""
    amount = Fraction(mm) / (MM_PER_INCH if units == "in" else 1)
    if units == "in" and abs(amount * 64 - round(amount * 64)) < Fraction(1, 10**6):
        return inch_fraction(mm)[0]
    return f"{trimmed(float(amount), 4)} {units}"


def decimal_figure(mm: float, units: str, digits: tuple[int, int] = (2, 3), fixed: bool = False) -> str:
    """A length as a bare number in the maker's units, as machines and callipers take it, with at most so many
    decimals of mm and of inches; `fixed` keeps noughts at the end."""
    inches = units == "in"
    return (format_mm if fixed else trimmed)(mm / float(MM_PER_INCH) if inches else mm, digits[inches])


def length_figure(mm: float, units: str, digits: tuple[int, int] = (2, 3)) -> str:
    """A length as people write it, without its unit: inches as a fraction where a 64th tells them to a thousandth
    part of themselves or to the last decimal, else in decimals."""
    if units == "in" and math.isfinite(mm):
        fraction, error = inch_fraction(mm)
        if abs(error) < max(abs(mm) * TO_A_THOUSANDTH, float(MM_PER_INCH) * 0.5 * 0.1 ** digits[1]):
            return fraction.removesuffix(" in")
    return decimal_figure(mm, units, digits)


def length_words(mm: float, units: str, digits: tuple[int, int] = (2, 3)) -> str:
    """The same with its unit: `19.05 mm`, `3/4 in`, `0.161 in`."""
    return f"{length_figure(mm, units, digits)} {units}"


def in_one_unit(text: str, units: str) -> str:
    """A text that tells sizes in both units, `300 mm (12 in)`, with those of the maker alone."""
    return re.sub(r"([\d.,]+ mm) \(([\d./-]+ in)\)", r"\2" if units == "in" else r"\1", text)


def length_by_rule(mm: float, units: str, digits: int = 1, denominator: int = 64) -> str:
    """A length as a rule shows it: mm to so many decimals, or the nearest fraction of an inch."""
    return inch_fraction(mm, denominator)[0] if units == "in" else f"{trimmed(mm, digits)} mm"


def trimmed(value: float, digits: int = 2) -> str:
    """A number rounded to `digits` and without the zeros that say nothing."""
    text = format_mm(value, digits)
    return text.rstrip("0").rstrip(".") if "." in text else text


def angle_words(degrees: float) -> str:
    """An angle as it is set at the saw: `18.435°`. A ring adds the rounding of each of its cuts up."""
    return f"{trimmed(degrees, 3)}°"


OFF_SQUARE = "{angle} off square (gauge {gauge})"


def off_square_words(degrees: float) -> str:
    """How a cut is told wherever it is told: as a saw's scale reads it, with a mitre gauge's reading beside."""
    angle, gauge = (figured(angle_words(one)) for one in (degrees, 90 - degrees))
    return worded(OFF_SQUARE, angle=angle, gauge=gauge)


def quoted(text: object) -> str:
    """What the maker wrote, in quotes, short and free of control characters, for a message."""
    shown = str(text)
    if len(shown) > LONGEST_QUOTE:
        shown = shown[: LONGEST_QUOTE - 3] + "..."
    return f'"{printable(shown)}"'


def printable(text: str) -> str:
    """A text with every sign that can't be seen shown as a question mark."""
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def _parse(text: str, units: str) -> tuple[str, Fraction]:
    body = text.strip()
    if not body:
        raise UnitError(fault_of("", "nothing is written here", 'write a size such as "45 mm"'))
    if len(body) > LONGEST_TEXT:
        raise UnitError(fault_of("", "{body} is too long for a size", body=quoted(body)))
    refuse_decimal_comma(body)
    sign = -1 if body.startswith("-") else 1
    body = body.removeprefix("-").lstrip()
    if is_amount(body):
        body = f"{body} {units}"
    match = literals().fullmatch(body)
    if not match:
        remedy = translated('write it as "45 mm", "4.5 cm", "1-3/4 in", "2 ft 3 in" or "0.1 deg"')
        raise UnitError(Fault("", worded("{text} is no size that can be read", text=quoted(text)), remedy))
    kind, amount = read_literal(match)
    return kind, sign * amount


def _amount(text: str) -> Fraction:
    """The exact value of `3`, `3.25`, `3/4`, `1-3/4` or `1 3/4`."""
    words = text.replace("-", " ").split()
    try:
        parts = [Fraction(word) for word in words]
    except ZeroDivisionError:
        raise UnitError(fault_of("", "{text} divides by zero", "check the fraction", text=quoted(text))) from None
    if len(parts) == 2 and parts[1] >= 1:
        remedy = worded("write {what}", what=_mixed(sum(parts, Fraction(0))))
        raise UnitError(Fault("", worded("{text}: the fraction is not less than one", text=quoted(text)), remedy))
    return sum(parts, Fraction(0))


def _mixed(value: Fraction) -> str:
    """A fraction as a maker writes it: `3/4`, `19 37/64`, `-1 1/2`, `0`."""
    whole, rest = divmod(abs(value), 1)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole}-{fraction}" if whole else f"{sign}{fraction}"

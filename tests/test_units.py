"""Lengths and angles as people write them."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import UnitError
from templategen.units import (
    decimal_figure,
    format_mm,
    in_one_unit,
    inch_fraction,
    length_by_rule,
    length_figure,
    length_words,
    parse_angle,
    parse_length,
    show_length,
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("45 mm", "45"),
        ("45mm", "45"),
        ("4.5 cm", "45"),
        ("1.2 m", "1200"),
        ("1-3/4 in", "44.45"),
        ("1 3/4 in", "44.45"),
        ("3/4 inch", "19.05"),
        ("5/32 in", "3.96875"),
        ("2 ft 3 in", "685.8"),
        ("2 ft 3-1/2 in", "698.5"),
        ("1 foot", "304.8"),
        ("6 feet", "1828.8"),
        ("  7 IN ", "177.8"),
        ("-3 mm", "-3"),
        (".5 mm", "0.5"),
        ("12", "12"),
    ],
)
def test_lengths(text: str, mm: str) -> None:
    """A written length is read exactly, whatever its unit."""
    assert parse_length(text) == Fraction(mm)


def test_bare_numbers_take_the_units_given() -> None:
    """A bare number is in the profile's units."""
    assert parse_length("1-3/4", "in") == Fraction("44.45")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing is written"),
        ("  ", "nothing is written"),
        ("1,5 mm", "write 1.5"),
        ("nan mm", "no size"),
        ("inf mm", "no size"),
        ("1e3 mm", "no size"),
        ("2000000 mm", "more than a kilometre"),
        ("9" * 500, "too long"),
        ("1/0 in", "divides by zero"),
        ("1-7/4 in", "write 2-3/4"),
        ("1 5/5 in", "write 2"),
        ("5 deg", "is an angle"),
        ('5"', "no size"),
        ("5 yards", "no size"),
        ("5 mm 3 in", "no size"),
        ("٣ mm", "no size"),
        ("1.5 3/4 in", "no size"),
        ("1 - 3/4 in", "no size"),
        ("--3 mm", "no size"),
        ("5 mm\x1b[31m", "no size"),
    ],
)
def test_what_is_no_length(text: str, says: str) -> None:
    """What can't be read as a length is refused with what would do, on one printable line."""
    with pytest.raises(UnitError) as refusal:
        parse_length(text)
    assert says in str(refusal.value)
    assert str(refusal.value).isprintable()


@pytest.mark.parametrize(
    ("text", "deg"), [("0.1 deg", 0.1), ("6 min", 0.1), ("0.5", 0.5), ("-2 deg", -2), ("1/4 deg", 0.25)]
)
def test_angles(text: str, deg: float) -> None:
    """Angles are written in degrees, minutes or bare, and come out in radians."""
    assert parse_angle(text) == pytest.approx(math.radians(deg), rel=1e-15)


def test_radians() -> None:
    """An angle in radians comes out as it went in."""
    assert parse_angle("0.01 rad") == pytest.approx(0.01, rel=1e-15)


@pytest.mark.parametrize("text", ["5 mm", "400 deg", "x", ""])
def test_what_is_no_angle(text: str) -> None:
    """A length, or more than a full turn, is no angle."""
    with pytest.raises(UnitError):
        parse_angle(text)


@pytest.mark.parametrize(
    ("mm", "text", "error"),
    [
        (497.1, "19-37/64 in", 0.184),
        (19, "3/4 in", 0.05),
        (0, "0 in", 0),
        (25.4, "1 in", 0),
        (-38.1, "-1-1/2 in", 0),
        (0.1, "0 in", -0.1),
    ],
)
def test_inch_fractions(mm: float, text: str, error: float) -> None:
    """An inch fraction is the nearest 64th, reduced, with what it shows too much."""
    shown, excess = inch_fraction(mm)
    assert shown == text
    assert excess == pytest.approx(error, abs=5e-4)


@given(st.integers(0, 10_000), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(0, 63))
@settings(max_examples=200)
def test_fractions_come_back(whole: int, denominator: int, numerator: int) -> None:
    """A fraction of an inch that is written out and read again is the same length."""
    inches = whole + Fraction(numerator % denominator, denominator)
    shown, excess = inch_fraction(inches * Fraction(254, 10))
    assert parse_length(shown) == inches * Fraction(254, 10)
    assert excess == 0


@given(st.floats(-1e5, 1e5), st.sampled_from([16, 32, 64]))
@settings(max_examples=200)
def test_the_error_of_a_fraction(mm: float, denominator: int) -> None:
    """Shown length less its error is the true one, and the error is at most half a step."""
    shown, excess = inch_fraction(mm, denominator)
    assert float(parse_length(shown)) - excess == pytest.approx(mm, abs=1e-9)
    assert abs(excess) <= 25.4 / denominator / 2 + 1e-9


@given(st.floats(-1e6, 1e6), st.integers(0, 6))
@settings(max_examples=200)
def test_written_numbers(value: float, digits: int) -> None:
    """A written number has its digits, is never a negative zero, and is within half a digit of the value."""
    text = format_mm(value, digits)
    assert len(text.partition(".")[2]) == digits
    assert not (float(text) == 0 and text.startswith("-"))
    assert abs(float(text) - value) <= 0.5000001 * 10**-digits


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_none(value: float) -> None:
    """What is not finite is never written."""
    with pytest.raises(UnitError):
        format_mm(value)
    with pytest.raises(UnitError):
        inch_fraction(value)


@pytest.mark.parametrize(
    ("mm", "units", "text"), [(44.45, "in", "1-3/4 in"), (2, "mm", "2 mm"), (0.1, "in", "0.0039 in")]
)
def test_lengths_in_messages(mm: float, units: str, text: str) -> None:
    """A message shows a length in the maker's own units."""
    assert show_length(Fraction(str(mm)), units) == text


@pytest.mark.parametrize(("mm", "units", "digits", "fixed", "wanted"), [
    (19.05, "mm", (2, 3), False, "19.05"), (19.05, "in", (2, 3), False, "0.75"), (19.05, "in", (2, 3), True, "0.750"),
    (7.0, "mm", (1, 4), True, "7.0"), (7.0, "mm", (1, 4), False, "7"), (-0.0004, "mm", (2, 3), True, "0.00"),
    (-31.7512, "in", (3, 4), False, "-1.25"),
])  # fmt: skip
def test_decimals_are_told_with_the_digits_of_their_unit(
    mm: float, units: str, digits: tuple[int, int], fixed: bool, wanted: str
) -> None:
    """Decimals of mm and of inches are two figures; noughts stay only where asked."""
    assert decimal_figure(mm, units, digits, fixed) == wanted


@pytest.mark.parametrize(("inches", "wanted"), [
    (0.75, "3/4 in"), (14.034, "14-1/32 in"), (4.3284, "4-21/64 in"), (0.371, "0.371 in"), (3.539, "3.539 in"),
    (-1.25, "-1-1/4 in"), (0.0004, "0 in"), (0.004, "0.004 in"), (1.788, "1.788 in"),
])  # fmt: skip
def test_inches_are_fractions_where_a_64th_tells_them(inches: float, wanted: str) -> None:
    """To a thousandth part of themselves, or to the last decimal; what is finer is told in thousandths."""
    assert length_words(inches * 25.4, "in") == wanted == f"{length_figure(inches * 25.4, 'in')} in"
    assert length_words(inches * 25.4, "mm") == f"{decimal_figure(inches * 25.4, 'mm')} mm"


def test_a_text_in_both_units_is_told_in_one() -> None:
    """The maker's own, and nothing else is changed."""
    text = "a stick of 450 mm (18 in) for the last 300 mm (12 in), 2 mm deep"
    assert in_one_unit(text, "in") == "a stick of 18 in for the last 12 in, 2 mm deep"
    assert in_one_unit(text, "mm") == "a stick of 450 mm for the last 300 mm, 2 mm deep"


def test_a_rule_shows_fractions_of_an_inch() -> None:
    """The nearest 64th, or the nearest 32nd; in mm fixed decimals."""
    assert length_by_rule(19.4, "in") == "49/64 in"
    assert length_by_rule(19.4, "in", denominator=32) == "3/4 in"
    assert length_by_rule(19.4, "mm", 0) == "19 mm"
    assert length_by_rule(19.0, "mm") == "19 mm"

"""Arithmetic in a profile."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import Fault, UnitError
from templategen.expression import Quantity, evaluate

KNOWN = {
    "top.thickness": Quantity(Fraction(38), "length"),
    "values.board": Quantity(Fraction(127), "length"),
    "values.x1": Quantity(Fraction("50.8"), "length"),
    "values.guests": Quantity(Fraction(6), "number"),
    "shop.mitre_error": Quantity(Fraction(1, 10), "angle"),
}


def lookup(name: str) -> Quantity:
    """The values that the texts below may name."""
    if name not in KNOWN:
        raise UnitError(Fault("", f"{name} is not set"))
    return KNOWN[name]


def value(text: str, units: str = "mm") -> tuple[Fraction, str]:
    """Amount and kind of a text."""
    found = evaluate(text, units, lookup)
    return found.amount, found.kind


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("top.thickness - 1 mm", "37"),
        ("values.board / 2", "63.5"),
        ("1-3/4 in + 2 mm", "46.45"),
        ("values.board - 1-3/4 in", "82.55"),
        ("values.board-1-3/4 in", "82.55"),
        ("values.x1-3/4 in", "31.75"),
        ("2 ft 3 in / 2", "342.9"),
        ("-(2 mm) + +5 mm", "3"),
        ("max(top.thickness, 4 cm)", "40"),
        ("min(top.thickness, 4 cm, 1 in)", "25.4"),
        ("values.guests * 2.5 mm", "15"),
        ("values.board / top.thickness * 1 mm * 38", "127"),
        ("round(values.board / 2, 1 mm)", "64"),
        ("round(values.board / 3)", "42"),
        ("round(values.board / 3, 1)", "42.3"),
        ("round(values.board / 3, 3)", "42.333"),
        ("round(top.thickness/3,1)", "12.7"),
        ("(values.board + top.thickness) / (1 + 2) ", "55"),
    ],
)
def test_lengths(text: str, mm: str) -> None:
    """Arithmetic over sizes and keys is exact and comes out in mm."""
    assert value(text) == (Fraction(mm), "length")


def test_rounding_to_inches() -> None:
    """Where the profile counts in inches, a length is rounded to whole inches."""
    assert value("round(values.board / 2)", "in") == (Fraction("50.8"), "length")


def test_plain_numbers_and_angles() -> None:
    """Numbers stay numbers, angles stay angles, and a length over a length is a number."""
    assert value("values.guests * 2") == (12, "number")
    assert value("top.thickness / 2 mm") == (19, "number")
    assert value("shop.mitre_error * 2 + 6 min") == (Fraction(3, 10), "angle")
    assert value("round(7 / 2)") == (4, "number")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("top.thickness - 1", "write - 1 mm"),
        ("1 + top.thickness", "write + 1 mm"),
        ("max(top.thickness, 40)", "write 40 mm"),
        ("shop.mitre_error + 1", "write + 1 deg"),
        ("top.thickness + shop.mitre_error", "a length and an angle"),
        ("top.thickness * values.board", "a length times a length"),
        ("1 / top.thickness", "can't be divided by a length"),
        ("1 / 0", "division by zero"),
        ("top.thickness / (values.guests - 6)", "division by zero"),
        ("2 ** 3", "powers"),
        ("7 // 2", "only + - * /"),
        ("7 / 2 mm", "can't be divided by a length"),
        ("1-3/4", '"1-3/4 in"'),
        ("1,5 mm", "write 1.5"),
        ("1, 5", "commas"),
        ("", "nothing is written"),
        ("top", "alone is no value"),
        ("top.thickness.real", "not plain arithmetic"),
        ("top.nothing", "top.nothing is not set"),
        ("top.thickness[0]", "holds"),
        ("literal[0]", "holds"),
        ("abs(1)", "abs() is not known"),
        ("min()", "is empty"),
        ("round(1, 2, 3)", "round() wants"),
        ("round(5 mm, 0 mm)", "round() wants"),
        ("round(5 mm, -1)", "round() wants"),
        ("min(*top.thickness)", "not plain arithmetic"),
        ("top.thickness()", "not plain arithmetic"),
        ("lambda: 1", "holds"),
        ("1 if 1 else 2", "not plain arithmetic"),
        ("True", "not plain arithmetic"),
        ("1j", "not plain arithmetic"),
        ("not 1", "not plain arithmetic"),
        ("1 and 2", "not plain arithmetic"),
        ("1 or 2", "not plain arithmetic"),
        ("1 in 2", "can't be read"),
        ("__import__('os').system('true')", "holds"),
        ("1e999", "too large"),
        ("9" * 150, "too large"),
        ("1e-200 * 1 mm", "too many digits"),
        ("900000 mm + 900000 mm", "too large"),
        ("-" * 100 + "1", "nested too deep"),
        ("1 +", "can't be read"),
        ("1 2", "can't be read"),
        ("5 mm 3", "can't be read"),
        ("mm", "alone is no value"),
        ("1" + "+1" * 150, "too long"),
        ("1\x00", "holds"),
        ("²", "holds"),
    ],
)
def test_refusals(text: str, says: str) -> None:
    """Whatever is not plain arithmetic of one kind is refused in words; nothing is ever run."""
    with pytest.raises(UnitError) as refusal:
        evaluate(text, "mm", lookup)
    assert says in str(refusal.value)
    assert str(refusal.value).isprintable()


def test_a_refusal_keeps_what_was_found_from_what_would_do() -> None:
    """Where it stands in the file is told later, by whoever reads the file."""
    with pytest.raises(UnitError) as refusal:
        evaluate("2 ** 3", "mm", lookup)
    assert refusal.value.faults == (Fault("", "powers (**) are not known here", "multiply instead"),)


def test_parentheses_alone_are_harmless() -> None:
    """Parentheses without end change nothing."""
    assert value("(" * 90 + "1" + ")" * 90) == (1, "number")


NUMBERS = st.integers(0, 99).map(str)
TREES = st.recursive(
    NUMBERS,
    lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda t: f"({t[0]} {t[1]} {t[2]})"),
        inner.map(lambda t: f"-{t}" if t.startswith("(") else t),
        st.tuples(st.sampled_from(["min", "max"]), inner, inner).map(lambda t: f"{t[0]}({t[1]}, {t[2]})"),
    ),
    max_leaves=8,
)


@given(TREES)
@settings(max_examples=300)
def test_arithmetic_is_exact(tree: str) -> None:
    """Random arithmetic comes out as exact fractions do, and divides by zero where they do."""
    exact = re.sub(r"\d+", lambda found: f"Fraction({found[0]})", tree)
    try:
        expected = eval(exact, {"Fraction": Fraction, "min": min, "max": max})
    except ZeroDivisionError:
        with pytest.raises(UnitError, match="division by zero"):
            evaluate(tree, "mm", lookup)
        return
    if abs(expected) < 1e6 and len(tree) <= 200:
        assert evaluate(tree, "mm", lookup) == Quantity(expected, "number")


@given(st.text(max_size=60) | st.text("0123456789/*-+. ()minaxroud,tops_[]", max_size=60))
@settings(max_examples=400)
def test_any_text(text: str) -> None:
    """Any text at all is a quantity or a refusal, never anything else."""
    try:
        assert isinstance(evaluate(text, "mm", lookup), Quantity)
    except UnitError as refusal:
        assert str(refusal)

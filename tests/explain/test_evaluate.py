"""The evaluator of formulas: arithmetic in degrees, and nothing but arithmetic."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from templategen.errors import UnitError
from templategen.explain.evaluate import evaluate
from tests.explain.book_of_tables import by_python
from tests.explain.symbols import symbols

SIZES = st.floats(0.5, 2000)


@given(SIZES, SIZES, st.floats(1, 80))
def test_formulas_agree_with_plain_python(a: float, b: float, angle: float) -> None:
    """A formula with every kind of operation comes to what Python's own arithmetic says."""
    formula = "2 * (a + b) * tan(v) - sqrt(a**2 + b**2) / cos(v) + max(a, b, 3) * sin(-v) + min(a, b) - abs(a - b)"
    values = {"a": a, "b": b, "v": angle}
    assert evaluate(formula, values) == pytest.approx(by_python(formula, values), rel=1e-12, abs=1e-9)


@given(st.floats(-0.999, 0.999))
def test_angles_are_degrees_both_ways(share: float) -> None:
    """asin, acos and atan give degrees that sin, cos and tan take back."""
    for there, back in (("asin", "sin"), ("acos", "cos"), ("atan", "tan")):
        assert evaluate(f"{back}({there}(s))", {"s": share}) == pytest.approx(share, abs=1e-12)
    assert evaluate("asin(1)", {}) == 90


REFUSED = (
    "__import__('os')", "a.b", "a[0]", "lambda: 1", "a if a else 1", "[1, 2]", "'text'", "a and 1", "sin()",
    "open(a)", "a == 1", "min(a, key=a)", "x", "1 / 0", "sqrt(-1)", "10**400", "1e999", "a **", "", "sin(1, 2)",
    "True", "a := 1", "9**9**9**9", "abs(" * 70 + "1" + ")" * 70, "+a" * 3000,
)  # fmt: skip


@pytest.mark.parametrize("formula", REFUSED)
def test_nothing_but_arithmetic_is_worked_out(formula: str) -> None:
    """Names without a value, calls, attributes, text, and sums without a result are refused in one way."""
    with pytest.raises(UnitError):
        evaluate(formula, {"a": 2.0})


def test_symbols_are_found_once() -> None:
    """The symbols of a formula are its names less functions and pi, each once."""
    assert sorted(symbols("2 * pi * b + sin(a) * b")) == ["a", "b"]


def test_rounding_goes_to_the_even_neighbour() -> None:
    """Half way between two whole numbers the even one is taken, as the table's own rounding does."""
    assert [evaluate("round(x)", {"x": x}) for x in (0.5, 1.5, 2.5, -0.5)] == [0, 2, 2, 0]

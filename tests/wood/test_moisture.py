"""Moisture in steady air, against the published table and other constants for the same equation."""

from __future__ import annotations

import pytest

from templategen.wood.movement import equilibrium_moisture

TEMPERATURES = (-5, 0, 10, 20, 25, 30, 35)

CHECKED = {
    20: (4.59, 4.61, 4.60, 4.51, 4.43, 4.35, 4.24),
    40: (7.85, 7.90, 7.87, 7.72, 7.61, 7.47, 7.32),
    50: (9.48, 9.52, 9.47, 9.27, 9.13, 8.97, 8.79),
    65: (12.35, 12.37, 12.27, 12.00, 11.81, 11.61, 11.38),
    80: (16.51, 16.53, 16.38, 16.04, 15.81, 15.55, 15.26),
    90: (20.98, 21.03, 20.89, 20.53, 20.28, 19.99, 19.67),
    95: (24.26, 24.34, 24.27, 23.94, 23.70, 23.41, 23.08),
}


@pytest.mark.parametrize("humidity", CHECKED)
def test_check_values(humidity: int) -> None:
    """Moisture agrees with the worked check values to half a unit in their last digit."""
    found = [equilibrium_moisture(humidity, t) for t in TEMPERATURES]
    assert found == pytest.approx(CHECKED[humidity], abs=0.0051)


@pytest.mark.parametrize(("humidity", "published"), [(30, 6.2), (50, 9.2), (65, 12.0), (80, 16.0), (90, 20.5)])
def test_published_table(humidity: int, published: float) -> None:
    """At 70 degrees Fahrenheit the equation keeps to the handbook's table within a tenth of a percent."""
    assert equilibrium_moisture(humidity, 21.111) == pytest.approx(published, abs=0.1)


def fahrenheit(humidity: float, f: float) -> float:
    """The same equation with the constants published for degrees Fahrenheit."""
    w = 330 + 0.452 * f + 0.00415 * f**2
    k = (0.791 + 0.000463 * f - 0.000000844 * f**2) * humidity / 100
    k1 = 6.34 + 0.000775 * f - 0.0000935 * f**2
    k2 = 1.09 + 0.0284 * f - 0.0000904 * f**2
    return 1800 / w * (k / (1 - k) + (k1 * k + 2 * k1 * k2 * k * k) / (1 + k1 * k + k1 * k2 * k * k))


def test_both_sets_of_constants_agree() -> None:
    """Celsius and Fahrenheit constants differ by no more than two hundredths over the valid range."""
    for f in range(30, 131, 10):
        for humidity in range(5, 86, 5):
            mine = equilibrium_moisture(humidity, (f - 32) / 1.8)
            assert mine == pytest.approx(fahrenheit(humidity, f), abs=0.02)


@pytest.mark.parametrize("humidity", [-1, 101])
def test_no_such_air(humidity: float) -> None:
    """Air is never drier than 0 or damper than 100 %."""
    with pytest.raises(ValueError, match="0 to 100"):
        equilibrium_moisture(humidity, 20)


def test_damper_air_is_wetter_wood() -> None:
    """Moisture rises with humidity from 0 at 0 % to above 24 % in the dampest air."""
    found = [equilibrium_moisture(h, 15) for h in range(101)]
    assert found[0] == 0 and found == sorted(found) and 24 < found[100] < 35

"""The printer's correction as the profile takes it."""

from __future__ import annotations

from math import degrees, hypot, radians

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import ProfileError
from templategen.table.profile.model_of_shop import Paper
from templategen.table.profile.printer import SQUARES, correction, square_side
from templategen.table.profile.read import profile_from_text


def paper(text: str, units: str = "mm") -> Paper:
    """The paper of a short profile."""
    return profile_from_text(f'format = 1\nunits = "{units}"\n[paper]\n{text}\n', "x").paper


def test_measured_lengths_make_scale_and_skew() -> None:
    """A square of 150 mm that prints 151.5 by 148.5 with unlike diagonals gives 150/151.5, 150/148.5 and the lean."""
    read = paper("measured = [151.5, 148.5, 212.4, 211.9]")
    assert (read.scale_x, read.scale_y) == pytest.approx((150 / 151.5, 150 / 148.5))
    assert degrees(read.skew) == pytest.approx(0.135, abs=0.002)
    assert read.measured == (151.5, 148.5, 212.4, 211.9)


def test_inches_are_measured_in_inches() -> None:
    """A square of 6 in is told from what was measured in inches."""
    read = paper("measured = [6.06, 6, 8.53, 8.53]", "in")
    assert (read.scale_x, read.scale_y) == pytest.approx((6 / 6.06, 1.0))


def test_skew_and_trace_offset_are_keys() -> None:
    """Both may be written by hand, and default to nought."""
    read = paper('skew = "0.5 deg"\ntrace_offset = 3')
    assert read.skew == pytest.approx(radians(0.5))
    assert read.trace_offset == 3.0
    assert (paper("").skew, paper("").trace_offset, paper("").measured) == (0.0, 0.0, ())


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("measured = [150, 150, 212.1, 219]", r"paper\.measured.*diagonals are about 212"),
        ("measured = [150, 0, 212.1, 212.1]", r"paper\.measured.*3 of 4"),
        ("measured = [130, 150, 198, 198]", r"paper\.measured.*scales of"),
        ("measured = [150, 150, 212.1]", r"paper\.measured.*a list of 3"),
        ("measured = [150, 150, 221, 203]", r"paper\.measured.*skew of"),
        ("scale_x = 1.01\nmeasured = [150, 150, 212.1, 212.1]", r"paper\.scale_x.*keep one"),
        ('skew = "3 deg"', r"paper\.skew"),
        ("trace_offset = 80", r"paper\.trace_offset"),
        ("measured = [nan, 150, 212, 212]", r"paper\.measured"),
    ],
)
def test_what_no_printer_does_is_refused(text: str, where: str) -> None:
    """Misreadings, contradictions and doubled settings are faults that name the key."""
    with pytest.raises(ProfileError, match=where):
        paper(text)


@settings(max_examples=60)
@given(
    st.sampled_from(("mm", "in")), st.integers(0, 8), st.floats(0.92, 1.08), st.floats(0.92, 1.08),
    st.floats(-1.5, 1.5),
)  # fmt: skip
def test_the_square_is_told_from_its_width(units: str, index: int, x: float, y: float, lean: float) -> None:
    """Whichever square was printed, its scales and lean come back from the four lengths of the parallelogram."""
    from math import cos, sin

    side = SQUARES[units][index]
    across, down, angle = side * x, side * y, radians(lean)
    top = (down * sin(angle), down * cos(angle))
    measured = (across, down, hypot(across + top[0], top[1]), hypot(across - top[0], top[1]))
    assert square_side(across, units) == side
    scale_x, scale_y, skew = correction(measured, units)
    assert (scale_x, scale_y) == pytest.approx((1 / x, 1 / y))
    assert skew == pytest.approx(angle, abs=1e-9)

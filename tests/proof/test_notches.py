"""Where a pocket of the top comes out at an upright face."""

from __future__ import annotations

import pytest

from templategen.geometry.edge import Line
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.proof.faces import _shared

FOOT = Line(Point(10, 3), Point(60, 3))


@pytest.mark.parametrize(
    ("left", "right", "found"),
    [(-5, 30, [(0, 20)]), (22, 31, [(12, 21)]), (40, 90, [(30, 50)]), (-5, 90, [(0, 50)]), (61, 70, []), (0, 10, [])],
)
def test_a_pocket_shows_as_far_as_it_runs_along_the_foot(left: float, right: float, found: list[object]) -> None:
    """From the foot's own start, clipped to its ends; a pocket whose side lies elsewhere shows nothing."""
    assert list(_shared(FOOT, rectangle(left, -8, right, 3))) == found
    assert list(_shared(FOOT, rectangle(left, -8, right, 2.9))) == []
    back = Line(FOOT.end, FOOT.start)
    assert list(_shared(back, rectangle(left, 3, right, 12))) == [(50 - b, 50 - a) for a, b in found]  # type: ignore[misc]

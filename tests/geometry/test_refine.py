"""Fine polylines hold to their sagitta."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.refine import fine_polyline
from tests.strategies import outlines


@settings(max_examples=40, deadline=None)
@given(outlines(), st.sampled_from([1e-3, 0.1, 1.0, 1000.0]))
def test_chords_leave_no_arc_by_more_than_the_sagitta(outline: Outline, sagitta: float) -> None:
    """Every point lies on the outline, every vertex is among them, and no chord strays too far."""
    points = fine_polyline(outline, sagitta)
    assert set(outline.points) <= set(points)
    for i, point in enumerate(points):
        assert outline.distance(point) < 1e-9
        before = points[i - 1]
        middle = Point((point.x + before.x) / 2, (point.y + before.y) / 2)
        assert outline.distance(middle) <= sagitta + 1e-9

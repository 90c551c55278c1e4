"""Placements against their own definition and shapely's affinity."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from shapely import affinity

from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from tests.strategies import outlines, placements, points, shape


@settings(max_examples=80, deadline=None)
@given(placements(), placements(), points())
def test_then_does_one_after_the_other(first: Placement, after: Placement, point: Point) -> None:
    """`first.then(after)` places every point where first and then after would."""
    assert first.then(after).point(point) == pytest.approx(after.point(first.point(point)), abs=1e-9)


@settings(max_examples=80, deadline=None)
@given(placements(), points())
def test_the_inverse_takes_back(placement: Placement, point: Point) -> None:
    """A placement and its inverse, in either order, leave every point where it was."""
    assert placement.inverse.point(placement.point(point)) == pytest.approx(point, abs=1e-9)
    assert placement.point(placement.inverse.point(point)) == pytest.approx(point, abs=1e-9)
    assert placement.then(placement.inverse).point(point) == pytest.approx(point, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(placements(), outlines())
def test_an_outline_is_carried_along(placement: Placement, outline: Outline) -> None:
    """Turned over, turned, moved: the outline lies where shapely puts it and keeps its walk and measures."""
    placed = placement.outline(outline)
    expected = affinity.scale(shape(outline), -1 if placement.turned_over else 1, 1, origin=(0, 0))
    expected = affinity.rotate(expected, placement.turn, origin=(0, 0), use_radians=True)
    expected = affinity.translate(expected, placement.x, placement.y)
    assert shape(placed).symmetric_difference(expected).area <= 2e-3 * outline.length
    assert placed.area == pytest.approx(outline.area, rel=1e-9)
    assert placed.length == pytest.approx(outline.length, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(placements(), outlines())
def test_edges_are_carried_as_outlines_are(placement: Placement, outline: Outline) -> None:
    """Each placed edge is an edge of the placed outline."""
    placed = placement.outline(outline)
    for edge in outline.edges:
        for share in (0.0, 0.5, 1.0):
            point = placement.edge(edge).point_at(share)
            assert point == pytest.approx(placement.point(edge.point_at(share)), abs=1e-8)
            assert placed.distance(point) <= 1e-8


def test_turning_over_mirrors_x_before_the_turn() -> None:
    """Turned over, then a quarter turn, then moved: (3, 1) goes to (-3, 1), (-1, -3), (9, 17)."""
    from math import pi

    assert Placement(10, 20, pi / 2, True).point(Point(3, 1)) == pytest.approx((9, 17))

"""The centre of an area."""

from __future__ import annotations

from math import pi

import pytest
import shapely
from hypothesis import given, settings

from templategen.geometry.centroid import centroid
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Vertex
from templategen.geometry.refine import fine_polyline
from tests.strategies import placements, star_shaped


def test_a_half_disc() -> None:
    """The centre of a half disc lies 4 r / (3 pi) from its straight edge."""
    half = Outline((Vertex(100, 0, 1.0), Vertex(-100, 0)))
    assert centroid(half) == pytest.approx((0, 400 / (3 * pi)), abs=1e-9)


@pytest.mark.parametrize("outline", [circle(5, -7, 30), rectangle(1, -10, 9, -4)])
def test_symmetrical_shapes(outline: Outline) -> None:
    """A circle's and a rectangle's centre is the middle of the box round it."""
    assert centroid(outline) == pytest.approx(outline.bounds.centre, abs=1e-9)
    assert centroid(outline.reversed) == pytest.approx(outline.bounds.centre, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(star_shaped())
def test_against_fine_polylines(outline: Outline) -> None:
    """The centre agrees with that of a fine polyline, found by another library."""
    found = shapely.Polygon(fine_polyline(outline, 1e-4)).centroid
    assert centroid(outline) == pytest.approx((found.x, found.y), abs=1e-3)


@settings(max_examples=40, deadline=None)
@given(star_shaped(), placements())
def test_it_moves_with_the_shape(outline: Outline, placement: Placement) -> None:
    """The centre of a shape that was moved is its centre, moved."""
    moved = centroid(placement.outline(outline))
    assert moved == pytest.approx(placement.point(centroid(outline)), abs=1e-6)

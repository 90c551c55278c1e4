"""Regions: outlines with holes."""

from __future__ import annotations

from math import pi

import pytest

from templategen.geometry.outline import circle, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.geometry.region import Region


def test_a_region_measures_without_its_holes() -> None:
    """Area is the outer's less the holes', however each was walked."""
    for outer in (rectangle(0, 0, 40, 20), rectangle(0, 0, 40, 20).reversed):
        for hole in (circle(10, 10, 4), circle(10, 10, 4).reversed):
            region = Region(outer, (hole,))
            assert region.area == pytest.approx(800 - 16 * pi)
            assert region.outer.area > 0 > region.holes[0].area
            assert region.bounds == (0, 0, 40, 20)


def test_a_region_contains_its_material_and_its_edges() -> None:
    """Points in a hole are out, points on the hole's edge and on the outer edge are in."""
    region = Region(rectangle(0, 0, 40, 20), (circle(10, 10, 4),))
    assert region.contains(Point(30, 10)) and region.contains(Point(0, 5))
    assert region.contains(Point(14, 10)) and region.contains(Point(6, 10))
    assert not region.contains(Point(10, 10)) and not region.contains(Point(13.9, 10))
    assert not region.contains(Point(50, 10))


def test_a_region_is_placed_with_its_holes() -> None:
    """Turned over and moved, the hole lies where its mirror image does."""
    placed = Placement(100, 0, 0, True).region(Region(rectangle(0, 0, 40, 20), (circle(10, 10, 4),)))
    assert placed.area == pytest.approx(800 - 16 * pi)
    assert placed.bounds == pytest.approx((60, 0, 100, 20))
    assert not placed.contains(Point(90, 10)) and placed.contains(Point(70, 10))

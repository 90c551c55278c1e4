"""Outlines measured against closed formulas and fine polylines."""

from __future__ import annotations

from math import pi, sin

import pytest
import shapely
from hypothesis import given, settings

from templategen.errors import GeometryError
from templategen.geometry.edge import Arc, Line, arc_round, edge_between
from templategen.geometry.outline import Outline, circle, outline_of, polygon, rectangle
from templategen.geometry.point import Point, Vertex
from tests.strategies import outlines, points, shape, starting_at, tellings

SAGITTA = 1e-3


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_outlines_measure_as_fine_polylines(outline: Outline) -> None:
    """Area, length and extents agree with a fine polyline's."""
    fine = shape(outline, SAGITTA)
    assert fine.is_valid
    assert outline.area == pytest.approx(fine.area, abs=SAGITTA * outline.length)
    assert outline.length == pytest.approx(fine.length, rel=1e-3)
    assert outline.length >= fine.length - 1e-9
    assert outline.bounds == pytest.approx(fine.bounds, abs=SAGITTA)


@settings(max_examples=40, deadline=None)
@given(outlines())
def test_measures_do_not_depend_on_the_telling(outline: Outline) -> None:
    """Area, length and extents stay from every vertex; the other direction changes the area's sign."""
    for ring in tellings(outline):
        assert abs(ring.area) == pytest.approx(outline.area, rel=1e-12)
        assert ring.length == pytest.approx(outline.length, rel=1e-12)
        assert ring.bounds == pytest.approx(outline.bounds, abs=1e-9)
    assert outline.reversed.area < 0 < outline.area


@settings(max_examples=60, deadline=None)
@given(outlines(), points())
def test_a_point_is_inside_where_a_fine_polyline_says_so(outline: Outline, point: Point) -> None:
    """Away from the ring, contains and distance agree with shapely, from every vertex and direction."""
    fine = shape(outline, SAGITTA)
    spot = shapely.Point(point)
    assert outline.distance(point) == pytest.approx(fine.exterior.distance(spot), abs=2 * SAGITTA)
    if outline.distance(point) > 2 * SAGITTA:
        for ring in tellings(outline):
            assert ring.contains(point) == fine.contains(spot)
            assert abs(ring.winding(point)) == fine.contains(spot)


@settings(max_examples=40, deadline=None)
@given(outlines())
def test_points_of_the_ring_are_contained(outline: Outline) -> None:
    """Every point on the ring counts as inside and lies at distance 0."""
    for edge in outline.edges:
        for share in (0.0, 0.3, 0.5, 1.0):
            assert outline.contains(edge.point_at(share))
            assert outline.distance(edge.point_at(share)) <= 1e-9


@settings(max_examples=40, deadline=None)
@given(outlines())
def test_reversing_twice_gives_the_outline_back(outline: Outline) -> None:
    """Reversing twice, or starting at the vertex after the last, changes nothing."""
    assert outline.reversed.reversed == outline
    assert starting_at(outline, len(outline)) == outline
    assert outline.reversed.anticlockwise == outline
    assert outline_of(outline.edges).area == pytest.approx(outline.area, rel=1e-12)


def test_the_middle_of_a_circle_is_inside_it() -> None:
    """A point on the chord between two half circles is inside, however the circle is walked."""
    ring = circle(0, 0, 5)
    for told in tellings(ring):
        for x in (-4.9, -1.0, 0.0, 2.0, 4.9):
            assert told.contains(Point(x, 0.0))
        assert not told.contains(Point(5.1, 0.0))


def test_a_circle_measures_as_its_formula() -> None:
    """A full circle has area pi r2, length 2 pi r, its own box, and knows that it is a circle."""
    ring = circle(3, -2, 7)
    assert ring.area == pytest.approx(pi * 49, rel=1e-14)
    assert ring.length == pytest.approx(14 * pi, rel=1e-14)
    assert ring.bounds == pytest.approx((-4, -9, 10, 5), abs=1e-12)
    assert ring.circle is not None
    assert ring.circle[0] == pytest.approx((3, -2)) and ring.circle[1] == pytest.approx(7)
    assert rectangle(0, 0, 1, 1).circle is None


def test_a_segment_of_a_circle_measures_as_its_formula() -> None:
    """Chord and arc enclose r2/2 (sweep - sin sweep), for every sweep up to half a circle."""
    for sweep in (0.01, 0.5, pi / 2, 3.0, pi):
        arc = arc_round(Point(100, 50), 40, 1.0, sweep)
        ring = outline_of([arc, Line(arc.end, arc.start)])
        assert ring.area == pytest.approx(800 * (sweep - sin(sweep)), rel=1e-9)
        edge = ring.edges[0]
        assert isinstance(edge, Arc)
        assert edge.radius == pytest.approx(40, rel=1e-9) and edge.sweep == pytest.approx(sweep)


def test_an_arc_of_no_height_is_a_line() -> None:
    """A bulge that leaves its chord by less than a nanometre gives a line."""
    assert isinstance(edge_between(Vertex(0, 0, 1e-12), Vertex(100, 0)), Line)
    assert isinstance(edge_between(Vertex(0, 0, 1e-9), Vertex(100, 0)), Arc)


def test_rings_without_area_are_refused() -> None:
    """One vertex, or two joined by lines, is an error."""
    for ring in ([(0, 0)], [(0, 0), (1, 1)], []):
        with pytest.raises(GeometryError, match="enclose nothing"):
            polygon(ring)


def test_rings_that_lie_nowhere_or_turn_too_far_are_refused() -> None:
    """NaN, infinity, and edges that turn by more than half a circle are errors."""
    for odd in (Vertex(float("nan"), 0), Vertex(0, float("inf")), Vertex(0, 0, float("nan")), Vertex(0, 0, 1.01)):
        with pytest.raises(GeometryError):
            Outline((odd, Vertex(10, 0), Vertex(10, 10)))

"""Fillets: tangent to both edges, of the radius asked, and as much cut away as the formula says."""

from __future__ import annotations

from math import pi, radians, tan

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from templategen.errors import GeometryError
from templategen.geometry.corner import corner_turn
from templategen.geometry.edge import Arc
from templategen.geometry.fillet import fillet
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, Vertex, polar
from tests.strategies import outlines, placements, shape, tellings, tenths


def turns(outline: Outline) -> list[float]:
    """The turn at each vertex."""
    return [corner_turn(outline.edges[i - 1], outline.edges[i]) for i in range(len(outline))]


@example(polygon([(-20, -5), (20, -5), (20, 10), (-20, 10)]), 2, 15.0)
@settings(max_examples=100, deadline=None)
@given(outlines(), st.integers(0, 10), tenths(1, 15))
def test_a_fillet_is_tangent_at_both_ends(outline: Outline, corner: int, radius: float) -> None:
    """Where it fits, the corner becomes an arc of the radius that runs smoothly on at both ends."""
    corner %= len(outline)
    try:
        rounded = fillet(outline, corner, radius)
    except GeometryError:
        return
    before = outline.edges
    # A side that the fillet takes up to its very end is gone, and what follows it has moved up.
    arcs = [i for i, edge in enumerate(rounded.edges) if isinstance(edge, Arc) and edge not in before]
    at = next(i for i in (corner, corner - 1) if i in arcs)
    arc = rounded.edges[at]
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(radius, rel=1e-6)
    turn = turns(outline)[corner]
    assert arc.sweep * turn > 0
    assert at != corner or abs(turns(rounded)[at]) < 1e-5
    # Less area where the corner turns left, more where it turns right; never by more than the corner's own.
    assert (rounded.area < outline.area) == (turn > 0)
    assert rounded.length < outline.length
    for told in tellings(outline):
        place = told.points.index(outline.points[corner])
        assert abs(fillet(told, place, radius).area) == pytest.approx(rounded.area, rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(outlines(), st.integers(0, 10), tenths(1, 10), placements())
def test_a_fillet_goes_along_with_its_outline(
    outline: Outline, corner: int, radius: float, placement: Placement
) -> None:
    """Rounding and placing may be done in either order."""
    corner %= len(outline)
    placed = placement.outline(outline)
    spot = placement.point(outline.points[corner])
    index = min(range(len(placed)), key=lambda i: placed.points[i].distance(spot))
    try:
        rounded = fillet(outline, corner, radius)
    except GeometryError:
        return
    expected = shape(placement.outline(rounded))
    assert shape(fillet(placed, index, radius)).symmetric_difference(expected).area < 1e-3 * outline.length


def test_a_fillet_between_lines_cuts_what_the_formula_says() -> None:
    """A turn of t is rounded from r tan(t/2) before the corner on and loses r2 (tan(t/2) - t/2)."""
    for degrees in (30, 60, 90, 120, 150):
        turn = radians(degrees)
        wedge = polygon([(-100, 0), (0, 0), polar(100, turn)])
        rounded = fillet(wedge, 1, 5)
        assert rounded.points[1].x == pytest.approx(-5 * tan(turn / 2))
        assert wedge.area - rounded.area == pytest.approx(25 * (tan(turn / 2) - turn / 2))


def test_a_fillet_between_line_and_arc_keeps_its_place() -> None:
    """Half a disc of radius 10: a fillet of 2 has its centre 2 above the chord and 8 from the middle."""
    half = Outline((Vertex(-10, 0), Vertex(10, 0, 1.0)))
    for corner, x in ((1, 60**0.5), (0, -(60**0.5))):
        arc = fillet(half, corner, 2).edges[corner]
        assert isinstance(arc, Arc)
        assert arc.centre == pytest.approx((x, 2), abs=1e-9)


def test_a_fillet_against_a_hollow_edge_lies_outside_its_circle() -> None:
    """Where a side meets an arc that bends inward the centre stands radius + fillet from the arc's centre."""
    bowl = Outline((Vertex(0, -10), Vertex(20, -10), Vertex(20, 10, -tan(pi / 8)), Vertex(0, 10)))
    for corner, x in ((2, 19), (3, 1)):
        arc = fillet(bowl, corner, 1).edges[corner]
        assert isinstance(arc, Arc)
        assert arc.centre.x == pytest.approx(x)
        assert arc.centre.distance(Point(10, 20)) == pytest.approx(10 * 2**0.5 + 1)


def test_a_fillet_between_two_arcs_keeps_its_place() -> None:
    """The tip of a lens of radii 10 and 8 is rounded by a circle 7 and 9 from their centres."""
    lens = Outline((Vertex(0, -6, tan(0.25)), Vertex(0, 6, tan(0.3))))
    first, second = lens.edges
    assert isinstance(first, Arc) and isinstance(second, Arc)
    arc = fillet(lens, 1, 1).edges[1]
    assert isinstance(arc, Arc)
    assert arc.centre.distance(first.centre) == pytest.approx(first.radius - 1)
    assert arc.centre.distance(second.centre) == pytest.approx(second.radius - 1)


def test_a_fillet_may_use_up_an_edge_but_no_more() -> None:
    """A square of 10 takes a fillet of 10 and refuses 10.001, saying what fits."""
    box = rectangle(0, 0, 10, 10)
    assert fillet(box, 0, 10).area == pytest.approx(100 - 100 * (1 - pi / 4))
    with pytest.raises(GeometryError, match=r"at most 10\.000 fits"):
        fillet(box, 0, 10.001)


@pytest.mark.parametrize(("before", "after"), [(10, 33), (29, 10)])
def test_what_fits_goes_by_the_shorter_edge_and_the_turn(before: float, after: float) -> None:
    """A corner of 60 degrees turns by 120, so an edge of 10 takes a radius of 10 / tan 60 degrees."""
    corner = polygon([polar(before, radians(60)), (0, 0), (after, 0)])
    with pytest.raises(GeometryError, match=r"at most 5\.774 fits"):
        fillet(corner, 1, 5.775)
    assert len(fillet(corner, 1, 5.7735)) == 4


def test_beside_an_arc_and_where_lines_turn_back_no_size_is_named() -> None:
    half = Outline((Vertex(-10, 0), Vertex(10, 0, 1.0)))
    spike = polygon([(0, 0), (20, 0), (5, 0), (5, 9)])
    for outline, corner in ((half, 0), (half, 1), (spike, 1)):
        with pytest.raises(GeometryError, match="try a smaller radius"):
            fillet(outline, corner, 8.0)


def test_no_fillet_without_a_corner() -> None:
    """Smooth joints and radii that are none are refused."""
    box = rectangle(0, 0, 9, 9)
    for outline, radius in ((circle(0, 0, 5), 1.0), (box, 0.0), (box, -1.0), (box, float("nan"))):
        with pytest.raises(GeometryError):
            fillet(outline, 0, radius)

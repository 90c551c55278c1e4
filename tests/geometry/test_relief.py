"""Relief of inside corners: the union with the bit's circle, for pockets and for parts."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from templategen.errors import GeometryError
from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, polar
from templategen.geometry.relief import relief, relieve
from tests.strategies import placements, shape, tellings, tenths

STEP = polygon([(0, 0), (50, 0), (50, 20), (30, 20), (30, 50), (0, 50)])


def wedge(angle: float, first: float = 60, second: float = 60) -> Outline:
    """A triangle with its corner of `angle` at the origin, the arriving edge `first` long."""
    return polygon([polar(first, angle), (0, 0), (second, 0)])


@settings(max_examples=60, deadline=None)
@given(st.integers(20, 160), tenths(1, 6), st.sampled_from(["corner", "edge"]), st.booleans())
def test_a_pocket_with_relief_is_its_union_with_the_circle(
    degrees: int, radius: float, kind: str, first_longer: bool
) -> None:
    """The relieved pocket is pocket and bit circle together, and reaches the corner itself."""
    angle = radians(degrees)
    pocket = wedge(angle, 70 if first_longer else 60, 60 if first_longer else 70)
    relieved = relief(pocket, 1, radius, kind)
    centre = polar(radius, angle / 2 if kind == "corner" else angle if first_longer else 0.0)
    # A blunt wedge is so flat that a large bit would come out of its third side too.
    assume(shapely.LineString([pocket.points[0], pocket.points[2]]).distance(shapely.Point(*centre)) >= radius)
    wanted = shape(pocket).union(shape(circle(*centre, radius)))
    assert shape(relieved).symmetric_difference(wanted).area < 4e-3 * relieved.length
    assert relieved.distance(Point(0, 0)) < 1e-9
    for edge in relieved.edges:
        if isinstance(edge, Arc):
            assert edge.centre == pytest.approx(centre, abs=1e-6)
            assert edge.radius == pytest.approx(radius, rel=1e-6)


@settings(max_examples=30, deadline=None)
@given(tenths(1, 6), st.sampled_from(["corner", "edge"]), placements())
def test_a_part_with_relief_loses_the_circle(radius: float, kind: str, placement: Placement) -> None:
    """At a corner that turns right the bit's circle is taken out of the part, told from any vertex."""
    wanted = shape(STEP)
    # The void lies right of x = 30 and above y = 20; the upright edge of 30 is the longer one.
    corner = Point(30, 20)
    off = Point(radius / sqrt(2), radius / sqrt(2)) if kind == "corner" else Point(0, radius)
    wanted = wanted.difference(shape(circle(*corner.plus(off), radius)))
    for told in tellings(STEP):
        relieved = relief(told, told.points.index(corner), radius, kind)
        assert shape(relieved).symmetric_difference(wanted).area < 4e-3 * relieved.length
    placed = placement.outline(STEP)
    index = min(range(len(placed)), key=lambda i: placed.points[i].distance(placement.point(corner)))
    assert relief(placed, index, radius, kind).area == pytest.approx(relieved.anticlockwise.area)


def test_relief_of_a_square_corner_stands_at_radius_by_root_two() -> None:
    """At 90 degrees the centre is radius / sqrt 2 from both edges and the arc is half a circle."""
    relieved = relief(rectangle(0, 0, 40, 20), 0, 3)
    arc = relieved.edges[0]
    assert isinstance(arc, Arc)
    assert arc.centre == pytest.approx((3 / sqrt(2), 3 / sqrt(2)))
    assert arc.sweep == pytest.approx(pi)
    assert relieved.area - 800 == pytest.approx(9 * pi / 2 - 9)


def test_relief_on_the_edge_bites_half_a_disc_from_the_longer_one() -> None:
    """At 90 degrees it takes pi r2 / 2 out of the longer edge and leaves the shorter one whole."""
    relieved = relief(rectangle(0, 0, 40, 20), 0, 3, "edge")
    assert relieved.area - 800 == pytest.approx(9 * pi / 2)
    assert relieved.bounds == pytest.approx((0, -3, 40, 20))


def test_every_inside_corner_is_relieved_and_no_other() -> None:
    """A pocket is relieved at four corners, a step at its one inside corner, whichever way walked."""
    for box in tellings(rectangle(0, 0, 40, 20)):
        assert abs(relieve(box, 3).area) == pytest.approx(800 + 4 * (9 * pi / 2 - 9))
        assert abs(relieve(box, 3, "edge").area) == pytest.approx(800 + 4 * 9 * pi / 2)
        assert relieve(box, 3, "edge").bounds == pytest.approx((0, -3, 40, 23))
        assert relieve(box, 3, void="outside") == box
    for step in tellings(STEP):
        assert abs(relieve(step, 3, void="outside").area) == pytest.approx(STEP.area - (9 * pi / 2 - 9))


def test_which_edge_is_longer_is_judged_before_any_relief() -> None:
    """All four bites go into the long sides, even when the first ones leave them shorter than the others."""
    assert relieve(rectangle(0, 0, 25, 20), 3, "edge").bounds == pytest.approx((0, -3, 25, 23))


def test_an_acute_corner_is_relieved_by_more_than_half_a_circle() -> None:
    """At 60 degrees the edges are left at r sqrt 3 and the arc turns by 240 degrees, told in two."""
    relieved = relief(wedge(pi / 3), 1, 2)
    arcs = [edge for edge in relieved.edges if isinstance(edge, Arc)]
    assert [arc.sweep for arc in arcs] == pytest.approx([2 * pi / 3] * 2)
    assert arcs[0].end == pytest.approx((0, 0), abs=1e-9)
    assert arcs[1].end == pytest.approx((2 * sqrt(3), 0), abs=1e-9)
    assert arcs[0].start == pytest.approx((2 * sqrt(3) * cos(pi / 3), 2 * sqrt(3) * sin(pi / 3)))


def test_relief_that_does_not_fit_is_refused() -> None:
    """Edges shorter than the relief, arcs at the corner, straight joints and unknown kinds are errors."""
    box = rectangle(0, 0, 40, 20)
    for outline, corner, radius, kind in (
        (box, 0, 15.0, "corner"),
        (box, 0, 21.0, "edge"),
        (circle(0, 0, 5), 0, 1.0, "corner"),
        (polygon([(0, 0), (5, 0), (10, 0), (10, 10)]), 1, 1.0, "corner"),
        (box, 0, 3.0, "bone"),
        (box, 0, 0.0, "corner"),
        (box, 0, float("nan"), "corner"),
    ):
        with pytest.raises(GeometryError):
            relief(outline, corner, radius, kind)
    with pytest.raises(GeometryError):
        relieve(box, 8)
    with pytest.raises(GeometryError):
        relieve(box, 3, void="above")

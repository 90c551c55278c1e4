"""Distance and overlap of outlines against shapely."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import assume, given, settings

from templategen.geometry.distance import outline_distance, overlap
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.placement import Placement
from tests.strategies import outlines, placements, shape, tellings, tenths

SAGITTA = 1e-3


@settings(max_examples=80, deadline=None)
@given(outlines(), outlines(), tenths(-150, 150), tenths(-150, 150))
def test_distance_and_overlap_agree_with_fine_polylines(one: Outline, other: Outline, x: float, y: float) -> None:
    """The rings' distance is shapely's; they overlap where shapely finds common area."""
    moved = Placement(x, y, 0.3).outline(other)
    a, b = shape(one, SAGITTA), shape(moved, SAGITTA)
    assert outline_distance(one, moved) == pytest.approx(a.exterior.distance(b.exterior), abs=2 * SAGITTA)
    shared = a.intersection(b).area
    assume(shared == 0 or shared > 1)
    assert overlap(one, moved) == (shared > 1)


@settings(max_examples=15, deadline=None)
@given(outlines(), outlines(), tenths(-120, 120), placements())
def test_distance_does_not_depend_on_the_telling(
    one: Outline, other: Outline, x: float, placement: Placement
) -> None:
    """Either first, from every vertex, either way, under any placement: one distance, one answer."""
    moved = Placement(x, 10).outline(other)
    apart, shared = outline_distance(one, moved), overlap(one, moved)
    assert outline_distance(moved, one) == pytest.approx(apart, abs=1e-9)
    for told in tellings(moved):
        assert outline_distance(one, told) == pytest.approx(apart, abs=1e-9)
        assert overlap(one, told) == shared == overlap(told, one)
    placed = placement.outline(one), placement.outline(moved)
    assert outline_distance(*placed) == pytest.approx(apart, abs=1e-8)


@settings(max_examples=30, deadline=None)
@given(outlines(), placements())
def test_an_outline_overlaps_itself_and_what_it_holds(outline: Outline, placement: Placement) -> None:
    """An outline shares area with itself, placed alike."""
    assert overlap(outline, outline)
    assert overlap(placement.outline(outline), placement.outline(outline.reversed), 1e-8)


def test_outlines_that_touch_do_not_overlap() -> None:
    """Common edges, common corners and tangent circles are no overlap, but distance 0."""
    box = rectangle(0, 0, 10, 10)
    for other in (
        rectangle(10, 0, 20, 10),
        rectangle(10, 3, 20, 5),
        rectangle(10, 10, 20, 20),
        circle(15, 5, 5),
        rectangle(-5, -5, 0, 30),
    ):
        assert not overlap(box, other)
        assert outline_distance(box, other) == 0.0
    assert not overlap(circle(0, 0, 5), circle(8, 6, 5))


def test_a_round_side_is_nearest_where_it_faces_a_straight_one() -> None:
    """Between the ends of both: the gap is that of the line's foot, whichever comes first."""
    plank = rectangle(0, 0, 40, 10)
    for peg, gap in ((circle(13, 18, 5), 3), (circle(33, -9, 2), 7), (circle(-11, 4, 3), 8), (circle(47, 7, 1), 6)):
        assert outline_distance(plank, peg) == pytest.approx(gap, abs=1e-12)
        assert outline_distance(peg, plank) == pytest.approx(gap, abs=1e-12)


def test_a_bite_deeper_than_allowed_is_an_overlap() -> None:
    """A bite of a thousandth is an overlap, unless a hundredth is allowed."""
    box = rectangle(0, 0, 10, 10)
    for other in (rectangle(9.999, 0, 20, 10), circle(14.999, 5, 5)):
        assert overlap(box, other)
        assert not overlap(box, other, within=0.01)


def test_what_lies_inside_overlaps_and_has_a_distance() -> None:
    """A circle inside a square shares its area with it and stands off its sides."""
    box, disc = rectangle(0, 0, 10, 10), circle(5, 5, 3)
    assert overlap(box, disc) and overlap(disc, box)
    assert outline_distance(box, disc) == pytest.approx(2)
    assert outline_distance(disc, circle(5, 5, 1)) == pytest.approx(2)
    assert outline_distance(circle(0, 0, 10), circle(1, 3, 2)) == pytest.approx(8 - sqrt(10))
    assert outline_distance(circle(1, -3, 2), circle(0, 0, 10)) == pytest.approx(8 - sqrt(10))
    assert outline_distance(circle(0, 0, 1), circle(10, 10, 1)) == pytest.approx(10 * sqrt(2) - 2)
    assert outline_distance(box, circle(13, 14, 2)) == pytest.approx(3)

"""Whether outlines overlap, against shapely."""

from __future__ import annotations

from hypothesis import assume, given, settings

from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.overlap import overlap
from templategen.geometry.placement import Placement
from tests.strategies import outlines, placements, shape, tellings, tenths

SAGITTA = 1e-3


@settings(max_examples=80, deadline=None)
@given(outlines(), outlines(), tenths(-150, 150), tenths(-150, 150))
def test_overlap_agrees_with_fine_polylines(one: Outline, other: Outline, x: float, y: float) -> None:
    """They overlap where shapely finds common area."""
    moved = Placement(x, y, 0.3).outline(other)
    a, b = shape(one, SAGITTA), shape(moved, SAGITTA)
    shared = a.intersection(b).area
    assume(shared == 0 or shared > 1)
    assert overlap(one, moved) == (shared > 1)


@settings(max_examples=15, deadline=None)
@given(outlines(), outlines(), tenths(-120, 120))
def test_overlap_does_not_depend_on_the_telling(one: Outline, other: Outline, x: float) -> None:
    """Either first, from every vertex, either way: one answer."""
    moved = Placement(x, 10).outline(other)
    shared = overlap(one, moved)
    for told in tellings(moved):
        assert overlap(one, told) == shared == overlap(told, one)


@settings(max_examples=30, deadline=None)
@given(outlines(), placements())
def test_an_outline_overlaps_itself_and_what_it_holds(outline: Outline, placement: Placement) -> None:
    """An outline shares area with itself, placed alike."""
    assert overlap(outline, outline)
    assert overlap(placement.outline(outline), placement.outline(outline.reversed), 1e-8)


def test_outlines_that_touch_do_not_overlap() -> None:
    """Common edges, common corners and tangent circles are no overlap."""
    box = rectangle(0, 0, 10, 10)
    for other in (
        rectangle(10, 0, 20, 10),
        rectangle(10, 3, 20, 5),
        rectangle(10, 10, 20, 20),
        circle(15, 5, 5),
        rectangle(-5, -5, 0, 30),
    ):
        assert not overlap(box, other)
    assert not overlap(circle(0, 0, 5), circle(8, 6, 5))


def test_a_bite_deeper_than_allowed_is_an_overlap() -> None:
    """A bite of a thousandth is an overlap, unless a hundredth is allowed."""
    box = rectangle(0, 0, 10, 10)
    for other in (rectangle(9.999, 0, 20, 10), circle(14.999, 5, 5)):
        assert overlap(box, other)
        assert not overlap(box, other, within=0.01)


def test_what_lies_inside_overlaps() -> None:
    """A circle inside a square shares its area with it."""
    box, disc = rectangle(0, 0, 10, 10), circle(5, 5, 3)
    assert overlap(box, disc) and overlap(disc, box)

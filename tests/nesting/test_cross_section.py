"""Cross-sections, against lines laid through shapes grown by another library."""

from __future__ import annotations

from math import pi
from random import Random

import pytest
from shapely import LineString, Polygon, affinity

from templategen.geometry.outline import circle, polygon, rectangle
from templategen.nesting.cross_section import cross_sections, inner_ring, polygon_ring
from templategen.nesting.engines.packing import FINE, _fine
from tests.nesting.cases import crescent, flat, random_outline


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("axis", [0, 1])
def test_no_section_is_longer_than_the_line_in_the_grown_shape(seed: int, axis: int) -> None:
    """Lines through a shape grown by shapely meet at least as much of it as is said, wherever they are laid."""
    dice = Random(seed)
    outline, turn, grown = random_outline(dice), dice.choice((0.0, pi / 2, 0.4)), dice.choice((0.0, 1.5, 4.0))
    shape = affinity.rotate(flat(outline, 400), turn, (0, 0), use_radians=True)
    shape = shape.buffer(grown, quad_segs=128) if grown else shape
    low = shape.bounds[axis] + grown
    found = cross_sections(outline, turn, axis, grown)
    assert found.steps
    for step in found.steps:
        for share in (0.01, 0.5, 0.99):
            at = low + step.start + (step.end - step.start) * share
            far = ((at, -1e4), (at, 1e4)) if axis == 0 else ((-1e4, at), (1e4, at))
            assert step.least <= shape.intersection(LineString(far)).length + 0.05


def test_a_rectangle_takes_its_width_and_a_kerf() -> None:
    """All along its length a rectangle takes width and kerf, half a kerf further on its width alone."""
    steps = cross_sections(rectangle(0, 0, 300, 40), 0.0, 0, 1.5).steps
    told = [(round(step.start, 6), round(step.end, 6), step.least) for step in steps]
    assert told == [(-1.5, 0, 40), (0, 300, 43), (300, 301.5, 40)]


def test_most_of_a_slanted_or_round_part_is_counted() -> None:
    """What the steps leave out of a trapezoid, a disc and a crescent is a few per cent."""
    for outline in (polygon(((0, 0), (400, 0), (360, 60), (40, 60))), circle(0, 0, 60), crescent(200, 260, pi / 4)):
        for axis in (0, 1):
            steps = cross_sections(outline, 0.0, axis, 0.0).steps
            area = sum((step.end - step.start) * step.least for step in steps)
            assert 0.93 * abs(outline.area) < area <= abs(outline.area)


def test_what_a_line_meets_in_two_pieces_is_told() -> None:
    """Lines across an L meet it in one piece; of lines along a comb or a crescent that isn't said."""
    ell = polygon(((0, 0), (300, 0), (300, 20), (150, 20), (150, 40), (0, 40)))
    comb = polygon(((0, 0), (300, 0), (300, 90), (200, 90), (200, 30), (100, 30), (100, 90), (0, 90)))
    assert all(cross_sections(ell, 0.0, axis, 2.0).whole for axis in (0, 1))
    assert cross_sections(comb, 0.0, 0, 2.0).whole
    assert not cross_sections(comb, 0.0, 1, 2.0).whole


def test_the_least_section_holds_for_both_ways_round() -> None:
    """Near the narrow end of a wedge the least section is small, since the wedge may lie the other way."""
    wedge = cross_sections(polygon(((0, 0), (300, 0), (300, 90), (0, 30))), 0.0, 0, 0.0)
    assert wedge.least(290, 295) == wedge.least(5, 10) <= 32
    assert wedge.least(-20, 5) == 0


def test_a_ring_for_other_libraries_holds_the_part_and_hardly_more() -> None:
    """Bulging and hollow arcs: the ring goes round once, holds every point of the outline and stands no further off
    than told; the inner one lies inside."""
    for outline in (circle(3, 5, 300), crescent(200, 260, pi / 4)):
        points = flat(outline, 4000)
        outer, inner = Polygon(polygon_ring(outline, True, _fine)), Polygon(inner_ring(outline))
        assert outer.is_valid and inner.is_valid
        assert points.difference(outer.buffer(1e-4)).is_empty and inner.difference(points.buffer(1e-4)).is_empty
        assert outer.hausdorff_distance(points) < 1.01 * FINE

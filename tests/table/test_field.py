"""The sides of a field: whose they are, where they lie, and which outlines lie along them."""

from __future__ import annotations

from math import cos, pi, sin

import pytest

from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.table.field import Border, Field
from tests.table.made import SHAPES, shaped


@pytest.mark.parametrize(("rails", "segments"), SHAPES)
def test_every_side_is_named_after_its_arm_or_segment(rails: int, segments: int) -> None:
    """Field j lies between arm j and the next, left of the one, right of the other, inside m + 1 segments that go on
    round the ring."""
    sizes = shaped(rails, segments).sizes
    arms, m = 2 * rails, segments // (2 * rails)
    for number in range(arms):
        first, last, *rim = Field(sizes, number).borders
        assert (first.kind, first.index, first.side) == ("arm", number, 1)
        assert (last.kind, last.index, last.side) == ("arm", (number + 1) % arms, -1)
        assert [(side.kind, side.index, side.side) for side in rim] == [
            ("rim", (number * m + i) % segments, 0) for i in range(m + 1)
        ]


@pytest.mark.parametrize(("rails", "segments"), SHAPES)
def test_sides_lie_where_the_definitions_put_them(rails: int, segments: int) -> None:
    """Arm edges lie half a rail from the axis, segments' inner edges at their apothem, facing outwards."""
    sizes = shaped(rails, segments).sizes
    arms, m, half, apothem = 2 * rails, segments // (2 * rails), sizes.half_rail, sizes.inner_apothem
    for number in range(arms):
        first, last, *rim = Field(sizes, number).borders
        for side, angle, turn in ((first, number, -pi / 2), (last, number + 1, pi / 2)):
            way = angle * 2 * pi / arms + turn
            assert tuple(side.outward) == pytest.approx((cos(way), sin(way)))
            assert side.distance == pytest.approx(-half)
        for i, side in enumerate(rim):
            way = 2 * pi * (number * m + i) / segments
            assert tuple(side.outward) == pytest.approx((cos(way), sin(way)))
            assert side.distance == pytest.approx(apothem)


SIDE = Border("rim", 0, 0, Point(0.0, 1.0), 10.0)
"""A side along y = 10."""


@pytest.mark.parametrize(
    ("corners", "touches"),
    [
        ([(0, 0), (20, 0), (20, 10), (0, 10)], True),
        ([(0, 10), (0, 0), (20, 0), (20, 10)], True),
        ([(20, 10), (0, 10), (0, 0), (20, 0)], True),
        ([(0, 0), (20, 0), (20, 9.9), (0, 9.9)], False),
        ([(0, 0), (20, 0), (20, 10), (0, 9.9)], False),
        ([(0, 0), (20, 0), (20, 9.9), (0, 10)], False),
        ([(0, 0), (20, 0), (10, 10)], False),
        ([(0, 0), (20, 0), (20, 8), (15, 10), (10, 8), (5, 10), (0, 8)], False),
        ([(0, 20), (0, 0), (20, 0), (20, 20)], False),
        ([(0, 0), (20, 0), (10, 10), (10 - 1e-7, 10)], False),
        ([(0, 0), (20, 0), (20, 10 + 5e-7), (0, 10 - 5e-7)], True),
    ],
)
def test_an_outline_lies_along_a_side_by_a_whole_edge(corners: list[tuple[float, float]], touches: bool) -> None:
    """An edge on the side counts, whichever corner is told first; a corner on it, or two apart, don't."""
    assert SIDE.touches(polygon(corners)) is touches

"""Offsets against shapely's buffers, closed formulas and the exact distance to the source."""

from __future__ import annotations

from math import pi, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import GeometryError
from templategen.geometry.corner import corner_turn
from templategen.geometry.edge import Arc
from templategen.geometry.offset import MITRE_LIMIT, offset
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, Vertex
from tests.strategies import outlines, placements, shape, shapes, starting_at, tellings, tenths

SAGITTA = 1e-3
distances = st.one_of(tenths(-25, 25).filter(bool), st.floats(-20, 20).filter(lambda by: abs(by) > 0.01))
BELL = polygon(
    [
        (0, 0),
        (10, 0),
        (10, 4),
        (20, 4),
        (20, 0),
        (30, 0),
        (30, 10),
        (20, 10),
        (20, 6),
        (10, 6),
        (10, 10),
        (0, 10),
    ]
)


def sharpest(outline: Outline) -> float:
    """The largest turn at any corner."""
    edges = outline.edges
    return max(abs(corner_turn(edges[i - 1], edges[i])) for i in range(len(edges)))


@settings(max_examples=50, deadline=None)
@given(outlines(), distances)
def test_rounded_offset_is_the_buffer(outline: Outline, by: float) -> None:
    """With rounded corners every point keeps exactly the distance, and the area is shapely's buffer."""
    moved = offset(outline, by, "rounded")
    solid = shape(outline, SAGITTA)
    near = solid.exterior.buffer(abs(by), quad_segs=100)
    wanted = solid.union(near) if by > 0 else solid.difference(near)
    length = wanted.length + outline.length
    assert shapes(moved, SAGITTA).symmetric_difference(wanted).area <= 6 * SAGITTA * length + 1e-3
    for ring in moved:
        for edge in ring.edges:
            for share in (0.0, 0.25, 0.5):
                assert outline.distance(edge.point_at(share)) == pytest.approx(abs(by), abs=1e-6)


@settings(max_examples=50, deadline=None)
@given(outlines(), distances)
def test_mitred_offset_is_the_mitred_buffer(outline: Outline, by: float) -> None:
    """With mitred corners no point comes nearer than the distance; the area is shapely's buffer."""
    moved = offset(outline, by)
    for ring in moved:
        for edge in ring.edges:
            for share in (0.0, 0.25, 0.5):
                assert outline.distance(edge.point_at(share)) >= abs(by) - 1e-6
    if sharpest(outline) < 2 * pi / 3:
        assert min(_mitred_error(outline, moved, by, sagitta) for sagitta in (1e-3, 3e-4, 2e-3)) <= 1


def _mitred_error(outline: Outline, moved: tuple[Outline, ...], by: float, sagitta: float) -> float:
    """How far our area differs from shapely's, in shares of what the polylines may cause.

    At some finenesses a negative buffer drops whole pieces, so several are tried.
    """
    wanted = shape(outline, sagitta).buffer(by, join_style="mitre", mitre_limit=10)
    allowed = 20 * sagitta * (wanted.length + outline.length) + 1e-3
    return float(shapes(moved, sagitta).symmetric_difference(wanted).area / allowed)


@settings(max_examples=10, deadline=None)
@given(outlines(), tenths(-15, 15).filter(bool), placements(), st.sampled_from(["mitred", "rounded"]))
def test_offset_does_not_depend_on_the_telling(
    outline: Outline, by: float, placement: Placement, corners: str
) -> None:
    """From every vertex, the other way with the sign turned, under any placement: the same areas."""
    wanted = sum(ring.area for ring in offset(outline, by, corners))
    for told in tellings(outline):
        turned = 1 if told.is_anticlockwise else -1
        area = sum(ring.area for ring in offset(told, turned * by, corners))
        assert turned * area == pytest.approx(wanted, rel=1e-8, abs=1e-4)
    moved = sum(ring.area for ring in offset(placement.outline(outline), by, corners))
    assert moved == pytest.approx(wanted, rel=1e-8, abs=1e-4)


@settings(max_examples=40, deadline=None)
@given(outlines(), tenths(1, 20))
def test_growing_follows_steiner(outline: Outline, by: float) -> None:
    """A convex outline that grows with round corners has area A + L d + pi d2 and length L + 2 pi d."""
    edges = outline.edges
    turns = [corner_turn(edges[i - 1], edges[i]) for i in range(len(edges))]
    if min(turns) < -1e-9 or any(edge.bulge < 0 for edge in edges):
        return
    (grown,) = offset(outline, by, "rounded")
    assert grown.area == pytest.approx(outline.area + outline.length * by + pi * by * by, rel=1e-9)
    assert grown.length == pytest.approx(outline.length + 2 * pi * by, rel=1e-9)


def test_a_rectangle_grows_and_shrinks_as_it_should() -> None:
    """Sides move by the distance; corners stay square or become quarter circles; then nothing is left."""
    box = rectangle(0, 0, 20, 10)
    assert offset(box, 1)[0].bounds == pytest.approx((-1, -1, 21, 11))
    assert len(offset(box, 1)[0]) == 4
    assert offset(box, 1, "rounded")[0].area == pytest.approx(200 + 60 + pi)
    assert offset(box, -4.9)[0].area == pytest.approx(10.2 * 0.2)
    for by in (-5, -5.1, -50):
        assert offset(box, by) == () == offset(box, by, "rounded")


def test_a_circle_stays_a_circle_until_it_vanishes() -> None:
    """The radius changes by the distance; shrunk by its radius and more, nothing is left."""
    for by in (1, -1, -4.999):
        ((ring),) = offset(circle(3, 4, 5), by)
        assert ring.circle is not None
        assert ring.circle[0] == pytest.approx((3, 4))
        assert ring.circle[1] == pytest.approx(5 + by)
    for by in (-5, -6, -9.9, -10, -20):
        assert offset(circle(3, 4, 5), by) == ()


def test_rounded_corners_vanish_when_shrunk_past_their_radius() -> None:
    """A rectangle with corners of radius 3 shrinks to square corners from 3 on."""
    q = sqrt(2) - 1
    ring = Outline(
        tuple(
            Vertex(x, y, b)
            for x, y, b in (
                (3, 0, 0), (17, 0, q), (20, 3, 0), (20, 7, q), (17, 10, 0), (3, 10, q), (0, 7, 0), (0, 3, q)
            )
        )
    )  # fmt: skip
    (two,) = offset(ring, -2)
    assert two.area == pytest.approx(16 * 6 - (4 - pi))
    for by in (3, 3.5, 4):
        (square,) = offset(ring, -by)
        assert square.area == pytest.approx((20 - 2 * by) * (10 - 2 * by))
        assert not any(isinstance(edge, Arc) for edge in square.edges)
        assert len(square) == 4


def test_a_waist_parts_the_outline() -> None:
    """Shrunk by half the waist and more, the bell leaves its two ends; by less, one piece."""
    assert [ring.area for ring in offset(BELL, -0.5)] == pytest.approx([9 * 9 * 2 + 11 * 1])
    for by in (1, 1.5, 2):
        assert [ring.area for ring in offset(BELL, -by)] == pytest.approx([(10 - 2 * by) ** 2] * 2)


def test_a_mouth_that_closes_leaves_its_space_as_a_clockwise_outline() -> None:
    """A ring with a slit of 2 closes when it grows by more than 1, and the space inside stays open."""
    ring = polygon(
        [
            (0, 0),
            (30, 0),
            (30, 30),
            (16, 30),
            (16, 20),
            (20, 20),
            (20, 10),
            (10, 10),
            (10, 20),
            (14, 20),
            (14, 30),
            (0, 30),
        ]
    )
    grown = sorted(offset(ring, 2), key=lambda one: one.area)
    assert [one.area for one in grown] == pytest.approx([-36, 34 * 34])


def test_mitres_that_reach_across_one_another_are_one() -> None:
    """The tips of two teeth that face each other cross when mitred; only the outside of both is kept."""
    jaw = polygon([(0, 0), (40, 0), (40, 11), (38, 18), (36, 11), (10, 11), (10, 31), (36, 31), (38, 22), (40, 31)])
    jaw = polygon([*jaw.points, (40, 42), (0, 42)])
    (grown,) = (ring for ring in offset(jaw, 1) if ring.is_anticlockwise)
    wanted = shape(jaw).buffer(1, join_style="mitre", mitre_limit=10)
    assert shapes(offset(jaw, 1)).symmetric_difference(wanted).area < 1e-9
    assert grown.area > jaw.area


def test_pieces_that_meet_in_one_point_are_two_outlines() -> None:
    """An hourglass shrunk until its waist is one point gives two rings, neither of which touches itself."""
    glass = polygon([(-10, -10), (0, -1), (10, -10), (10, 10), (0, 1), (-10, 10)])
    for start in range(6):
        rings = offset(starting_at(glass, start), -1 / sqrt(1.81))
        assert len(rings) == 2
        assert rings[0].area == pytest.approx(rings[1].area)
        assert all(shape(ring).is_valid for ring in rings)


def test_mitres_reach_to_the_limit_and_no_further() -> None:
    """A right angle is sharp; a spike is cut square at MITRE_LIMIT times the distance."""
    spike = polygon([(0, 0), (100, -5), (100, 5)])
    (grown,) = offset(spike, 1)
    assert grown.bounds.left == pytest.approx(-MITRE_LIMIT)
    assert len(grown) == 4
    wedge = polygon([(0, 0), (100, -100 * tan(pi / 6)), (100, 100 * tan(pi / 6))])
    assert offset(wedge, 1)[0].bounds.left == pytest.approx(-2)


def test_a_corner_between_line_and_arc_is_mitred_along_its_tangents() -> None:
    """Half a disc grown by 1 gets square corners 1 beyond its chord's ends."""
    half = Outline((Vertex(-10, 0), Vertex(10, 0, 1.0)))
    (grown,) = offset(half, 1)
    assert grown.bounds == pytest.approx((-11, -1, 11, 11))
    assert grown.area == pytest.approx(pi * 121 / 2 + 22)


def test_corners_that_hardly_turn_leave_no_trace() -> None:
    """An outline with a corner of any slight turn, in or out, offsets with no edge lost or doubled."""
    for turn in (1e-9, 1e-7, 1e-6, 7.8e-5, 1e-3, 0.02, 0.09, 0.11):
        for lift in (turn, -turn):
            ring = polygon([(-50, 0), (0, 50 * -lift), (50, 0), (50, 40), (-50, 40)])
            for by in (-12.0, -0.3, 0.3, 12.0):
                wanted = shape(ring).buffer(by, join_style="mitre", mitre_limit=10)
                (moved,) = offset(ring, by)
                assert moved.area == pytest.approx(wanted.area, rel=1e-6)
                assert len(moved) <= len(ring)


def test_a_crescent_grows_and_shrinks() -> None:
    """Tips at which the edges turn right back are rounded about the tip, and are lost when it shrinks."""
    moon = Outline((Vertex(0, -10, 1.0), Vertex(0, 10, -tan(pi / 8))))
    (grown,) = offset(moon, 1, "rounded")
    assert grown.area > moon.area + moon.length
    (shrunk,) = offset(moon, -1)
    assert shrunk.area < moon.area - 0.8 * moon.length


def test_what_is_no_distance_is_refused() -> None:
    """NaN, infinity and unknown corners are errors; no distance gives the outline back."""
    box = rectangle(0, 0, 1, 1)
    for by, corners in ((float("nan"), "mitred"), (float("inf"), "mitred"), (1.0, "pointed")):
        with pytest.raises(GeometryError):
            offset(box, by, corners)
    assert offset(box, 0.0) == (box,)
    assert offset(box, 1)[0].contains(Point(-1, -1))

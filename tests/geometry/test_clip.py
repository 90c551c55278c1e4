"""Clipping by half-planes and discs against shapely and closed formulas."""

from __future__ import annotations

from math import acos, cos, pi, radians, sin, sqrt, tan

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import GeometryError
from templategen.geometry.clip import clip_disc, clip_half_plane, convex_clip, half_plane
from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline, circle, polygon, rectangle
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, Vertex, polar
from templategen.geometry.tolerance import SHORTEST_EDGE
from tests.strategies import (
    QUARTER_BULGE,
    convex,
    outlines,
    placements,
    points,
    shape,
    shapes,
    tellings,
    tenths,
)

SAGITTA = 1e-3
COMB = polygon(
    [(0, 0), (10, 0), (10, 10), (8, 10), (8, 2), (6, 2), (6, 10), (4, 10), (4, 2), (2, 2), (2, 10), (0, 10)]
)
directions = st.one_of(
    st.sampled_from([0.0, pi / 2, pi, -pi / 2]),
    st.floats(-3, 3),
    st.integers(0, 11).map(lambda n: n * pi / 6),
).map(lambda angle: polar(1.0, angle))


def half_plane_shape(point: Point, inward: Point) -> shapely.Polygon:
    """A square of 2 m on the kept side."""
    along, unit = inward.unit.left, inward.unit
    ends = [point.plus(along, 1000), point.plus(along, -1000)]
    return shapely.Polygon([*ends, ends[1].plus(unit, 2000), ends[0].plus(unit, 2000)])


def assert_clean(rings: tuple[Outline, ...]) -> None:
    """No edge is too short to keep, and no ring is a sliver."""
    for ring in rings:
        assert min(edge.length for edge in ring.edges) > SHORTEST_EDGE
        assert abs(ring.area) > 0
        assert all(edge.bulge <= 1 + 1e-9 for edge in ring.edges)


@settings(max_examples=150, deadline=None)
@given(outlines(), points(60), directions)
def test_half_plane_clip_is_the_intersection(outline: Outline, point: Point, inward: Point) -> None:
    """What is kept is what shapely keeps, and nothing degenerate comes with it."""
    kept = clip_half_plane(outline, point, inward)
    assert_clean(kept)
    assert all(ring.is_anticlockwise for ring in kept)
    wanted = shape(outline, SAGITTA).intersection(half_plane_shape(point, inward))
    assert shapes(kept, SAGITTA).symmetric_difference(wanted).area <= 3 * SAGITTA * outline.length + 1e-6


@settings(max_examples=100, deadline=None)
@given(outlines(), st.integers(0, 20), st.integers(0, 20), st.booleans())
def test_cuts_through_vertices_lose_nothing(outline: Outline, i: int, j: int, flip: bool) -> None:
    """A cut through two vertices, or along an edge, parts the area into two that add up."""
    one, other = outline.points[i % len(outline)], outline.points[j % len(outline)]
    inward = other.minus(one).left if one != other else Point(1.0, 0.0)
    inward = inward.times(-1) if flip else inward
    kept, lost = clip_half_plane(outline, one, inward), clip_half_plane(outline, one, inward.times(-1))
    assert_clean(kept + lost)
    total = sum(ring.area for ring in kept + lost)
    assert total == pytest.approx(outline.area, rel=1e-9)
    for ring in kept:
        assert min(p.minus(one).dot(inward.unit) for p in ring.points) >= -1e-9


@settings(max_examples=25, deadline=None)
@given(outlines(), points(40), directions, placements())
def test_clip_does_not_depend_on_the_telling(
    outline: Outline, point: Point, inward: Point, placement: Placement
) -> None:
    """From every vertex, in both directions and under any placement the same pieces come out."""
    wanted = sorted(ring.area for ring in clip_half_plane(outline, point, inward))
    for told in tellings(outline):
        kept = clip_half_plane(told, point, inward)
        assert sorted(abs(ring.area) for ring in kept) == pytest.approx(wanted, rel=1e-9, abs=1e-6)
        assert all(ring.is_anticlockwise == told.is_anticlockwise for ring in kept)
    moved = clip_half_plane(placement.outline(outline), placement.point(point), placement.direction(inward))
    assert sum(ring.area for ring in moved) == pytest.approx(sum(wanted), rel=1e-9, abs=1e-4)


@settings(max_examples=100, deadline=None)
@given(outlines(), points(60), tenths(1, 70))
def test_disc_clip_is_the_intersection(outline: Outline, centre: Point, radius: float) -> None:
    """What is kept inside a circle, and outside it, is what shapely keeps."""
    disc = shape(circle(*centre, radius), SAGITTA)
    kept = clip_disc(outline, centre, radius)
    assert_clean(kept)
    tolerance = 4 * SAGITTA * (outline.length + 2 * pi * radius)
    wanted = shape(outline, SAGITTA).intersection(disc)
    assert shapes(kept, SAGITTA).symmetric_difference(wanted).area <= tolerance
    try:
        outside = clip_disc(outline, centre, radius, keep="outside")
    except GeometryError:
        assert shape(outline, SAGITTA).buffer(2 * SAGITTA).contains(disc)
        return
    assert_clean(outside)
    assert sum(ring.area for ring in kept + outside) == pytest.approx(outline.area, rel=1e-9, abs=1e-5)
    wanted = shape(outline, SAGITTA).difference(disc)
    assert shapes(outside, SAGITTA).symmetric_difference(wanted).area <= tolerance


@settings(max_examples=25, deadline=None)
@given(outlines(), points(40), tenths(5, 60), placements())
def test_disc_clip_does_not_depend_on_the_telling(
    outline: Outline, centre: Point, radius: float, placement: Placement
) -> None:
    """From every vertex, in both directions and under any placement the same area is kept."""
    wanted = sorted(ring.area for ring in clip_disc(outline, centre, radius))
    for told in tellings(outline):
        kept = sorted(abs(ring.area) for ring in clip_disc(told, centre, radius))
        assert kept == pytest.approx(wanted, rel=1e-9, abs=1e-6)
    moved = clip_disc(placement.outline(outline), placement.point(centre), radius)
    assert sum(ring.area for ring in moved) == pytest.approx(sum(wanted), rel=1e-9, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(convex(), st.lists(st.tuples(points(40), directions), min_size=1, max_size=4))
def test_convex_clip_agrees_with_one_cut_after_another(outline: Outline, cuts: list[tuple[Point, Point]]) -> None:
    """Several half-planes at once keep what the same cuts keep one by one."""
    ring = convex_clip(outline.points, [half_plane(*cut) for cut in cuts])
    left: tuple[Outline, ...] = (outline,)
    for cut in cuts:
        left = tuple(piece for one in left for piece in clip_half_plane(one, *cut))
    area = polygon(ring).area if ring else 0.0
    assert area == pytest.approx(sum(one.area for one in left), rel=1e-9, abs=1e-4)


def test_a_circle_cut_by_a_line_is_the_segment_of_the_formula() -> None:
    """A line at height h leaves r2 acos(h/r) - h sqrt(r2 - h2) of a full circle, with its arc exact."""
    for h in (-9.9, -3.0, 0.0, 3.0, 9.9):
        (cap,) = clip_half_plane(circle(0, 0, 10), Point(0, h), Point(0, 1))
        assert cap.area == pytest.approx(100 * acos(h / 10) - h * sqrt(100 - h * h), rel=1e-12)
        for edge in cap.edges:
            if isinstance(edge, Arc):
                assert edge.centre == pytest.approx((0, 0), abs=1e-9)
                assert edge.radius == pytest.approx(10, rel=1e-12)


def test_lines_that_miss_or_only_touch_change_nothing() -> None:
    """An outline wholly on the kept side comes back as it is; wholly on the other, nothing does."""
    ring = circle(0, 0, 10)
    for h in (10.0, 10.0 - 1e-10, 12.0):
        assert clip_half_plane(ring, Point(0, h), Point(0, -1)) == (ring,)
        assert clip_half_plane(ring, Point(0, h), Point(0, 1)) == ()
    box = rectangle(0, 0, 10, 10)
    assert clip_half_plane(box, Point(0, 10), Point(0, -5)) == (box,)
    assert clip_half_plane(box, Point(0, 10), Point(0, 5)) == ()
    assert clip_half_plane(box, Point(0, 0), Point(1, 1)) == (box,)
    assert clip_half_plane(box, Point(0, 0), Point(-1, -1)) == ()


def test_a_comb_parts_into_its_teeth() -> None:
    """A cut above the back leaves three teeth, one along the back's edge too, one below leaves one piece."""
    for height, areas in ((5, [10, 10, 10]), (2, [16, 16, 16]), (1, [58]), (10, []), (0, [68])):
        kept = clip_half_plane(COMB, Point(0, height), Point(0, 1))
        assert [ring.area for ring in kept] == pytest.approx(areas)
    assert [ring.area for ring in clip_half_plane(COMB, Point(0, 2), Point(0, -1))] == pytest.approx([20])


def test_a_vertex_near_the_line_becomes_the_cut() -> None:
    """A line that passes a vertex by less than COINCIDENT cuts at the vertex, with no sliver beside it."""
    box = rectangle(0, 0, 10, 10)
    for slip in (0.0, 4e-10, -4e-10):
        (half,) = clip_half_plane(box, Point(slip, 0), Point(1, -1))
        assert set(half.points) == {Point(0, 0), Point(10, 0), Point(10, 10)}


def test_a_line_tangent_to_a_rounded_corner_takes_nothing() -> None:
    """The tangent at the middle of a rounded corner leaves the outline, 0.01 further in takes a segment."""
    ring = Outline((Vertex(0, 0), Vertex(20, 0), Vertex(20, 5, QUARTER_BULGE), Vertex(15, 10), Vertex(0, 10)))
    touch = Point(15 + 5 * cos(pi / 4), 5 + 5 * sin(pi / 4))
    assert clip_half_plane(ring, touch, Point(-1, -1)) == (ring,)
    (cut,) = clip_half_plane(ring, touch.plus(Point(-1, -1).unit, 0.01), Point(-1, -1))
    half = acos(4.99 / 5)
    assert ring.area - cut.area == pytest.approx(12.5 * (2 * half - sin(2 * half)), rel=1e-6)


def test_a_disc_inside_an_outline_is_a_circle_or_a_hole() -> None:
    """Kept inside, a disc within the outline is the whole circle; taken out it would be a hole: refused."""
    box = rectangle(-20, -20, 20, 20)
    (disc,) = clip_disc(box, Point(0, 0), 5)
    assert disc.circle == (Point(0, 0), 5)
    with pytest.raises(GeometryError, match="hole"):
        clip_disc(box, Point(0, 0), 5, keep="outside")
    assert clip_disc(box, Point(0, 0), 29) == (box,)
    assert clip_disc(box, Point(0, 0), 29, keep="outside") == ()
    assert clip_disc(box, Point(100, 0), 29) == ()
    assert clip_disc(box, Point(100, 0), 29, keep="outside") == (box,)
    assert clip_disc(circle(0, 0, 5), Point(0, 0), 5) != ()
    assert clip_disc(circle(0, 0, 5), Point(0, 0), 5, keep="outside") == ()


def test_a_mitred_blank_sawn_round_is_the_finished_segment() -> None:
    """Twelve segments, radius 670: the blank clipped by the circle has area R2 pi/N - a2 tan(pi/N)."""
    inner, outer, half = 549.0, 675.0, pi / 12
    foot, head = inner * tan(half), outer * tan(half)
    blank = polygon([(-foot, inner), (foot, inner), (head, outer), (-head, outer)])
    (segment,) = clip_disc(blank, Point(0, 0), 670.0)
    assert segment.area == pytest.approx(36761.590635, abs=1e-6)
    assert len(segment) == 4
    assert sum(isinstance(edge, Arc) for edge in segment.edges) == 1


def test_a_slat_field_measures_as_worked_by_hand() -> None:
    """The last across slat of twelve segments and three rails is 476.254 long, as the worked table says."""
    field = (Point(-2000.0, -2000.0), Point(2000.0, -2000.0), Point(2000.0, 2000.0), Point(-2000.0, 2000.0))
    arms = []
    for side in (-1, 1):
        normal = polar(1.0, side * radians(30) - side * pi / 2)
        arms.append(half_plane(normal.times(42), normal))
    rims = [half_plane(polar(549, radians(30 * i)), polar(-1, radians(30 * i))) for i in range(12)]
    ring = convex_clip(field, [*arms, *rims])
    low, high = min(p.x for p in ring), max(p.x for p in ring)
    gap = (high - low - 7 * 58) / 8
    assert gap == pytest.approx(7.375, abs=1e-6)
    start = low + 7 * gap + 6 * 58
    band = [half_plane(Point(start, 0), Point(1, 0)), half_plane(Point(start + 58, 0), Point(-1, 0))]
    slat = convex_clip(ring, band)
    assert max(p.y for p in slat) - min(p.y for p in slat) == pytest.approx(476.254, abs=5e-4)


def test_what_says_no_side_is_refused() -> None:
    """A direction of no length, an unknown side and a radius of 0 are errors."""
    box = rectangle(0, 0, 1, 1)
    with pytest.raises(GeometryError):
        clip_half_plane(box, Point(0, 0), Point(0, 0))
    with pytest.raises(GeometryError):
        clip_half_plane(box, Point(0, 0), Point(float("nan"), 0))
    with pytest.raises(GeometryError):
        clip_disc(box, Point(0, 0), 0)
    with pytest.raises(GeometryError):
        clip_disc(box, Point(0, 0), 1, keep="both")

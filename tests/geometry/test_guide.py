"""The guide, rounded rectangles, merged lines and relief holes against shapely and closed formulas."""

from __future__ import annotations

from math import pi, sqrt
from random import Random

import pytest
import shapely
from shapely.geometry import LineString, box

from templategen.errors import GeometryError
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.guide import Guide
from templategen.geometry.merge import merged
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.geometry.relief_holes import relief_holes
from templategen.geometry.rounded import rounded_rectangle
from tests.drawing.flat import flat


def test_a_rounded_rectangle_has_the_area_its_corners_leave() -> None:
    """Sides times sides less (4 - pi) r2, with half a side as the largest radius."""
    rng = Random(1)
    for _ in range(50):
        width, height = rng.uniform(1, 80), rng.uniform(1, 80)
        radius = rng.uniform(0, min(width, height) / 2)
        made = rounded_rectangle(Bounds(3, 4, 3 + width, 4 + height), radius)
        assert made.area == pytest.approx(width * height - (4 - pi) * radius**2)
    stadium = rounded_rectangle(Bounds(0, 0, 30, 10), 5)
    assert stadium.area == pytest.approx(200 + 25 * pi)
    assert rounded_rectangle(Bounds(0, 0, 10, 10), 5).circle is not None
    with pytest.raises(GeometryError):
        rounded_rectangle(Bounds(0, 0, 30, 10), 5.01)


def test_a_window_lets_the_bit_everywhere_in_the_cut_and_nowhere_else() -> None:
    """The bush's centres in the window are the bit's centres in the cut."""
    rng = Random(2)
    for _ in range(30):
        bit = rng.uniform(3, 12)
        bush = bit + rng.uniform(3, 12)
        cut = Bounds(0, 0, bit + rng.uniform(0, 60), bit + rng.uniform(0.5, 60))
        window = flat(Guide(bit, bush).window(cut))
        led = window.buffer(-bush / 2 + 1e-4, quad_segs=90)
        free = box(*cut).buffer(-bit / 2 + 1e-4)
        assert led.hausdorff_distance(free) < 0.01
        assert window.bounds == pytest.approx(tuple(cut.grown((bush - bit) / 2)))


def test_a_guide_refuses_what_it_cannot_lead_or_reach() -> None:
    """A bush too thin for the bit, and a cut narrower than it, are refused with sizes that do."""
    for guide, width in ((Guide(8, 9), 20.0), (Guide(8, 17), 7.0)):
        with pytest.raises(GeometryError) as refusal:
            guide.window(Bounds(0, 0, 50, width))
        assert refusal.value.faults[0].remedy
    assert Guide(8, 8).offset == 0 and Guide(8, 8).fits


def test_merged_lines_cover_what_was_given_and_nothing_twice() -> None:
    """Union and total length agree with shapely's union of the same random overlapping lines."""
    rng = Random(3)
    for _ in range(20):
        given = []
        for _ in range(12):
            turn, off = rng.choice((0.0, 0.7, pi / 2, 2.9)), rng.choice((0.0, 5.0, 9.0))
            along = Point(1, 0).turned(turn)
            foot = along.left.times(off)
            first, last = sorted((rng.uniform(-50, 50), rng.uniform(-50, 50)))
            ends = foot.plus(along, first), foot.plus(along, last)
            given.append(Line(*(ends if rng.random() < 0.5 else ends[::-1])))
        whole = shapely.union_all([LineString([line.start, line.end]).buffer(1e-4) for line in given])
        kept = merged(given)
        made = [LineString([line.start, line.end]) for line in kept]
        assert all(whole.covers(line) for line in made)
        again = shapely.union_all([line.buffer(2e-4) for line in made])
        assert again.covers(shapely.union_all([LineString([line.start, line.end]) for line in given]).buffer(1e-5))
        for i, one in enumerate(made):
            assert all(one.intersection(other.buffer(1e-6)).length < 0.01 for other in made[:i])


@pytest.mark.parametrize("kind", ["corner", "edge"])
def test_relief_holes_let_a_square_mate_into_a_routed_pocket(kind: str) -> None:
    """What the bit leaves in the corners of a rectangle is bored away by the holes, all of it."""
    rng = Random(4)
    for _ in range(20):
        radius = rng.uniform(1.5, 6)
        pocket = rectangle(0, 0, 4 * radius + rng.uniform(0, 40), 4 * radius + rng.uniform(0, 40))
        wanted = flat(pocket)
        routed = wanted.buffer(-radius).buffer(radius, quad_segs=180)
        holes = relief_holes(pocket, radius, kind)
        assert len(holes) == 4
        bored = shapely.union_all([flat(hole.outline) for hole in holes])
        left = wanted.difference(routed.union(bored))
        assert left.area < 1e-4 * radius**2
        for hole in holes:
            assert hole.corner.distance(hole.end) == pytest.approx(radius)
            assert hole.outline.distance(hole.corner) < 1e-6


def test_relief_holes_stand_only_at_inside_corners_and_in_the_void() -> None:
    """An L as a pocket has five holes within it; as a part sawn out it has one, outside it."""
    ell = polygon(((0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)))
    inside, outside = relief_holes(ell, 4), relief_holes(ell, 4, void="outside")
    assert len(inside) == 5 and all(ell.contains(hole.end) for hole in inside)
    (hole,) = outside
    assert hole.corner == Point(20, 20)
    assert hole.end == pytest.approx((20 + 4 / sqrt(2), 20 + 4 / sqrt(2)))
    assert relief_holes(ell.reversed, 4, void="outside")[0].end == pytest.approx(hole.end)
    for wrong in ({"radius": 0}, {"radius": 4, "kind": "bone"}, {"radius": 4, "void": "left"}):
        with pytest.raises(GeometryError):
            relief_holes(ell, **wrong)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_relief_holes_of_slanting_corners_lie_on_the_bisector_or_along_the_shorter_edge(hand: str) -> None:
    """All sides and angles unlike, one side in two pieces; along the longer edge till the bit touches the other."""
    ring = polygon(((0, 0), (31, 0), (64, 0), (77, 26), (8, 43)))
    pocket = ring if hand == "left" else ring.reversed
    holes = relief_holes(pocket, 3, "edge"), relief_holes(pocket, 3)
    assert [len(one) for one in holes] == [4, 4]
    assert relief_holes(pocket, 3, "edge", "outside") == ()
    corners = pocket.points
    for slot, bore in zip(*holes, strict=True):
        at = corners.index(slot.corner)
        sides = Line(corners[at - 1], corners[at]), Line(corners[at], corners[(at + 1) % len(corners)])
        shorter, longer = sorted(sides, key=lambda side: side.length)
        far = lambda side, point: abs(side.direction_at(0).cross(point.minus(side.start)))  # noqa: E731
        assert far(longer, slot.end) == pytest.approx(0, abs=1e-9) and far(shorter, slot.end) == pytest.approx(3)
        assert far(shorter, slot.start) == pytest.approx(3) and pocket.contains(slot.start)
        assert slot.start.distance(slot.end) == pytest.approx(slot.corner.distance(slot.end))
        assert bore.start == bore.end and bore.corner.distance(bore.end) == pytest.approx(3)
        assert far(longer, bore.end) == pytest.approx(far(shorter, bore.end)) and pocket.contains(bore.end)


def test_of_equal_edges_the_bit_runs_along_the_one_after_the_corner() -> None:
    hole = relief_holes(rectangle(0, 0, 20, 20), 4, "edge")[0]
    assert (hole.corner, hole.start, hole.end) == ((0, 0), (4, 4), (0, 4))

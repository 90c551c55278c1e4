"""What the primitives answer of lengths of nothing: a value, or a refusal in words; never a division by nought."""

from __future__ import annotations

from itertools import product

import pytest

from templategen.errors import GeometryError
from templategen.geometry.centroid import centroid
from templategen.geometry.clip import clip_disc, clip_half_plane, half_plane
from templategen.geometry.edge import Arc, Line
from templategen.geometry.intersect import NoCrossing, Touching, intersect
from templategen.geometry.offset import offset
from templategen.geometry.outline import Outline, distance_to, rectangle
from templategen.geometry.overlap import overlap
from templategen.geometry.point import Point, Vertex
from templategen.geometry.relief_holes import relief_holes

SPOT = Point(7, 3)
NOTHING = (Line(SPOT, SPOT), Arc(SPOT, SPOT, Point(4, 3), 3.0, 0.0), Arc(SPOT, SPOT, SPOT, 0.0, 1.0))

CORNERS = ((0, 0, 0), (100, 0, 0.3), (90, 60, 0), (40, 60, 0), (40, 30, 0), (0, 25, 0))
WHOLE = Outline(tuple(Vertex(*corner) for corner in CORNERS))

FLAT = (
    Outline((Vertex(5, 5, 1), Vertex(5, 5, 1))),
    Outline((Vertex(0, 0), Vertex(50, 0), Vertex(0, 0))),
    Outline((Vertex(0, 0), Vertex(0, 0), Vertex(0, 0))),
)


def doubled(index: int, bulge: float, apart: float) -> Outline:
    """The whole outline with one corner told twice, a hair apart or not."""
    ring = list(CORNERS)
    x, y, _ = ring[index]
    ring.insert(index, (x + apart, y, bulge))
    return Outline(tuple(Vertex(*corner) for corner in ring))


DOUBLED = [doubled(*case) for case in product(range(6), (0, 0.5, -1), (0.0, 1e-8))]


@pytest.mark.parametrize("edge", NOTHING)
def test_an_edge_without_length_is_a_point(edge: Line | Arc) -> None:
    """It lies where it lies, at share 0 of itself, and meets what runs through it once."""
    assert edge.length == 0
    assert edge.share_of(SPOT) == 0
    assert distance_to(edge, Point(7, 10)) == pytest.approx(7)
    through, past = Line(Point(0, 3), Point(20, 3)), Line(Point(0, 5), Point(20, 5))
    for one, other in ((edge, through), (through, edge)):
        met = intersect(one, other)
        assert isinstance(met, Touching) and met.point.distance(SPOT) < 1e-9
    assert isinstance(intersect(edge, past), NoCrossing)


def test_what_points_nowhere_says_so() -> None:
    """No direction, no half-plane and no centre come of a point; none of it is a division by nought."""
    with pytest.raises(GeometryError, match="one point"):
        _ = Point(0, 0).unit
    with pytest.raises(GeometryError, match="one point"):
        NOTHING[0].direction_at(0.5)
    with pytest.raises(GeometryError, match="which side to keep"):
        half_plane(SPOT, Point(0, 0))


@pytest.mark.parametrize("outline", FLAT)
def test_an_outline_without_area_is_refused(outline: Outline) -> None:
    """It has no centre and no outside."""
    with pytest.raises(GeometryError, match="without area"):
        centroid(outline)
    for by in (3, -3):
        with pytest.raises(GeometryError, match="without area"):
            offset(outline, by)


@pytest.mark.parametrize("outline", DOUBLED)
def test_a_corner_told_twice_changes_nothing(outline: Outline) -> None:
    """Every figure is that of the outline whose corners are told once."""
    for by, corners in product((3, -3, 10, -10, -40), ("mitred", "rounded")):
        areas = [sum(ring.area for ring in offset(one, by, corners)) for one in (outline, WHOLE)]
        assert areas[0] == pytest.approx(areas[1], abs=1e-3)
    for cut in (
        lambda one: clip_half_plane(one, Point(50, 0), Point(1, 0)),
        lambda one: clip_half_plane(one, Point(0, 0), Point(0, 1)),
        lambda one: clip_disc(one, Point(50, 20), 45),
    ):
        assert sum(r.area for r in cut(outline)) == pytest.approx(sum(r.area for r in cut(WHOLE)), abs=1e-3)
    assert len(relief_holes(outline, 4.0)) == len(relief_holes(WHOLE, 4.0)) == 3
    other = rectangle(150, 0, 170, 30)
    assert overlap(outline, WHOLE) and not overlap(outline, other)
    assert centroid(outline).distance(centroid(WHOLE)) < 1e-6

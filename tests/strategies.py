"""What the property tests draw from: outlines of every make, placements, and each outline told anew."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, radians, sin, sqrt, tan

import shapely
from hypothesis import strategies as st

from templategen.geometry.outline import Outline, circle, polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point, Vertex, polar
from templategen.geometry.refine import fine_polyline

QUARTER_BULGE = sqrt(2) - 1


def tenths(least: int, most: int) -> st.SearchStrategy[float]:
    """Lengths in tenths of a millimetre, so that they often meet exactly."""
    return st.integers(least * 10, most * 10).map(lambda n: n / 10)


def points(reach: int = 80) -> st.SearchStrategy[Point]:
    """Points of the plane near the origin."""
    return st.builds(Point, tenths(-reach, reach), tenths(-reach, reach))


def placements() -> st.SearchStrategy[Placement]:
    """Placements turned over or not, turned by any angle, square ones among them."""
    square = st.sampled_from([0.0, pi / 2, pi, -pi / 2])
    turn = st.one_of(square, st.floats(-4, 4))
    return st.builds(Placement, tenths(-500, 500), tenths(-500, 500), turn, st.booleans())


@st.composite
def convex(draw: st.DrawFn) -> Outline:
    """Convex outlines of lines."""
    angles = sorted(draw(st.sets(st.integers(0, 35), min_size=3, max_size=8)))
    radius = draw(tenths(20, 60))
    return polygon(polar(radius, radians(10 * angle)) for angle in angles)


@st.composite
def star_shaped(draw: st.DrawFn) -> Outline:
    """Outlines seen whole from the origin, their edges lines and arcs that bend either way."""
    count = draw(st.integers(4, 8))
    corners = [polar(draw(tenths(25, 60)), 2 * pi * i / count) for i in range(count)]
    bulges = [draw(st.sampled_from([0.0, 0.0, 0.1, -0.1, 0.3, -0.2])) for _ in corners]
    return Outline(tuple(Vertex(p.x, p.y, b) for p, b in zip(corners, bulges, strict=True)))


@st.composite
def rounded_rectangles(draw: st.DrawFn) -> Outline:
    """Rectangles with all four corners rounded alike."""
    radius = draw(tenths(1, 15))
    x, y = radius + draw(tenths(1, 40)), radius + draw(tenths(1, 40))
    a, b, q = x - radius, y - radius, QUARTER_BULGE
    ring = ((-a, -y, 0), (a, -y, q), (x, -b, 0), (x, b, q), (a, y, 0), (-a, y, q), (-x, b, 0), (-x, -b, q))
    return Outline(tuple(Vertex(*map(float, corner)) for corner in ring))


@st.composite
def rim_segments(draw: st.DrawFn) -> Outline:
    """Mitred segments whose outer edge is an arc about a far centre."""
    half = pi / draw(st.sampled_from([6, 8, 12]))
    radius = draw(tenths(80, 120))
    inner = radius * cos(half) - draw(tenths(15, 40))
    x = radius * sin(half)
    y, foot = radius * cos(half), inner * tan(half)
    drop = radius * cos(half) - 5
    return Outline(
        (
            Vertex(-foot, inner - drop),
            Vertex(foot, inner - drop),
            Vertex(x, y - drop, tan(half / 2)),
            Vertex(-x, y - drop),
        )
    )


@st.composite
def slots(draw: st.DrawFn) -> Outline:
    """Slots with ends of exactly half a circle."""
    a, r = draw(tenths(1, 40)), draw(tenths(2, 20))
    return Outline((Vertex(-a, -r), Vertex(a, -r, 1.0), Vertex(a, r), Vertex(-a, r, 1.0)))


def circles() -> st.SearchStrategy[Outline]:
    """Full circles."""
    return st.builds(circle, tenths(-30, 30), tenths(-30, 30), tenths(2, 60))


def combs() -> st.SearchStrategy[Outline]:
    """Outlines that a straight cut may part into several."""
    ring = [(-30, -20), (30, -20), (30, 20), (20, 20), (20, -5), (5, -5), (5, 15), (-5, 15), (-5, -5)]
    return st.builds(lambda tip: polygon([*ring, (-20.0, -5.0), (-20.0, tip), (-30.0, tip)]), tenths(5, 30))


def outlines() -> st.SearchStrategy[Outline]:
    """Valid anticlockwise outlines of every make."""
    return st.one_of(convex(), star_shaped(), rounded_rectangles(), rim_segments(), slots(), circles(), combs())


def starting_at(outline: Outline, index: int) -> Outline:
    """The same ring, told from vertex `index` on."""
    index %= len(outline)
    return Outline(outline.vertices[index:] + outline.vertices[:index])


def tellings(outline: Outline) -> Iterator[Outline]:
    """The same ring told from every vertex, in both directions."""
    for ring in (outline, outline.reversed):
        for start in range(len(ring)):
            yield starting_at(ring, start)


def shape(outline: Outline, sagitta: float = 1e-3) -> shapely.Polygon:
    """The outline as shapely sees it, its arcs as fine polylines."""
    return shapely.Polygon(fine_polyline(outline, sagitta))


def shapes(rings: tuple[Outline, ...], sagitta: float = 1e-3) -> shapely.Geometry:
    """Several outlines as one shapely area; those walked clockwise are taken out."""
    solid = shapely.union_all([shape(ring, sagitta) for ring in rings if ring.is_anticlockwise])
    return solid.difference(shapely.union_all([shape(r, sagitta) for r in rings if not r.is_anticlockwise]))

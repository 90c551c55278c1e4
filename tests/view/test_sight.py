"""What an eye sees, by rays shot at every facet and by closed formulas."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt

import numpy
import pytest
import shapely

from templategen.geometry.outline import circle, rectangle
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.face import flat_faces
from templategen.parts.part import Part
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from templategen.view.facets import part_facets
from templategen.view.runs import VisibleRun, runs
from templategen.view.shade import patches
from templategen.view.sight import Body, Seen, Sight, look, see, table_bodies


def seen_from(round_deg: float, rise_deg: float) -> Sight:
    """An eye by its direction, from the formulas of spherical coordinates."""
    a, e = radians(round_deg), radians(rise_deg)
    near = (cos(e) * cos(a), cos(e) * sin(a), sin(e))
    return Sight((-sin(a), cos(a), 0.0), (-sin(e) * cos(a), -sin(e) * sin(a), cos(e)), near)


SIGHTS = {
    "above": seen_from(-68, 32),
    "below": seen_from(17, -26),
    "level": seen_from(-90, 0),
    "plan": seen_from(-90, 90),
}


@lru_cache(maxsize=16)
def seen_table(name: str, side: str) -> Seen:
    """What is seen of a shipped table."""
    table = build_table(profile_from_text(shipped_text(name), name))
    return see(table_bodies(table, range(len(table.placed))), SIGHTS[side])


def block(size: float) -> Part:
    """A cube."""
    outline = rectangle(0, 0, size, size)
    return Part("CUBE", "cube", "gauge", 1, "iroko", size, outline, outline, faces=flat_faces(outline, size))


def disc(radius: float, thickness: float) -> Part:
    """A round plate."""
    outline = circle(0, 0, radius)
    return Part(
        "DISC", "disc", "gauge", 1, "iroko", thickness, outline, outline, faces=flat_faces(outline, thickness)
    )


def length_of(lines: tuple[VisibleRun, ...]) -> float:
    """Length of all lines in the picture."""
    return sum(hypot(bx - ax, by - ay) for run in lines for (ax, ay), (bx, by) in pairwise(run.points))


def test_a_cube_shows_nine_edges() -> None:
    """In isometric projection nine edges of a cube show, each shortened to the root of two thirds, six as contour."""
    lines = runs(see([Body(part_facets(block(60.0)))], seen_from(-45, 35.26438968)))[0]
    side = 60 * sqrt(2 / 3)
    assert length_of(lines) == pytest.approx(9 * side, rel=1e-6)
    assert length_of(tuple(run for run in lines if run.contour)) == pytest.approx(6 * side, rel=1e-6)


def test_a_disc_shows_no_facets() -> None:
    """Of a disc seen aslant a whole ellipse, half of another and two straight sides show, and no facet between."""
    radius, thick, rise = 200.0, 30.0, radians(35)
    lines = runs(see([Body(part_facets(disc(radius, thick)))], seen_from(20, 35)))[0]
    a, b = radius, radius * sin(rise)
    steps = numpy.linspace(0, 2 * pi, 20001)
    ellipse = float(numpy.hypot(numpy.diff(a * numpy.cos(steps)), numpy.diff(b * numpy.sin(steps))).sum())
    assert length_of(lines) == pytest.approx(1.5 * ellipse + 2 * thick * cos(rise), rel=2e-3)


def test_a_block_behind_is_cut_where_it_goes_under() -> None:
    """Of a line behind a block exactly the part that stands out to the left shows."""
    front, back = block(50.0), block(50.0)
    bodies = [Body(part_facets(front)), Body(part_facets(back), shift=(-20.0, 200.0, 0.0))]
    lines = runs(see(bodies, Sight((1, 0, 0), (0, 0, 1), (0, -1, 0))))[1]
    xs = [x for run in lines for x, _ in run.points]
    assert min(xs) == pytest.approx(-20.0)
    assert max(xs) == pytest.approx(0.0, abs=0.01)
    assert length_of(lines) == pytest.approx(50 + 2 * 20, abs=0.05)


def hidden_by_rays(seen: Seen, points: numpy.ndarray) -> tuple[numpy.ndarray, numpy.ndarray]:
    """For points (x, y, depth): whether a ray to the eye meets a facet, and whether that is beyond doubt."""
    a, b, c = (seen.scene.triangles[:, k] for k in range(3))
    hidden, sure = numpy.zeros(len(points), bool), numpy.ones(len(points), bool)
    doubled = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    narrow = doubled / numpy.max([numpy.hypot(*(q - p)[:, :2].T) for p, q in ((a, b), (b, c), (c, a))], axis=0)
    for number, (x, y, z) in enumerate(points):
        u = ((c[:, 0] - b[:, 0]) * (y - b[:, 1]) - (c[:, 1] - b[:, 1]) * (x - b[:, 0])) / doubled
        v = ((a[:, 0] - c[:, 0]) * (y - c[:, 1]) - (a[:, 1] - c[:, 1]) * (x - c[:, 0])) / doubled
        w = 1 - u - v
        ahead = u * a[:, 2] + v * b[:, 2] + w * c[:, 2] - z
        within = numpy.minimum(numpy.minimum(u, v), w)
        hidden[number] = bool(((within > 0) & (ahead > 0.02)).any())
        near_edge = (abs(within) < numpy.maximum(2e-3, 0.02 / narrow)) & (ahead > 0.02)
        sure[number] = not (near_edge | ((within > 0) & (abs(ahead) < 0.02) & (abs(ahead) > 1e-6))).any()
    return hidden, sure


@pytest.mark.parametrize("side", ["above", "below"])
@pytest.mark.parametrize("name", shipped_names())
def test_lines_show_where_rays_reach_the_eye(name: str, side: str) -> None:
    """At points all along the edges of the table the lines show just where no facet stands before them."""
    seen = seen_table(name, side)
    rng = numpy.random.default_rng(7)
    chosen = rng.choice(len(seen.scene.starts), 500, replace=True)
    shares = rng.uniform(0.05, 0.95, 500)
    start, end = seen.scene.starts[chosen], seen.scene.ends[chosen]
    points = start + (end - start) * shares[:, None]
    hidden, sure = hidden_by_rays(seen, points)
    wrong = 0
    for edge, point, is_hidden, is_sure in zip(chosen, points, hidden, sure, strict=True):
        own = seen.number == edge
        pieces = zip(seen.starts[own], seen.ends[own], strict=True)
        shows = any(
            shapely.LineString([one, other]).distance(shapely.Point(point[:2])) < 0.01 for one, other in pieces
        )
        wrong += bool(is_sure and shows == is_hidden)
    assert sure.sum() > 200
    assert (hidden & sure).sum() > 40
    assert (~hidden & sure).sum() > 40
    assert wrong == 0


@pytest.mark.wide
@pytest.mark.parametrize("side", sorted(SIGHTS))
@pytest.mark.parametrize("name", ["towpath-hex", "towpath-inch"])
def test_the_picture_is_as_large_as_its_shadow(name: str, side: str) -> None:
    """Lines reach as far as the corners of the solids; patches cover their shadow as shapely unites it."""
    seen = seen_table(name, side)
    points = [point for lines in runs(seen) for run in lines for point in run.points]
    flat = seen.scene.triangles[:, :, :2].reshape(-1, 2)
    assert numpy.min(points, axis=0) == pytest.approx(flat.min(axis=0), abs=0.05)
    assert numpy.max(points, axis=0) == pytest.approx(flat.max(axis=0), abs=0.05)
    shadow = shapely.union_all(shapely.buffer(shapely.polygons(seen.scene.triangles[:, :, :2]), 1e-4))
    covered = sum(patch.area for patch in patches(seen))
    assert covered == pytest.approx(shadow.area, rel=2e-3)


@pytest.mark.parametrize("side", ["above", "below"])
def test_patches_lie_on_the_part_they_name(side: str) -> None:
    """At the point inside each patch the facet nearest to the eye is the named body's."""
    seen = seen_table("towpath-hex", side)
    triangles = seen.scene.triangles
    tree = shapely.STRtree(shapely.polygons(triangles[:, :, :2]))
    for patch in patches(seen):
        found = tree.query(shapely.Point(patch.spot), predicate="intersects")
        normal, corner = seen.scene.normals[found], triangles[found, 0]
        depth = corner[:, 2] - ((numpy.array(patch.spot) - corner[:, :2]) * normal[:, :2]).sum(axis=1) / normal[:, 2]
        nearest = found[depth > depth.max() - 1e-3]
        assert patch.body in seen.scene.triangle_body[nearest]


def test_the_order_of_bodies_changes_nothing() -> None:
    """The same bodies told in another order give each the same length of line."""
    table = build_table(profile_from_text(shipped_text("towpath-side"), "towpath-side"))
    order = list(range(len(table.placed)))
    straight = runs(see(table_bodies(table, order), SIGHTS["above"]))
    turned = runs(see(table_bodies(table, order[::-1]), SIGHTS["above"]))[::-1]
    assert [length_of(one) for one in straight] == pytest.approx([length_of(one) for one in turned], abs=1e-6)


def test_nothing_gives_no_lines() -> None:
    """Bodies wholly behind another show nothing."""
    bodies = [Body(part_facets(block(80.0))), Body(part_facets(block(20.0)), shift=(30.0, 30.0, -200.0))]
    assert runs(see(bodies, seen_from(-90, 90)))[1] == ()
    assert len(look(bodies, seen_from(-90, 90)).triangles) > 0

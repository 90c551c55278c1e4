"""Sections cut from the solids: cut faces hatched, what stands beyond drawn thin, with sizes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import copysign

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.elevation import BEYOND, CUT, FLOOR, HATCH, heights, widths
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.layers import CENTRE
from templategen.drawing.projection import FRONT, PLAN
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.geometry.vertex import Vertex
from templategen.table.assembly import Table
from templategen.view.runs import runs
from templategen.view.sight import see
from templategen.view.slice import Plane, Slice, beyond, slices

LETTERS = 56.0
"""The table is so many capital heights wide."""

GAP_SHARE = 110.0
"""Hatch lines are one in so many of the longer side apart."""

QUARTER = 2**0.5 - 1
"""Bulge of a quarter circle."""

CORNER = 0.1
"""The rim's outer edge is known to this in a slice, whose arcs are told by chords, mm; it is drawn where it is."""


def section_drawing(table: Table) -> Drawing:
    """The table cut through its axis along the first arm: x outwards, y up from the floor, true size."""
    height = max(4.0, table.profile.top.diameter / LETTERS)
    plane = Plane(FRONT)
    faces = slices(table, plane)
    marks: list[Mark] = [*hatched(table, faces, table.profile.top.diameter / GAP_SHARE)]
    outlines = [(face.index, outline) for face in faces for outline in _outlines(table, face)]
    drawn = [edge for _, outline in outlines for edge in outline.edges]
    marks += [mark for mark in standing_beyond(table, plane, drawn) if not _in_round(table, mark)]
    marks += [Shape(CUT, outline, table.placed[index].code) for index, outline in outlines]
    reach, top = table.sizes.radius * 1.08, table.profile.top.height
    marks.append(Stroke(FLOOR, Line(Point(-reach, 0), Point(reach, 0))))
    marks.append(Stroke(CENTRE, Line(Point(0, -3 * height), Point(0, top + 3 * height))))
    marks += [*heights(table, height), *widths(table, height)]
    return Drawing(f"{table.profile.title} section", tuple(marks))


def hatched(table: Table, faces: Sequence[Slice], gap: float) -> Iterator[Mark]:
    """Lines over every face, neighbours unlike."""
    rings = [[_points(outline) for outline in _outlines(table, face)] for face in faces]
    for face, own, style in zip(faces, rings, styles(rings), strict=True):
        for line in hatch(own, style, gap):
            yield Stroke(HATCH, line, table.placed[face.index].code)


def _points(outline: Outline) -> list[tuple[float, float]]:
    """Corners, and a few points on every round."""
    points: list[tuple[float, float]] = []
    for edge in outline.edges:
        count = 1 if isinstance(edge, Line) else 8
        points += [tuple(edge.point_at(i / count)) for i in range(count)]  # type: ignore[misc]
    return points


def _outlines(table: Table, face: Slice) -> list[Outline]:
    """The rings of a face; where the ring of the top is cut along an arm its outer corners are rounded."""
    if table.part(table.placed[face.index].code).kind != "rim-segment":
        return [polygon(ring) for ring in face.rings]
    return [_rounded(table, ring) for ring in face.rings]


def _rounded(table: Table, ring: Sequence[tuple[float, float]]) -> Outline:
    """A ring with the corners at the table's edge rounded as the rim is."""
    top, out = table.profile.top, table.sizes.radius
    radius = min(top.edge_round, (top.height - table.sizes.top_underside) / 2 - 1e-6)
    vertices: list[Vertex] = []
    for (px, py), (x, y), (nx, ny) in zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True):
        level = min(abs(y - top.height), abs(y - table.sizes.top_underside))
        at_edge = abs(abs(x) - out) < CORNER
        x = copysign(out, x) if at_edge else x
        if radius <= 0 or not at_edge or level > CORNER:
            vertices.append(Vertex(x, y))
            continue
        before, after = Point(px - x, py - y).unit, Point(nx - x, ny - y).unit
        bulge = QUARTER if before.cross(after) < 0 else -QUARTER
        vertices.append(Vertex(x + before.x * radius, y + before.y * radius, bulge))
        vertices.append(Vertex(x + after.x * radius, y + after.y * radius))
    return Outline(tuple(vertices))


def _in_round(table: Table, mark: Stroke) -> bool:
    """Whether a line lies in the corner of the rim that is rounded away."""
    top, out, edge = table.profile.top, table.sizes.radius, mark.edge
    round_ = top.edge_round + CORNER
    ends = [
        min(abs(point.y - top.height), abs(point.y - table.sizes.top_underside)) for point in (edge.start, edge.end)
    ]
    return min(abs(edge.start.x), abs(edge.end.x)) > out - round_ and max(ends) < round_


def standing_beyond(
    table: Table, plane: Plane, drawn: Sequence[Edge], indexes: Iterable[int] | None = None
) -> Iterator[Stroke]:
    """Visible edges behind the plane that no cut face draws already."""
    bodies = beyond(table, plane, indexes)
    boxed = [(edge.bounds, edge) for edge in drawn]
    lines = runs(see([body for _, body in bodies], PLAN))
    for (index, _), own in zip(bodies, lines, strict=True):
        for run in own:
            for one, other in pairwise(run.points):
                for piece in _not_drawn(Line(Point(*one), Point(*other)), boxed):
                    yield Stroke(BEYOND, piece, table.placed[index].code)


def _not_drawn(edge: Line, drawn: Sequence[tuple[Bounds, Edge]]) -> tuple[Edge, ...]:
    box = edge.bounds
    return uncovered(edge, [other for around, other in drawn if box.meets(around, CORNER)])

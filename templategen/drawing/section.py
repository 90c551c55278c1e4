"""Sections cut from the solids: cut faces hatched, what stands beyond drawn thin, with sizes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke
from templategen.drawing.elevation import BEYOND, CUT, FLOOR, HATCH, heights, widths
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.layers import CENTRE
from templategen.drawing.projection import FRONT, PLAN
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.table.assembly import Table
from templategen.view.runs import runs
from templategen.view.sight import see
from templategen.view.slice import Plane, Slice, beyond, slices

LETTERS = 56.0
"""The table is so many capital heights wide."""

GAP_SHARE = 110.0
"""Hatch lines are one in so many of the longer side apart."""

CORNER = 0.1
"""The rim's outer edge is known to this in a slice, whose arcs are told by chords, mm; it is drawn where it is."""


def section_drawing(table: Table) -> Drawing:
    """The table cut through its axis along the first arm: x outwards, y up from the floor, true size."""
    height = max(4.0, table.profile.top.diameter / LETTERS)
    plane = Plane(FRONT)
    faces = slices(table, plane)
    marks: list[Mark] = [*hatched(table, faces, table.profile.top.diameter / GAP_SHARE)]
    outlines = [(face.index, polygon(ring)) for face in faces for ring in face.rings]
    drawn = [edge for _, outline in outlines for edge in outline.edges]
    marks += standing_beyond(table, plane, drawn)
    marks += [Shape(CUT, outline, table.placed[index].code) for index, outline in outlines]
    reach, top = table.sizes.radius * 1.08, table.profile.top.height
    marks.append(Stroke(FLOOR, Line(Point(-reach, 0), Point(reach, 0))))
    marks.append(Stroke(CENTRE, Line(Point(0, -3 * height), Point(0, top + 3 * height))))
    marks += [*heights(table, height), *widths(table, height)]
    return Drawing(f"{table.profile.title} section", tuple(marks))


def hatched(table: Table, faces: Sequence[Slice], gap: float) -> Iterator[Mark]:
    """Lines over every face, neighbours unlike."""
    rings = [face.rings for face in faces]
    for face, own, style in zip(faces, rings, styles(rings), strict=True):
        for line in hatch(own, style, gap):
            yield Stroke(HATCH, line, table.placed[face.index].code)


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

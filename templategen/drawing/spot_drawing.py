"""Where in a part a finding was measured: the slice at that height, close to, with a ring round the place."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from templategen.catalogue import worded
from templategen.checks.finding import Spot
from templategen.drawing.drawing import Drawing, Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.elevation import CUT, HATCH
from templategen.drawing.hatch import hatch, styles
from templategen.drawing.joint_details import BREAK, HATCHES, LETTERS, on_edge
from templategen.drawing.layer import Layer
from templategen.drawing.layers import VIEW_TITLE
from templategen.drawing.manner import Manner
from templategen.fit.layers import part_layers
from templategen.geometry.edge import Line
from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.table.profile.choices import Units

RING = Layer("FOUND_HERE", "where it was measured", "vermilion", "continuous", 0.7)

REACH = 60.0
"""How far to each side of the place is shown, mm."""


def spot_drawing(part: Part, spot: Spot, units: Units) -> Drawing:
    """The part as it lies, cut level through the place, seen from above; true size about the place."""
    from shapely import box

    window = (spot.x - REACH, spot.y - REACH, spot.x + REACH, spot.y + REACH)
    level = (spot.low + spot.high) / 2
    plan = next(plan for low, high, plan in part_layers(part) if low <= level <= high)
    faces = [tuple(_rings(face)) for face in _polygons(plan.intersection(box(*window)))]
    marks: list[Mark] = []
    for face, style in zip(faces, styles(faces), strict=True):
        marks += [Stroke(HATCH, line, part.code) for line in hatch(face, style, 2 * REACH / HATCHES)]
        marks += [
            Stroke(BREAK if on_edge(one, other, window) else CUT, Line(Point(*one), Point(*other)), part.code)
            for ring in face
            for one, other in pairwise((*ring, ring[0]))
        ]
    marks.append(Shape(RING, circle(spot.x, spot.y, REACH / 10)))
    manner = Manner(2 * REACH / LETTERS, units=units)
    title = worded("{code}, cut level {size} above its underside", code=part.code, size=manner.figure(level))
    corner = marks_box(marks)
    marks.append(Words(VIEW_TITLE, Point(corner.left, corner.top + manner.height), manner.height, title))
    return Drawing(title, tuple(marks))


def _polygons(shape: Any) -> Iterator[Any]:
    return (one for one in getattr(shape, "geoms", [shape]) if one.geom_type == "Polygon" and not one.is_empty)


def _rings(polygon: Any) -> Iterator[tuple[tuple[float, float], ...]]:
    for ring in (polygon.exterior, *polygon.interiors):
        yield tuple((x, y) for x, y in ring.coords[:-1])

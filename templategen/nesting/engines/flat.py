"""Outlines as polygons of straight sides that lie round them, for libraries that know no arcs."""

from collections.abc import Iterator
from math import acos, ceil, cos, pi

from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.point import polar

FINE = 0.02
"""How far a side may be from its arc, mm."""


def ring(outline: Outline) -> list[tuple[float, float]]:
    """The corners of a polygon that holds the outline, anticlockwise."""
    corners: list[tuple[float, float]] = []
    for edge in outline.anticlockwise.edges:
        corners.append((edge.start.x, edge.start.y))
        if isinstance(edge, Arc):
            corners.extend(_round(edge, edge.sweep > 0))
    return corners


def _round(arc: Arc, tangents: bool) -> Iterator[tuple[float, float]]:
    """Points between an arc's ends: where its tangents meet, or on it."""
    widest = min(2 * acos(arc.radius / (arc.radius + FINE)), pi / 4)
    steps = max(1, ceil(abs(arc.sweep) / widest))
    step = arc.sweep / steps
    for number in range(steps):
        if tangents:
            spot = arc.centre.plus(polar(arc.radius / cos(step / 2), arc.start_angle + step * (number + 0.5)))
            yield spot.x, spot.y
        if number:
            spot = arc.centre.plus(polar(arc.radius, arc.start_angle + step * number))
            yield spot.x, spot.y

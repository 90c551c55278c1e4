"""Fine polylines: only for checking against libraries that know no arcs, never for output."""

from math import acos, ceil

from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point


def fine_polyline(outline: Outline, sagitta: float) -> tuple[Point, ...]:
    """Points on the outline, its vertices among them, whose chords leave no arc by more than `sagitta`."""
    points: list[Point] = []
    for edge in outline.edges:
        count = _chords(edge, sagitta)
        points += (edge.point_at(i / count) for i in range(count))
    return tuple(points)


def _chords(edge: Edge, sagitta: float) -> int:
    if not isinstance(edge, Arc) or sagitta >= edge.radius:
        return 1 if not isinstance(edge, Arc) else 2
    return max(1, ceil(abs(edge.sweep) / (2 * acos(1 - sagitta / edge.radius))))

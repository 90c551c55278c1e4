"""Offsetting: the outline that keeps one distance from another. Arcs stay true arcs."""

from dataclasses import replace
from itertools import pairwise
from math import cos, inf, sin

from templategen.errors import Fault, GeometryError
from templategen.geometry.corner import corner_turn
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT, SHORTEST_EDGE
from templategen.geometry.untangle import untangle

MITRE_LIMIT = 4.0
"""A mitred corner reaches at most so many times the distance from its vertex; there it is cut square.
4 leaves every corner of 29 degrees and more sharp."""

SLIGHT_TURN = 0.1
"""Corners that close by less than this, radians, are trimmed before the walk is untangled."""

CORNERS = ("mitred", "rounded")


def offset(outline: Outline, by: float, corners: str = "mitred") -> tuple[Outline, ...]:
    """Every edge moved by `by` to its right: an anticlockwise outline grows, a hole shrinks.

    Negative moves to the left. Corners that open are mitred (up to MITRE_LIMIT) or rounded. The
    result may be several outlines, or none when nothing is left. Where growing closes round an
    empty space, that space comes as an outline walked the other way.

    Raises:
        GeometryError: an unknown kind of corner, a distance that is no number, or an outline without area.
    """
    if corners not in CORNERS or not abs(by) < inf:
        raise GeometryError(Fault("offset", f"can't offset by {by} with {corners} corners"))
    if abs(by) <= COINCIDENT:
        return (outline,)
    if not outline.area:
        raise GeometryError(Fault("offset", "an outline without area has no outside"))
    if not outline.is_anticlockwise:
        return tuple(ring.reversed for ring in offset(outline.reversed, -by, corners))

    def keeps_off(point: Point) -> bool:
        return outline.distance(point) >= abs(by) - SHORTEST_EDGE

    return untangle(_walk(outline, by, corners == "mitred"), keeps_off)


def _walk(outline: Outline, by: float, mitred: bool) -> list[Edge]:
    """The moved edges and what joins them: one closed walk that may cross itself."""
    edges = [edge for edge in outline.edges if edge.length > SHORTEST_EDGE]
    moved = [_moved(edge, by) for edge in edges]
    joins = [
        _join(edges[i - 1], edge, by, mitred) if not _trimmed(edges, moved, by, i) else []
        for i, edge in enumerate(edges)
    ]
    return _closed([step for join, walk in zip(joins, moved, strict=True) for step in (*join, *walk)])


def _trimmed(edges: list[Edge], moved: list[list[Edge]], by: float, corner: int) -> bool:
    """Trims the moved edges at a corner that closes by a slight turn to their crossing, if they cross.

    There the overlap is too thin to be told by counting turns beside it.
    """
    before, after = moved[corner - 1], moved[corner]
    closing = -corner_turn(edges[corner - 1], edges[corner]) * (1 if by > 0 else -1)
    if not 0 < closing < SLIGHT_TURN or len(before) != 1 or len(after) != 1:
        return False
    met = met_at(intersect(before[0], after[0]))
    if not met:
        return False
    _, leaves, joins = max(met, key=lambda one: one[1])
    before[0], after[0] = before[0].between(0.0, leaves), after[0].between(joins, 1.0)
    return True


def _moved(edge: Edge, by: float) -> list[Edge]:
    """The edge moved to its right; an arc that vanishes becomes the way through its centre."""
    start = edge.start.plus(edge.direction_at(0.0).left, -by)
    end = edge.end.plus(edge.direction_at(1.0).left, -by)
    if isinstance(edge, Line):
        return [Line(start, end)]
    radius = edge.radius + (by if edge.sweep > 0 else -by)
    if radius > SHORTEST_EDGE:
        return [Arc(start, end, edge.centre, radius, edge.sweep)]
    return [Line(start, edge.centre), Line(edge.centre, end)]


def _join(before: Edge, after: Edge, by: float, mitred: bool) -> list[Edge]:
    """From the moved end of one edge to the moved start of the next.

    Where the corner opens: a mitre or an arc round the vertex. Where it closes: by way of the
    vertex itself, which lies too near to be kept and makes the overlap turn the wrong way round.
    """
    vertex, turn = after.start, corner_turn(before, after)
    heading, onward = before.direction_at(1.0), after.direction_at(0.0)
    start, end = vertex.plus(heading.left, -by), vertex.plus(onward.left, -by)
    if start.distance(end) <= SHORTEST_EDGE:
        return []
    if turn * by < 0:
        return [Line(start, vertex), Line(vertex, end)]
    if not mitred:
        return [Arc(start, end, vertex, abs(by), turn)]
    tips = _mitre(vertex, heading, onward, turn, by)
    stops = (start, *tips, end)
    return [Line(first, last) for first, last in pairwise(stops)]


def _mitre(vertex: Point, heading: Point, onward: Point, turn: float, by: float) -> tuple[Point, ...]:
    """The tip of a mitred corner, or the two ends of the square cut where it would reach too far."""
    half = abs(turn) / 2
    if cos(half) * MITRE_LIMIT >= 1:
        reach = abs(by) * sin(half) / cos(half)
        return (vertex.plus(heading.left, -by).plus(heading, reach),)
    reach = abs(by) * (MITRE_LIMIT - cos(half)) / sin(half)
    return (
        vertex.plus(heading.left, -by).plus(heading, reach),
        vertex.plus(onward.left, -by).plus(onward, -reach),
    )


def _closed(steps: list[Edge]) -> list[Edge]:
    """The walk without steps of no length, each starting exactly where the one before ends."""
    kept = [step for step in steps if step.length > SHORTEST_EDGE]
    return [replace(step, start=kept[i - 1].end) for i, step in enumerate(kept)]

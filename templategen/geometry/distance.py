"""Distance between outlines, and whether they share area. Exact for lines and arcs."""

from __future__ import annotations

from itertools import pairwise
from math import inf

from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.intersect import NoCrossing, intersect, met_at
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


def outline_distance(one: Outline, other: Outline) -> float:
    """The least distance between the two rings; 0 where they meet. One inside the other is apart, too."""
    pairs = [(_gap(a.bounds, b.bounds), i, j) for i, a in enumerate(one.edges) for j, b in enumerate(other.edges)]
    least = inf
    for apart, i, j in sorted(pairs):
        if apart >= least:
            break
        least = min(least, edge_distance(one.edges[i], other.edges[j]))
    return least


def edge_distance(edge_a: Edge, edge_b: Edge) -> float:
    """The least distance between two edges; 0 where they meet."""
    if not isinstance(intersect(edge_a, edge_b), NoCrossing):
        return 0.0
    ends = [distance_to(edge_b, end) for end in (edge_a.start, edge_a.end)]
    ends += [distance_to(edge_a, end) for end in (edge_b.start, edge_b.end)]
    inner = [distance_to(edge_b, point) for point in _facing(edge_a, edge_b)]
    return min(ends + inner)


def overlap(one: Outline, other: Outline, within: float = COINCIDENT) -> bool:
    """Whether two outlines share area; those that only touch, or bite less than `within`, don't.

    Raises:
        GeometryError: an outline of nothing but edges without length.
    """
    if not one.bounds.meets(other.bounds):
        return False
    if _enters(one, other, within) or _enters(other, one, within):
        return True
    return _same(one.cleaned, other.cleaned, within)


def _gap(one: Bounds, other: Bounds) -> float:
    """The distance between two boxes."""
    across = max(0.0, one.left - other.right, other.left - one.right)
    up = max(0.0, one.bottom - other.top, other.bottom - one.top)
    return Point(across, up).length


def _facing(edge_a: Edge, edge_b: Edge) -> tuple[Point, ...]:
    """The points of the first edge at which it runs parallel to the second, both away from their ends."""
    if isinstance(edge_a, Line) and isinstance(edge_b, Line):
        return ()
    if isinstance(edge_a, Line):
        assert isinstance(edge_b, Arc)
        share = edge_a.share_of(edge_b.centre) if edge_a.length > 0 else -1.0
        return (edge_a.point_at(share),) if 0 < share < 1 else ()
    along = _towards(edge_a, edge_b)
    ends = (edge_a.centre.plus(along, edge_a.radius), edge_a.centre.plus(along, -edge_a.radius))
    return tuple(end for end in ends if 0 < edge_a.share_of(end) < 1)


def _towards(arc: Arc, edge: Edge) -> Point:
    """The direction from the arc's centre in which it may come nearest to `edge`."""
    if isinstance(edge, Line):
        return edge.direction_at(0.0).left if edge.length > 0 else Point(1.0, 0.0)
    apart = edge.centre.minus(arc.centre)
    return apart.unit if apart.length > 0 else Point(1.0, 0.0)


def _enters(one: Outline, other: Outline, within: float) -> bool:
    """Whether any part of the first ring lies deeper than `within` inside the second."""
    return any(
        other.distance(point) > within and abs(other.winding(point)) > 0.5
        for edge in one.edges
        if edge.bounds.meets(other.bounds)
        for point in _samples(edge, other)
    )


def _samples(edge: Edge, other: Outline) -> list[Point]:
    """The start of the edge, and the middle of each piece into which the other ring cuts it."""
    shares = {0.0, 1.0}
    for side in other.edges:
        shares.update(share for _, share, _ in met_at(intersect(edge, side)))
    stops = sorted(shares)
    middles = [edge.point_at((a + b) / 2) for a, b in pairwise(stops)]
    return [edge.start, *middles]


def _same(one: Outline, other: Outline, within: float) -> bool:
    """Whether the rings run along one another and enclose the same area."""
    if abs(abs(one.area) - abs(other.area)) > within * (one.length + other.length):
        return False
    return all(other.distance(edge.point_at(share)) <= within for edge in one.edges for share in (0.0, 0.5))

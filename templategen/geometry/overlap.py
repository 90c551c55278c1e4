"""Whether two outlines share area. Exact for lines and arcs."""

from itertools import pairwise

from templategen.geometry.edge import Edge
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


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


def _enters(one: Outline, other: Outline, within: float) -> bool:
    """Whether any part of the first ring lies deeper than `within` inside the second."""
    return any(
        other.winding(point) != 0 and other.distance(point) > within
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

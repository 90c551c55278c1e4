"""Edges that lie on each other: which share of one edge others cover."""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import hypot

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.tolerance import ONE_LINE


def covered_share(edge: Edge, other: Edge) -> tuple[float, float] | None:
    """The share of `edge` that lies along `other`, first and last between 0 and 1; None when none does.

    An edge without length neither covers anything nor is covered.
    """
    if min(edge.length, other.length) <= ONE_LINE:
        return None
    if isinstance(edge, Line) != isinstance(other, Line) or not _in_one_track(edge, other):
        return None
    shares = [edge.share_of(other.start), edge.share_of(other.end)]
    first, last = max(0.0, min(shares)), min(1.0, max(shares))
    if isinstance(edge, Arc):
        return _covered_arc(edge, other)
    return (first, last) if (last - first) * edge.length > ONE_LINE else None


def _in_one_track(edge: Edge, other: Edge) -> bool:
    if isinstance(edge, Arc) and isinstance(other, Arc):
        return edge.centre.distance(other.centre) <= ONE_LINE and abs(edge.radius - other.radius) <= ONE_LINE
    (x, y), (x1, y1) = other.start, other.end
    length = hypot(x1 - x, y1 - y)
    dx, dy = (x1 - x) / length, (y1 - y) / length  # plain numbers: this is asked of every pair of lines
    return all(abs(dx * (py - y) - dy * (px - x)) <= ONE_LINE for px, py in (edge.start, edge.end))


def _covered_arc(edge: Arc, other: Edge) -> tuple[float, float] | None:
    """Arcs on one circle: between the ends of either, a stretch is covered when its middle is."""
    marks = {0.0, 1.0}
    marks |= {share for share in (edge.share_of(other.start), edge.share_of(other.end)) if 0 < share < 1}
    stops = sorted(marks)
    on = [
        (a, b)
        for a, b in pairwise(stops)
        if (b - a) * edge.length > ONE_LINE and distance_to(other, edge.point_at((a + b) / 2)) <= ONE_LINE
    ]
    return (on[0][0], on[-1][1]) if on else None


def pieces(edge: Edge, others: Iterable[Edge]) -> list[tuple[Edge, bool]]:
    """The edge in order as pieces, each with whether one of `others` covers it."""
    spans = sorted(span for other in others if (span := covered_share(edge, other)) is not None)
    result: list[tuple[Edge, bool]] = []
    at = 0.0
    for first, last in spans:
        if (first - at) * edge.length > ONE_LINE:
            result.append((edge.between(at, first), False))
            at = first
        if (last - at) * edge.length > ONE_LINE:
            result.append((edge.between(at, last), True))
            at = last
    if (1.0 - at) * edge.length > ONE_LINE:
        result.append((edge.between(at, 1.0), False))
    return result


def uncovered(edge: Edge, others: Sequence[Edge]) -> tuple[Edge, ...]:
    """The pieces of `edge` that none of `others` covers."""
    return tuple(piece for piece, covered in pieces(edge, others) if not covered)


def differs(one: Outline, other: Outline) -> bool:
    """Whether the two rings part anywhere."""
    return any(uncovered(edge, other.edges) for edge in one.edges) or any(
        uncovered(edge, one.edges) for edge in other.edges
    )

"""Where a shaped cutter runs: the wood's edges along which an eased strip lies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature
from templategen.parts.part import Part


class Stretch(NamedTuple):
    """Edges of the wood that are eased in one go, anticlockwise in the face's frame, and the strip's inner corners
    before and after them."""

    edges: tuple[Edge, ...]
    before: Point
    after: Point


def stretches_of(part: Part, feature: Feature) -> Iterator[Stretch]:
    """The stretches of an eased arris, a feature of the top or the bottom."""
    wood = part.outline if feature.face == "top" else OVER.outline(part.outline)
    edges = feature.outline.anticlockwise.edges
    taken = [_is_eased(wood, edges, edge, feature.depth) for edge in edges]
    first = taken.index(False)
    turned = [*range(first, len(edges)), *range(first)]
    for along, group in groupby(turned, key=lambda i: taken[i]):
        if along:
            sides = list(group)
            after = edges[(sides[-1] + 1) % len(edges)].end
            yield Stretch(tuple(edges[i] for i in sides), edges[sides[0] - 1].start, after)


def _is_eased(wood: Outline, edges: Sequence[Edge], edge: Edge, size: float) -> bool:
    """Whether an edge of a strip lies on the wood's edge with the strip along it, not ahead as at an end."""
    if wood.distance(edge.point_at(0.5)) > ON_EDGE:
        return False
    if isinstance(edge, Arc):
        return True
    way = edge.direction_at(0.5)
    return any(
        isinstance(other, Line)
        and abs(other.direction_at(0.5).cross(way)) < ON_EDGE
        and abs(other.start.minus(edge.start).dot(way.left) - size) < ON_EDGE
        for other in edges
    )

"""Outlines held against the lines of a file, point by point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import chain

from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.drawn import Drawn, nearest

TRUE = 0.002
"""How far a line of a file may lie from where the record has it, mm; files are written to a micrometre or finer."""

SHARES = (0.0, 0.25, 0.5, 0.75)
"""Where along each edge its place is measured: the vertex, and whether it is bent as it should be."""


def places(edges: Iterable[Edge]) -> Iterator[Point]:
    """The points of edges that are measured."""
    for edge in edges:
        yield from (edge.point_at(share) for share in SHARES)
        yield edge.end


def worst_off(edges: Iterable[Edge], drawn: Drawn, layers: Iterable[str]) -> tuple[float, Point | None]:
    """How far the edges at most lie from the lines of the layers, and where."""
    lines = list(chain.from_iterable(drawn.edges.get(layer, ()) for layer in layers))
    worst, where = 0.0, None
    for point in places(edges):
        off = nearest(point, lines)
        if off > worst:
            worst, where = off, point
    return worst, where


def unmatched(one: Drawn, other: Drawn, layer: str) -> list[Edge]:
    """The edges of a layer that the other file hasn't got end for end; those it has need no measuring."""
    there = {key for edge in other.edges.get(layer, ()) for key in _keys(edge)}
    return [edge for edge in one.edges.get(layer, ()) if not there.intersection(_keys(edge))]


def _keys(edge: Edge) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Start, middle and end to the ten-thousandth of a millimetre, both ways round."""
    points = (edge.start, edge.point_at(0.5), edge.end)
    there = tuple(round(value * 1e4) for point in points for value in point)
    return there, (*there[4:], *there[2:4], *there[:2])


def told(off: float, where: Point | None) -> str:
    """A miss in words."""
    if where is None:
        return ""
    if off == float("inf"):
        return "isn't drawn"
    return f"lies {off:.3f} mm off at ({where.x:.2f}, {where.y:.2f})"


def alike(one: Outline, other: Outline, within: float = TRUE) -> bool:
    """Whether one outline is the other, turned and moved (not turned over)."""
    if len(one) != len(other) or abs(one.area - other.area) > within * one.length:
        return False
    first, second = _signature(one.anticlockwise), _signature(other.anticlockwise)
    return any(_near(first, second[i:] + second[:i], within) for i in range(len(second)))


def _signature(ring: Outline) -> list[tuple[float, float, float]]:
    """Each edge's chord, height over the chord, and the chord across its far corner."""
    points = [vertex.point for vertex in ring]
    count = len(points)
    return [
        (
            points[i].distance(points[(i + 1) % count]),
            vertex.bulge * points[i].distance(points[(i + 1) % count]) / 2,
            points[i].distance(points[(i + 2) % count]),
        )
        for i, vertex in enumerate(ring)
    ]


def _near(one: list[tuple[float, float, float]], other: list[tuple[float, float, float]], within: float) -> bool:
    return all(abs(a - b) <= within for x, y in zip(one, other, strict=True) for a, b in zip(x, y, strict=True))

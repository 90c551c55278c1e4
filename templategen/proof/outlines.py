"""Outlines held against each other and against what is drawn."""

from collections.abc import Iterable, Iterator

from templategen.catalogue import translated, worded
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.proof.drawn import Drawn
from templategen.proof.lines import Lines

TRUE = 0.002
"""How far a line of a file may lie from where the record has it, mm; files are written to a micrometre or finer."""

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Where along each edge its place is measured: the vertices, and whether it is bent as it should be."""


NEAR_END = 0.02
"""And so far from each end, mm: at a corner another line could stand in for one that is missing there."""


def places(edges: Iterable[Edge]) -> Iterator[Point]:
    """The points of edges that are measured."""
    for edge in edges:
        yield from (edge.point_at(share) for share in SHARES)
        if edge.length > 4 * NEAR_END:
            share = NEAR_END / edge.length
            yield from (edge.point_at(share), edge.point_at(1.0 - share))


def worst_off(edges: Iterable[Edge], lines: Iterable[Edge]) -> tuple[float, Point | None]:
    """How far the edges at most lie from the lines, and where."""
    return Lines(lines).worst(list(places(edges)))


def apart(one: Outline, other: Outline) -> tuple[float, Point | None]:
    """How far two rings at most part, each measured on the other, and where."""
    return max(worst_off(one.edges, other.edges), worst_off(other.edges, one.edges), key=lambda found: found[0])


def unmatched(one: Drawn, other: Drawn, layer: str) -> list[Edge]:
    """The edges of a layer that the other file hasn't got end for end; those it has need no measuring."""
    there = {key for edge in other.edges([layer]) for key in _keys(edge)}
    return [edge for edge in one.edges([layer]) if not there.intersection(_keys(edge))]


def mark_key(edges: Iterable[Edge]) -> frozenset[tuple[int, ...]]:
    """The same for marks that lie on each other, whichever way they are walked."""
    return frozenset(min(_keys(edge)) for edge in edges)


def _keys(edge: Edge) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Start, middle and end to the ten-thousandth of a millimetre, both ways round."""
    points = (edge.start, edge.point_at(0.5), edge.end)
    there = tuple(round(value * 1e4) for point in points for value in point)
    return there, (*there[4:], *there[2:4], *there[:2])


def describe_miss(off: float, where: Point | None) -> str:
    """A miss in words."""
    if where is None:
        return ""
    if off == float("inf"):
        return translated("isn't drawn")
    return worded("lies {off:.3f} mm off at ({x:.2f}, {y:.2f})", off=off, x=where.x, y=where.y)

"""Untangling: the outlines round all that a walk which crosses itself encloses anticlockwise."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import pi

from templategen.errors import Fault, GeometryError
from templategen.geometry.clip import outline_vertices, whole_outline
from templategen.geometry.corner import turn_between
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline, distance_to, turns_about
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT, SHORTEST_EDGE

BESIDE = SHORTEST_EDGE
"""How far beside a piece the walk's turns are counted."""


def untangle(steps: Sequence[Edge], wanted: Callable[[Point], bool]) -> tuple[Outline, ...]:
    """Outlines, anticlockwise, round what the closed walk `steps` turns about at least once.

    Only pieces whose middle is `wanted` may bound it.

    Raises:
        GeometryError: the pieces don't close.
    """
    pieces = [piece for piece in split(steps) if piece.length > SHORTEST_EDGE]
    kept: list[Edge] = []
    for piece in pieces:
        middle = piece.point_at(0.5)
        if wanted(middle) and _bounds(piece, steps) and not _doubled(piece, kept):
            kept.append(piece)
    return tuple(ring for walk in _rings(kept) for ring in whole_outline(outline_vertices(_merged(walk))))


def split(steps: Sequence[Edge]) -> list[Edge]:
    """The steps cut at every point where one meets another."""
    cuts: list[list[float]] = [[] for _ in steps]
    for i, one in enumerate(steps):
        for j in range(i + 1, len(steps)):
            for _, share_a, share_b in met_at(intersect(one, steps[j])):
                cuts[i].append(share_a)
                cuts[j].append(share_b)
    return [piece for step, shares in zip(steps, cuts, strict=True) for piece in _cut(step, shares)]


def _cut(step: Edge, shares: list[float]) -> list[Edge]:
    least = SHORTEST_EDGE / step.length
    stops = [0.0]
    for share in sorted(shares):
        if share - stops[-1] > least and 1.0 - share > least:
            stops.append(share)
    stops.append(1.0)
    return [step.between(a, b) for a, b in pairwise(stops)]


def _bounds(piece: Edge, steps: Sequence[Edge]) -> bool:
    """Whether the walk turns about the left of the piece at least once, and about its right never."""
    middle, side = piece.point_at(0.5), piece.direction_at(0.5).left
    return turns_about(steps, middle.plus(side, BESIDE)) >= 1 and turns_about(steps, middle.plus(side, -BESIDE)) <= 0


def _doubled(piece: Edge, kept: Sequence[Edge]) -> bool:
    """Whether a kept piece already runs the same way between the same points."""
    return any(
        _meet(piece.start, other.start)
        and _meet(piece.end, other.end)
        and piece.point_at(0.5).distance(other.point_at(0.5)) <= 2 * SHORTEST_EDGE
        for other in kept
    )


def _meet(one: Point, other: Point) -> bool:
    return one.distance(other) <= 2 * SHORTEST_EDGE


def _rings(pieces: Sequence[Edge]) -> list[list[Edge]]:
    """The pieces linked end to start; where several go on, the one furthest to the left, so rings part."""
    left = list(pieces)
    rings: list[list[Edge]] = []
    while left:
        ring = [left.pop(0)]
        while not _meet(ring[-1].end, ring[0].start):
            options = [piece for piece in left if _meet(ring[-1].end, piece.start)]
            if not options:
                raise GeometryError(Fault("outline", "the pieces left after cutting it don't close"))
            heading = ring[-1].direction_at(1.0)
            after = max(options, key=lambda piece: turn_between(heading, piece.direction_at(0.0)))
            left.remove(after)
            ring.append(after)
        rings.append(ring)
    return rings


def _merged(ring: list[Edge]) -> list[Edge]:
    """The ring's edges; those that carry one another on are one edge."""
    merged: list[Edge] = []
    for edge in ring:
        whole = joined(merged[-1], edge) if merged else None
        if whole is not None:
            merged.pop()
        merged.append(whole or edge)
    while len(merged) > 2 and (whole := joined(merged[-1], merged[0])):
        merged = [whole, *merged[1:-1]]
    return merged


def joined(first: Edge, last: Edge) -> Edge | None:
    """One edge that runs along both, where the second carries the first on and one edge may hold them."""
    if isinstance(first, Line) and isinstance(last, Line):
        whole = Line(first.start, last.end)
        onward = first.direction_at(1.0).dot(last.direction_at(0.0)) > 0
        return whole if onward and distance_to(whole, first.end) <= COINCIDENT else None
    if isinstance(first, Arc) and isinstance(last, Arc):
        sweep = first.sweep + last.sweep
        apart = max(first.centre.distance(last.centre), abs(first.radius - last.radius))
        if apart <= COINCIDENT and first.sweep * last.sweep > 0 and abs(sweep) <= pi:
            return Arc(first.start, last.end, first.centre, first.radius, sweep)
    return None

"""Hatching of cut wood: thin lines at 45 degrees, neighbours told apart by slope and distance, as ISO 128 has it."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, sqrt

from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.point import Point

NEAR = 0.5
"""Faces whose boxes come nearer than this are neighbours, mm."""

STYLES = ((1, 1.0), (-1, 1.0), (1, 1.7), (-1, 1.7), (1, 0.6), (-1, 0.6))
"""Slope, and distance as a share of the usual one."""

SHORTEST = 0.05
"""Shorter lines are left out, as shares of the distance between lines."""

Rings = Sequence[Sequence[tuple[float, float]]]


def styles(faces: Sequence[Rings]) -> list[tuple[int, float]]:
    """A style for each face, unlike that of every neighbour before it."""
    boxes = [Bounds.around(Bounds(x, y, x, y) for ring in rings for x, y in ring) for rings in faces]
    chosen: list[int] = []
    for number, box in enumerate(boxes):
        taken = {chosen[other] for other in range(number) if box.meets(boxes[other], NEAR)}
        chosen.append(next((style for style in range(len(STYLES)) if style not in taken), 0))
    return [STYLES[style] for style in chosen]


def hatch(rings: Rings, style: tuple[int, float], gap: float) -> Iterator[Line]:
    """The lines over a face: inside by the odd crossings of each line with its rings."""
    slope, share = style
    step = gap * share * sqrt(2.0)
    edges = [edge for ring in rings for edge in pairwise((*ring, ring[0]))]
    offsets = [y - slope * x for ring in rings for x, y in ring]
    for number in range(floor(min(offsets) / step) + 1, ceil(max(offsets) / step)):
        level = number * step + step * 0.37
        crossings = sorted(_crossings(edges, slope, level))
        for first, last in zip(crossings[::2], crossings[1::2], strict=False):
            if last - first > SHORTEST * gap:
                yield Line(Point(first, slope * first + level), Point(last, slope * last + level))


def _crossings(
    edges: Sequence[tuple[tuple[float, float], tuple[float, float]]], slope: int, level: float
) -> Iterator[float]:
    """Where the line y = slope x + level crosses the edges; each edge owns its start."""
    for (x0, y0), (x1, y1) in edges:
        a, b = y0 - slope * x0 - level, y1 - slope * x1 - level
        if (a >= 0) != (b >= 0):
            yield x0 + (x1 - x0) * a / (a - b)

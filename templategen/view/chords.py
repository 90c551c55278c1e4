"""Arcs as pictures tell them: by short chords that turn little."""

from functools import lru_cache
from math import acos, ceil, radians
from typing import Any

from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point

CHORD = 0.1
"""How far the chords of a pictured arc may leave it, mm."""

MOST_TURN = radians(6)
"""Chords of an arc turn by no more than this, so that no facet of a round passes for an edge."""


@lru_cache(maxsize=768)
def chords(outline: Outline) -> Any:
    """Corners of an outline whose arcs are told by short and little turning chords."""
    import numpy

    return numpy.array([point for edge in outline.edges for point in corners(edge)])


def corners(edge: Edge) -> list[Point]:
    """Those of one edge, without its end."""
    count = 1
    if isinstance(edge, Arc):
        least = 2 * acos(1 - CHORD / max(edge.radius, CHORD))
        count = max(1, ceil(abs(edge.sweep) / min(MOST_TURN, least)))
    return [edge.point_at(index / count) for index in range(count)]

"""Arcs as pictures tell them: by short chords that turn little."""

from __future__ import annotations

from functools import lru_cache
from math import ceil, radians
from typing import Any

from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.refine import fine_polyline

CHORD = 0.05
"""How far the chords of a pictured arc may leave it, mm."""

MOST_TURN = radians(6)
"""Chords of an arc turn by no more than this, so that no facet of a round passes for an edge."""


@lru_cache(maxsize=2048)
def chords(outline: Outline) -> Any:
    """Corners of an outline whose arcs are told by short and little turning chords."""
    import numpy

    points = []
    for edge in outline.edges:
        count = ceil(abs(edge.sweep) / MOST_TURN) if isinstance(edge, Arc) else 1
        for index in range(count):
            points.append(edge.point_at(index / count))
    fine = fine_polyline(outline, CHORD)
    return numpy.array(points if len(points) > len(fine) else fine)

"""Outlines as fine polylines for shapely, the other way to measure them."""

from __future__ import annotations

from typing import Any

from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline


def flat(outline: Outline, steps: int = 400) -> Any:
    """The outline as a shapely polygon; arcs in `steps` chords."""
    import shapely

    points: list[tuple[float, float]] = []
    for edge in outline.edges:
        count = steps if isinstance(edge, Arc) else 1
        points += [tuple(edge.point_at(i / count)) for i in range(count)]
    return shapely.Polygon(points)


def flat_edge(edge: Edge, steps: int = 100) -> Any:
    """The edge as a shapely line."""
    import shapely

    count = steps if isinstance(edge, Arc) else 1
    return shapely.LineString([tuple(edge.point_at(i / count)) for i in range(count + 1)])

"""What a file draws, whatever its format: edges by layer, and which of them close; mm, y up."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point


@dataclass(slots=True)
class Drawn:
    """The lines of one file; `rings` are closed outlines, `edges` every line and arc, those of the rings too."""

    rings: dict[str, list[Outline]] = field(default_factory=lambda: defaultdict(list))
    edges: dict[str, list[Edge]] = field(default_factory=lambda: defaultdict(list))

    def add_ring(self, layer: str, ring: Outline) -> None:
        """A closed outline."""
        self.rings[layer].append(ring)
        self.edges[layer].extend(ring.edges)

    def add_edge(self, layer: str, edge: Edge) -> None:
        """A line or arc that stands alone."""
        self.edges[layer].append(edge)

    def off(self, point: Point, layers: Iterable[str]) -> float:
        """How far the point lies from the nearest line of the layers; endless where they are empty."""
        return nearest(point, (edge for layer in layers for edge in self.edges.get(layer, ())))


def nearest(point: Point, edges: Iterable[Edge]) -> float:
    """The least distance from the point to any of the edges."""
    return min((distance_to(edge, point) for edge in edges), default=float("inf"))

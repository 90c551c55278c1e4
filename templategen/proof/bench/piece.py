"""A piece of wood on the bench, and the shapes that cutters take from it.

Frame: a bar lies along x, its low edge on y = 0, its bottom on z = 0. It is a pile of layers, each a shapely shape
between two heights.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import acos, cos, pi, sin
from typing import Any

from shapely.geometry import LineString, Polygon, box
from shapely.ops import unary_union

from templategen.catalogue import translated
from templategen.proof.bench.written import Misfit

FAR = 9000.0
ROUGH = 4000.0
EXACT = 1e-6
SAGITTA = 4e-4
"""How far chords may leave their arcs, mm."""


@dataclass
class Shaped:
    """An arris that a bit takes: the strip of the face, the bit's size, how far under the face it lies."""

    kind: str
    face: str
    strip: Any
    size: float
    floor: float = 0.0


@dataclass
class BenchPiece:
    """A bar on its way to being a part. `blank` is what it was when its ends were sawn, `lengths` what it measured
    after each square cut to a stop, `apart` how far from each other pieces leave their strip, `sawn` which way each
    cut off an end faced, in order, `clean` where an end cut without a stop meets both edges, `slots` what a slot in
    an end took first, by the end, `beside` all pieces on the bench by their code."""

    thickness: float = 0.0
    width: float = 0.0
    layers: list[tuple[float, float, Any]] = field(default_factory=list)
    lines: dict[str, tuple[tuple[float, float], tuple[float, float]]] = field(default_factory=dict)
    shaped: list[Shaped] = field(default_factory=list)
    circle: tuple[float, float, float] | None = None
    blank: Any = None
    lengths: list[float] = field(default_factory=list)
    apart: float = 0.0
    sawn: list[tuple[float, float]] = field(default_factory=list)
    clean: list[tuple[float, float]] = field(default_factory=list)
    slots: dict[str, Any] = field(default_factory=dict)
    beside: Mapping[str, BenchPiece] = field(default_factory=dict)

    @property
    def plan(self) -> Any:
        """All of it, seen from above."""
        return unary_union([shape for _, _, shape in self.layers])

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Its extents, seen from above."""
        return _around(shape for _, _, shape in self.layers)

    def take(self, shape: Any, low: float | None = None, high: float | None = None) -> None:
        """Removes a shape between two heights, or right through."""
        low, high = 0.0 if low is None else low, self.thickness if high is None else high
        kept = []
        for z0, z1, old in self.layers:
            cuts = sorted({z0, z1, *(z for z in (low, high) if z0 < z < z1)})
            for a, b in pairwise(cuts):
                inside = low - 1e-12 <= a and b <= high + 1e-12
                kept.append((a, b, old.difference(shape) if inside else old))
        self.layers = kept

    def surface(self, face: str, floor: float = 0.0) -> Any:
        """What is left of the face itself, or of the wood that lies bare so far under it."""
        return next((bare for at, bare in self.laid_bare(face) if abs(at - floor) < EXACT), Polygon())

    def laid_bare(self, face: str) -> Iterator[tuple[float, Any]]:
        """What of the wood a face shows, from the face in: how far under it, and the shape there."""
        above: Any = Polygon()
        for low, high, shape in sorted(self.layers, key=lambda one: one[0], reverse=face == "top"):
            bare = shape.difference(above)
            if bare.area > EXACT:
                yield self.thickness - high if face == "top" else low, bare
            above = above.union(shape)

    def along_edge(self, edge: str) -> tuple[float, float]:
        """Where an edge of the bar starts and ends."""
        y = EXACT if edge == "low" else self.width - EXACT
        line = LineString([(-FAR, y), (FAR, y)])
        left, _, right, _ = _around(shape.intersection(line) for _, _, shape in self.layers)
        return left, right


def _around(shapes: Iterable[Any]) -> tuple[float, float, float, float]:
    boxes = [shape.bounds for shape in shapes if not shape.is_empty]
    if not boxes:
        raise Misfit(translated("nothing is left there"))
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def half_plane(point: tuple[float, float], towards: tuple[float, float]) -> Any:
    (x, y), (nx, ny) = point, towards
    a, b = (x - ny * FAR, y + nx * FAR), (x + ny * FAR, y - nx * FAR)
    return Polygon([a, b, (b[0] + nx * FAR, b[1] + ny * FAR), (a[0] + nx * FAR, a[1] + ny * FAR)])


def disc(x: float, y: float, radius: float) -> Any:
    turns = int(2 * pi / _chord(radius)) + 1
    return Polygon([_on_circle(x, y, radius, 2 * pi * number / turns) for number in range(turns)])


def outside(x: float, y: float, radius: float, around: tuple[float, float, float, float]) -> Any:
    """What of the box lies above a circle whose middle is below it, chords only where the box is."""
    left, low, right, high = around[0] - 1, around[1] - 1, around[2] + 1, around[3] + 1
    if radius <= max(abs(left - x), abs(right - x)):
        raise Misfit(translated("the circle doesn't reach across the piece"))
    start, end = (acos((to - x) / radius) for to in (right, left))
    steps = int((end - start) / _chord(radius)) + 1
    arc = [_on_circle(x, y, radius, start + (end - start) * number / steps) for number in range(steps + 1)]
    above = Polygon([*arc, (left, high + radius), (right, high + radius)])
    return above.intersection(box(left, low, right, high))


def _chord(radius: float) -> float:
    """The turn of a chord that leaves its arc by the sagitta."""
    return float((8 * SAGITTA / radius) ** 0.5)


def _on_circle(x: float, y: float, radius: float, turn: float) -> tuple[float, float]:
    return x + radius * cos(turn), y + radius * sin(turn)


def sorted_box(one: Sequence[float], other: Sequence[float]) -> tuple[float, float, float, float]:
    """The box between two corners."""
    return min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1])

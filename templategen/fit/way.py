"""Ways: is one part in another's way along a straight line?"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, sin
from typing import Any

from templategen.fit.layers import Layer

UP = (0.0, 0.0, 1.0)
DOWN = (0.0, 0.0, -1.0)

Vector = tuple[float, float, float]

RUB = 0.02
"""Parts may rub along each other this deep, mm: sliding faces touch, and arcs are told by chords."""

SAME_HEIGHT = 1e-4
"""Layers that share less height than this only touch, mm."""

GRID = 1e-5
"""Corners are compared on a grid this fine, mm, so that edges which nearly coincide do."""

THIN = 1e-3
"""An edge that covers less than this across its way sweeps nothing, mm."""

TRACE = 0.05
"""Plan area two parts may share, mm2, for the arithmetic of fine polygons."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy of a part as layers; `index` is its place among the table's placed parts."""

    index: int
    code: str
    kind: str
    layers: tuple[Layer, ...]


def level(angle: float) -> Vector:
    """The level direction at `angle`, radians."""
    return cos(angle), sin(angle), 0.0


def in_the_way(moved: Copy, fixed: Copy, way: Vector, far: float) -> bool:
    """Whether `moved` runs into `fixed` when it leaves along `way` for `far` mm.

    Up and down by the heights of layers that cover each other in plan; level by the plan that each layer sweeps.
    A slanting way is refused.

    Raises:
        ValueError: a way that is neither level nor upright.
    """
    if way[2] and (way[0] or way[1]):
        raise ValueError(f"{way} is neither level nor upright")
    test = _blocks_upright if way[2] else _blocks_level
    return any(test(a, b, way, far) for a in moved.layers for b in fixed.layers)


def _blocks_upright(a: Layer, b: Layer, way: Vector, far: float) -> bool:
    ahead = b.high > a.low + SAME_HEIGHT if way[2] > 0 else b.low < a.high - SAME_HEIGHT
    return ahead and _shared(a.plan, b.plan) > 0


def _blocks_level(a: Layer, b: Layer, way: Vector, far: float) -> bool:
    if min(a.high, b.high) - max(a.low, b.low) < SAME_HEIGHT:
        return False
    if not _may_meet(a.plan.bounds, b.plan.bounds, way, far):
        return False
    return any(_shared(piece, b.plan) > 0 for piece in swept(a.plan, way, far) if piece.intersects(b.plan))


def _may_meet(one: Sequence[float], other: Sequence[float], way: Vector, far: float) -> bool:
    x, y = way[0] * far, way[1] * far
    left, right = one[0] + min(0.0, x), one[2] + max(0.0, x)
    low, high = one[1] + min(0.0, y), one[3] + max(0.0, y)
    return left < other[2] and other[0] < right and low < other[3] and other[1] < high


def _shared(one: Any, other: Any) -> float:
    """Plan area that both cover once each side may rub a little, mm2; 0 when it is only a trace."""
    common = one.intersection(other, grid_size=GRID)
    if common.is_empty or common.area < TRACE:
        return 0.0
    deep = common.buffer(-RUB)
    return float(deep.area) if deep.area > TRACE else 0.0


@lru_cache(maxsize=4096)
def swept(plan: Any, way: Vector, far: float) -> tuple[Any, ...]:
    """What `plan` covers on its way, in pieces: the shape at both ends and the parallelogram of each of its edges.

    Edges that run along the way sweep nothing worth telling.
    """
    from shapely import Polygon
    from shapely.affinity import translate

    dx, dy = way[0] * far, way[1] * far
    pieces = [plan, translate(plan, dx, dy)]
    for polygon in getattr(plan, "geoms", [plan]):
        for ring in (polygon.exterior, *polygon.interiors):
            corners = list(ring.coords)
            for (x0, y0), (x1, y1) in pairwise(corners):
                if abs((x1 - x0) * way[1] - (y1 - y0) * way[0]) > THIN:
                    pieces.append(Polygon([(x0, y0), (x1, y1), (x1 + dx, y1 + dy), (x0 + dx, y0 + dy)]))
    return tuple(pieces)


def opposite(way: Vector) -> Vector:
    """The way back."""
    return -way[0] + 0.0, -way[1] + 0.0, -way[2] + 0.0

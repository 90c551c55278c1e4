"""Many lines and arcs at once, to measure to."""

from collections.abc import Callable, Iterable, Sequence
from math import tau
from typing import Any

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.point import Point

TOGETHER = 64
"""Points that are measured together; they follow each other along what is drawn."""

NEAR = 3.0
"""Edges that come no nearer to such points are left out at first, mm."""


class Lines:
    """A bundle of edges. `off` tells of points how far each lies from the nearest of them, endless without any."""

    def __init__(self, edges: Iterable[Edge]) -> None:
        import numpy as np

        known = list(edges)
        straight = [(*edge.start, *edge.end) for edge in known if isinstance(edge, Line)]
        bent = [
            (*edge.centre, edge.radius, edge.start_angle, edge.sweep, *edge.start, *edge.end)
            for edge in known
            if isinstance(edge, Arc)
        ]
        self._straight = np.array(straight, dtype=float).reshape(-1, 4)
        self._bent = np.array(bent, dtype=float).reshape(-1, 9)

    def off(self, points: Sequence[Point]) -> Any:
        """The distance of each point from the nearest edge, as an array."""
        import numpy as np

        where = np.array(points, dtype=float).reshape(-1, 2)
        straight = nearest(where, self._straight, boxes_of(self._straight), to_lines)
        reach = self._bent[:, 2:3]
        around = np.hstack((self._bent[:, :2] - reach, self._bent[:, :2] + reach))
        return np.minimum(straight, nearest(where, self._bent, around, _to_arcs))

    def worst(self, points: Sequence[Point]) -> tuple[float, Point | None]:
        """How far the farthest of the points lies from the edges, and which it is; 0 and None without points."""
        if not points:
            return 0.0, None
        off = self.off(points)
        place = int(off.argmax())
        return float(off[place]), points[place]


def boxes_of(lines: Any) -> Any:
    """The box round each line, a row left, bottom, right, top."""
    import numpy as np

    return np.hstack((np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])))


def nearest(points: Any, edges: Any, boxes: Any, distances: Callable[[Any, Any], Any]) -> Any:
    """The distance of each point from the nearest of the edges, endless without any: of those whose boxes are near,
    and where none of these is, of all."""
    import numpy as np

    best = np.full(len(points), np.inf)
    for first in range(0, len(points) if len(edges) else 0, TOGETHER):
        some = points[first : first + TOGETHER]
        low, high = some.min(axis=0) - NEAR, some.max(axis=0) + NEAR
        near = edges[((boxes[:, :2] <= high) & (boxes[:, 2:] >= low)).all(axis=1)]
        found = distances(some, near).min(axis=1, initial=np.inf)
        if (far := found > NEAR).any():
            found[far] = distances(some[far], edges).min(axis=1)
        best[first : first + TOGETHER] = found
    return best


def to_lines(points: Any, edges: Any) -> Any:
    """From each point (a row x, y) to each line (a row x0, y0, x1, y1)."""
    import numpy as np

    x0, y0, dx, dy = edges[:, 0], edges[:, 1], edges[:, 2] - edges[:, 0], edges[:, 3] - edges[:, 1]
    x, y = points[:, :1] - x0, points[:, 1:] - y0
    share = np.clip((x * dx + y * dy) / np.maximum(dx * dx + dy * dy, 1e-30), 0.0, 1.0)
    return np.hypot(x - share * dx, y - share * dy)


def _to_arcs(points: Any, edges: Any) -> Any:
    import numpy as np

    centre, radius, first, sweep = edges[None, :, :2], edges[:, 2], edges[:, 3], edges[:, 4]
    x, y = np.moveaxis(points[:, None, :] - centre, 2, 0)
    ahead = ((np.arctan2(y, x) - first) * np.sign(sweep)) % tau
    ends = (points[:, None, :] - edges[None, :, which] for which in (slice(5, 7), slice(7, 9)))
    to_end = np.minimum(*(np.hypot(*np.moveaxis(end, 2, 0)) for end in ends))
    return np.where(ahead <= np.abs(sweep), np.abs(np.hypot(x, y) - radius), to_end)

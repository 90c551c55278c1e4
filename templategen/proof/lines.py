"""Many lines and arcs at once, to measure to."""

from collections.abc import Callable, Iterable, Sequence
from math import tau
from typing import Any

from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.point import Point

FEW = 20_000
"""Up to so many pairs of a point and an edge are measured one and all; of more, those that are near."""

TOGETHER = 256
"""Points that are measured together."""

NEAR = 3.0
"""Arcs that come no nearer to a point are left out at first, mm."""


class Lines:
    """A bundle of edges. `off` tells of points how far each lies from the nearest of them, endless without any."""

    def __init__(self, edges: Iterable[Edge]) -> None:
        import numpy as np

        known = list(edges)
        straight = [(*edge.start, *edge.end) for edge in known if isinstance(edge, Line)]
        self._arcs = [edge for edge in known if isinstance(edge, Arc)]
        bent = [
            (*edge.centre, edge.radius, edge.start_angle, edge.sweep, *edge.start, *edge.end) for edge in self._arcs
        ]
        self._straight = np.array(straight, dtype=float).reshape(-1, 4)
        self._bent = np.array(bent, dtype=float).reshape(-1, 9)

    def off(self, points: Any) -> Any:
        """The distance of each point (a row x, y) from the nearest edge, as an array."""
        import numpy as np

        where = np.array(points, dtype=float).reshape(-1, 2)
        best = off_lines(where, self._straight)
        if len(self._bent) * len(where) <= FEW:
            return np.minimum(best, _least(where, self._bent, _to_arcs))
        self._near_arcs(where, best)
        far = best > NEAR
        best[far] = np.minimum(best[far], _least(where[far], self._bent, _to_arcs))
        return best

    def worst(self, points: Sequence[Point]) -> tuple[float, Point | None]:
        """How far the farthest of the points lies from the edges, and which it is; 0 and None without points."""
        if not points:
            return 0.0, None
        off = self.off(points)
        place = int(off.argmax())
        return float(off[place]), points[place]

    def _near_arcs(self, points: Any, best: Any) -> None:
        """Lowers each point's distance to that from the arcs near it."""
        import numpy as np
        from shapely import STRtree, box
        from shapely import points as points_of

        boxes = STRtree([box(*arc.bounds) for arc in self._arcs])
        for first in range(0, len(points), TOGETHER):
            some = points[first : first + TOGETHER]
            which, arc = boxes.query(points_of(some), predicate="dwithin", distance=NEAR)
            np.minimum.at(best, first + which, _to_arcs(some[which], self._bent[arc]))


def off_lines(points: Any, lines: Any) -> Any:
    """The distance of each point from the nearest line (a row x0, y0, x1, y1), endless without any."""
    if len(points) * len(lines) <= FEW:
        return _least(points, lines, _to_lines)
    import numpy as np
    from shapely import STRtree, linestrings
    from shapely import points as points_of

    best = np.full(len(points), np.inf)
    (which, _), found = STRtree(linestrings(lines.reshape(-1, 2, 2))).query_nearest(
        points_of(points), all_matches=False, return_distance=True
    )
    best[which] = found
    return best


def _least(points: Any, edges: Any, distances: Callable[[Any, Any], Any]) -> Any:
    """The distance of each point from the nearest of all edges."""
    import numpy as np

    best = np.full(len(points), np.inf)
    for first in range(0, len(points) if len(edges) else 0, TOGETHER):
        best[first : first + TOGETHER] = distances(points[first : first + TOGETHER, None], edges).min(axis=1)
    return best


def _to_lines(points: Any, lines: Any) -> Any:
    """From points to lines, wherever their rows stand beside each other."""
    import numpy as np

    start, along = lines[..., :2], lines[..., 2:] - lines[..., :2]
    away = points - start
    share = np.clip((away * along).sum(-1) / np.maximum((along * along).sum(-1), 1e-30), 0.0, 1.0)
    return _lengths(away - share[..., None] * along)


def _to_arcs(points: Any, arcs: Any) -> Any:
    """From points to arcs (centre, radius, start angle, sweep, start, end), wherever their rows stand so."""
    import numpy as np

    away, radius, first, sweep = points - arcs[..., :2], arcs[..., 2], arcs[..., 3], arcs[..., 4]
    ahead = ((np.arctan2(away[..., 1], away[..., 0]) - first) * np.sign(sweep)) % tau
    to_end = np.minimum(_lengths(points - arcs[..., 5:7]), _lengths(points - arcs[..., 7:9]))
    return np.where(ahead <= np.abs(sweep), np.abs(_lengths(away) - radius), to_end)


def _lengths(ways: Any) -> Any:
    import numpy as np

    return np.hypot(ways[..., 0], ways[..., 1])

"""Shade: what each body shows of itself to the eye, as flat patches.

Visible lines bound every patch, so the picture is cut into cells along them and one look at a point of each cell says
whose it is.
"""

from __future__ import annotations

from collections import defaultdict
from typing import Any, NamedTuple

from templategen.fit.sight import Scene, Seen

GRID = 0.01
"""Corners of patches are set on a grid this fine, mm."""

LONGER = 0.6
"""Lines are drawn longer by this at both ends, mm, so that those which end on each other meet."""

LEAST = 0.5
"""Smaller patches are left out, mm2."""

CLOSED = 0.06
"""A patch is closed over gaps as narrow as this between its cells, mm."""

Ring = tuple[tuple[float, float], ...]


class Patch(NamedTuple):
    """A region of the picture that shows one side of a body: rings, the outer first, that side's unit normal in the
    eye's frame, its area (mm2) and a point well inside."""

    body: int
    rings: tuple[Ring, ...]
    normal: tuple[float, float, float]
    area: float
    spot: tuple[float, float]


def patches(seen: Seen) -> tuple[Patch, ...]:
    """The patches of every body, told apart by which way their faces look."""

    scene, cells = seen.scene, _cells(seen)
    shown: dict[tuple[int, tuple[float, ...]], list[Any]] = defaultdict(list)
    for cell, facet in zip(cells, _fronts(scene, cells), strict=True):
        if facet >= 0:
            normal = tuple(round(float(value), 1) + 0.0 for value in scene.normals[facet])
            shown[int(scene.triangle_body[facet]), normal].append(cell)
    result = []
    for (body, normal), alike in sorted(shown.items(), key=lambda item: item[0]):
        for polygon in sorted(_joined(alike), key=lambda one: one.bounds):
            if polygon.area > LEAST:
                inside = polygon.representative_point()
                side = (normal[0], normal[1], normal[2])
                result.append(Patch(body, _rings(polygon), side, float(polygon.area), (inside.x, inside.y)))
    return tuple(result)


def _joined(cells: list[Any]) -> list[Any]:
    """Cells of one side of a body put together, the hair's breadth between them closed."""
    import shapely

    if len(cells) == 1:
        return cells
    whole = shapely.union_all(shapely.buffer(cells, CLOSED, join_style="mitre"), grid_size=GRID / 2)
    whole = shapely.buffer(whole, -CLOSED, join_style="mitre")
    return list(getattr(whole, "geoms", [whole]))


def _cells(seen: Seen) -> Any:
    """The cells into which the visible lines cut the picture."""
    import numpy
    import shapely

    along = seen.ends - seen.starts
    length = numpy.sqrt((along * along).sum(axis=1))[:, None]
    more = along / numpy.where(length > 0, length, 1.0) * LONGER
    lines = numpy.stack([seen.starts - more, seen.ends + more], axis=1)
    net = shapely.union_all(shapely.linestrings(lines), grid_size=GRID)
    return shapely.get_parts(shapely.polygonize(shapely.get_parts(net)))


def _fronts(scene: Scene, cells: Any) -> Any:
    """For each cell the number of the facet nearest to the eye at a point inside, or -1 where nothing is."""
    import numpy
    import shapely

    spots = shapely.get_coordinates(shapely.point_on_surface(cells))
    tree = shapely.STRtree(shapely.polygons(scene.triangles[:, :, :2]))
    spot, facet = tree.query(shapely.points(spots), predicate="intersects")
    normal, corner = scene.normals[facet], scene.triangles[facet, 0]
    flat = ((corner[:, :2] - spots[spot]) * normal[:, :2]).sum(axis=1)
    depth = corner[:, 2] + flat / normal[:, 2]
    front = numpy.full(len(cells), -1)
    order = numpy.lexsort((facet, numpy.round(depth, 4), spot))
    front[spot[order]] = facet[order]
    return front


def _rings(polygon: Any) -> tuple[Ring, ...]:
    plain = polygon.simplify(GRID).normalize()
    rings = (plain.exterior, *plain.interiors)
    return tuple(tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1]) for ring in rings)

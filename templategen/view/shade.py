"""Shade: what each body shows of itself to the eye, as flat patches.

Visible lines bound every patch, so the picture is cut into cells along them and one look at a point of each cell says
whose it is.
"""

from typing import Any, NamedTuple

from templategen.view.runs import STRAIGHT
from templategen.view.sight import Scene, Seen

GRID = 0.01
"""Lines that come this near to each other meet, mm."""

LONGER = 0.6
"""Lines are drawn longer by this at both ends, mm, so that those which end on each other meet."""

LEAST = 0.5
"""Smaller patches are left out, mm2."""

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
    """The patches of every body, each showing one of its sides; a side is in several where lines cross it. A hair's
    breadth may be left between them."""
    import shapely

    scene, cells = seen.scene, _cells(seen)
    cells = cells[shapely.area(cells) > LEAST]
    spots = shapely.get_coordinates(shapely.point_on_surface(cells))
    rows = zip(
        shapely.simplify(cells, STRAIGHT * scene.extent), spots.tolist(), shapely.area(cells).tolist(), strict=True
    )
    result = []
    for facet, (cell, (x, y), area) in zip(_fronts(scene, spots).tolist(), rows, strict=True):
        if facet >= 0:
            a, b, c = (round(float(value), 1) + 0.0 for value in scene.normals[facet])
            result.append(Patch(int(scene.triangle_body[facet]), _rings(cell), (a, b, c), area, (x, y)))
    return tuple(sorted(result, key=lambda patch: (patch.body, patch.normal, patch.rings)))


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


def _fronts(scene: Scene, spots: Any) -> Any:
    """For each spot the number of the facet nearest to the eye, or -1 where nothing is."""
    import numpy
    import shapely

    tree = shapely.STRtree(shapely.polygons(scene.triangles[:, :, :2]))
    spot, facet = tree.query(shapely.points(spots), predicate="intersects")
    normal, corner = scene.normals[facet], scene.triangles[facet, 0]
    flat = ((corner[:, :2] - spots[spot]) * normal[:, :2]).sum(axis=1)
    depth = corner[:, 2] + flat / normal[:, 2]
    front = numpy.full(len(spots), -1)
    order = numpy.lexsort((facet, numpy.round(depth, 4), spot))
    front[spot[order]] = facet[order]
    return front


def _rings(polygon: Any) -> tuple[Ring, ...]:
    plain = polygon.normalize()
    rings = (plain.exterior, *plain.interiors)
    return tuple(tuple((float(x), float(y)) for x, y in list(ring.coords)[:-1]) for ring in rings)

"""Sight: which edges of which solid an eye sees from far away, in parallel projection.

An edge is hidden where it lies behind a facet. Over one facet that is one stretch of the edge, told exactly by four
straight conditions: inside each of the facet's three sides, and further off than its plane.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from templategen.table.assembly import Table
from templategen.table.placed import Placed
from templategen.view.facets import Facets, part_facets

EDGE_ON = 2e-4
"""A facet whose normal leans less than this towards the eye is seen edge on and hides nothing: of a round's narrow
facets both sides then lie so near to each other that what is `GROWN` would hide them."""

GROWN = 1e-4
"""Facets hide this much more than they cover, mm, so that no edge shows through the joint of two."""

BEHIND = 0.005
"""An edge is behind a facet when it is further off by this, mm: well under any clearance; more for a slanting facet,
whose plane runs on past its sides."""

FINE = 1 / 150
"""An eased edge narrower than this share of the picture is one line, on the face that was worked or its contour: on a
picture half as wide as A4 two would lie nearer than 0.7 mm and run into one (ISO 128)."""

Vector = tuple[float, float, float]


class Sight(NamedTuple):
    """Where the eye is: unit vectors, square to each other. `right` and `up` span the picture, `near` points at the
    eye. Picture coordinates of a point are its products with `right` and `up`, mm."""

    right: Vector
    up: Vector
    near: Vector

    def at(self, point: Sequence[float]) -> tuple[float, float]:
        """Where a point lands in the picture."""
        return _dot(self.right, point), _dot(self.up, point)


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """A solid in place: its facets, moved by `placed` and then by `shift`."""

    facets: Facets
    placed: Placed | None = None
    shift: Vector = (0.0, 0.0, 0.0)


def table_bodies(table: Table, indexes: Iterable[int], shifts: Sequence[Vector] | None = None) -> list[Body]:
    """The copies at those places of the table, each moved by its own entry of `shifts`, one for every copy."""
    facets = {part.code: part_facets(part) for part in table.parts}
    return [
        Body(facets[table.placed[i].code], table.placed[i], shifts[i] if shifts else (0.0, 0.0, 0.0)) for i in indexes
    ]


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Everything in the eye's frame (x right, y up, z towards the eye), as arrays, with whose it is; `contour` edges
    bound what a body shows, `quiet` ones only part its tones; `extent` is the longer side of the picture, mm."""

    extent: float
    triangles: Any
    triangle_body: Any
    normals: Any
    starts: Any
    ends: Any
    edge_body: Any
    contour: Any
    quiet: Any


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What the eye sees of the scene: visible pieces of edges, `number` the edge of each, from `starts` to `ends`."""

    scene: Scene
    count: int
    number: Any
    starts: Any
    ends: Any


def see(bodies: Sequence[Body], sight: Sight) -> Seen:
    """The visible pieces of the bodies' edges."""
    scene = look(bodies, sight)
    edge, first, last = visible_shares(scene)
    origin = scene.starts[edge, :2]
    along = scene.ends[edge, :2] - origin
    return Seen(scene, len(bodies), edge, origin + along * first[:, None], origin + along * last[:, None])


def look(bodies: Sequence[Body], sight: Sight) -> Scene:
    """The facets that face the eye and the edges that may be seen."""
    import numpy

    shown = [_turned(body, body.facets.corners, sight, True) for body in bodies]
    flat = numpy.concatenate(shown)[:, :2]
    extent = float((flat.max(axis=0) - flat.min(axis=0)).max())
    cells: list[list[Any]] = [[] for _ in range(8)]
    for number, (body, corners) in enumerate(zip(bodies, shown, strict=True)):
        facets, normals = body.facets, _turned(body, body.facets.normals, sight, False)
        front = normals[:, 2] > EDGE_ON
        one, other = front[facets.sides[:, 0]], front[facets.sides[:, 1]]
        fine = (facets.eased > 0) & (facets.eased < FINE * extent)
        kept = numpy.where(facets.sharp & (facets.worked | ~fine), one | other, one != other)
        beyond = _turned(body, facets.beyond, sight, False)[:, 2] > 0
        ends = corners[facets.edges[kept]]
        triangles = corners[facets.triangles[front]]
        columns = (
            triangles, numpy.full(len(triangles), number), normals[front], ends[:, 0], ends[:, 1],
            numpy.full(len(ends), number), (one != other)[kept], (fine & (one == other) & ~beyond)[kept],
        )  # fmt: skip
        for column, values in zip(cells, columns, strict=True):
            column.append(values)
    return Scene(extent, *(numpy.concatenate(column) for column in cells))


def _turned(body: Body, points: Any, sight: Sight, moved: bool) -> Any:
    """Points (or directions, when not `moved`) of a body in the eye's frame."""
    import numpy

    if body.placed is not None:
        axes = body.placed.axes
        columns = (points[:, k : k + 1] * numpy.array(axes[k]) for k in range(3))
        points = sum(columns, numpy.zeros((1, 3)))
        if moved:
            points = points + numpy.array(body.placed.at)
    if moved and any(body.shift):
        points = points + numpy.array(body.shift)
    return numpy.stack([(points * numpy.array(axis)).sum(axis=1) for axis in sight], axis=1)


def visible_shares(scene: Scene) -> tuple[Any, Any, Any]:
    """The visible stretches: which edge, from which share of it to which, in order."""
    import numpy

    edge, first, last = _hidden_shares(scene)
    count = len(scene.starts)
    order = numpy.lexsort((first, edge))
    edge, first, last = edge[order], first[order], last[order]
    key = 4.0 * numpy.concatenate([edge, numpy.arange(count)])
    low = key + numpy.concatenate([first, numpy.ones(count)])
    high = key + numpy.concatenate([last, numpy.ones(count)])
    order = numpy.argsort(low, kind="stable")
    whose = (key / 4.0).astype(numpy.int64)[order]
    low, high = low[order], high[order]
    reach = numpy.maximum.accumulate(high)
    begin = numpy.maximum(4.0 * whose, numpy.concatenate([[0.0], reach[:-1]]))
    open_ = low > begin + 1e-9
    return whose[open_], begin[open_] - 4.0 * whose[open_], low[open_] - 4.0 * whose[open_]


def _hidden_shares(scene: Scene) -> tuple[Any, Any, Any]:
    """For every edge and facet before it: the edge, and the stretch of it that the facet hides."""
    import numpy

    edge, facet = _near_pairs(scene)
    start, end = scene.starts[edge], scene.ends[edge]
    low, high = numpy.zeros(len(edge)), numpy.ones(len(edge))
    corners = scene.triangles[facet]
    for k in range(3):
        side = corners[:, (k + 1) % 3, :2] - corners[:, k, :2]
        length = numpy.sqrt((side * side).sum(axis=1))
        low, high = _narrowed(
            low, high, *(_left_of(corners[:, k], side, point) + GROWN * length for point in (start, end))
        )
    normal = scene.normals[facet]
    margin = BEHIND + GROWN * numpy.sqrt(numpy.maximum(0.0, 1.0 - normal[:, 2] ** 2)) / normal[:, 2]
    planes = [((corners[:, 0] - point) * normal).sum(axis=1) / normal[:, 2] - margin for point in (start, end)]
    low, high = _narrowed(low, high, *planes)
    kept = high > low
    return edge[kept], low[kept], high[kept]


def _left_of(corner: Any, side: Any, point: Any) -> Any:
    return side[:, 0] * (point[:, 1] - corner[:, 1]) - side[:, 1] * (point[:, 0] - corner[:, 0])


def _narrowed(low: Any, high: Any, first: Any, last: Any) -> tuple[Any, Any]:
    """The stretch cut down to where a value is positive that runs straight from `first` to `last`."""
    import numpy

    change = last - first
    steady = change == 0
    zero = -first / numpy.where(steady, 1.0, change)
    low = numpy.where(change > 0, numpy.maximum(low, zero), low)
    high = numpy.where(change < 0, numpy.minimum(high, zero), high)
    return low, numpy.where(steady & (first <= 0), -1.0, high)


def _near_pairs(scene: Scene) -> tuple[Any, Any]:
    """Edges and facets whose boxes meet, the facet not wholly behind the edge."""
    import numpy
    import shapely

    low, high = scene.triangles.min(axis=1), scene.triangles.max(axis=1)
    tree = shapely.STRtree(shapely.box(low[:, 0], low[:, 1], high[:, 0], high[:, 1]))
    ends = numpy.stack([scene.starts[:, :2], scene.ends[:, :2]], axis=1)
    edge, facet = tree.query(shapely.linestrings(ends))
    nearest = numpy.minimum(scene.starts[:, 2], scene.ends[:, 2])
    before = high[facet, 2] > nearest[edge] + BEHIND
    edge, facet = edge[before], facet[before]
    order = numpy.lexsort((facet, edge))
    return edge[order], facet[order]

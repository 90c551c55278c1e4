"""Slices: what a flat saw would lay bare of solids in place, and what stands beyond it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Any

from templategen.fit.solid import placed_solid
from templategen.parts.face import Point3
from templategen.table.assembly import Table
from templategen.view.eased import cutters, eased_solid
from templategen.view.facets import facets_of
from templategen.view.sight import Body, Sight, Vector

if TYPE_CHECKING:
    from manifold3d import Manifold

TOUCH = 1e-3
"""A body that reaches past the plane by less than this is not cut, mm."""

STRAIGHT = 1e-6
"""A point this near to the line between its neighbours is no corner, mm."""

LEAST = 0.01
"""Smaller rings are left out, mm2."""

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Plane:
    """A plane through `origin`, looked at along `sight`, whose right and up are the axes of the slice."""

    sight: Sight
    origin: Vector = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Slice:
    """The cut face of one copy: `index` among the table's placed parts, rings in the plane's axes, mm, outer
    anticlockwise and holes clockwise."""

    index: int
    rings: tuple[Ring, ...]


def slices(table: Table, plane: Plane, window: Sequence[float] | None = None) -> tuple[Slice, ...]:
    """The cut face of every copy that the plane cuts, in order; `window` (left, bottom, right, top) keeps a part."""
    import manifold3d

    result = []
    for index in range(len(table.placed)):
        if not _may_cut(table, index, plane, window):
            continue
        solid = _in_plane(table, index, plane)
        _, _, low, _, _, high = solid.bounding_box()
        if low > -TOUCH or high < TOUCH:
            continue
        face = solid.slice(0.0)
        if window is not None:
            left, bottom, right, top = window
            face = face ^ manifold3d.CrossSection.square((right - left, top - bottom)).translate((left, bottom))
        rings = tuple(_ring(polygon) for polygon in face.to_polygons() if abs(_area(polygon)) > LEAST)
        if rings:
            result.append(Slice(index, rings))
    return tuple(result)


def beyond(table: Table, plane: Plane) -> list[tuple[int, Body]]:
    """Every copy that stands beyond the plane, those that it cuts cut off at it, in the plane's own frame."""
    found = []
    for index in range(len(table.placed)):
        solid = _in_plane(table, index, plane)
        _, _, low, _, _, high = solid.bounding_box()
        if low > -TOUCH:
            continue
        if high > TOUCH:
            solid = solid.trim_by_plane((0.0, 0.0, -1.0), 0.0)
        placed = table.placed[index]
        up = _seen(Plane(plane.sight), placed.axes[2])
        found.append((index, Body(facets_of(solid, cutters(table.part(placed.code)), up))))
    return found


def _may_cut(table: Table, index: int, plane: Plane, window: Sequence[float] | None) -> bool:
    """Whether the box round a copy reaches the plane, and the window in it."""
    x, y, z = zip(*(_seen(plane, corner) for corner in _corners(table, index)), strict=True)
    if min(z) > -TOUCH or max(z) < TOUCH:
        return False
    if window is None:
        return True
    left, bottom, right, top = window
    return bool(min(x) < right and max(x) > left and min(y) < top and max(y) > bottom)


def _corners(table: Table, index: int) -> list[Point3]:
    placed = table.placed[index]
    part = table.part(placed.code)
    box = part.outline.bounds
    return [
        placed.point(x, y, z)
        for x in (box.left, box.right)
        for y in (box.bottom, box.top)
        for z in (0, part.thickness)
    ]


def _seen(plane: Plane, point: Sequence[float]) -> Vector:
    """A point of the table in the plane's axes."""
    x, y, z = (a - b for a, b in zip(point, plane.origin, strict=True))
    ax, ay, az = ((axis[0] * x + axis[1] * y + axis[2] * z) for axis in plane.sight)
    return ax, ay, az


def _in_plane(table: Table, index: int, plane: Plane) -> Manifold:
    """A copy with the plane's axes as its own: z towards the eye, 0 in the plane."""
    import numpy

    placed = table.placed[index]
    solid = placed_solid(eased_solid(table.part(placed.code)), placed, tuple(-value for value in plane.origin))
    rows = numpy.array(plane.sight)
    return solid.transform(numpy.hstack([rows, numpy.zeros((3, 1))]))


def _ring(polygon: Any) -> Ring:
    """A ring of true corners, told from its lowest leftmost one on, so that it is the same however it was found.

    Where the plane crosses the edges of a solid's mesh it leaves points along straight sides; they are no corners.
    """
    points = _corners_only([(float(x), float(y)) for x, y in polygon])
    first = min(range(len(points)), key=lambda i: (round(points[i][0], 6), round(points[i][1], 6)))
    return tuple(points[first:] + points[:first])


def _corners_only(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The points at which a ring turns."""
    kept: list[tuple[float, float]] = []
    for point, (nx, ny) in zip(points, [*points[1:], points[0]], strict=True):
        px, py = kept[-1] if kept else points[-1]
        (x, y), span = point, hypot(nx - px, ny - py)
        off = abs((nx - px) * (y - py) - (ny - py) * (x - px))
        if off > STRAIGHT * span or (x - px) * (nx - x) + (y - py) * (ny - y) < 0:
            kept.append(point)
    return kept


def _area(polygon: Any) -> float:
    x, y = polygon[:, 0], polygon[:, 1]
    return float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum() + x[-1] * y[0] - x[0] * y[-1]) / 2

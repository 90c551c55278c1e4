"""Where rain stands in the finished table: level floors with wood all round, and nothing that they drain through.

All wood is sliced level by level. What of the room just over a floor is wider than a drop spans either reaches the
open or a way down, or it is a basin, as deep as up to where it does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import TYPE_CHECKING, Any

from templategen.fit.solid import part_solid, placed_solid
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.placed import Placed

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold
    from shapely.geometry.base import BaseGeometry

SPANNED = 2.5
"""A drop spans what is narrower, mm: it neither fills it nor drains through it (assumed; draining gaps are wider)."""

OVER = 0.05
"""How far over or under a floor the wood is sliced, mm."""

SMALLEST = 20.0
"""Less floor holds a drop or two, mm2."""

LEVEL = 0.9999
"""A floor's facets look up, to the cosine of less than a degree."""

FLAT = 1.0
"""Of facets at one height less is a chip where two solids meet, mm2."""

GRID = 1e-4
"""Slices are measured on a grid so fine, mm: rings that touch themselves would upset exact arithmetic."""

AROUND = 50.0
"""Open ground round the table, mm."""


@dataclass(frozen=True, slots=True)
class Basin:
    """Water stands `depth` deep over `area` mm2 of the part `code`, about `at` from above, `height` up."""

    code: str
    depth: float
    area: float
    at: Point
    height: float


@dataclass(frozen=True, slots=True)
class Standing:
    """Where water stands: the basins, the lowest first, and how much of the ground cross lies level and bare, mm2."""

    basins: tuple[Basin, ...]
    level: float


def standing(table: Table) -> Standing:
    """Of the table as it stands, its bolts in their holes, arrises sharp."""
    import manifold3d

    solids = [_solid(table, one) for one in table.placed]
    wood = manifold3d.Manifold.batch_boolean(solids, manifold3d.OpType.Add)
    under, over = (_shape(wood.slice(table.sizes.base_top + off)) for off in (-OVER, OVER))
    found = tuple(_basins(wood, solids, [one.code for one in table.placed]))
    return Standing(found, float(under.difference(over).area))


def _solid(table: Table, spot: Placed) -> Manifold:
    return placed_solid(part_solid(_bolted(table.part(spot.code)), _corners), spot)


def _bolted(part: Part) -> Part:
    """The part without holes that a bolt fills."""
    heads = [head.outline for head in part.cuts("counterbore")]
    filled = [hole for hole in part.holes if any(head.contains(hole.bounds.centre) for head in heads)]
    return replace(part, holes=tuple(hole for hole in part.holes if hole not in filled)) if filled else part


@cache
def _corners(outline: Outline) -> Any:
    """Arcs by chords as coarse as a drop bears."""
    import numpy

    from templategen.geometry.refine import fine_polyline

    return numpy.array(fine_polyline(outline, OVER))


def _basins(wood: Manifold, solids: Sequence[Manifold], codes: Sequence[str]) -> Iterator[Basin]:
    floors, ceilings = (_level(wood, way) for way in (1.0, -1.0))
    slices = _Slices(wood, sorted({*floors, *ceilings}))
    for height in floors:
        for room in slices.closed(height):
            depth = slices.depth(height, room)
            spot = room.intersection(_shape(wood.slice(height - OVER))).representative_point()
            if depth is not None:
                at = Point(spot.x, spot.y)
                yield Basin(_part_at(solids, codes, room, height), depth, room.area, at, height)


def _level(wood: Manifold, way: float) -> list[float]:
    """Heights at which faces lie level, looking up (`way` 1) or down (-1)."""
    import numpy

    mesh = wood.to_mesh()
    corners = mesh.vert_properties[:, :3].astype(float)[mesh.tri_verts]
    normal = numpy.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]) / 2
    size = numpy.linalg.norm(normal, axis=1)
    up = way * normal[:, 2] > LEVEL * size
    found: dict[float, float] = {}
    for height, area in zip(corners[up, 0, 2].tolist(), size[up].tolist(), strict=True):
        found[round(height, 2)] = found.get(round(height, 2), 0.0) + area
    return sorted(height for height, area in found.items() if area > FLAT)


class _Slices:
    """The wood's slices, each made once."""

    def __init__(self, wood: Manifold, heights: Sequence[float]) -> None:
        from shapely.geometry import box

        left, low, _, right, high, _ = wood.bounding_box()
        self.wood, self.heights = wood, heights
        self.ground = box(left - AROUND, low - AROUND, right + AROUND, high + AROUND)
        self._known: dict[float, tuple[list[BaseGeometry], BaseGeometry]] = {}

    def over(self, height: float) -> tuple[list[BaseGeometry], BaseGeometry]:
        """The rooms just over a height, wider than a drop spans, and where in them a way leads on down."""
        if height not in self._known:
            above, below = (_shape(self.wood.slice(height + off)) for off in (OVER, -OVER))
            room = _shrunk(_shrunk(self.ground.difference(above)), -1.0)
            self._known[height] = list(getattr(room, "geoms", [room])), _shrunk(room.difference(below))
        return self._known[height]

    def closed(self, height: float) -> Iterator[BaseGeometry]:
        """The rooms with a floor just there, walls all round and no way down."""
        rooms, down = self.over(height)
        for room in rooms:
            if room.area > SMALLEST and not room.intersects(self.ground.exterior) and not room.intersects(down):
                yield room

    def depth(self, height: float, floor: BaseGeometry) -> float | None:
        """How deep water stands over a floor before it comes to the open or to a way down; None under a lid."""
        from shapely import union_all

        full = floor
        for level in (one for one in self.heights if one > height):
            rooms, down = self.over(level)
            reached = [one for one in rooms if one.intersects(full) and one.intersection(full).area > SMALLEST / 2]
            if not reached:
                return None
            room = union_all(reached)
            beside = down.intersection(room).difference(full.buffer(SPANNED))
            if room.intersects(self.ground.exterior) or not beside.is_empty:
                return level - height
            full = room
        return None


def _shrunk(room: BaseGeometry, way: float = 1.0) -> BaseGeometry:
    """Half of what a drop spans off all sides, or on to them."""
    return room.buffer(-way * SPANNED / 2, quad_segs=3)


def _shape(section: CrossSection) -> BaseGeometry:
    """A slice as it is measured: of each piece the outer ring less its holes."""
    from shapely import union_all
    from shapely.geometry import Polygon

    found = []
    for piece in section.decompose():
        rings = sorted((Polygon(ring).buffer(0) for ring in piece.to_polygons()), key=lambda ring: -ring.area)
        if rings:
            found.append(rings[0].difference(union_all(rings[1:], grid_size=GRID), grid_size=GRID))
    return union_all(found, grid_size=GRID)


def _part_at(solids: Sequence[Manifold], codes: Sequence[str], room: BaseGeometry, height: float) -> str:
    """The part that most of a floor is of."""

    def share(body: Manifold) -> float:
        left, low, _, right, high, _ = body.bounding_box()
        x0, y0, x1, y1 = room.bounds
        near = left < x1 and x0 < right and low < y1 and y0 < high
        return float(_shape(body.slice(height - OVER)).intersection(room).area) if near else 0.0

    return max(zip(solids, codes, strict=True), key=lambda one: share(one[0]))[1]

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
    under, over = (wood.slice(table.sizes.base_top + off) for off in (-OVER, OVER))
    found = tuple(_basins(wood, solids, [one.code for one in table.placed]))
    return Standing(found, (under - over).area())


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
        for room, floor in slices.closed(height):
            depth = slices.depth(height, room)
            if depth is not None:
                yield Basin(_part_at(solids, codes, room, height), depth, room.area(), _spot(floor), height)


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
        from manifold3d import CrossSection

        left, low, _, right, high, _ = wood.bounding_box()
        size = (right - left + 2 * AROUND, high - low + 2 * AROUND)
        self.wood, self.heights = wood, heights
        self.ground = CrossSection.square(size).translate((left - AROUND, low - AROUND))
        self.left = left
        self._known: dict[float, tuple[list[CrossSection], CrossSection]] = {}

    def over(self, height: float) -> tuple[list[CrossSection], CrossSection]:
        """The rooms just over a height, wider than a drop spans, and where in them a way leads on down."""
        if height not in self._known:
            above, below = (self.wood.slice(height + off) for off in (OVER, -OVER))
            room = _grown(_grown(self.ground - above, -SPANNED / 2), SPANNED / 2)
            self._known[height] = room.decompose(), _grown(room - below, -SPANNED / 2)
        return self._known[height]

    def closed(self, height: float) -> Iterator[tuple[CrossSection, CrossSection]]:
        """The rooms with a floor just there, walls all round and no way down, each with its floor."""
        rooms, down = self.over(height)
        ways = down.decompose()
        for room in rooms:
            if room.area() > SMALLEST and not self.is_open(room) and not any(_meet(room, way) for way in ways):
                floor = room ^ self.wood.slice(height - OVER)
                if floor.area() > SMALLEST:  # a slot as wide as a drop spans has none, and its way down vanishes
                    yield room, floor

    def is_open(self, room: CrossSection) -> bool:
        """Whether a room is the open ground round the table."""
        return bool(room.bounds()[0] < self.left)

    def depth(self, height: float, floor: CrossSection) -> float | None:
        """How deep water stands over a floor before it comes to the open or to a way down; None under a lid."""
        from manifold3d import CrossSection, OpType

        full = floor
        for level in (one for one in self.heights if one > height):
            rooms, down = self.over(level)
            reached = [one for one in rooms if (one ^ full).area() > SMALLEST / 2]
            if not reached:
                return None
            room = CrossSection.batch_boolean(reached, OpType.Add)
            if self.is_open(room) or not ((down ^ room) - _grown(full, SPANNED)).is_empty():
                return level - height
            full = room
        return None


def _meet(one: CrossSection, other: CrossSection) -> bool:
    """Whether two shapes share ground; most lie apart by their boxes."""
    (left, low, right, high), (x0, y0, x1, y1) = one.bounds(), other.bounds()
    return left < x1 and x0 < right and low < y1 and y0 < high and not (one ^ other).is_empty()


def _grown(room: CrossSection, by: float) -> CrossSection:
    """The room with so much more on all sides, or less."""
    from manifold3d import JoinType

    return room.offset(by, JoinType.Round, circular_segments=12)


def _spot(floor: CrossSection) -> Point:
    """A point well inside the largest piece of a floor."""
    from shapely.geometry import Polygon

    largest = max(floor.decompose(), key=lambda piece: piece.area())
    outer, *holes = sorted(largest.to_polygons(), key=lambda ring: -Polygon(ring).area)
    spot = Polygon(outer, holes).representative_point()
    return Point(spot.x, spot.y)


def _part_at(solids: Sequence[Manifold], codes: Sequence[str], room: CrossSection, height: float) -> str:
    """The part that most of a floor is of."""
    shares = ((body.slice(height - OVER) ^ room).area() for body in solids)
    return max(zip(shares, codes, strict=True), key=lambda one: one[0])[1]

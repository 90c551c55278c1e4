"""The finish: the area it goes on, and how many litres that takes."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import fsum

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.parts.volume import layer, plan_from_side
from templategen.shop.gluing.hold import bonded_area
from templategen.table.assembly import Table

MM2_PER_M2 = 1e6

COVERAGE = (10.0, 14.0)
"""Coverage on planed wood, m2 per litre, as labels state it."""

FURTHER = (1.3, 1.5)
"""By how much further a second coat goes (rule of thumb)."""


@dataclass(frozen=True, slots=True)
class Finish:
    """Area in m2: of all faces of all parts, and of those that glue doesn't cover; litres from least to most."""

    faces: float
    bare: float
    coats: int
    litres: tuple[float, float]


def finish_of(table: Table, tables: int = 1) -> Finish:
    """The finish of so many tables; glued faces get none, dry tongues and grooves do, and laps beside their glue."""
    faces = fsum(part.count * surface(part) for part in table.parts) / MM2_PER_M2
    glued = fsum(2 * bonded_area(table, joint) for joint in table.joints if joint.traits.glued) / MM2_PER_M2
    bare, coats = (faces - glued) * tables, table.profile.shop.coats
    return Finish(faces * tables, bare, coats, litres(bare, coats))


def litres(area: float, coats: int) -> tuple[float, float]:
    """Least and most litres for an area in m2: later coats go further than the first."""
    low, high = (1 + (coats - 1) / share for share in reversed(FURTHER))
    return area / COVERAGE[1] * low, area / COVERAGE[0] * high


def surface(part: Part) -> float:
    """All faces of one finished part, mm2: top, bottom and sides, and what each cut adds or takes away."""
    rims = (part.outline, *part.holes)
    sides = fsum(edge.length for rim in rims for edge in rim.edges) * part.thickness
    return 2 * part.region.area + sides + fsum(_gained(part, feature) for feature in part.features)


def _gained(part: Part, feature: Feature) -> float:
    """What a cut adds to the surface: its floor replaces the face it was cut into, its walls are new.

    Where it runs out the part's sides get lower.
    """
    if feature.traits.bored:
        return 0.0
    if feature.traits.arris:
        return -feature.traits.saves * abs(feature.outline.area)
    if feature.is_flat:
        start, end = layer(part, feature)
        walls = (end - start) * fsum((*_walls(part, feature), *_shortened(part, feature)))
        return walls - (2 * abs(feature.outline.area) if feature.traits.through else 0.0)
    return _groove_gained(part, feature)


def _walls(part: Part, feature: Feature) -> Iterator[float]:
    """Lengths of a cut's sides in plan, below 0 where it runs out through the part's own side."""
    flip = -1.0 if feature.face == "bottom" else 1.0
    for edge in feature.outline.edges:
        middle = Point(flip * (edge.start.x + edge.end.x) / 2, (edge.start.y + edge.end.y) / 2)
        yield -edge.length if _on_rim(part.outline, middle) else edge.length


def _shortened(part: Part, feature: Feature) -> Iterator[float]:
    """Round the holes in a cut, whose walls it shortens, below 0."""
    flip = -1.0 if feature.face == "bottom" else 1.0
    for hole in part.holes:
        if all(feature.outline.contains(Point(flip * point.x, point.y), ON_EDGE) for point in hole.points):
            yield -fsum(edge.length for edge in hole.edges)


def _on_rim(outline: Outline, point: Point) -> bool:
    near = (edge.point_at(min(1.0, max(0.0, edge.share_of(point)))) for edge in outline.edges)
    return any(spot.distance(point) < ON_EDGE for spot in near)


def _groove_gained(part: Part, feature: Feature) -> float:
    """Both cheeks are new; a stopped end adds its wall, an end that runs out takes as much off the side it meets."""
    cheeks = 2 * fsum(piece.area for piece in plan_from_side(part, feature))
    box, face = feature.outline.bounds, part.face(feature.face).outline.bounds
    end = feature.depth * box.height
    stopped = (box.left > face.left + ON_EDGE, box.right < face.right - ON_EDGE)
    return cheeks + sum(end if inside else -end for inside in stopped)

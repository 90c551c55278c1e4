"""Parts as stacks of flat layers: exact enough to say what is in whose way along a straight line.

All work of a flat part is square to a face, so between two heights its plan is one region. A standing leg is told by
three layers: its tenons as they are, its body by the plan that it covers in all, which only makes it more in the way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER
from templategen.geometry.refine import fine_polyline
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.placed import Placed

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

CHORD = 0.02
"""How far the chords of an arc may leave it, mm."""

GRID = 1e-6
"""Corners of layers are set on a grid this fine, mm, so that edges which nearly coincide do."""

OVERHANG = 1.0
"""How far a side cut reaches out of the wood, mm."""


@dataclass(frozen=True, slots=True)
class Layer:
    """What a part, or a cut, covers in plan from height `low` to `high`."""

    low: float
    high: float
    plan: Any


def placed_layers(part: Part, placed: Placed) -> tuple[Layer, ...]:
    """The layers of one copy where it stands."""
    if abs(placed.axes[0].z) > 0.5:
        return tuple(_standing(part, placed))
    return tuple(_lying(part, placed))


def _lying(part: Part, placed: Placed) -> Iterator[Layer]:
    from shapely.affinity import affine_transform

    ax, ay, _ = placed.axes
    for low, high, plan in part_layers(part):
        moved = affine_transform(plan, (ax.x, ay.x, ax.y, ay.y, placed.at.x, placed.at.y))
        heights = sorted((placed.point(0, 0, low).z, placed.point(0, 0, high).z))
        yield Layer(heights[0], heights[1], moved)


def part_layers(part: Part) -> list[tuple[float, float, BaseGeometry]]:
    """The part's own layers from the bottom up: heights and plan."""
    cuts = [taken(part, feature) for feature in part.features if feature.traits.is_pocket]
    heights = sorted({0.0, part.thickness, *(z for cut in cuts for z in (cut.low, cut.high))})
    heights = [z for z in heights if 0 <= z <= part.thickness]
    whole: BaseGeometry = _polygon(part.outline)
    for hole in part.holes:
        whole = whole.difference(_polygon(hole), grid_size=GRID)
    layers: list[tuple[float, float, BaseGeometry]] = []
    for low, high in pairwise(heights):
        if high - low < 1e-6:
            continue
        plan = whole
        for cut in cuts:
            if cut.low <= low + 1e-9 and cut.high >= high - 1e-9:
                plan = plan.difference(cut.plan, grid_size=GRID)
        layers.append((low, high, plan))
    return layers


def taken(part: Part, feature: Feature) -> Layer:
    """What a feature takes, in the part's frame."""
    return Layer(*_span(part, feature), _plan(part, feature))


def _span(part: Part, feature: Feature) -> tuple[float, float]:
    """The heights between which the feature takes wood."""
    if feature.face == "top":
        return part.thickness - feature.depth, part.thickness
    if feature.face == "bottom":
        return 0.0, feature.depth
    box = feature.outline.bounds
    return box.bottom, box.top


def _plan(part: Part, feature: Feature) -> BaseGeometry:
    """What the feature takes in plan."""
    if feature.face == "top":
        return _polygon(feature.outline)
    if feature.face == "bottom":
        return _polygon(OVER.outline(feature.outline))
    from shapely import Polygon

    return Polygon(part.side_cut(feature, OVERHANG).points)


def _polygon(outline: Outline) -> Polygon:
    from shapely import Polygon

    return Polygon(fine_polyline(outline.anticlockwise, CHORD))


def _standing(part: Part, placed: Placed) -> Iterator[Layer]:
    """Tenons and body of a leg: the outline's corners that stand past a shoulder are a tenon's."""
    from shapely import MultiPoint

    zones = [f for f in part.cuts("tenon") if f.face == "top"]
    tenons = [(zone.outline, zone.depth, part.thickness - zone.depth) for zone in zones]
    for outline, near, far in tenons:
        points = [placed.point(p.x, p.y, z) for p in outline.points for z in (near, far)]
        yield _hull(MultiPoint, points)
    body = [p for p in part.outline.points if not any(_is_tip(p, zone.outline) for zone in zones)]
    yield _hull(MultiPoint, [placed.point(p.x, p.y, z) for p in body for z in (0.0, part.thickness)])


def _is_tip(point: Any, tenon: Outline) -> bool:
    """Whether a corner of the leg is one of the tenon's own."""
    return any(point.distance(corner) < 1e-6 for corner in tenon.points)


def _hull(points_of: Any, points: list[Any]) -> Layer:
    heights = [p.z for p in points]
    return Layer(min(heights), max(heights), points_of([(p.x, p.y) for p in points]).convex_hull)

"""How much wood a part is."""

from math import fsum

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature
from templategen.parts.part import Part

MM3_PER_M3 = 1e9


def mass(part: Part, density: float) -> float:
    """The finished part's mass in kg, of a wood with `density` in kg/m3."""
    return volume(part) / MM3_PER_M3 * density


def volume(part: Part) -> float:
    """The finished part's volume, mm3: its region's prism less what each feature takes.

    A feature inside another of the same face counts only for what it goes deeper, holes are not taken off twice,
    and of a groove or slot only what lies in the finished outline. Exact for prisms; a round-over follows its
    strip, so along an arc it is off by under a thousandth of the strip; what two bores that cross share counts twice.
    """
    removed = fsum(taken(part, feature) for feature in part.features if not feature.traits.bored)
    return part.region.area * part.thickness - removed


def taken(part: Part, feature: Feature) -> float:
    """What one feature removes that no hole or shallower feature has, mm3."""
    if not feature.is_flat:
        box, plan = feature.outline.bounds, fsum(piece.area for piece in plan_from_side(part, feature))
        if feature.outline.circle:
            return plan * abs(feature.outline.area) / box.width
        return plan * box.height
    area = abs(feature.outline.area)
    area -= fsum(hole.area for hole in part.holes if _within(hole, feature.outline))
    start, end = layer(part, feature)
    return area * (end - start) * feature.traits.takes


def layer(part: Part, feature: Feature) -> tuple[float, float]:
    """The depths between which a feature removes wood: a shallower one round it has the wood above."""
    if feature.floor:
        return feature.floor, feature.floor + feature.depth
    others = (
        other.depth
        for other in part.features_on(feature.face)
        if other is not feature and other.depth < feature.depth and _within(feature.outline, other.outline)
    )
    return max(others, default=0.0), feature.depth


def plan_from_side(part: Part, feature: Feature) -> list[Outline]:
    """What a groove or slot covers of the finished outline in plan: past a sawn edge or a mitre there is no wood."""
    ring = part.side_cut(feature).anticlockwise.points
    pieces = [part.outline]
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        pieces = [kept for piece in pieces for kept in clip_half_plane(piece, start, end.minus(start).left)]
    return pieces


def _within(inner: Outline, outer: Outline) -> bool:
    """Whether the corners of `inner` all lie in `outer`."""
    return all(outer.contains(Point(*point), ON_EDGE) for point in inner.points)

"""How much wood a part is."""

from __future__ import annotations

from math import pi

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part

ROUND_OFF = 1 - pi / 4
"""Share of a square that lies outside the quarter circle in it."""


def volume(part: Part) -> float:
    """The finished part's volume, mm3: its region's prism less what each feature takes.

    A feature inside another of the same face counts only for what it goes deeper, and holes are not taken off
    twice. Exact for prisms; a round-over follows its strip, so along an arc it is off by under a thousandth of
    the strip.
    """
    taken = sum(_taken(part, feature) for feature in part.features if feature.kind != "hole")
    return part.region.area * part.thickness - taken


def _taken(part: Part, feature: Feature) -> float:
    area = abs(feature.outline.area)
    if feature.face in ("top", "bottom"):
        area -= sum(hole.area for hole in part.holes if _within(hole, feature.outline))
    depth = feature.depth - max(
        (
            other.depth
            for other in part.features_on(feature.face)
            if other is not feature and other.depth < feature.depth and _within(feature.outline, other.outline)
        ),
        default=0.0,
    )
    if feature.kind == "round-over":
        return area * depth * ROUND_OFF
    if feature.kind == "chamfer":
        return area * depth / 2
    return area * depth


def _within(inner: Outline, outer: Outline) -> bool:
    """Whether the corners of `inner` all lie in `outer`."""
    return all(outer.contains(Point(*point), 1e-6) for point in inner.points)

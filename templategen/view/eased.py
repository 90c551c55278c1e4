"""Parts as the eye meets them: their solids with every arris eased."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from math import ceil, hypot, pi
from typing import TYPE_CHECKING, Any

from templategen.fit.solid import part_solid, placed_on
from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.joinery.underside import on_bottom
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS, FeatureKind
from templategen.parts.part import Part
from templategen.view.chords import CHORD, chords

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

PAST = 1.0
"""How far a shaped cutter reaches out of the wood, mm, so that no skin is left."""

LOOSE = 0.01
"""Strips are taken for this much larger, mm, so that none is left beside a chord."""

SLIVER = 0.1
"""What rounding leaves beside a shoulder, mm3."""

STEPS = 12
"""Chords of a quarter round: they turn by less than what passes for an edge."""


@lru_cache(maxsize=512)
def eased_solid(part: Part) -> Manifold:
    """The finished part in its own frame, round-overs, chamfers and beads cut; arcs are told by chords."""
    import manifold3d

    body = part_solid(part, chords)
    cuts = [cut for feature in part.features if feature.traits.arris for cut in _cuts(part, feature)]
    if not cuts:
        return body
    left = (body - manifold3d.Manifold.batch_boolean(cuts, manifold3d.OpType.Add)).decompose()
    return manifold3d.Manifold.compose([one for one in left if one.volume() > SLIVER])


def _cuts(part: Part, feature: Feature) -> Iterator[Manifold]:
    """A cutter run along each chord of the wood's edge in the strip, none of it where the strip isn't."""
    import manifold3d

    wood = part.outline if feature.face == "top" else on_bottom(part.outline).anticlockwise
    ring = chords(wood)
    strip = manifold3d.CrossSection([chords(feature.outline.anticlockwise)]).offset(LOOSE, manifold3d.JoinType.Miter)
    kept = manifold3d.CrossSection([ring]) - strip
    keep = manifold3d.Manifold.extrude(kept, feature.depth + 2 * PAST).translate((0, 0, -feature.depth - PAST))
    profile, around = _profile(feature.kind, feature.depth), chords(feature.outline.anticlockwise)
    for start, end in pairwise([*around, around[0]]):
        if _is_eased(wood, feature, Point(*start), Point(*end)):
            yield placed_on(_swept(profile, start, end, feature.depth) - keep, part.face(feature.face))


def _is_eased(wood: Outline, feature: Feature, start: Point, end: Point) -> bool:
    """Whether a chord of a strip lies on the wood's edge with the strip along it, not ahead."""
    middle = start.plus(end.minus(start), 0.5)
    further = middle.plus(end.minus(start).left.unit, 1.5 * feature.depth)
    return wood.distance(middle) < 2 * CHORD and not feature.outline.contains(further)


def _swept(profile: CrossSection, start: Any, end: Any, size: float) -> Manifold:
    """The profile along a chord and on past both ends: the wood is convex there, so it only meets the next cut."""
    import manifold3d
    import numpy

    dx, dy = float(end[0] - start[0]), float(end[1] - start[1])
    length = hypot(dx, dy)
    along, inward = (dx / length, dy / length, 0.0), (-dy / length, dx / length, 0.0)
    bar = manifold3d.Manifold.extrude(profile, length + 2 * size).translate((0, 0, -size))
    # the profile's x is inwards, its y down into the wood, the bar's z along the chord
    return bar.transform(numpy.array((inward, (0.0, 0.0, -1.0), along, (float(start[0]), float(start[1]), 0.0))).T)


@lru_cache(maxsize=64)
def _profile(kind: FeatureKind, size: float) -> CrossSection:
    """What the cutter takes, x inwards from the edge and y down from the face, with what lies outside the wood."""
    import manifold3d

    shape = manifold3d.CrossSection()
    for one in KINDS[kind].section:
        shape = shape + manifold3d.CrossSection([[(x * size, y * size) for x, y in _fine(one)]])
    for left, low, wide, high in ((-PAST, -PAST, PAST, PAST + size), (-PAST, -PAST, PAST + size, PAST)):
        shape = shape + manifold3d.CrossSection.square((wide, high)).translate((left, low))
    return shape


def _fine(outline: Outline) -> Iterator[tuple[float, float]]:
    for edge in outline.anticlockwise.edges:
        count = ceil(abs(edge.sweep) / (pi / 2) * STEPS) if isinstance(edge, Arc) else 1
        yield from ((point.x, point.y) for point in (edge.point_at(index / count) for index in range(count)))

"""Parts as the eye meets them: their solids with every arris eased."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from math import acos, ceil, hypot
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
    from manifold3d import Manifold

PAST = 1.0
"""How far a shaped cutter reaches out of the wood, mm, so that no skin is left."""

LOOSE = 0.01
"""Strips are taken for this much larger, mm, so that none is left beside a chord."""

HAIR = 1e-5
"""A cutter stands so far out of both faces, mm, that its ends lie in air: in a face they leave ledges of no
width."""

SLIVER = 0.1
"""What rounding leaves beside a shoulder, mm3."""

SAG, LEAST = 0.02, 4
"""How far the chords of a round may leave it, mm, and how many a round has at the least."""


def eased_solid(part: Part) -> Manifold:
    """The finished part in its own frame, round-overs, chamfers and beads cut; arcs are told by chords."""
    return _worked(part)[0]


def cutters(part: Part) -> tuple[int, ...]:
    """What the library names the surfaces by that shaped cutters leave on the eased solid."""
    return _worked(part)[1]


@lru_cache(maxsize=512)
def _worked(part: Part) -> tuple[Manifold, tuple[int, ...]]:
    import manifold3d

    body = part_solid(part, chords)
    eased = [feature for feature in part.features if feature.traits.arris]
    cuts = [cut for feature in eased for cut in _cuts(part, feature)]
    if not cuts:
        return body, ()
    left = (body - manifold3d.Manifold.batch_boolean(cuts, manifold3d.OpType.Add)).decompose()
    whole = manifold3d.Manifold.compose([one for one in left if one.volume() > SLIVER])
    return whole, tuple(_bar(feature.kind, feature.depth).original_id() for feature in eased)


def _cuts(part: Part, feature: Feature) -> Iterator[Manifold]:
    """A cutter run along each chord of the wood's edge in the strip, none of it where the strip isn't."""
    import manifold3d

    wood = part.outline if feature.face == "top" else on_bottom(part.outline).anticlockwise
    ring = chords(wood)
    strip = manifold3d.CrossSection([chords(feature.outline.anticlockwise)]).offset(LOOSE, manifold3d.JoinType.Miter)
    kept = manifold3d.CrossSection([ring]) - strip
    keep = manifold3d.Manifold.extrude(kept, feature.depth + 2 * PAST).translate((0, 0, -feature.depth - PAST))
    bar, around = _bar(feature.kind, feature.depth), chords(feature.outline.anticlockwise)
    for start, end in pairwise([*around, around[0]]):
        if _is_eased(wood, feature, Point(*start), Point(*end)):
            yield placed_on(_swept(bar, start, end, feature.depth) - keep, part.face(feature.face))


def _is_eased(wood: Outline, feature: Feature, start: Point, end: Point) -> bool:
    """Whether a chord of a strip lies on the wood's edge with the strip along it, not ahead."""
    middle = start.plus(end.minus(start), 0.5)
    further = middle.plus(end.minus(start).left.unit, 1.5 * feature.depth)
    return wood.distance(middle) < 2 * CHORD and not feature.outline.contains(further)


def _swept(bar: Manifold, start: Any, end: Any, size: float) -> Manifold:
    """The bar along a chord and on past both ends: the wood is convex there, so it only meets the next cut."""
    import numpy

    dx, dy = float(end[0] - start[0]), float(end[1] - start[1])
    length = hypot(dx, dy)
    x, y = dx / length, dy / length
    # the bar's x is inwards, its y down into the wood, its z along the chord
    along = (x * (length + 2 * size), y * (length + 2 * size), 0.0)
    origin = (float(start[0]) - x * size, float(start[1]) - y * size, 0.0)
    return bar.transform(numpy.array(((-y, x, 0.0), (0.0, 0.0, -1.0), along, origin)).T)


@lru_cache(maxsize=64)
def _bar(kind: FeatureKind, size: float) -> Manifold:
    """What the cutter takes of a run of 1 mm: x inwards from the edge, y down from the face, with what lies outside
    the wood."""
    import manifold3d

    shape = manifold3d.CrossSection()
    for one in KINDS[kind].section:
        shape = shape + manifold3d.CrossSection([[(x * size, y * size) for x, y in _fine(one, size)]])
    for left, low, wide, high in ((-PAST, -PAST, PAST, PAST + size), (-PAST, -PAST, PAST + size, PAST)):
        shape = shape + manifold3d.CrossSection.square((wide, high)).translate((left, low))
    return manifold3d.Manifold.extrude(shape.translate((-HAIR, -HAIR)), 1.0)


def _fine(outline: Outline, size: float) -> Iterator[tuple[float, float]]:
    """Corners of a section, whose rounds are told by few chords where they are small."""
    for edge in outline.anticlockwise.edges:
        count = 1
        if isinstance(edge, Arc):
            count = max(LEAST, ceil(abs(edge.sweep) / (2 * acos(1 - SAG / max(edge.radius * size, SAG)))))
        yield from ((point.x, point.y) for point in (edge.point_at(index / count) for index in range(count)))

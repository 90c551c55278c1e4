"""Parts as the eye meets them: their solids with every arris eased."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from math import acos, ceil, radians
from typing import TYPE_CHECKING, Any

from templategen.fit.solid import part_solid, placed_on
from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.parts.arris import stretches_of
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS, FeatureKind
from templategen.parts.part import Part

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

PAST = 1.0
"""How far a shaped cutter reaches out of the wood, mm, so that no skin is left."""

LOOSE = 0.01
"""A cutter runs so far past the ends of its strip, mm, that no skin is left at a shoulder."""

HAIR = 1e-5
"""A cutter stands so far out of both faces, mm, that its ends lie in air: in a face they leave ledges of no
width."""

SLIVER = 0.1
"""What rounding leaves beside a shoulder, mm3."""

CHORD = 0.1
"""How far the chords of a pictured arc may leave it, mm."""

MOST_TURN = radians(6)
"""Chords of an arc turn by no more than this, so that no facet of a round passes for an edge."""

SAG, LEAST = 0.12, 4
"""How far the chords of a round may leave it, mm, and how many a round has at the least."""


def eased_solid(part: Part) -> Manifold:
    """The finished part in its own frame, round-overs, chamfers and beads cut; arcs are told by chords."""
    return _worked(part)[0]


def cutters(part: Part) -> Mapping[int, float]:
    """What the library names the surfaces by that shaped cutters leave on the eased solid, and how wide each is."""
    return _worked(part)[1]


@lru_cache(maxsize=128)
def _worked(part: Part) -> tuple[Manifold, Mapping[int, float]]:
    import manifold3d

    body, cuts = part_solid(part, chords), []
    sizes: dict[int, float] = {}
    for feature in part.features:
        for cut in _cuts(part, feature) if feature.traits.arris else ():
            sizes[cut.original_id()] = feature.depth
            cuts.append(placed_on(cut.translate((0.0, 0.0, -feature.floor)), part.face(feature.face)))
    if cuts:
        body = body - manifold3d.Manifold.batch_boolean(cuts, manifold3d.OpType.Add)
    left = body.decompose()
    return manifold3d.Manifold.compose([one for one in left if one.volume() > SLIVER]), sizes


def _cuts(part: Part, feature: Feature) -> Iterator[Manifold]:
    """What the cutter takes along each stretch of the wood's edge in the strip, in the face's frame."""
    for stretch in stretches_of(part, feature):
        walk = [point for edge in stretch.edges for point in corners(edge)]
        yield _swept(feature, [stretch.before, *walk, stretch.edges[-1].end, stretch.after])


def _swept(feature: Feature, at: Sequence[Point]) -> Manifold:
    """The section along a walk, mitred where it turns: `at` is the walk with the inner corner before and after it."""
    import manifold3d
    import numpy

    walk, size = list(at[1:-1]), feature.depth
    ways = [end.minus(start).unit for start, end in pairwise(walk)]
    inward = [_end(at[0].minus(walk[0]), ways[0]), *(_mitre(*two) for two in pairwise(ways)),
              _end(at[-1].minus(walk[-1]), ways[-1])]  # fmt: skip
    inward = _untangled(walk, inward, ways, size)
    walk[0], walk[-1] = walk[0].plus(ways[0], -LOOSE), walk[-1].plus(ways[-1], LOOSE)
    start, sideways = numpy.array(walk), numpy.array(inward)

    def along(corners: Any) -> Any:
        number = numpy.rint(corners[:, 2]).astype(int)
        plan = start[number] + sideways[number] * corners[:, :1]
        return numpy.hstack([plan, corners[:, 1:2]])

    bar = manifold3d.Manifold.extrude(_section(feature.kind, size), len(walk) - 1, len(walk) - 2)
    return bar.warp_batch(along).as_original()


def _end(edge: Point, way: Point) -> Point:
    """From the wood's edge along the end of a strip, by 1 mm inwards; square where the end runs along the edge."""
    reach = edge.dot(way.left)
    return edge.times(1 / reach) if reach > abs(edge.dot(way)) / 20 else way.left


def _mitre(before: Point, after: Point) -> Point:
    """From a corner inwards, to where lines 1 mm inside both its sides meet."""
    return before.left.plus(after.left).times(1 / (1 + before.dot(after)))


def _untangled(walk: Sequence[Point], inward: Sequence[Point], ways: Sequence[Point], size: float) -> list[Point]:
    """The same where a bend is tighter than the cutter is wide: its corners all look at where its sides meet."""
    inner = [spot.plus(into, size) for spot, into in zip(walk, inward, strict=True)]
    back = [end.minus(start).dot(way) <= 0 for (start, end), way in zip(pairwise(inner), ways, strict=True)]
    found = list(inward)
    for tight, group in groupby(range(len(ways)), key=lambda i: back[i]):
        sides = list(group) if tight else []
        if sides and sides[0] > 0 and sides[-1] < len(ways) - 1:
            before, after = sides[0] - 1, sides[-1] + 1
            share = inner[after].minus(inner[before]).cross(ways[after]) / ways[before].cross(ways[after])
            spot = inner[before].plus(ways[before], share)
            found[sides[0] : after + 1] = [spot.minus(walk[i]).times(1 / size) for i in range(sides[0], after + 1)]
        elif sides:
            found[sides[0] : sides[-1] + 2] = [ways[min(i, sides[-1])].left for i in range(sides[0], sides[-1] + 2)]
    return found


@lru_cache(maxsize=64)
def _section(kind: FeatureKind, size: float) -> CrossSection:
    """What the cutter takes, with what lies outside the wood: x inwards from the edge, y up from the face."""
    import manifold3d

    shape = manifold3d.CrossSection()
    for one in KINDS[kind].section:
        shape = shape + manifold3d.CrossSection([[(x * size, y * size) for x, y in _fine(one, size)]])
    for left, low, wide, high in ((-PAST, -PAST, PAST, PAST + size), (-PAST, -PAST, PAST + size, PAST)):
        shape = shape + manifold3d.CrossSection.square((wide, high)).translate((left, low))
    return shape.translate((-HAIR, -HAIR)).mirror((0.0, 1.0))


def _fine(outline: Outline, size: float) -> Iterator[tuple[float, float]]:
    """Corners of a section, whose rounds are told by few chords where they are small."""
    for edge in outline.anticlockwise.edges:
        count = 1
        if isinstance(edge, Arc):
            count = max(LEAST, ceil(abs(edge.sweep) / (2 * acos(1 - SAG / max(edge.radius * size, SAG)))))
        yield from ((point.x, point.y) for point in (edge.point_at(index / count) for index in range(count)))


@lru_cache(maxsize=768)
def chords(outline: Outline) -> Any:
    """Corners of an outline whose arcs are told by short and little turning chords."""
    import numpy

    return numpy.array([point for edge in outline.edges for point in corners(edge)])


def corners(edge: Edge) -> list[Point]:
    """Those of one edge, without its end."""
    count = 1
    if isinstance(edge, Arc):
        least = 2 * acos(1 - CHORD / max(edge.radius, CHORD))
        count = max(1, ceil(abs(edge.sweep) / min(MOST_TURN, least)))
    return [edge.point_at(index / count) for index in range(count)]

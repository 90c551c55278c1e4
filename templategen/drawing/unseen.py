"""Lines of work that a view does not look at: hidden under the face, or open at its side."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from templategen.drawing.drawing import Stroke
from templategen.drawing.layer import Layer
from templategen.geometry.coincide import pieces, uncovered
from templategen.geometry.edge import Edge, Line
from templategen.geometry.intersect import intersect, met_at
from templategen.geometry.outline import Outline
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ONE_LINE
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.part import Part

NEAR = 0.01
"""Edges whose boxes are further apart than this don't meet, mm."""


def inside(edges: Iterable[Edge], wood: Outline) -> tuple[Edge, ...]:
    """The pieces of the edges that lie in the wood; work reaches past it where the blank is larger."""
    return tuple(
        piece for edge in edges for piece in _cut_at(edge, wood) if wood.contains(piece.point_at(0.5), ONE_LINE)
    )


def _cut_at(edge: Edge, wood: Outline) -> list[Edge]:
    box = edge.bounds
    met = (met_at(intersect(edge, line)) for line in wood.edges if box.meets(line.bounds, NEAR))
    stops = sorted({0.0, 1.0, *(share for points in met for _, share, _ in points if 0 < share < 1)})
    return [edge.between(a, b) for a, b in pairwise(stops) if (b - a) * edge.length > ONE_LINE]


def fresh_strokes(layer: Layer, edges: Sequence[Edge], drawn: Sequence[Edge]) -> tuple[Stroke, ...]:
    """The edges as strokes, without what lines already drawn cover, each line once."""
    there, strokes = list(drawn), []
    for edge in edges:
        for piece in uncovered(edge, there):
            there.append(piece)
            strokes.append(Stroke(layer, piece))
    return tuple(strokes)


def hidden_in_plan(part: Part, face: str) -> tuple[Edge, ...]:
    """Edges of work on every other face, as seen through the top or the bottom face, in that face's frame."""
    outlines = (_in_plan(part, feature) for feature in part.features if feature.face != face)
    seen = (OVER.outline(outline) if face == "bottom" else outline for outline in outlines if outline is not None)
    wood = OVER.outline(part.outline) if face == "bottom" else part.outline
    return inside((edge for outline in seen for edge in outline.edges), wood)


def under(part: Part, face: str) -> Iterator[Outline]:
    """Work on the face behind the top or the bottom one that has a line of its own in it: one that neither the cut
    nor this face's work has; in this face's frame."""
    way, behind = (OVER, "top") if face == "bottom" else (Placement(), "bottom")
    known = [edge for feature in part.features_on(face) for edge in feature.outline.edges]
    known += [edge for ring in (part.outline, *part.holes) for edge in way.outline(ring).edges]
    for feature in part.features_on(behind):
        outline = OVER.outline(feature.outline)
        edges = () if feature.traits.arris else inside(outline.edges, way.outline(part.outline))
        if any(uncovered(edge, known) for edge in edges):
            yield outline


def _in_plan(part: Part, feature: Feature) -> Outline | None:
    """The feature from above, in the part's frame; work on an upright face as the strip it reaches into."""
    if feature.traits.arris:
        return None
    if feature.face == "top":
        return feature.outline
    if feature.face == "bottom":
        return OVER.outline(feature.outline)
    return part.side_cut(feature)


def foot_of(face: Face) -> Line:
    """Where an upright face stands in plan."""
    first, last = face.point(0, 0), face.point(face.outline.bounds.right, 0)
    return Line(Point(first.x, first.y), Point(last.x, last.y))


def notches(part: Part, face: Face) -> tuple[Edge, ...]:
    """Floors and sides, in an upright face's frame, of work on top and bottom that is open at this face."""
    foot = foot_of(face)
    return tuple(edge for feature in part.features for edge in _notch(part, feature, foot))


def _notch(part: Part, feature: Feature, foot: Line) -> Iterator[Edge]:
    if not feature.is_flat or feature.traits.arris:
        return
    over = feature.face == "bottom"
    outline = OVER.outline(feature.outline) if over else feature.outline
    surface = 0.0 if over else part.thickness
    floor = feature.depth if over else part.thickness - feature.depth
    for piece, is_open in pieces(foot, outline.edges):
        if is_open:
            first, last = (piece.start.distance(foot.start), piece.end.distance(foot.start))
            yield Line(Point(first, floor), Point(last, floor))
            yield Line(Point(first, floor), Point(first, surface))
            yield Line(Point(last, floor), Point(last, surface))

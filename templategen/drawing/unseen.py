"""Lines of work that a view does not look at: hidden under the face, or open at its side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templategen.drawing.coincide import pieces, uncovered
from templategen.drawing.drawing import Stroke
from templategen.drawing.layer import Layer
from templategen.drawing.layers import ALONG_THE_RIM
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.part import Part

OVER = Placement(turned_over=True)


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
    seen = (
        OVER.outline(outline) if face == "bottom" else outline for outline in outlines if outline is not None
    )
    return tuple(edge for outline in seen for edge in outline.edges)


def _in_plan(part: Part, feature: Feature) -> Outline | None:
    """The feature from above, in the part's frame; work on an upright face as the strip it reaches into."""
    if feature.kind in ALONG_THE_RIM:
        return None
    if feature.face == "top":
        return feature.outline
    if feature.face == "bottom":
        return OVER.outline(feature.outline)
    face, box = part.face(feature.face), feature.outline.bounds
    corners = ((box.left, 0.0), (box.right, 0.0), (box.right, feature.depth), (box.left, feature.depth))
    points = (face.point(u, box.bottom, depth) for u, depth in corners)
    return polygon((point.x, point.y) for point in points)


def notches(part: Part, face: Face) -> tuple[Edge, ...]:
    """Floors and sides, in an upright face's frame, of work on top and bottom that is open at this face."""
    length = face.outline.bounds.right
    foot = Line(*(Point(at.x, at.y) for at in (face.point(0, 0), face.point(length, 0))))
    return tuple(edge for feature in part.features for edge in _notch(part, feature, foot))


def _notch(part: Part, feature: Feature, foot: Line) -> Iterator[Edge]:
    if feature.face not in ("top", "bottom") or feature.kind in ALONG_THE_RIM:
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

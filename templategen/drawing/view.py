"""Views: one face of a part with the work cut into it, in the face's own frame."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import atan2, pi

from templategen.drawing.coincide import uncovered
from templategen.drawing.dimension import cross, edge_sizes, grain_arrow
from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.drawing.layers import (
    ALONG_THE_RIM,
    BLANK_OUTLINE,
    FACE_OUTLINE,
    HIDDEN,
    TEXT,
    THROUGH_INSIDE,
    THROUGH_OUTSIDE,
    feature_layer,
)
from templategen.drawing.lettering import HEIGHTS, text_width
from templategen.drawing.overrun import adjoins, overrun
from templategen.drawing.roomy import clear_run, roomiest
from templategen.drawing.unseen import OVER, fresh_strokes, hidden_in_plan, notches
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.part import Part

MOST_MATES = 4
STAGGER = 0.5
NAME_SHARE = 0.3
"""How far along an edge its name stands; its size stands as far from the other end."""
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which read as figures."""


@dataclass(frozen=True, slots=True)
class View:
    """A named picture of one face; `notes` stand under the title, `wood` is what its sizes are taken from."""

    title: str
    notes: tuple[str, ...]
    marks: tuple[Mark, ...]
    wood: Outline
    stops: tuple[Point, ...] = ()
    """Corners and centres of the work, for running dimensions."""


def top_view(part: Part, height: float, by: float) -> View:
    """The top face in the part's own frame: the only view with the line that cuts the part out."""
    holes = [Shape(THROUGH_INSIDE, hole) for hole in part.holes]
    marks = [Shape(THROUGH_OUTSIDE, part.outline), *holes, *_centres(part.holes)]
    work = [feature for feature in part.features_on("top") if not _is_hole(feature, part)]
    notes, worked = _work(work, part.outline, height, by, _edges(holes))
    hidden = fresh_strokes(HIDDEN, hidden_in_plan(part, "top"), _edges((*marks, *worked)))
    lines = _edges((*worked, *hidden, *holes))
    marks += [*worked, *hidden, *_name_and_grain(part, height, lines), *_edge_names(part, height, by)]
    marks += edge_sizes(part.outline, height, by)
    return View("top face", notes, tuple(marks), part.outline, _stops([f.outline for f in work], part.holes))


def bottom_view(part: Part, height: float, by: float) -> View:
    """The underside, turned over left to right: x runs the other way."""
    wood = OVER.outline(part.outline)
    holes = tuple(OVER.outline(hole) for hole in part.holes)
    marks: list[Mark] = [Shape(FACE_OUTLINE, ring) for ring in (wood, *holes)]
    notes, worked = _work(part.features_on("bottom"), wood, height, by, _edges(marks[1:]))
    hidden = fresh_strokes(HIDDEN, hidden_in_plan(part, "bottom"), _edges((*marks, *worked)))
    return View(
        "underside (turned over left to right)", notes, (*marks, *worked, *hidden, *_centres(holes)), wood
    )


def side_view(part: Part, face: Face, height: float, by: float) -> View:
    """An upright face, seen from outside, the bottom of the part downward."""
    marks: list[Mark] = [Shape(FACE_OUTLINE, face.outline)]
    notes, worked = _work(part.features_on(face.name), face.outline, height, by)
    beside = fresh_strokes(FACE_OUTLINE, notches(part, face), _edges((*marks, *worked)))
    stops = _stops([feature.outline for feature in part.features_on(face.name)])
    return View(face.name.replace("-", " "), notes, (*marks, *worked, *beside), face.outline, stops)


def blank_view(part: Part, height: float) -> View:
    """The blank, where it is more than the finished outline."""
    note = f"layer {BLANK_OUTLINE.name}: cut this first, the finished outline later"
    return View(
        "blank", (note,), (Shape(BLANK_OUTLINE, part.blank), *edge_sizes(part.blank, height, 0)), part.blank
    )


def _edges(marks: Sequence[Mark]) -> list[Edge]:
    edges: list[Edge] = []
    for mark in marks:
        if isinstance(mark, Shape):
            edges.extend(mark.outline.edges)
        elif isinstance(mark, Stroke):
            edges.append(mark.edge)
    return edges


def _stops(outlines: Sequence[Outline], holes: Sequence[Outline] = ()) -> tuple[Point, ...]:
    stops: list[Point] = []
    for outline in (*outlines, *holes):
        round_one = outline.circle
        stops += [round_one[0]] if round_one else outline.points
    return tuple(stops)


def _is_hole(feature: Feature, part: Part) -> bool:
    """Whether the feature only says again what is already cut right through."""
    return any(not any(uncovered(edge, hole.edges) for edge in feature.outline.edges) for hole in part.holes)


def _work(
    features: Sequence[Feature], wood: Outline, height: float, by: float, holes: Sequence[Edge] = ()
) -> tuple[tuple[str, ...], tuple[Mark, ...]]:
    """Notes and marks of the features of one face; like features share a letter."""
    kinds: dict[tuple[str, str], list[Feature]] = {}
    for feature in features:
        kinds.setdefault((feature_layer(feature).name, feature.operation), []).append(feature)
    notes: list[str] = []
    marks: list[Mark] = []
    for letter, alike in zip(_letters(), kinds.values(), strict=False):
        notes.append(_note(letter, alike))
        for feature in alike:
            others = [edge for other in features if other is not feature for edge in other.outline.edges]
            marks += _cut(feature, wood, by, _deeper(feature, features))
            marks.append(_letter(letter, feature, height, (*holes, *others), wood))
    return tuple(notes), tuple(marks)


def _letters() -> Iterator[str]:
    count = 0
    while True:
        count += 1
        yield from (letter if count == 1 else f"{letter}{count}" for letter in LETTERS)


def _note(letter: str, alike: list[Feature]) -> str:
    layer = feature_layer(alike[0])
    mates = sorted({mate for feature in alike for mate in feature.mates})
    shown = ", ".join(mates[:MOST_MATES]) + (" ..." if len(mates) > MOST_MATES else "")
    places = f", {len(alike)} places" if len(alike) > 1 else ""
    how = f", {alike[0].operation}" if alike[0].operation and alike[0].operation not in layer.title else ""
    meets = f", meets {shown}" if mates else ""
    return f"{letter}: {layer.title}{places}{how}{meets} [{layer.name}, {layer.colour}, {layer.line_type}]"


def _deeper(feature: Feature, features: Sequence[Feature]) -> tuple[Outline, ...]:
    """The pockets that meet this one and leave no wood at its depth; of two alike the earlier."""
    this = features.index(feature)
    return tuple(
        other.outline
        for i, other in enumerate(features)
        if (other.depth, -i) > (feature.depth, -this)
        and other.kind not in ALONG_THE_RIM
        and adjoins(feature.outline, other.outline)
    )


def _cut(feature: Feature, wood: Outline, by: float, deeper: tuple[Outline, ...]) -> tuple[Mark, ...]:
    """The pocket, or the line on which a shaped cutter ends.

    Each pocket that meets deeper ones runs out a little further than they do, so that no two edges coincide.
    """
    layer = feature_layer(feature)
    if feature.kind in ALONG_THE_RIM:
        return fresh_strokes(layer, feature.outline.edges, wood.edges)
    pocket = overrun(feature.outline, wood, by + STAGGER * len(deeper), deeper)
    centres = _centres((feature.outline,)) if feature.kind in ("hole", "mortise") else ()
    return Shape(layer, pocket), *centres


def _letter(letter: str, feature: Feature, height: float, avoid: Sequence[Edge], wood: Outline) -> Words:
    """The letter inside the pocket where it fits, beside it where it doesn't."""
    box = feature.outline.bounds
    if feature.kind in ALONG_THE_RIM:
        return _letter_beside(letter, feature, height, wood)
    if feature.kind in ("hole", "mortise"):
        return Words(TEXT, Point(box.right + height * 0.6, box.top + height * 0.4), height, letter)
    size = max(
        (h for h in HEIGHTS if h <= height and h * 1.6 <= min(box.width, box.height)), default=HEIGHTS[0]
    )
    at, lines = box.centre, (*feature.outline.edges, *avoid)
    if not feature.outline.contains(at) or any(distance_to(line, at) < size * 0.75 for line in lines):
        at = roomiest(feature.outline, avoid)[0]
    return Words(TEXT, at.plus(Point(0, -size / 2)), size, letter, "middle")


def _letter_beside(letter: str, feature: Feature, height: float, wood: Outline) -> Words:
    """The letter on the whole wood beside the line where a shaped cutter ends."""
    ring = feature.outline.anticlockwise
    inner = [piece for edge in ring.edges for piece in uncovered(edge, wood.edges)]
    longest = max(inner or ring.edges, key=lambda edge: edge.length)
    out = longest.direction_at(0.3).left.times(-1)
    at = longest.point_at(0.3).plus(out, height)
    return Words(TEXT, at.plus(Point(0, -height / 2)), height, letter, "middle")


def _centres(outlines: tuple[Outline, ...]) -> tuple[Mark, ...]:
    return tuple(
        mark
        for outline in outlines
        for mark in cross(outline.bounds.centre, max(outline.bounds.width, outline.bounds.height) / 2 + 3)
    )


def _name_and_grain(part: Part, height: float, lines: list[Edge]) -> Iterator[Mark]:
    """The part's code and the grain arrow in the clearest place; what doesn't fit is left to the title."""
    at, room = roomiest(part.outline, lines)
    gap = min(height * 1.5, room * 0.7)
    run = clear_run(at, part.grain, part.outline, lines, gap, most=height * 12)
    if run > height:
        yield from grain_arrow(at, part.grain, run, height * 1.2)
    upright = abs(part.grain.y) > abs(part.grain.x)
    turn = pi / 2 if upright else 0.0
    along = Point(0, 1) if upright else Point(1, 0)
    foot = at.plus(along.left, height * 0.5)
    half = text_width(part.code, height) / 2
    line = foot.plus(along.left, height * 0.5)
    if clear_run(line, along, part.outline, lines, height * 0.6, half + height) >= half:
        yield Words(TEXT, foot, height, part.code, "middle", turn)


def _edge_names(part: Part, height: float, by: float) -> Iterator[Words]:
    """Which side is edge 1, which end is end 2: written along it, outside the wood."""
    for face in part.worked_faces:
        if face.name in ("top", "bottom"):
            continue
        along = Point(face.along.x, face.along.y)
        out = along.left.times(-1)
        centre = face.point(face.outline.bounds.right * NAME_SHARE, 0)
        readable = along if along.x > 1e-9 or (abs(along.x) <= 1e-9 and along.y > 0) else along.times(-1)
        drop = by + height * (1.4 if readable.left.dot(out) < 0 else 0.4)
        at = Point(centre.x, centre.y).plus(out, drop)
        turn = atan2(readable.y, readable.x)
        yield Words(TEXT, at, height, face.name.replace("-", " "), "middle", turn)

"""Work: the features of one face as a view shows them, lettered, with a note for each letter."""

from collections.abc import Iterator, Sequence

from templategen.catalogue import translated, worded
from templategen.drawing.dimension import cross
from templategen.drawing.drawing import Mark, Shape, Words, edges_of, words_of
from templategen.drawing.layers import TEXT, feature_layer
from templategen.drawing.lettering import HEIGHTS
from templategen.drawing.manner import Manner
from templategen.drawing.roomy import roomiest
from templategen.drawing.unseen import fresh_strokes
from templategen.drawing.work_sizes import set_out_from, work_sizes
from templategen.geometry.bounds import Bounds
from templategen.geometry.coincide import pieces, uncovered
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, distance_to, rectangle
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.router.pockets import run_out

MOST_MATES = 4

ROOMY = 2.5
"""A mortise whose sides are more than so many capital heights has its letter in a quarter of it."""

PAST = 3.0
"""So far centre lines of holes and mortises run past their edges, mm."""

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which read as figures."""


def work(
    features: Sequence[Feature], wood: Outline, manner: Manner, holes: Sequence[Edge] = (), part: Part | None = None
) -> tuple[tuple[str, ...], tuple[Mark, ...]]:
    """Notes and marks of the features of one face; like features share a letter, and the notes of a `part` tell all
    sizes."""
    kinds: dict[tuple[str, str, float], list[Feature]] = {}
    for feature in features:
        own = feature_layer(feature, manner.layers).name, feature.operation, feature.floor
        kinds.setdefault(own, []).append(feature)
    notes: list[str] = []
    marks: list[Mark] = [mark for feature in features for mark in _pocket(feature, features, wood, manner)]
    told: list[Words] = []
    for letter, alike in zip(_letters(), kinds.values(), strict=False):
        notes.append(_note(letter, alike, manner, work_sizes(alike, wood, part, manner) if part else ()))
        for feature in alike:
            others = [edge for other in features if other is not feature for edge in other.outline.edges]
            marks += _rim_line(feature, manner, (*wood.edges, *others, *edges_of(marks)))
            told.append(_letter(letter, feature, manner.height, (*holes, *others), wood, told))
            marks.append(told[-1])
    return tuple(notes), tuple(marks)


def _letters() -> Iterator[str]:
    count = 0
    while True:
        count += 1
        yield from (letter if count == 1 else f"{letter}{count}" for letter in LETTERS)


def _note(letter: str, alike: list[Feature], manner: Manner, sizes: Sequence[str]) -> str:
    layer = feature_layer(alike[0], manner.layers)
    mates = sorted({mate for feature in alike for mate in feature.mates})
    shown = ", ".join(mates[:MOST_MATES]) + (" ..." if len(mates) > MOST_MATES else "")
    places = worded(", {many} places", many=len(alike)) if len(alike) > 1 else ""
    done = translated(alike[0].operation)
    how = f", {done}" if done and done.casefold() not in layer.title.casefold() else ""
    meets = worded(", meets {codes}", codes=shown) if mates else ""
    what = ", ".join((translated(alike[0].traits.words), manner.depth(alike[0].depth), *sizes))
    ink = f"{translated(layer.colour)}, {translated(layer.line_type)}"
    return f"{letter}: {what}{places}{how}{meets} [{layer.name}, {ink}]"


def _pocket(feature: Feature, features: Sequence[Feature], wood: Outline, manner: Manner) -> tuple[Mark, ...]:
    """The pocket, run out of the wood or without the wood's own edges, with centre lines where it has a middle."""
    if feature.traits.arris:
        return ()
    layer, at = feature_layer(feature, manner.layers), set_out_from(feature)
    lines = cross(at, _reach(feature)) if at else ()
    if manner.overrun:
        return Shape(layer, run_out(feature, features, wood, manner.overrun)), *lines
    if any(covered for edge in feature.outline.edges for _, covered in pieces(edge, wood.edges)):
        return *fresh_strokes(layer, feature.outline.edges, wood.edges), *lines
    return Shape(layer, feature.outline), *lines


def _rim_line(feature: Feature, manner: Manner, drawn: Sequence[Edge]) -> tuple[Mark, ...]:
    """The line on which a shaped cutter ends that runs along the rim."""
    if not feature.traits.arris:
        return ()
    return fresh_strokes(feature_layer(feature, manner.layers), feature.outline.edges, drawn)


def _letter(
    letter: str, feature: Feature, height: float, cuts: Sequence[Edge], wood: Outline, told: Sequence[Words]
) -> Words:
    """The letter inside the pocket where it fits, beside it where it doesn't."""
    box = feature.outline.bounds
    if feature.traits.arris:
        return _letter_beside(letter, feature, height, cuts, wood, told)
    if feature.kind == "mortise" and min(box.width, box.height) > height * ROOMY:
        return Words(
            TEXT, box.centre.plus(Point(box.width / 4, box.height / 4 - height / 2)), height, letter, "middle"
        )
    if set_out_from(feature):
        return _letter_at_corner(letter, box, height, told, cuts)
    size = max((h for h in HEIGHTS if h <= height and h * 1.6 <= min(box.width, box.height)), default=HEIGHTS[0])
    avoid = (*cuts, *frames_of(told))
    at, lines = box.centre, (*feature.outline.edges, *avoid)
    if not feature.outline.contains(at) or any(distance_to(line, at) < size * 0.75 for line in lines):
        at = roomiest(feature.outline, avoid)[0]
    words = Words(TEXT, at.plus(Point(0, -size / 2)), size, letter, "middle")
    return words if clear_of(words, told) else _letter_at_corner(letter, box, height, told, cuts)


def _letter_at_corner(letter: str, box: Bounds, height: float, told: Sequence[Words], cuts: Sequence[Edge]) -> Words:
    """The letter at the first corner of the box at which it stands clear of the letters before, and of lines."""
    x, y = box.width / 2 + height * 0.6, box.height / 2 + height * 0.4
    corners = [
        Words(TEXT, box.centre.plus(Point(side * x, up)), height, letter, "start" if side > 0 else "end")
        for up in (y, -y - height)
        for side in (1, -1)
    ]
    free = [one for one in corners if clear_of(one, told)] or corners[:1]
    return next(
        (one for one in free if all(distance_to(cut, one.box.centre) > height * 0.65 for cut in cuts)), free[0]
    )


def clear_of(word: Words, told: Sequence[Words]) -> bool:
    """Whether words stand clear of those told before, with room for small ones that are made larger for the page."""
    return not any(word.box.meets(other.box, max(word.height, other.height)) for other in told)


def _letter_beside(
    letter: str, feature: Feature, height: float, cuts: Sequence[Edge], wood: Outline, told: Sequence[Words]
) -> Words:
    """The letter on the whole wood beside the line where a shaped cutter ends, clear of the letters before."""
    ring = feature.outline.anticlockwise
    inner = [piece for edge in ring.edges for piece in uncovered(edge, wood.edges)]
    longest = max(inner or ring.edges, key=lambda edge: edge.length)
    words = []
    for size in (height, *reversed([size for size in HEIGHTS if size < height])):
        for share in (0.3, 0.4, 0.2, 0.5, 0.15, 0.6, 0.7, 0.8, 0.9):
            at = longest.point_at(share).plus(longest.direction_at(share).left, -size)
            words.append(Words(TEXT, at.plus(Point(0, -size / 2)), size, letter, "middle"))
            if clear_of(words[-1], told) and all(distance_to(line, at) > size * 0.65 for line in cuts):
                return words[-1]
    return next((one for one in words if clear_of(one, told)), words[-1])


def centres(outlines: Sequence[Outline]) -> tuple[Mark, ...]:
    """Centre lines of holes, `PAST` their edges."""
    return tuple(mark for one in outlines for mark in cross(one.bounds.centre, _half(one.bounds)))


def _reach(feature: Feature) -> float:
    """How far the centre lines of what is set out from a middle run to every side."""
    box = feature.outline.bounds
    return _half(box) if feature.traits.centred else min(box.width, box.height) / 2 + PAST


def _half(box: Bounds) -> float:
    return max(box.width, box.height) / 2 + PAST


def frames_of(marks: Sequence[Mark]) -> list[Edge]:
    """The frames round the words among the marks, for other words to keep clear of."""
    return [edge for words in words_of(marks) for edge in rectangle(*words.box).edges]


def stops(features: Sequence[Feature], holes: Sequence[Outline] = ()) -> tuple[Point, ...]:
    """Corners of the work, middles of holes and of what is set out from its middle, for running dimensions."""
    points: list[Point] = []
    for feature in features:
        if not feature.traits.arris:
            at = set_out_from(feature)
            points += feature.outline.points if at is None else [at]
    points += (hole.bounds.centre for hole in holes)
    return tuple(points)

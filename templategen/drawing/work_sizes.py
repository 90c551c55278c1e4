"""Sizes of work in words: how wide, where its middle stands, what it leaves, how much play its mate has in it."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import atan2, degrees, pi

from templategen.catalogue import translated, worded
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ONE_LINE
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.units import off_square_words

PARALLEL = 1e-6
"""Edges whose directions differ by less run alike, as a sine."""

SQUARE = 0.005
"""Sides nearer square than this carry no angle, degrees."""

OTHER = {"top": "bottom", "bottom": "top"}


def work_sizes(alike: Sequence[Feature], wood: Outline, part: Part, manner: Manner) -> tuple[str, ...]:
    """What is told of features of one kind, depth and face besides their depth; `wood` is that face."""
    first = alike[0]
    if first.traits.arris:
        floor = worded("along the floor {size} under this face", size=manner.size(first.floor))
        return *((floor,) if first.floor else ()), *_short(alike, wood, part, manner)
    middles = [at for at in map(set_out_from, alike) if at]
    shapes = dict.fromkeys(words for feature in alike for words in _shape(feature.outline, wood, manner))
    told = [*shapes, _left(first, part, manner)]
    if middles:
        told.append(describe_centres(middles, wood, manner, first.traits.centred))
    return tuple(words for words in (*told, _play(first, manner)) if words)


def describe_holes(holes: Sequence[Outline], wood: Outline, manner: Manner) -> tuple[str, ...]:
    """A line for the holes of each diameter, right through the part."""
    sizes: dict[str, list[Outline]] = {}
    for hole in holes:
        sizes.setdefault(", ".join(_shape(hole, wood, manner)), []).append(hole)
    return tuple(
        worded(
            "hole right through, {size}, {centres}",
            size=size,
            centres=describe_centres([one.bounds.centre for one in alike], wood, manner),
        )
        for size, alike in sizes.items()
    )


def set_out_from(feature: Feature) -> Point | None:
    """The point that work is set out from, where that isn't its corners: its middle, or that of its round end."""
    if feature.traits.centred:
        return feature.outline.bounds.centre
    ends = [edge.centre for edge in feature.outline.edges if isinstance(edge, Arc) and _turns_back(edge)]
    return ends[0] if len(ends) == 1 and not feature.traits.arris else None


def _turns_back(arc: Arc) -> bool:
    """Whether it is half a circle, the round end of a slot."""
    return abs(abs(arc.sweep) - pi) < PARALLEL


MIDDLES = {
    True: ("middle {spots}", "middles {spots}"),
    False: ("round end's middle {spots}", "round end's middles {spots}"),
}
"""Of work that is set out from its own middle, and from that of its round end."""


def describe_centres(middles: Sequence[Point], wood: Outline, manner: Manner, centred: bool = True) -> str:
    """Where middles stand, counted as the view's running sizes are; what all have in common is told once."""
    box = wood.bounds
    spots = [(manner.figure(x - box.left), manner.figure(y - box.bottom)) for x, y in sorted(middles)]
    across, up = (list(dict.fromkeys(own)) for own in zip(*spots, strict=True))
    if min(len(across), len(up)) == 1:
        spots = [(translated(" and ").join(across), translated(" and ").join(up))]
    told = (worded("{x} from the left, {y} from below", x=x, y=y) for x, y in spots)
    one, many = MIDDLES[centred]
    return worded(one if len(middles) == 1 else many, spots=translated(" and ").join(told))


def _short(alike: Sequence[Feature], wood: Outline, part: Part, manner: Manner) -> tuple[str, ...]:
    """From where to where arrises are eased that end on the wood, clear of its corners, of other work
    and of each other."""
    on_face = part.features_on(alike[0].face)
    ends = [(feature, at) for feature in alike for at in _ends(feature.outline, wood)]
    spots = ((at, [one.outline for one in on_face if one is not own]) for own, at in ends)
    if all(
        min((*map(at.distance, wood.points), *(one.distance(at) for one in others))) < ONE_LINE
        for at, others in spots
    ):
        return ()
    left, boxes = wood.bounds.left, [feature.outline.bounds for feature in alike]
    runs = dict.fromkeys((manner.figure(x - left), manner.figure(end - left)) for x, _, end, _ in sorted(boxes))
    told = (worded("{first} to {last}", first=start, last=end) for start, end in runs)
    return (worded("{runs} from the left", runs=translated(" and ").join(told)),)


def _ends(strip: Outline, wood: Outline) -> Iterator[Point]:
    """The ends of an arris: where its strip leaves the edge of the wood by a side shorter than the arris."""
    on = [wood.distance(edge.point_at(0.5)) < ONE_LINE for edge in strip.edges]
    for place, edge in enumerate(strip.edges):
        before = strip.edges[place - 1]
        if on[place] != on[place - 1] and on[place] == (edge.length > before.length):
            yield edge.start


def _shape(outline: Outline, wood: Outline, manner: Manner) -> tuple[str, ...]:
    """A circle's diameter, a ring's width and inner radius, a rectangle's sides, or the width between slanting sides
    with their angle; `wood` is the face that it is cut into."""
    if outline.circle is not None:
        return (worded("diameter {size}", size=manner.size(2 * outline.circle[1])),)
    bent = [edge for edge in outline.edges if isinstance(edge, Arc)]
    if len(bent) == 2 and bent[0].centre.distance(bent[1].centre) < PARALLEL:
        wide, least = abs(bent[0].radius - bent[1].radius), min(bent[0].radius, bent[1].radius)
        return (worded("{size} wide, round a radius of {least}", size=manner.size(wide), least=manner.figure(least)),)
    box, face = outline.bounds, wood.bounds
    if len(bent) == 1 and _turns_back(bent[0]):
        return (worded("{size} wide", size=manner.size(2 * bent[0].radius)),)
    spans = sorted(_spans(outline.edges))
    if len(spans) == 2 and len(outline) == 4:
        (angle, length), (_, width) = spans
        return (f"{manner.sizes(length, width)}, {off_square_words(angle)}",)
    if spans:
        return tuple(
            worded("{size} wide, {angle}", size=manner.size(wide), angle=off_square_words(angle))
            for angle, wide in spans
        )
    if box.left <= face.left + ONE_LINE and box.right >= face.right - ONE_LINE:
        return (worded("{size} wide, from end to end", size=manner.size(box.height)),)
    told = "three-cornered, {size}" if len(outline) == 3 else "{size}"
    return (worded(told, size=manner.sizes(box.width, box.height)),)


def _spans(edges: Sequence[Edge]) -> Iterator[tuple[float, float]]:
    """How far off square slanting sides run that run alike, degrees, and the widths between them."""
    lines = [edge for edge in edges if isinstance(edge, Line)]
    for one, other in combinations(lines, 2):
        along = one.direction_at(0)
        angle = degrees(atan2(abs(along.x), abs(along.y)))
        if SQUARE < angle < 90 - SQUARE and abs(along.cross(other.direction_at(0))) < PARALLEL:
            yield angle, abs(other.start.minus(one.start).cross(along))


def _left(feature: Feature, part: Part, manner: Manner) -> str:
    """What stands between it and its like on the other face."""
    across = (one.depth for one in part.features_on(OTHER.get(feature.face, "")) if one.kind == feature.kind)
    other = next(across, None) if feature.traits.paired else None
    if other is None:
        return ""
    return worded("leaves {size} of the thickness", size=manner.size(part.thickness - feature.depth - other))


def _play(feature: Feature, manner: Manner) -> str:
    """What its mate has to move in, by which the fit is tried."""
    if not feature.clearance:
        return ""
    end = worded(", {size} at its end", size=manner.figure(feature.end_clearance)) if feature.end_clearance else ""
    return worded("play {size} across{end}", size=manner.size(feature.clearance), end=end)

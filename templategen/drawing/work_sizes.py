"""Sizes of work in words: how wide, where its middle stands, what it leaves, how much play its mate has in it."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import atan2, degrees

from templategen.drawing.manner import Manner
from templategen.geometry.edge import Arc, Edge, Line
from templategen.geometry.outline import Outline
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
        floor = f"{manner.figure(first.floor)} {manner.units}"
        return (f"along the floor {floor} under this face",) if first.floor else ()
    shapes = dict.fromkeys(words for feature in alike for words in _shape(feature.outline, manner))
    told = [*shapes, _left(first, part, manner)]
    if first.traits.centred:
        told.append(describe_centres([feature.outline for feature in alike], wood, manner))
    return tuple(words for words in (*told, _play(first, manner)) if words)


def describe_holes(holes: Sequence[Outline], wood: Outline, manner: Manner) -> tuple[str, ...]:
    """A line for the holes of each diameter, right through the part."""
    sizes: dict[str, list[Outline]] = {}
    for hole in holes:
        sizes.setdefault(", ".join(_shape(hole, manner)), []).append(hole)
    return tuple(
        f"hole right through, {size}, {describe_centres(alike, wood, manner)}" for size, alike in sizes.items()
    )


def describe_centres(outlines: Sequence[Outline], wood: Outline, manner: Manner) -> str:
    """Where middles stand, counted as the view's running sizes are."""
    box = wood.bounds
    spots = sorted((one.bounds.centre.x - box.left, one.bounds.centre.y - box.bottom) for one in outlines)
    told = " and ".join(f"{manner.figure(x)} from the left, {manner.figure(y)} from below" for x, y in spots)
    return f"{'middle' if len(spots) == 1 else 'middles'} {told}"


def _shape(outline: Outline, manner: Manner) -> tuple[str, ...]:
    """A circle's diameter, a ring's width and inner radius, a rectangle's sides, or the width between slanting sides
    with their angle."""
    if outline.circle is not None:
        return (f"diameter {manner.figure(2 * outline.circle[1])} {manner.units}",)
    bent = [edge for edge in outline.edges if isinstance(edge, Arc)]
    if len(bent) == 2 and bent[0].centre.distance(bent[1].centre) < PARALLEL:
        wide, least = abs(bent[0].radius - bent[1].radius), min(bent[0].radius, bent[1].radius)
        return (f"{manner.figure(wide)} {manner.units} wide, round a radius of {manner.figure(least)}",)
    spans = tuple(f"{width} {manner.units} wide, {angle}" for width, angle in _spans(outline.edges, manner))
    box = outline.bounds
    return spans or (f"{manner.figure(box.width)} x {manner.figure(box.height)} {manner.units}",)


def _spans(edges: Sequence[Edge], manner: Manner) -> Iterator[tuple[str, str]]:
    """The widths between slanting sides that run alike, each with how far off square they run."""
    lines = [edge for edge in edges if isinstance(edge, Line)]
    for one, other in combinations(lines, 2):
        along = one.direction_at(0)
        angle = degrees(atan2(abs(along.x), abs(along.y)))
        if SQUARE < angle < 90 - SQUARE and abs(along.cross(other.direction_at(0))) < PARALLEL:
            yield manner.figure(abs(other.start.minus(one.start).cross(along))), off_square_words(angle)


def _left(feature: Feature, part: Part, manner: Manner) -> str:
    """What stands between it and its like on the other face."""
    across = (one.depth for one in part.features_on(OTHER.get(feature.face, "")) if one.kind == feature.kind)
    other = next(across, None) if feature.traits.paired else None
    if other is None:
        return ""
    return f"leaves {manner.figure(part.thickness - feature.depth - other)} {manner.units} of the thickness"


def _play(feature: Feature, manner: Manner) -> str:
    """What its mate has to move in, by which the fit is tried."""
    if not feature.clearance:
        return ""
    end = f", {manner.figure(feature.end_clearance)} at its end" if feature.end_clearance else ""
    return f"play {manner.figure(feature.clearance)} {manner.units} across{end}"

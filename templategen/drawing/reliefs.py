"""Corner relief as holes of their own: a machine plunges its bit there, the outlines stay what they are."""

from collections.abc import Iterable, Iterator, Sequence

from templategen.catalogue import translated, worded
from templategen.drawing.drawing import Shape
from templategen.drawing.layer import Layer
from templategen.drawing.layers import WORK_WEIGHT, depth_code, depth_words, layer_name
from templategen.drawing.manner import Manner
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.relief_holes import relief_holes
from templategen.geometry.tolerance import ON_EDGE
from templategen.parts.feature import Feature

THINNEST = 1.7071067811865475
"""A pocket narrower than so many radii would be cut on its far side too: 1 + 1 / sqrt 2."""


def pocket_reliefs(
    features: Sequence[Feature], wood: Outline, manner: Manner
) -> tuple[tuple[str, ...], tuple[Shape, ...]]:
    """Notes and holes for the closed inside corners of one face's pockets; none where the profile asks for none."""
    if manner.relief == "none" or manner.overrun <= 0:
        return (), ()
    deepest_first = sorted(features, key=lambda feature: -feature.depth)
    marks = _once(mark for feature in deepest_first for mark in _of_pocket(feature, features, wood, manner))
    return _notes(marks, manner), marks


def outline_reliefs(
    outlines: Iterable[tuple[Outline, str]], manner: Manner
) -> tuple[tuple[str, ...], tuple[Shape, ...]]:
    """The same for what is cut right through: each outline with the side on which the void lies."""
    if manner.relief == "none" or manner.overrun <= 0:
        return (), ()
    layer = _layer("top", "through", translated("cut right through"))
    marks = _once(
        Shape(layer, hole.outline)
        for outline, void in outlines
        for hole in relief_holes(outline, manner.overrun, manner.relief, void)
    )
    return _notes(marks, manner), marks


def _of_pocket(feature: Feature, features: Sequence[Feature], wood: Outline, manner: Manner) -> Iterator[Shape]:
    if not feature.traits.is_pocket:
        return
    radius = manner.overrun
    if _narrow(feature.outline.bounds) < THINNEST * radius:
        return
    how = worded("{size} deep", size=depth_words(feature.depth, manner.layers))
    layer = _layer(feature.face, depth_code(feature.depth, manner.layers), how)
    others = [other.outline for other in features if other is not feature and not other.traits.arris]
    for hole in relief_holes(feature.outline, radius, manner.relief):
        met = any(other.contains(hole.corner, ON_EDGE) for other in others)
        if not met and wood.contains(hole.corner) and wood.distance(hole.corner) > ON_EDGE:
            yield Shape(layer, hole.outline)


def _narrow(box: Bounds) -> float:
    return min(box.width, box.height)


def _layer(face: str, depth: str, how: str) -> Layer:
    words = worded("corner relief, {how}: as wide as the bit", how=how)
    return Layer(layer_name(face, "corner-relief", depth), words, "orange", "continuous", WORK_WEIGHT, cuts=True)


def _once(shapes: Iterable[Shape]) -> tuple[Shape, ...]:
    """Of holes in one place the first, which is the deepest."""
    kept: dict[tuple[float, float], Shape] = {}
    for shape in shapes:
        centre = shape.outline.bounds.centre
        kept.setdefault((round(centre.x, 6), round(centre.y, 6)), shape)
    return tuple(kept.values())


def _notes(marks: Sequence[Shape], manner: Manner) -> tuple[str, ...]:
    names = dict.fromkeys(mark.layer.name for mark in marks)
    told = worded(HOW[manner.relief], size=manner.size(2 * manner.overrun))
    return tuple(f"{told} [{name}]" for name in names)


HOW = {
    "corner": "corner relief: plunge a {size} bit in the middle of each circle",
    "edge": "corner relief: run a {size} bit along the middle of each short slot",
}

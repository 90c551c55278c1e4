"""Holes as they are bored and chopped, seen from above with the fence on the far side, or on a leg's end."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import pi

from templategen.catalogue import worded
from templategen.drawing.bench_view import LETTERS, BenchView, lies_up
from templategen.drawing.drawing import Mark, Stroke
from templategen.drawing.layers import CENTRE
from templategen.drawing.machine_marks import Squeeze, along, block, outline, squeezed, upright, waste, wood, words
from templategen.drawing.machine_stage import Stage, box_of
from templategen.geometry.clip import convex_clip, half_plane
from templategen.geometry.edge import Line
from templategen.geometry.point import Point, polar


def mortise(view: BenchView) -> Iterator[Mark]:
    """A mortise, told from an end and from the edge at the fence."""
    ring = view.squared(*view.ends)
    box, right = box_of(ring), view.is_right(view.lay.stop_at)
    way, far = (-1.0, box.right) if right else (1.0, box.left)
    near, length = far + way * view.value("stop"), way * view.value("length")
    top = box.top - view.value("edge")
    low = top - view.value("width")
    squeeze = squeezed([*(point.x for point in ring), near, near + length], box.height)
    stage = Stage(view, squeeze, box)
    a, b = sorted((squeeze(near), squeeze(near + length)))
    yield from wood(squeeze.points(ring), view.part.code)
    yield from waste(block(a, low, b, top), stage.letter)
    yield from _from_end(stage, squeeze, far, near, right, 1)
    yield from stage.over(squeeze(near), squeeze(near + length), view.figure("length"), outermost=False)
    yield from _from_edge(view, stage, b, top, low)
    told = worded("{size} deep, {lies}", size=view.figure("height"), lies=lies_up(view, view.lay.worked))
    yield words(told, (a + b) / 2, box.bottom - stage.letter * 3.0, stage.letter)


def _from_end(stage: Stage, squeeze: Squeeze, far: float, near: float, right: bool, row: int = 0) -> Iterator[Mark]:
    yield from squeeze.breaks(stage.low, stage.top)
    yield from stage.fence(stage.left - stage.letter, stage.right + stage.letter)
    yield from stage.stop(squeeze(far), right)
    yield from stage.over(squeeze(far), squeeze(near), stage.view.figure("stop"), row)


def _from_edge(view: BenchView, stage: Stage, x: float, top: float, low: float) -> Iterator[Mark]:
    """Figures from the edge at the fence, past the piece's right end."""
    out = stage.right + stage.letter * (2.2 if view.is_right(view.lay.stop_at) else 1.0)
    yield from upright(top, stage.top, out, view.figure("edge"), stage.letter, x)
    yield from upright(low, top, out, view.figure("width"), stage.letter, x)


def bore(view: BenchView) -> Iterator[Mark]:
    """A hole, told from an end and from the edge at the fence; of a pin's slot all that is sawn out to that end."""
    yield from _bored(view, view.squared(*view.ends))


def edge_bore(view: BenchView) -> Iterator[Mark]:
    """The same into an edge that lies up, the face at the fence on the far side."""
    left, right = view.ends
    yield from _bored(view, block(left, 0.0, right, view.part.thickness))


def _bored(view: BenchView, ring: Sequence[Point]) -> Iterator[Mark]:
    box, right = box_of(ring), view.is_right(view.lay.stop_at)
    way, far = (-1.0, box.right) if right else (1.0, box.left)
    x, y, radius = far + way * view.value("stop"), box.top - view.value("edge"), view.value("width") / 2
    squeeze = squeezed([*(point.x for point in ring), x - radius, x + radius], box.height)
    stage, at = Stage(view, squeeze, box), squeeze(x)
    lies = squeeze.points(ring)
    yield from wood(lies, view.part.code)
    turns = [Point(at, y).plus(polar(radius, 2 * pi * number / 48)) for number in range(48)]
    if view.set_up.operation == "pin slot":
        turns = _to_the_end(turns, squeeze(far), right)
        turns = list(convex_clip(turns, (half_plane(a, b.minus(a).left) for a, b in pairwise([*lies, lies[0]]))))
    yield from waste(turns, stage.letter)
    for ray in (Point(radius * 1.2, 0.0), Point(0.0, radius * 1.2)):
        yield Stroke(CENTRE, Line(Point(at, y).plus(ray, -1.0), Point(at, y).plus(ray)))
    yield from _from_end(stage, squeeze, far, x, right)
    out = stage.right + stage.letter * (2.2 if right else 1.0)
    yield from upright(y, stage.top, out, view.figure("edge"), stage.letter, at)
    told = _bit(view)
    yield words(told, at, box.bottom - stage.letter * 3.0, stage.letter)


def _bit(view: BenchView) -> str:
    """The bit, how deep it goes, what lies up."""
    deep = worded(", {size} deep", size=view.figure("height")) if view.has("height") else ""
    return worded(
        "bore {size}{deep}, {lies}", size=view.figure("width"), deep=deep, lies=lies_up(view, view.lay.worked)
    )


def _to_the_end(turns: Sequence[Point], far: float, right: bool) -> list[Point]:
    """A bore's circle, from where it lies farthest to the right, sawn out to the end of the piece."""
    half = turns[12:37] if right else [*turns[36:], *turns[:13]]
    return [*half, Point(far, half[-1].y), Point(far, half[0].y)]


def end_bore(view: BenchView) -> Iterator[Mark]:
    """A hole down from a tenon's end, seen on the end: the leg's lower edge below, its underside at the left."""
    middle, half = view.value("middle"), view.value("edge")
    cheek = view.part.cuts("tenon")[0].depth
    letter = 1.6 * 2 * middle / LETTERS
    yield from wood(block(0.0, -middle, 2 * middle, middle), view.part.code)
    yield from outline(block(cheek, -half, 2 * middle - cheek, half))
    radius = view.value("width") / 2
    yield from waste([Point(middle, 0.0).plus(polar(radius, 2 * pi * number / 48)) for number in range(48)], letter)
    for ray in (Point(radius * 1.2, 0.0), Point(0.0, radius * 1.2)):
        yield Stroke(CENTRE, Line(Point(middle, 0.0).plus(ray, -1.0), Point(middle, 0.0).plus(ray)))
    yield from along(0.0, middle, middle + letter * 2.5, view.figure("middle"), letter, middle)
    yield from upright(-half, 0.0, 2 * middle + letter * 2.0, view.figure("edge"), letter, 2 * middle - cheek)
    yield words(_bit(view), middle, -middle - letter * 2.0, letter)
    yield words(
        worded("{edge} below, underside at the left", edge=view.side("low")), middle, -middle - letter * 4.0, letter
    )

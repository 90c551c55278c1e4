"""What a bit leaves in notches that it doesn't enter, and how far a pocket may run out towards a neighbour."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.overlap import overlap
from templategen.geometry.point import Point
from templategen.router.hold import flat
from templategen.router.operation import Operation

TELLING = 0.02
"""Less than this is no wood worth a word, mm2."""

FRINGE = 1e-3
"""Half of what is so thin that a written file can't hold its two sides apart, mm."""


def left_outside(ring: Outline, bit: float) -> tuple[Outline, ...]:
    """What is left round a part whose notches are narrower than the bit, in chords of a hundredth of a millimetre."""
    part = flat(ring)
    closed = part.buffer(bit / 2, quad_segs=64).buffer(-bit / 2, quad_segs=64)
    whole = closed.difference(part)
    left: Any = whole.buffer(-FRINGE, join_style="mitre").buffer(FRINGE, join_style="mitre")
    pieces = [piece for piece in getattr(left, "geoms", (left,)) if piece.area > TELLING]
    return tuple(polygon(piece.exterior.coords[:-1]).anticlockwise for piece in pieces)


CLEAR = 0.1
"""A pocket that runs out of its part stays so far off the next one, mm."""

EDGE = 1.5
"""And so far off the edge of the sheet, mm."""


def kept_off(pocket: Operation, rings: Sequence[Outline], own: int) -> Operation:
    """A pocket of the part at that place among the rings, cut back where it would run into another of them."""
    outline = pocket.outline
    for i, ring in enumerate(rings):
        if i != own and outline.bounds.meets(ring.bounds) and overlap(outline, ring):
            outline = _cut_back(outline, rings[own], ring)
    return pocket if outline is pocket.outline else replace(pocket, outline=outline)


def kept_on(pocket: Operation, size: tuple[float, float]) -> Operation:
    """A pocket cut back where it would run out to the edge of the sheet."""
    outline, (length, width) = pocket.outline, size
    sides = ((1.0, 0.0, EDGE), (-1.0, 0.0, EDGE - length), (0.0, 1.0, EDGE), (0.0, -1.0, EDGE - width))
    for x, y, off in sides:
        out = Point(x, y)
        kept = clip_half_plane(outline, out.times(off), out)
        outline = max(kept, key=lambda one: abs(one.area), default=outline)
    return pocket if outline is pocket.outline else replace(pocket, outline=outline)


def _cut_back(outline: Outline, own: Outline, other: Outline) -> Outline:
    """The outline before the edge of the other part that stands furthest off its own."""
    lines = [edge for edge in other.anticlockwise.edges if isinstance(edge, Line)]
    off = {edge: min(point.minus(edge.start).dot(_out(edge)) for point in own.points) for edge in lines}
    edge = max(off, key=lambda line: off[line], default=None)
    if edge is None or off[edge] <= CLEAR:
        return outline
    kept = clip_half_plane(outline, edge.start.plus(_out(edge), CLEAR), _out(edge))
    return max(kept, key=lambda one: abs(one.area), default=outline)


def _out(edge: Line) -> Point:
    return edge.direction_at(0.0).left.times(-1)

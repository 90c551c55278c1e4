"""Waste inside a template: pockets hatched where wood is cut away from the face that is seen."""

from collections.abc import Iterable, Iterator, Sequence

from templategen.drawing.drawing import Mark, Stroke, Words, words_of
from templategen.drawing.hatch import hatch
from templategen.drawing.label import word_room
from templategen.drawing.layer import Layer
from templategen.drawing.lettering import text_width
from templategen.drawing.unseen import inside
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Arc, Line
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point

WASTE = Layer("WASTE", "hatched: wood that is cut away from this face, as deep as its letter tells", weight=0.1)

APART = 4.0
"""Between two lines of the hatching, mm."""

ROUND = 0.8
"""Left clear round words, mm."""

SHORTEST = 0.5
"""Shorter lines of the hatching are left out, mm."""


def hatched(pockets: Sequence[tuple[Outline, float]], wood: Outline, words: Iterable[Mark]) -> Iterator[Stroke]:
    """Lines over the pockets, each with its depth, where they lie in the wood, broken round the words: aslant one way
    and the other in the order of their depths, the deepest rising, so that a step in the floor shows."""
    clear = [words_box(one) for one in words_of(words)]
    depths = sorted({depth for _, depth in pockets}, reverse=True)
    for pocket, depth in pockets:
        slant = -1 if depths.index(depth) % 2 else 1
        for line in inside(hatch([list(_points(pocket))], (slant, 1.0), APART), wood):
            if isinstance(line, Line):
                yield from (Stroke(WASTE, piece) for piece in _broken(line, clear))


def words_box(words: Words) -> Bounds:
    """Extents of words, with a little room round them."""
    more = word_room(words.text, words.height) - text_width(words.text, words.height)
    return words.box.grown(more / 2 + ROUND)


def _points(outline: Outline) -> Iterator[tuple[float, float]]:
    for edge in outline.edges:
        steps = 12 if isinstance(edge, Arc) else 1
        yield from (edge.point_at(step / steps) for step in range(steps))


def _broken(line: Line, boxes: Sequence[Bounds]) -> Iterator[Line]:
    """What of a line lies outside all boxes."""
    spans = sorted(span for box in boxes if (span := _within(line, box)))
    at = 0.0
    for first, last in (*spans, (1.0, 1.0)):
        if (first - at) * line.length > SHORTEST:
            yield Line(line.point_at(at), line.point_at(first))
        at = max(at, last)


def _within(line: Line, box: Bounds) -> tuple[float, float] | None:
    """The shares of the line between which it lies in the box."""
    low, high = 0.0, 1.0
    way: Point = line.end.minus(line.start)
    for start, step, first, last in zip(line.start, way, box[:2], box[2:], strict=True):
        if abs(step) < 1e-12:
            if not first < start < last:
                return None
            continue
        a, b = sorted(((first - start) / step, (last - start) / step))
        low, high = max(low, a), min(high, b)
    return (low, high) if low < high else None

"""Tags: what finds no room inside a template, in a border beside it, with a leader to the part it speaks of."""

from collections.abc import Iterator, Sequence

from templategen.drawing.drawing import Mark, Shape, Stroke, Words, marks_box
from templategen.drawing.label import word_room
from templategen.drawing.layer import Layer
from templategen.drawing.layers import TEXT
from templategen.drawing.lettering import LINE_FEED
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point

TAG = Layer("TAG", "tag on the waste: speaks of the part that its line leads to", weight=0.18)

AWAY = 5.0
"""Between a template and its tag, mm."""

EDGE = 1.6
"""Between the border of a tag and its words, mm."""

LETTER = 2.0
"""Capitals on a tag, mm."""


def tag(lines: Sequence[str], outline: Outline, marks: Sequence[Mark]) -> Iterator[Mark]:
    """The lines in a border to the right of the marks, or below where that takes less paper; none without lines."""
    if not lines:
        return
    box, feed = marks_box(marks), LETTER * LINE_FEED
    width = max(word_room(line, LETTER) for line in lines) + 2 * EDGE
    height = feed * (len(lines) - 1) + LETTER * 1.5 + 2 * EDGE
    right = (box.width + AWAY + width) * max(box.height, height)
    below = max(box.width, width) * (box.height + AWAY + height)
    left, top = (box.right + AWAY, box.centre.y + height / 2) if right <= below else (box.left, box.bottom - AWAY)
    border = Bounds(left, top - height, left + width, top)
    yield Shape(TAG, rectangle(*border))
    for row, line in enumerate(lines):
        yield Words(TEXT, Point(left + width / 2, top - EDGE - LETTER * 1.15 - row * feed), LETTER, line, "middle")
    start = Point(border.left, border.centre.y) if right <= below else Point(left + width / 3, border.top)
    yield Stroke(TAG, Line(start, nearest(outline.edges, start)))


def nearest(edges: Sequence[Edge], to: Point) -> Point:
    """The point of some edges nearest to another, to a hundredth of an edge."""
    spots = (edge.point_at(step / 100) for edge in edges for step in range(101))
    return min(spots, key=lambda spot: spot.distance(to))

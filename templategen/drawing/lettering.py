"""Lettering: heights by ISO 3098 and room for a line of text."""

from __future__ import annotations

from collections.abc import Iterable

from templategen.drawing.drawing import Mark, Shape, Stroke, Words
from templategen.geometry.bounds import Bounds

HEIGHTS = (3.5, 5.0, 7.0, 10.0)
"""Capital heights of ISO 3098 that read in a workshop, mm."""

WIDTH_OF_LETTER = 0.85
"""Room for one letter as a share of the capital height, on the generous side."""

LINE_FEED = 1.8
"""Distance between base lines as a share of the capital height."""


def height_for(extent: float) -> float:
    """The capital height for a drawing whose longer side is `extent` mm: about one in 120."""
    return next((height for height in HEIGHTS if height >= extent / 120), HEIGHTS[-1])


def text_width(text: str, height: float) -> float:
    """Room for a line of text, mm, on the generous side."""
    return len(text) * height * WIDTH_OF_LETTER


def text_box(words: Words) -> Bounds:
    """Generous extents of a line of text, whichever way it is turned."""
    length = text_width(words.text, words.height)
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    along = words.at._replace(x=1.0, y=0.0).turned(words.turn)
    up = along.left
    ends = (words.at.plus(along, -before * length), words.at.plus(along, (1 - before) * length))
    lines = (end.plus(up, share * words.height) for end in ends for share in (-0.4, 1.1))
    return Bounds.around(Bounds(x, y, x, y) for x, y in lines)


def marks_box(marks: Iterable[Mark]) -> Bounds:
    """Extents of marks, their words included."""
    return Bounds.around(mark_box(mark) for mark in marks)


def mark_box(mark: Mark) -> Bounds:
    """Extents of a mark."""
    if isinstance(mark, Shape):
        return mark.outline.bounds
    return mark.edge.bounds if isinstance(mark, Stroke) else text_box(mark)

"""Paper templates: the faces of a part that are marked out, without sizes, to print, stick on and cut to."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.drawing.drawing import Drawing, Mark, Words
from templategen.drawing.layers import DIMENSION, TEXT
from templategen.drawing.lettering import marks_box
from templategen.drawing.manner import Manner
from templategen.drawing.move import moved
from templategen.drawing.view import View, bottom_view, top_view
from templategen.geometry.point import Point
from templategen.parts.part import Part

LETTER = 4.0
"""Capitals on a template, mm: read at arm's length, small enough for a spline."""

OVERRUN = 2.0
"""How far open pockets run past the wood, mm, so that the line is still there once the edge is cut."""

BETWEEN = 12.0
"""Paper between two faces of one part, mm."""


def template_drawing(part: Part, title: str) -> Drawing:
    """The top face at the part's own coordinates and, where it carries other work, the underside below it."""
    manner = Manner(LETTER, OVERRUN)
    marks = list(_bare(top_view(part, manner)))
    if _has_own_work(part):
        below = tuple(_bare(bottom_view(part, manner)))
        box = marks_box(below)
        at = Point(box.centre.x, box.top + LETTER)
        label = Words(TEXT, at, LETTER, "underside, turned over left to right", "middle")
        marks += moved((*below, label), Point(0, marks_box(marks).bottom - at.y - BETWEEN))
    return Drawing(f"{title} {part.code}".strip(), tuple(marks))


def _bare(view: View) -> Iterator[Mark]:
    """The view's lines without its sizes."""
    return (mark for mark in view.marks if mark.layer.name != DIMENSION.name)


def _has_own_work(part: Part) -> bool:
    """Whether the underside carries anything but rounded edges that the top doesn't carry in its mirror image."""
    cut = [f for f in part.features_on("bottom") if f.kind not in ("round-over", "chamfer")]
    return bool(cut) and not part.alike_both_faces

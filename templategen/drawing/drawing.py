"""The drawing: views of outlines, lines and words in one flat frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, pi, sin
from typing import Literal

from templategen.drawing.layer import Layer
from templategen.drawing.lettering import text_width
from templategen.drawing.pen import Pen
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed outline on a layer; `part` is the code of the part that it shows, where that matters."""

    layer: Layer
    outline: Outline
    part: str = ""

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The lines that it is drawn with."""
        return self.outline.edges

    @property
    def box(self) -> Bounds:
        """Exact extents."""
        return self.outline.bounds

    def placed(self, way: Placement) -> Shape:
        """The shape carried along."""
        return replace(self, outline=way.outline(self.outline))

    def draw(self, pen: Pen) -> None:
        """Gives it to a pen."""
        pen.ring(self)


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open line or arc on a layer: centre lines, arrows, witness marks, what a picture shows of a part."""

    layer: Layer
    edge: Edge
    part: str = ""

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The one line that it is drawn with."""
        return (self.edge,)

    @property
    def box(self) -> Bounds:
        """Exact extents."""
        return self.edge.bounds

    def placed(self, way: Placement) -> Stroke:
        """The stroke carried along."""
        return replace(self, edge=way.edge(self.edge))

    def draw(self, pen: Pen) -> None:
        """Gives it to a pen."""
        pen.stroke(self)


Anchor = Literal["start", "middle", "end"]

ANCHORS: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""How much of a line of text stands before its place."""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text: capital height in mm, turned by `turn` radians about `at`.

    `anchor` says which end of the base line stands at `at`.
    """

    layer: Layer
    at: Point
    height: float
    text: str
    anchor: Anchor = "start"
    turn: float = 0.0
    part: str = ""

    @property
    def edges(self) -> tuple[Edge, ...]:
        """Letters are no lines."""
        return ()

    @property
    def box(self) -> Bounds:
        """Generous extents, whichever way the words are turned."""
        length, (x, y) = text_width(self.text, self.height), self.at
        before = ANCHORS[self.anchor]
        first, last, low, high = -before * length, (1 - before) * length, -0.4 * self.height, 1.1 * self.height
        c, s = cos(self.turn), sin(self.turn)
        xs = [x + along * c - up * s for along in (first, last) for up in (low, high)]
        ys = [y + along * s + up * c for along in (first, last) for up in (low, high)]
        return Bounds(min(xs), min(ys), max(xs), max(ys))

    def placed(self, way: Placement) -> Words:
        """The words carried along, the right way up. The placement must not turn over."""
        return replace(self, at=way.point(self.at), turn=self.turn + way.turn).upright

    @property
    def upright(self) -> Words:
        """Words in the middle of their place, turned end for end where they would read upside down."""
        turn = (self.turn + pi) % (2 * pi) - pi
        if self.anchor != "middle" or -pi / 2 + 1e-6 < turn <= pi / 2 + 1e-6:
            return self
        up = Point(0, self.height).turned(self.turn)
        return replace(self, at=self.at.plus(up), turn=turn + pi if turn < 0 else turn - pi)

    def draw(self, pen: Pen) -> None:
        """Gives them to a pen."""
        pen.words(self)


Mark = Shape | Stroke | Words


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks in one frame, millimetres, y up, true size."""

    title: str
    marks: tuple[Mark, ...]
    is_tidy: bool = False
    """Whether every writer may take it as it is (`tidy.tidied`)."""

    @property
    def layers(self) -> tuple[Layer, ...]:
        """The layers used, in the order of their first mark."""
        seen: dict[str, Layer] = {}
        for mark in self.marks:
            seen.setdefault(mark.layer.name, mark.layer)
        return tuple(seen.values())

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """The closed outlines."""
        return tuple(mark for mark in self.marks if isinstance(mark, Shape))

    @property
    def bounds(self) -> Bounds:
        """Exact extents of the lines; text is left out."""
        return Bounds.around(mark.box for mark in self.marks if mark.edges)

    def draw(self, pen: Pen) -> None:
        """Gives every mark to a pen, in order."""
        for mark in self.marks:
            mark.draw(pen)


def words_of(marks: Iterable[Mark]) -> tuple[Words, ...]:
    """The lines of text among the marks."""
    return tuple(mark for mark in marks if isinstance(mark, Words))


def edges_of(marks: Iterable[Mark]) -> list[Edge]:
    """Every line of the marks."""
    return [edge for mark in marks for edge in mark.edges]


def marks_box(marks: Iterable[Mark]) -> Bounds:
    """Extents of marks, their words included."""
    return Bounds.around(mark.box for mark in marks)

"""The drawing: views of outlines, lines and words in one flat frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from templategen.drawing.layer import Layer
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed outline on a layer; `part` is the code of the part that it shows, where that matters."""

    layer: Layer
    outline: Outline
    part: str = ""


@dataclass(frozen=True, slots=True)
class Stroke:
    """An open line or arc on a layer: centre lines, arrows, witness marks, what a picture shows of a part."""

    layer: Layer
    edge: Edge
    part: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text: capital height in mm, turned by `turn` radians about `at`.

    `anchor` says which end of the base line stands at `at`.
    """

    layer: Layer
    at: Point
    height: float
    text: str
    anchor: Literal["start", "middle", "end"] = "start"
    turn: float = 0.0
    part: str = ""


Mark = Shape | Stroke | Words


@dataclass(frozen=True, slots=True)
class Drawing:
    """Marks in one frame, millimetres, y up, true size."""

    title: str
    marks: tuple[Mark, ...]

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
        return Bounds.around(self._boxes())

    def _boxes(self) -> Iterable[Bounds]:
        for mark in self.marks:
            if isinstance(mark, Shape):
                yield mark.outline.bounds
            elif isinstance(mark, Stroke):
                yield mark.edge.bounds

"""Patterns: what is printed full size, with what the paper must know of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from templategen.drawing.drawing import Drawing, Mark, marks_box
from templategen.drawing.move import placed, placed_box
from templategen.geometry.bounds import Bounds
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.geometry.region import Region


@dataclass(frozen=True, slots=True)
class Sited:
    """One face of a part in a pattern: `way` carries the part's own frame there (turned over for the underside)."""

    code: str
    face: str
    way: Placement


@dataclass(frozen=True, slots=True)
class Pattern:
    """Marks in one frame, millimetres, y up.

    `wood` is what stays when the cut is made: the rest is shaded beside its edge. `dear` are boxes of joints
    and tiny features that no seam should cross. `past` are ends of centre lines, within the shading, that are drawn
    but take no room. `shade` is the width of the shading, mm.
    """

    marks: tuple[Mark, ...]
    wood: tuple[Region, ...] = ()
    dear: tuple[Bounds, ...] = ()
    sited: tuple[Sited, ...] = ()
    past: tuple[Mark, ...] = ()
    shade: float = 2.5

    @property
    def box(self) -> Bounds:
        """Extents of the marks, words included."""
        return marks_box(self.marks)

    def placed(self, way: Placement) -> Pattern:
        """The pattern carried along; it must not be turned over."""
        if way == Placement():
            return self
        return replace(
            self,
            marks=placed(self.marks, way),
            past=placed(self.past, way),
            wood=tuple(way.region(region) for region in self.wood),
            dear=tuple(placed_box(box, way) for box in self.dear),
            sited=tuple(replace(one, way=one.way.then(way)) for one in self.sited),
        )

    @property
    def drawing(self) -> Drawing:
        """The marks as a drawing."""
        return Drawing("", self.marks)


def as_one(patterns: Iterable[Pattern]) -> Pattern:
    """Several patterns as one."""
    several = tuple(patterns)
    return Pattern(
        tuple(mark for pattern in several for mark in pattern.marks),
        tuple(region for pattern in several for region in pattern.wood),
        tuple(box for pattern in several for box in pattern.dear),
        tuple(one for pattern in several for one in pattern.sited),
        tuple(mark for pattern in several for mark in pattern.past),
        min((pattern.shade for pattern in several), default=2.5),
    )


@dataclass(frozen=True, slots=True)
class Template:
    """All that is printed of one part: a pattern for each face that is marked out, the top first.

    `centre` is the table's centre in the frame of the first pattern, where all copies agree on it; `grain` the
    direction of the fibres there.
    """

    code: str
    count: int
    name: str
    hand: str
    faces: tuple[Pattern, ...]
    centre: Point | None = None
    grain: Point | None = None

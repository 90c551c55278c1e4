"""Extents: the box round a shape."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from templategen.geometry.point import Point

_tuple = tuple.__new__


class Bounds(NamedTuple):
    """The smallest upright box that holds a shape, millimetres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent in x."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent in y."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """The middle of the box."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def grown(self, by: float) -> Bounds:
        """The box with `by` more on every side."""
        left, bottom, right, top = self
        return _tuple(Bounds, (left - by, bottom - by, right + by, top + by))

    def meets(self, other: Bounds, within: float = 0.0) -> bool:
        """Whether two boxes overlap or come nearer than `within`."""
        return (
            self.left <= other.right + within
            and other.left <= self.right + within
            and self.bottom <= other.top + within
            and other.bottom <= self.top + within
        )

    @staticmethod
    def around(boxes: Iterable[Bounds]) -> Bounds:
        """The box round several boxes."""
        lefts, bottoms, rights, tops = zip(*boxes, strict=True)
        return Bounds(min(lefts), min(bottoms), max(rights), max(tops))

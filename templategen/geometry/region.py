"""Regions: an outline and the holes in it."""

from dataclasses import dataclass

from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.geometry.tolerance import COINCIDENT


@dataclass(frozen=True, slots=True)
class Region:
    """What lies inside `outer` and outside every hole; outer anticlockwise, holes clockwise."""

    outer: Outline
    holes: tuple[Outline, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "outer", self.outer.anticlockwise)
        object.__setattr__(self, "holes", tuple(hole.anticlockwise.reversed for hole in self.holes))

    @property
    def area(self) -> float:
        """Exact area, mm2."""
        return self.outer.area + sum(hole.area for hole in self.holes)

    @property
    def bounds(self) -> Bounds:
        """Exact extents."""
        return self.outer.bounds

    def contains(self, point: Point) -> bool:
        """Whether `point` is in the material, its edges included."""
        if not self.outer.contains(point):
            return False
        return not any(hole.contains(point) and hole.distance(point) > COINCIDENT for hole in self.holes)

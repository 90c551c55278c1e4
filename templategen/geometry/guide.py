"""The guide of a router: a round bit that keeps its distance from a template's edge by a bush or a bearing."""

from dataclasses import dataclass

from templategen.errors import Fault, GeometryError
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.rounded import rounded_rectangle
from templategen.geometry.tolerance import EQUAL

BUSH_WALL = 1.5
"""Least wall of a bush and room for the bit inside it, to each side, mm; bushes are turned so (unverified)."""


@dataclass(frozen=True, slots=True)
class Guide:
    """A bit of diameter `bit` in a bush of outside diameter `bush`, mm; a bearing is as wide as its bit.

    The bit's circle stays (bush - bit) / 2 inside the bush's, so a template's edge stands that far from the cut.
    """

    bit: float
    bush: float

    @property
    def is_bearing(self) -> bool:
        """Whether a bearing leads the bit itself."""
        return self.bush == self.bit

    @property
    def offset(self) -> float:
        """From the edge of the cut to the edge of the template: (bush - bit) / 2."""
        return (self.bush - self.bit) / 2

    @property
    def fits(self) -> bool:
        """Whether the bit goes through the bush at all."""
        return self.is_bearing or self.bush >= self.bit + 2 * BUSH_WALL - EQUAL

    def reaches(self, width: float) -> bool:
        """Whether the bit fits in a cut so wide."""
        return self.bit <= width + EQUAL

    def window(self, cut: Bounds) -> Outline:
        """The opening by which the bit cuts the rectangle `cut`: larger by the offset all round.

        Its corners have the bush's own radius, the largest that keeps the bit from no place; the cut's own corners
        are left with the bit's radius.

        Raises:
            GeometryError: the bit is wider than the cut, or doesn't go through the bush.
        """
        narrow = min(cut.width, cut.height)
        if not self.fits:
            found = f"a bit of {self.bit:g} mm doesn't go through a bush of {self.bush:g} mm"
            raise GeometryError(Fault("guide", found, f"take a bush of {self.bit + 2 * BUSH_WALL:g} mm or more"))
        if not self.reaches(narrow):
            found = f"a bit of {self.bit:g} mm can't cut what is {narrow:.2f} mm wide"
            raise GeometryError(Fault("guide", found, f"take a bit of {narrow:.2f} mm or less"))
        return rounded_rectangle(cut.grown(self.offset), min(self.bush / 2, narrow / 2 + self.offset))

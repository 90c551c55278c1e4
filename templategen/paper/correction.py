"""The printer's correction: how a drawing is stretched and leant so that it comes out of the printer true."""

from dataclasses import dataclass
from math import cos, isfinite, pi, tan

from templategen.catalogue import translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.point import Point
from templategen.table.profile.model_of_shop import Paper
from templategen.table.profile.printer import LEAST_SCALE, MOST_SCALE, MOST_SKEW

ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Correction:
    """A point of the drawing goes to (across * x - lean * y, up * y) on paper.

    A printer of scales a and d that leans by s puts (x, y) at (a x + d y sin s, d y cos s); this is its inverse
    with scale_x = 1 / a and scale_y = 1 / d.
    """

    across: float = 1.0
    lean: float = 0.0
    up: float = 1.0

    def point(self, at: Point) -> Point:
        """The point on paper."""
        return Point(self.across * at.x - self.lean * at.y, self.up * at.y)

    def direction(self, way: Point) -> Point:
        """A direction on paper, a unit vector."""
        return self.point(way).unit

    def box(self, box: Bounds) -> Bounds:
        """The upright box round a box on paper."""
        low, high = sorted((self.lean * box.bottom, self.lean * box.top))
        return Bounds(
            self.across * box.left - high, self.up * box.bottom, self.across * box.right - low, self.up * box.top
        )

    @property
    def matrix(self) -> tuple[float, float, float, float, float, float]:
        """As PDF writes it."""
        return self.across, 0.0, -self.lean, self.up, 0.0, 0.0


def correction_of(paper: Paper) -> Correction:
    """The correction that the profile asks for.

    Raises:
        OutputError: one that no printer needs.
    """
    for key, value in (("paper.scale_x", paper.scale_x), ("paper.scale_y", paper.scale_y)):
        if not (isfinite(value) and LEAST_SCALE - ROUNDING <= value <= MOST_SCALE + ROUNDING):
            remedy = worded(
                "give the correction from the test sheet, {least:g} to {most:g}",
                least=LEAST_SCALE,
                most=MOST_SCALE,
            )
            raise OutputError(Fault(key, f"{value}", remedy))
    if not (isfinite(paper.skew) and abs(paper.skew) <= MOST_SKEW + ROUNDING):
        found = worded("{skew:g}°", skew=paper.skew * 180 / pi)
        raise OutputError(
            Fault("paper.skew", found, translated("give what the test sheet's diagonals say, -2 to 2 deg"))
        )
    return Correction(paper.scale_x, paper.scale_x * tan(paper.skew), paper.scale_y / cos(paper.skew))

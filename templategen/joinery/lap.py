"""Half laps and three-way laps: rails that cross on one axis and lose what the others keep."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, sin, tan

from templategen.geometry.outline import Outline, polygon
from templategen.geometry.placement import OVER
from templategen.parts.feature import Feature


@dataclass(frozen=True, slots=True)
class CrossLap:
    """Two or three equal rails that cross at equal angles on one axis, lowest rail first.

    Frame of each rail: x along it, y across, origin on the axis, z up from its bottom face. `floor` and
    `ceiling` bound the height that the rails share out (the floor is above 0 where the underside is
    relieved). `clearance` is the total play across each crossing: a trench is that much wider than the
    rail that lies in it.

    Sharing (all the crossing volume is given out once, so no void opens and no two rails claim one volume):
    the lowest rail keeps its lowest share wherever another crosses, the next keeps from there up except
    under the highest, and the highest takes what is left.
    """

    codes: tuple[str, ...]
    half_width: float
    thickness: float
    floor: float
    ceiling: float
    clearance: float

    @property
    def levels(self) -> tuple[float, ...]:
        """Heights of the lap floors, lowest first: one for two rails, two for three."""
        rails = len(self.codes)
        return tuple(self.floor + (self.ceiling - self.floor) * share / rails for share in range(1, rails))

    @property
    def reach(self) -> float:
        """How far along a rail from the axis the widest trench reaches, at the rail's edge."""
        angle = pi / len(self.codes)
        return (self._half_trench + self.half_width * abs(cos(angle))) / sin(angle)

    @property
    def _half_trench(self) -> float:
        return self.half_width + self.clearance / 2

    def features(self, rail: int) -> tuple[Feature, ...]:
        """The cuts of rail number `rail`, 0 the lowest."""
        if len(self.codes) == 2:
            return (self._lower_of_two() if rail == 0 else self._upper_of_two(),)
        return (self._lowest, self._middle, self._highest)[rail]()

    def _lower_of_two(self) -> Feature:
        trench = self._trench(pi / 2)
        return self._cut("top", trench, self.thickness - self.levels[0], (self.codes[1],))

    def _upper_of_two(self) -> Feature:
        return self._cut("bottom", self._trench(pi / 2), self.levels[0], (self.codes[0],))

    def _lowest(self) -> tuple[Feature, ...]:
        b, h = self.half_width, self._half_trench
        far, waist = (h + b * cos(pi / 3)) / sin(pi / 3), h / sin(pi / 3)
        both = polygon(((-far, -b), (far, -b), (waist, 0), (far, b), (-far, b), (-waist, 0)))
        return (self._cut("top", both, self.thickness - self.levels[0], self.codes[1:]),)

    def _middle(self) -> tuple[Feature, ...]:
        over, under = self._trench(pi / 3), self._trench(-pi / 3)
        return (
            self._cut("top", over, self.thickness - self.levels[1], (self.codes[2],)),
            self._cut("bottom", under, self.levels[0], (self.codes[0],)),
        )

    def _highest(self) -> tuple[Feature, ...]:
        b, h = self.half_width, self._half_trench
        far, near, waist = ((h + share * b * cos(pi / 3)) / sin(pi / 3) for share in (1, -1, 0))
        corner = polygon(((near, b), (waist, 0), (far, b)))
        opposite = polygon(((-near, -b), (-waist, 0), (-far, -b)))
        lowest, middle = self.codes[0], self.codes[1]
        return (
            self._cut("bottom", self._trench(-pi / 3), self.levels[1], (middle, lowest)),
            self._cut("bottom", corner, self.levels[0], (lowest,)),
            self._cut("bottom", opposite, self.levels[0], (lowest,)),
        )

    def _trench(self, angle: float) -> Outline:
        """What a rail crossing at `angle` covers of this one, with the clearance."""
        b, h, c, s = self.half_width, self._half_trench, cos(angle), sin(angle)
        xs = [sorted((side * h + y * c) / s for side in (-1, 1)) for y in (-b, b)]
        return polygon(((xs[0][0], -b), (xs[0][1], -b), (xs[1][1], b), (xs[1][0], b)))

    def _cut(self, face: str, plan: Outline, depth: float, mates: Sequence[str]) -> Feature:
        outline = plan.anticlockwise if face == "top" else OVER.outline(plan.anticlockwise)
        return Feature("lap", face, outline, depth, "cut across", tuple(mates), self.clearance)

    def contact(self, lower: int, upper: int) -> float:
        """Area of the lap floors between two of the rails, mm2, pole hole not taken off.

        Closed formulas: a crossing at angle t covers 4 b^2 / sin t; of the lowest and highest of three only
        what lies outside the middle rail's trench meets: two tips of 60 degrees, 2 b less half a trench high.
        """
        if upper - lower == 1:
            return 4 * self.half_width**2 / sin(pi / len(self.codes))
        return 2 * (2 * self.half_width - self._half_trench) ** 2 * tan(pi / 6)

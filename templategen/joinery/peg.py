"""The peg that draws a leg's dry tenon into its rail: its two holes, which are offset by the draw, and the peg."""

from dataclasses import dataclass
from math import acos, pi, sqrt

from templategen.geometry.outline import circle
from templategen.parts.feature import Feature

TIP = 2.0
"""A peg is tapered over so many of its thicknesses, which come out at the far side and are driven back there
(shop practice)."""

HEAD = 6.0
"""How far a peg's thick end stays out of the rail, mm (shop practice)."""

MOST = 0.25
"""Draw over the peg's thickness at most: more than a quarter bends or breaks the peg (trade rule, not verified)."""


@dataclass(frozen=True, slots=True)
class DrawPeg:
    """A peg through both cheeks of the rail and the tenon between them.

    `draw` is how much nearer to the shoulder the tenon's hole lies than the rail's, whose middle is `rise` over the
    rail's underside, where the shoulder bears. `width` is the rail's, `mortise` across it, `section` the leg's and
    `tenon` the tenon's thickness. Millimetres.
    """

    thickness: float
    draw: float
    rise: float
    width: float
    mortise: float
    section: float
    tenon: float

    @property
    def in_tenon(self) -> float:
        """From the shoulder to the middle of the tenon's hole."""
        return self.rise - self.draw

    @property
    def cheek(self) -> float:
        """What of the rail the hole goes through on either side of the mortise."""
        return (self.width - self.mortise) / 2

    @property
    def bore(self) -> float:
        """From a leg's side through its tenon."""
        return (self.section + self.tenon) / 2

    @property
    def tip(self) -> float:
        """Length of its taper."""
        return TIP * self.thickness

    @property
    def tip_thickness(self) -> float:
        """Where that ends: it enters the tenon's offset hole freely."""
        return self.thickness - 2 * self.draw

    @property
    def length(self) -> float:
        """The peg: as thick as its holes in both cheeks, its tip through, its head standing out."""
        return self.width + self.tip + HEAD

    @property
    def taken(self) -> float:
        """What of a cheek of tenon and mortise no longer touches: two circles that overlap, mm2."""
        r, lens = self.thickness / 2, self.draw / 2
        return 2 * pi * r**2 - 2 * (r**2 * acos(lens / r) - lens * sqrt(r**2 - lens**2))

    def in_rail(self, at: float, half: float) -> tuple[Feature, Feature]:
        """Both ends of the hole at plan x = `at`, in edges whose frames begin `half` from the rail's middle."""
        spots = (("edge-1", half + at), ("edge-2", half - at))
        one, other = (
            Feature("peg-hole", face, circle(u, self.rise, self.thickness / 2), self.cheek, "bore")
            for face, u in spots
        )
        return one, other

    def in_leg(self, x: float, y: float) -> Feature:
        """The hole through the tenon, its middle on the leg's side view."""
        return Feature("peg-hole", "top", circle(x, y, self.thickness / 2), self.bore, "bore")

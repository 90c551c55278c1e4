"""The swing: how the ring turns on its pin past the bandsaw's blade, and where the cut enters the blank."""

from dataclasses import dataclass
from math import cos, pi, sin, tan

from templategen.table.sizes import Sizes

CLEAR = 20.0
"""How far the blank stands off the teeth before it is slid in, mm."""

SQUARE_OFF = pi / 360
"""How far off the tooth line's square a blade may meet the work before it drifts or rubs, radians (half a degree)."""


@dataclass(frozen=True, slots=True)
class Swing:
    """The saw and the circle, for a saw whose column stands to the left of its blade, so that the work turns to its
    right.

    Frame: seen from above, y the way the work is fed, the maker in front. The origin lies on the tooth line at the
    face of the cut that is nearer to the pin, the pin stands at (radius, 0), kerf and waste lie from x = 0 to the
    left. Millimetres.
    """

    sizes: Sizes

    @property
    def radius(self) -> float:
        """Finished radius: pin to the near edge of the cut."""
        return self.sizes.radius

    @property
    def kerf(self) -> float:
        """Width of the cut by the blade's set."""
        return self.sizes.profile.shop.bandsaw_blade[1]

    @property
    def blade(self) -> float:
        """Width of the blade, from the teeth to its back."""
        return self.sizes.profile.shop.bandsaw_blade[0]

    @property
    def table(self) -> tuple[float, float, float, float]:
        """The saw's table: left, front, right, back."""
        width, depth = self.sizes.profile.shop.bandsaw_table
        left, front = self.sizes.profile.jigs.blade_place
        start = -self.kerf / 2 - (left or width / 2)
        near = -(front or depth / 2)
        return start, near, start + width, near + depth

    @property
    def half_flat(self) -> float:
        """Half of the flat that touches the finished circle at a joint's corner: (A - R cos(pi/N)) / sin(pi/N).

        The blank's outer edges stand A from the centre; the line at R square to the joint meets them there.
        """
        mitre = self.sizes.mitre
        return (self.sizes.outer_apothem - self.radius * cos(mitre)) / sin(mitre)

    @property
    def entry_from_corner(self) -> float:
        """From the corner of the blank at a joint, along its outer edge, to where that flat starts."""
        mitre, apothem = self.sizes.mitre, self.sizes.outer_apothem
        return apothem * tan(mitre) - self.radius * sin(mitre) + self.half_flat * cos(mitre)

    @property
    def corner_waste(self) -> float:
        """How far the blank's corner stands outside the finished circle."""
        return self.sizes.outer_apothem / cos(self.sizes.mitre) - self.radius

    @property
    def travel(self) -> float:
        """How far the slide runs from clear of the teeth to its stop."""
        return self.half_flat + CLEAR

    @property
    def pin_tolerance(self) -> float:
        """How far the pin may stand ahead of or behind the tooth line: R tan(0.5 degrees)."""
        return self.radius * tan(SQUARE_OFF)

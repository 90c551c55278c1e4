"""A bolted leg against its rail: how far it turns, and what its bolt bears.

Model: the leg bears on the rail by an edge of its shoulder, half a section from the bolt, which alone holds it there.
Three springs lie behind each other: the bolt's own steel; the nut's bed in the leg, twice K_ser of EN 1995-1-1, 7.1,
as of steel in wood; the rail under the washer, pressed across the grain through its thickness, spread at 45 degrees.
The tenon places the leg and carries no bending; no tension from drawing up is counted, for it goes as the rail dries.
"""

from dataclasses import dataclass
from math import hypot, pi

from templategen.joinery.bolt import BoltAndNut
from templategen.table.assembly import Table
from templategen.wood.grades import CRACKED, Grade
from templategen.wood.species import figures_of

STEEL = 200_000.0
"""Stiffness of stainless steel, N/mm2 (EN 1993-1-4)."""

STRENGTH = 700.0
"""Of bolts of property class 70, N/mm2 (ISO 3506-1)."""

STEEL_PARTIAL = 1.25
"""Partial factor of bolts, EN 1993-1-8, whose 0.9 f_ub A_s it goes with."""

AT_THREAD = 0.71
"""Area at the thread over that of the shank, the least of M5 to M16 (ISO 898-1)."""

ACROSS = 30.0
"""Stiffness along the grain over that across it, as EN 338 has it for softwood; hardwood is stiffer."""

WET = 0.8
"""Wet wood keeps about this share of its stiffness."""

UNDER_WASHERS = 3.0
"""Under a washer wood bears so many times its strength across the grain: EN 1995-1-1, 8.5.2."""

CRUSHED = 0.007
"""Characteristic strength across the grain, N/mm2 for each kg/m3 (EN 384, softwood; hardwood bears more)."""


@dataclass(frozen=True, slots=True)
class Holds:
    """What each thing that holds a bolted leg bears in tension at most, N, before the factor of time."""

    nut: float
    end: float
    washer: float
    steel: float

    def share(self, tension: float, mod: float) -> float:
        """The share used of the weakest; of wood by its time and partial factor, of steel by its own."""
        wood = min(self.nut, self.end, self.washer) * mod
        return tension / min(wood, self.steel / STEEL_PARTIAL)


def turning(table: Table, bolt: BoltAndNut) -> float:
    """Moment for each radian that the leg turns against its rail, N mm."""
    profile = table.profile
    figures = figures_of(profile.wood, profile.woods)
    across = WET * 1000 * figures.stiffness / ACROSS
    steel = bolt.length / (STEEL * AT_THREAD * pi / 4 * bolt.thread**2)
    bed = 1 / (2 * WET * float(figures.density**1.5) * bolt.nut / 23)
    wide = _washer(bolt, bolt.head + bolt.grip)
    return (profile.legs.section / 2) ** 2 / (steel + bed + bolt.grip / (across * wide))


def holds(table: Table, bolt: BoltAndNut, grade: Grade) -> Holds:
    """Bed of the nut by EN 1995-1-1, 8.5.1 (embedding along the grain), the leg's end by two planes of shear from the
    nut to the tenon's shoulder, the washer by 8.5.2, the bolt by EN 1993-1-8."""
    profile = table.profile
    density = figures_of(profile.wood, profile.woods).density * CHARACTERISTIC
    bed = 0.082 * (1 - 0.01 * bolt.nut) * density * bolt.nut * bolt.nut_length
    end = 2 * CRACKED * bolt.below * bolt.nut_length * grade.shear
    washer = UNDER_WASHERS * CRUSHED * density * _washer(bolt, bolt.head)
    steel = 0.9 * STRENGTH * AT_THREAD * pi / 4 * bolt.thread**2
    return Holds(bed, end, washer, steel)


CHARACTERISTIC = 0.84
"""Characteristic density over the mean, about: EN 338 has 350 over 420 kg/m3 for C24."""


def tension(table: Table, pull: float, bends: tuple[float, float]) -> float:
    """In the bolt, N, of a leg that is pulled off the rail (above 0) or pressed on it, and bent both ways, N mm."""
    return max(0.0, pull + hypot(*bends) / (table.profile.legs.section / 2))


def _washer(bolt: BoltAndNut, across: float) -> float:
    return pi / 4 * (across**2 - bolt.hole**2)

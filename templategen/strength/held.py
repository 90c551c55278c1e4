"""A bolted or draw-bored leg against its rail: how far it turns, and what its bolt or its peg bears.

Model: the leg bears on the rail by an edge of its shoulder, half a section from what alone holds it there.
Of a bolt three springs lie behind each other: its own steel; the nut's bed in the leg, twice K_ser of EN 1995-1-1,
7.1, as of steel in wood; the rail under the washer, pressed across the grain through its thickness, spread at 45
degrees. A peg is one spring: two planes of shear, each a share of K_ser since it bends and is pressed itself.
The tenon places the leg and carries no bending; no tension from drawing up or from the draw is counted, for it goes
as the rail dries.
"""

from dataclasses import dataclass
from math import hypot, inf, pi, sqrt

from templategen.joinery.bolt import BoltAndNut
from templategen.joinery.peg import DrawPeg
from templategen.table.assembly import Table
from templategen.table.rails import top_bolt, top_peg
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

PEG_GIVES = 0.25
"""Stiffness of a plane of shear through a wooden peg, as a share of K_ser for steel (assumed, not verified)."""

PEG_SHEARS = 9.5
"""Characteristic strength of a plane of shear through a peg of oak, N for each mm2 of its thickness squared: as
DIN 1052:2008, chapter 15, is remembered, for pegs of 20 to 30 mm; not verified, and carried over to thinner ones."""

SPLITS = 14.0
"""Of EN 1995-1-1, 8.1.4: 14 b sqrt(h_e / (1 - h_e / h)) N split a rail across its grain."""


@dataclass(frozen=True, slots=True)
class Holds:
    """What holds a leg: characteristic tension of its weakest wood, N, before the factor of time, and of steel."""

    wood: float
    steel: float = inf

    def share(self, tension: float, mod: float) -> float:
        """The share used of the weaker; of wood by its time and partial factor, of steel by its own."""
        return tension / min(self.wood * mod, self.steel / STEEL_PARTIAL)


def turning(table: Table) -> float | None:
    """Moment for each radian that a leg turns against its rail, N mm; None where it is glued."""
    if bolt := top_bolt(table.sizes):
        gives = _bolt_gives(table, bolt)
    elif peg := top_peg(table.sizes):
        gives = 1 / (2 * PEG_GIVES * _slip(table) * peg.thickness)
    else:
        return None
    return (table.profile.legs.section / 2) ** 2 / gives


def _slip(table: Table) -> float:
    """K_ser of EN 1995-1-1, 7.1, for each mm of thickness, in wet wood."""
    density = figures_of(table.profile.wood, table.profile.woods).density
    return WET * float(density**1.5) / 23


def _bolt_gives(table: Table, bolt: BoltAndNut) -> float:
    """How far bolt, nut and rail give way, mm for each N."""
    figures = figures_of(table.profile.wood, table.profile.woods)
    across = WET * 1000 * figures.stiffness / ACROSS
    steel = bolt.length / (STEEL * AT_THREAD * pi / 4 * bolt.thread**2)
    bed = 1 / (2 * _slip(table) * bolt.nut)
    return steel + bed + bolt.grip / (across * _washer(bolt, bolt.head + bolt.grip))


def holds(table: Table, grade: Grade) -> Holds | None:
    """What a dry leg is held by, None where it is glued."""
    if bolt := top_bolt(table.sizes):
        return _bolt_holds(table, bolt, grade)
    if peg := top_peg(table.sizes):
        return Holds(min(peg_holds(table, peg, grade)))
    return None


def peg_holds(table: Table, peg: DrawPeg, grade: Grade) -> tuple[float, float, float]:
    """The peg in two planes of shear, the tenon's end in two from the hole's middle on, and the rail's cheeks, which
    the peg splits across the grain downwards (EN 1995-1-1, 8.1.4); N."""
    legs, high = table.profile.legs, table.profile.top.thickness
    end = 2 * CRACKED * (legs.tenon[2] - peg.in_tenon) * peg.tenon * grade.shear
    cheeks = SPLITS * 2 * peg.cheek * sqrt(peg.rise / (1 - peg.rise / high))
    return 2 * PEG_SHEARS * peg.thickness**2, end, cheeks


def _bolt_holds(table: Table, bolt: BoltAndNut, grade: Grade) -> Holds:
    """Bed of the nut by EN 1995-1-1, 8.5.1 (embedding along the grain), the leg's end by two planes of shear from the
    nut to the tenon's shoulder, the washer by 8.5.2, the bolt by EN 1993-1-8."""
    profile = table.profile
    density = figures_of(profile.wood, profile.woods).density * CHARACTERISTIC
    bed = 0.082 * (1 - 0.01 * bolt.nut) * density * bolt.nut * bolt.nut_length
    end = 2 * CRACKED * bolt.below * bolt.nut_length * grade.shear
    washer = UNDER_WASHERS * CRUSHED * density * _washer(bolt, bolt.head)
    steel = 0.9 * STRENGTH * AT_THREAD * pi / 4 * bolt.thread**2
    return Holds(min(bed, end, washer), steel)


CHARACTERISTIC = 0.84
"""Characteristic density over the mean, about: EN 338 has 350 over 420 kg/m3 for C24."""


def tension(table: Table, pull: float, bends: tuple[float, float]) -> float:
    """In bolt or peg, N, of a leg pulled off the rail (above 0) or pressed on it, and bent both ways, N mm."""
    return max(0.0, pull + hypot(*bends) / (table.profile.legs.section / 2))


def _washer(bolt: BoltAndNut, across: float) -> float:
    return pi / 4 * (across**2 - bolt.hole**2)

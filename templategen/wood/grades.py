"""Strength classes of sawn timber, and what each wood is taken for.

Characteristic strengths from EN 338:2016, N/mm2; which class a species is graded to from national grading tables, as
far as they were seen; the rest is assumed, on the careful side. Shop boards are seldom graded, so all of it is a
yardstick for screening, never a design.
"""

from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Grade:
    """Characteristic bending and shear strength, N/mm2 (the weakest 5 % lie below), and mean stiffness, kN/mm2."""

    name: str
    bending: float
    shear: float
    stiffness: float


_ROWS = (
    Grade("C14", 14, 3.0, 7), Grade("C16", 16, 3.2, 8), Grade("C18", 18, 3.4, 9), Grade("C24", 24, 4.0, 11),
    Grade("C30", 30, 4.0, 12), Grade("D24", 24, 3.7, 10), Grade("D30", 30, 3.9, 11), Grade("D35", 35, 4.1, 12),
    Grade("D40", 40, 4.2, 13), Grade("D50", 50, 4.5, 14), Grade("D70", 70, 5.0, 20),
)  # fmt: skip
GRADES = MappingProxyType({row.name: row for row in _ROWS})

CLASS_OF = MappingProxyType(
    {
        "european oak": "D30", "white oak": "D40", "european beech": "D35", "american beech": "D35",
        "white ash": "D35", "iroko": "D40", "sapele": "D40", "teak": "D50", "robinia": "D30", "black locust": "D30",
        "european larch": "C24", "western larch": "C24", "douglas-fir": "C24", "norway spruce": "C24",
        "longleaf pine": "C24", "loblolly pine": "C18", "western redcedar": "C14", "northern white cedar": "C14",
        "bald cypress": "C18", "redwood": "C14", "old-growth redwood": "C16", "ipe": "D70", "mahogany": "D30",
        "sugar maple": "D35", "black walnut": "D30", "black cherry": "D30", "eucalyptus grandis": "D30",
        "dark red meranti": "D30", "acetylated pine": "C16",
    }
)  # fmt: skip
"""The class that clear, straight pieces of a wood are taken for; robinia, cedars and cypress are assumed."""


def grade_of(wood: str, density: float) -> Grade:
    """The class of `wood`; a wood that isn't known here is taken by its density (kg/m3), as C14 to D30."""
    name = CLASS_OF.get(wood)
    if name is None:
        name = "C14" if density < 420 else "C18" if density < 500 else "C24" if density < 600 else "D30"
    return GRADES[name]


PARTIAL = 1.3
"""Partial factor of solid timber, EN 1995-1-1."""

OUTDOORS = MappingProxyType({"short": 0.70, "instant": 0.90})
"""k_mod of solid timber in service class 3 (outdoors), by how long a load stands: EN 1995-1-1."""


def depth_factor(height: float) -> float:
    """k_h: bars lower than 150 mm bear more, min(1.3; (150 / h)^0.2); EN 1995-1-1."""
    return min(1.3, (150 / height) ** 0.2) if height < 150 else 1.0


CRACKED = 0.67
"""Share of a section's width that counts in shear, since weathered wood checks: k_cr of EN 1995-1-1."""

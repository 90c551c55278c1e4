"""What the table weighs."""

from __future__ import annotations

from collections.abc import Mapping
from math import fsum

from templategen.parts.volume import volume
from templategen.table.assembly import Table
from templategen.wood.figures import Figures, figures_of

MM3_PER_M3 = 1e9


def density(wood: str, own: Mapping[str, Figures]) -> float:
    """Density of a wood at 12 % moisture, kg/m3, the maker's own woods first."""
    return figures_of(wood, own).density


def mass_kg(table: Table) -> float:
    """Mass of all the wood at 12 % moisture; glue, finish and hardware aren't counted."""
    woods = table.profile.woods
    return fsum(part.count * volume(part) / MM3_PER_M3 * density(part.wood, woods) for part in table.parts)

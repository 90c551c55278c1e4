"""What the table weighs."""

from collections.abc import Mapping
from math import fsum

from templategen.parts.volume import mass
from templategen.table.assembly import Table
from templategen.wood.species import Figures, figures_of


def density(wood: str, own: Mapping[str, Figures]) -> float:
    """Density of a wood at 12 % moisture, kg/m3, the maker's own woods first."""
    return figures_of(wood, own).density


def mass_kg(table: Table) -> float:
    """Mass of all the wood at 12 % moisture; glue, finish and hardware aren't counted."""
    woods = table.profile.woods
    return fsum(part.count * mass(part, density(part.wood, woods)) for part in table.parts)

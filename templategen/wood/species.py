"""The built-in table of woods: shrinkage, density, stiffness and durability, each with where it comes from.

Shrinkage is in % of the green size, green to ovendry; fibre saturation in % moisture; density in kg/m3 at
12 % moisture; stiffness in GPa, the mean of small clear pieces, for comparison, never an allowable figure.
Single boards differ from the mean by 15 to 20 %. Sapwood is never durable.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Protocol

_HANDBOOK = "Wood Handbook, Forest Products Laboratory, general technical report 190 (2010)"
_CIRAD = "CIRAD tropical timber data sheet"
_EUROPEAN = "European Wood species sheet"


@dataclass(frozen=True, slots=True)
class Species:
    """One wood; `status` says whether its figures were `read` in the source, `recalled` or `assumed`."""

    name: str
    latin: str
    radial: float
    tangential: float
    fibre_saturation: float
    density: float
    stiffness: float
    durability: str
    status: str
    source: str


_ROWS = (
    Species(
        "bald cypress",
        "Taxodium distichum",
        3.8,
        6.2,
        30,
        515,
        9.9,
        "moderately resistant",
        "read",
        _HANDBOOK,
    ),
    Species("white oak", "Quercus alba", 5.6, 10.5, 30, 760, 12.3, "class 2 to 3", "read", _HANDBOOK),
    Species("black locust", "Robinia pseudoacacia", 4.6, 7.2, 30, 770, 14.1, "class 1 to 2", "read", _HANDBOOK),
    Species(
        "robinia",
        "Robinia pseudoacacia",
        4.2,
        6.9,
        22,
        750,
        14.6,
        "class 1 to 2",
        "read",
        "European sheets; they disagree",
    ),
    Species("western redcedar", "Thuja plicata", 2.4, 5.0, 30, 370, 7.7, "class 2 to 3", "read", _HANDBOOK),
    Species("northern white cedar", "Thuja occidentalis", 2.2, 4.9, 30, 350, 5.5, "resistant", "read", _HANDBOOK),
    Species(
        "old-growth redwood",
        "Sequoia sempervirens",
        2.6,
        4.4,
        30,
        450,
        9.2,
        "resistant",
        "recalled",
        _HANDBOOK,
    ),
    Species(
        "redwood",
        "Sequoia sempervirens",
        2.2,
        4.9,
        30,
        390,
        7.6,
        "less than old growth",
        "recalled",
        _HANDBOOK,
    ),
    Species("douglas-fir", "Pseudotsuga menziesii", 4.8, 7.6, 30, 545, 13.4, "class 3 to 4", "read", _HANDBOOK),
    Species(
        "western larch",
        "Larix occidentalis",
        4.5,
        9.1,
        30,
        575,
        12.9,
        "moderately resistant",
        "read",
        _HANDBOOK,
    ),
    Species("longleaf pine", "Pinus palustris", 5.1, 7.5, 30, 650, 13.7, "heartwood moderate", "read", _HANDBOOK),
    Species("loblolly pine", "Pinus taeda", 4.8, 7.4, 30, 570, 12.3, "treat under pressure", "read", _HANDBOOK),
    Species("ipe", "Handroanthus", 6.6, 8.0, 30, 1100, 21.6, "class 1", "read", _HANDBOOK),
    Species("iroko", "Milicia", 3.5, 5.4, 23, 640, 12.8, "class 1 to 2", "read", _CIRAD),
    Species("sapele", "Entandrophragma cylindricum", 4.6, 7.4, 30, 670, 11.7, "class 3", "read", _HANDBOOK),
    Species("teak", "Tectona grandis", 2.6, 4.7, 24, 670, 13.7, "class 1; plantation 1 to 3", "read", _CIRAD),
    Species(
        "mahogany",
        "Swietenia macrophylla",
        3.0,
        4.1,
        30,
        590,
        10.3,
        "class 2; traded under CITES",
        "read",
        _HANDBOOK,
    ),
    Species("eucalyptus grandis", "Eucalyptus grandis", 5.8, 10.0, 31, 650, 15.2, "class 3 to 4", "read", _CIRAD),
    Species("dark red meranti", "Shorea", 3.9, 7.8, 30, 690, 12.0, "class 2 to 4", "read", _HANDBOOK),
    Species("norway spruce", "Picea abies", 3.6, 7.8, 30, 441, 12.5, "class 4", "read", _EUROPEAN),
    Species("european beech", "Fagus sylvatica", 5.8, 11.8, 30, 712, 16.0, "class 5", "read", _EUROPEAN),
    Species("american beech", "Fagus grandifolia", 5.5, 11.9, 30, 720, 11.9, "not durable", "read", _HANDBOOK),
    Species("white ash", "Fraxinus americana", 4.9, 7.8, 30, 670, 12.0, "class 5", "read", _HANDBOOK),
    Species("sugar maple", "Acer saccharum", 4.8, 9.9, 30, 705, 12.6, "not durable", "read", _HANDBOOK),
    Species("black walnut", "Juglans nigra", 5.5, 7.8, 30, 610, 11.6, "resistant", "read", _HANDBOOK),
    Species("black cherry", "Prunus serotina", 3.7, 7.1, 30, 560, 10.3, "resistant", "read", _HANDBOOK),
    Species("european oak", "Quercus robur, petraea", 4.3, 8.9, 30, 702, 13.0, "class 2 to 4", "read", _EUROPEAN),
    Species("european larch", "Larix decidua", 3.3, 7.8, 30, 583, 13.8, "class 3 to 4", "read", _EUROPEAN),
    Species(
        "acetylated pine",
        "Pinus radiata",
        0.7,
        1.5,
        30,
        510,
        8.8,
        "class 1",
        "recalled",
        "use the product's own sheet",
    ),
    # A sheet, so both figures are movement in the plane of the sheet; its thickness moves like solid wood.
    Species("plywood", "", 0.5, 0.5, 30, 650, 8.0, "by its glue and face", "assumed", "assumption; weigh a piece"),
)

SPECIES = MappingProxyType({row.name: row for row in _ROWS})
SHEET_WOOD = "plywood"


def plain_name(name: str) -> str:
    """A wood's name as it is looked up: small letters, single spaces."""
    return " ".join(name.casefold().split())


class Figures(Protocol):
    """Shrinkage in % green to ovendry, fibre saturation in % moisture, density in kg/m3 at 12 % moisture,
    stiffness along the grain in GPa."""

    @property
    def radial(self) -> float:
        """Shrinkage along a radius of the tree."""

    @property
    def tangential(self) -> float:
        """Shrinkage along the growth rings."""

    @property
    def fibre_saturation(self) -> float:
        """Moisture above which nothing moves."""

    @property
    def density(self) -> float:
        """Density at 12 % moisture."""

    @property
    def stiffness(self) -> float:
        """Modulus of elasticity along the grain."""


def figures_of(wood: str, own: Mapping[str, Figures]) -> Figures:
    """The figures of `wood`, the maker's own woods first."""
    return own[wood] if wood in own else SPECIES[wood]

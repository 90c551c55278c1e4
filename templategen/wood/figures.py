"""The figures of one wood, whether it is built in or the maker's own."""

from collections.abc import Mapping
from typing import Protocol

from templategen.wood.species import SPECIES


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

"""How far wood moves across the grain when its moisture changes."""

from typing import Literal

from templategen.wood.figures import Figures

Sawn = Literal["plain", "rift", "quarter"]
"""How the growth rings lie in a board: along its face, at about 45 degrees, or square to it."""


def relative_size(shrinkage: float, moisture: float, fibre_saturation: float) -> float:
    """Size at `moisture` as a share of the green size: g(M) = 1 - S/100 (F - min(M, F)) / F.

    The straight line of the coefficients in the Wood Handbook (Forest Products Laboratory, report 190, 2010, table
    13-5), S in % from green to ovendry, told from the green size so that it also holds outdoors, beyond the 6 to 14 %
    for which they are published; above fibre saturation F nothing moves.
    """
    return 1 - shrinkage / 100 * (fibre_saturation - min(moisture, fibre_saturation)) / fibre_saturation


def across_face(figures: Figures, sawn: Sawn) -> float:
    """Shrinkage across a board's face, %: tangential when plain sawn, radial when quarter sawn.

    Between the two S = T cos2(v) + R sin2(v) for rings at angle v to the face, the usual interpolation; at the
    45 degrees of rift sawn boards that is the mean.
    """
    radial, tangential = figures.radial, figures.tangential
    return {"plain": tangential, "rift": (radial + tangential) / 2, "quarter": radial}[sawn]


def change(shrinkage: float, fibre_saturation: float, built: float, later: float) -> float:
    """Change in size from `built` to `later` moisture, as a share of the built size, growth positive.

    g(later) / g(built) - 1, after the model of `relative_size`.
    """
    now = relative_size(shrinkage, built, fibre_saturation)
    return relative_size(shrinkage, later, fibre_saturation) / now - 1

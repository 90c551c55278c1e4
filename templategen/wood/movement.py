"""How far wood moves across the grain when its moisture changes."""

from typing import Literal

from templategen.wood.species import Figures

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


def equilibrium_moisture(humidity: float, temperature: float) -> float:
    """Equilibrium moisture content of wood, % of its dry mass, in air of `humidity` (% relative) and
    `temperature` (degrees Celsius).

    Hailwood and Horrobin's equation for two hydrates, with the Celsius constants of Simpson, Equilibrium moisture
    content of wood in outdoor locations, FPL-RN-0268 (1998). Valid from -1 to 54 degrees, where it keeps to the
    published table to 0.03 % moisture in the mean; at 60 degrees it is 0.4 % too wet. It speaks of air: rain
    takes a surface to fibre saturation, and durable tropical woods often settle 1 to 2 % lower.

    Raises: ValueError for humidity outside 0 to 100.
    """
    if not 0 <= humidity <= 100:
        raise ValueError(f"relative humidity is 0 to 100 %, not {humidity:g}")
    t = temperature
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * humidity / 100
    free = kh / (1 - kh)
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (free + bound)

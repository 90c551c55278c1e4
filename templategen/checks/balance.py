"""What the table weighs, and where its mass lies."""

from dataclasses import dataclass

from templategen.checks.wording import GRAVITY
from templategen.parts.centroid import centre_of_mass
from templategen.parts.face import Point3
from templategen.parts.volume import mass
from templategen.table.assembly import Table
from templategen.wood.movement import equilibrium_moisture
from templategen.wood.species import figures_of

BOOK_MOISTURE = 12.0
"""Moisture of the wood whose densities the tables give, %."""

PEDESTAL = ("leg", "base-rail", "foot")


@dataclass(frozen=True, slots=True)
class Balance:
    """Mass in kg of all the wood at 12 % moisture, of the top alone, and the centre of all of it in the table's
    frame, mm. Glue, finish and hardware aren't counted."""

    mass: float
    top_mass: float
    centre: Point3


def balance_of(table: Table) -> Balance:
    """Every copy's mass at its own centre, put together."""
    woods = table.profile.woods
    masses = {part.code: mass(part, figures_of(part.wood, woods).density) for part in table.parts}
    centres = {part.code: centre_of_mass(part) for part in table.parts}
    low = {part.code for part in table.parts if part.kind in PEDESTAL}
    places = [(masses[copy.code], copy.point(*centres[copy.code])) for copy in table.placed]
    whole = sum(mass for mass, _ in places)
    centre = Point3(*(sum(mass * place[axis] for mass, place in places) / whole for axis in range(3)))
    top = sum(masses[copy.code] for copy in table.placed if copy.code not in low)
    return Balance(whole, top, centre)


def least_weight(table: Table, mass: float) -> float:
    """Weight in N of a mass of wood told at 12 % moisture, once it is as dry as its air ever makes it."""
    shop = table.profile.shop
    driest = equilibrium_moisture(shop.humidity[0], shop.temperature)
    return mass * GRAVITY * (100 + driest) / (100 + BOOK_MOISTURE)

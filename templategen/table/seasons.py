"""The table's year: how dry and how wet its wood gets, and what that does across the grain."""

from dataclasses import dataclass
from typing import NamedTuple

from templategen.table.profile.model import Profile
from templategen.wood.movement import across_face, change, equilibrium_moisture
from templategen.wood.species import Figures, figures_of


class Swing(NamedTuple):
    """Change from the built size to the driest (below 0 as a rule) and the wettest, as shares of it."""

    dry: float
    wet: float


@dataclass(frozen=True, slots=True)
class Seasons:
    """Moisture in % at the driest, as built and at the wettest; movement is multiplied by `factor`, since single
    boards differ from the mean by a fifth."""

    driest: float
    built: float
    wettest: float
    factor: float
    figures: Figures

    def swing(self, shrinkage: float) -> Swing:
        """What a size does whose wood shrinks by `shrinkage` %, green to ovendry."""
        saturation = self.figures.fibre_saturation
        changes = (change(shrinkage, saturation, self.built, later) for later in (self.driest, self.wettest))
        return Swing(*(self.factor * share for share in changes))


def seasons_of(profile: Profile) -> Seasons:
    """The year that the profile's air gives: equilibrium moisture at both ends of its humidity."""
    driest, wettest = (equilibrium_moisture(h, profile.shop.temperature) for h in profile.shop.humidity)
    built = profile.shop.build_moisture or (driest + wettest) / 2
    figures = figures_of(profile.wood, profile.woods)
    return Seasons(driest, built, wettest, profile.limits.movement_factor, figures)


def board_swing(profile: Profile) -> Swing:
    """What the width of a board does over the year, sawn as the shop's boards are."""
    seasons = seasons_of(profile)
    return seasons.swing(across_face(seasons.figures, profile.shop.sawn))

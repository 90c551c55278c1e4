"""Tongue and groove, and the rail tenon that sits in the same groove."""

from dataclasses import dataclass

from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import OVER
from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind


@dataclass(frozen=True, slots=True)
class TongueAndGroove:
    """A groove `width` wide and `depth` deep whose middle runs at height `level` of the grooved part, and what
    sits in it: `clearance` thinner in all, `end_clearance` short of the groove's bottom. Millimetres."""

    width: float
    depth: float
    level: float
    clearance: float
    end_clearance: float

    @property
    def tongue_thickness(self) -> float:
        """Thickness of the tongue or tenon."""
        return self.width - self.clearance

    @property
    def tongue_length(self) -> float:
        """How far the tongue or tenon stands out of its shoulder."""
        return self.depth - self.end_clearance

    @property
    def bottom(self) -> float:
        """Height of the groove's lower cheek."""
        return self.level - self.width / 2

    @property
    def top(self) -> float:
        """Height of the groove's upper cheek."""
        return self.level + self.width / 2

    def groove(self, face: str, start: float, end: float, mates: tuple[str, ...]) -> Feature:
        """The groove on a side face from u = `start` to `end`."""
        outline = rectangle(start, self.bottom, end, self.top)
        return Feature("groove", face, outline, self.depth, "groove", mates, self.clearance, self.end_clearance)

    def rebates(
        self, kind: FeatureKind, zone: Outline, thickness: float, level: float, mates: tuple[str, ...]
    ) -> tuple[Feature, Feature]:
        """The two rebates that leave a tongue or tenon over the plan shape `zone`.

        `thickness` is the tongued part's, `level` the height of the tongue's middle in it.
        """
        over = thickness - level - self.tongue_thickness / 2
        under = level - self.tongue_thickness / 2
        top = Feature(kind, "top", zone, over, "rebate", mates, self.clearance, self.end_clearance)
        bottom = Feature(
            kind, "bottom", OVER.outline(zone), under, "rebate", mates, self.clearance, self.end_clearance
        )
        return top, bottom

"""The leg's mortise and four-shouldered tenon."""

from dataclasses import dataclass

from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import OVER
from templategen.parts.feature import Feature


@dataclass(frozen=True, slots=True)
class MortiseAndTenon:
    """A tenon of `thickness` across the rail, `width` along it and `length`; its mortise is `clearance` larger across
    the rail, `along` larger along it, where the tenon swells and the rail doesn't, and `end_clearance` deeper.
    Millimetres."""

    thickness: float
    width: float
    length: float
    clearance: float
    end_clearance: float
    along: float

    @property
    def depth(self) -> float:
        """Depth of the mortise."""
        return self.length + self.end_clearance

    @property
    def mortise_width(self) -> float:
        """Along the rail."""
        return self.width + self.along

    @property
    def mortise_thickness(self) -> float:
        """Across the rail."""
        return self.thickness + self.clearance

    @property
    def contact(self) -> float:
        """Glue area of the four cheeks, mm2."""
        return 2 * (self.thickness + self.width) * self.length

    def mortise(self, face: str, centre: float, mates: tuple[str, ...]) -> Feature:
        """The mortise on the rail's centre line at plan x = `centre`, cut into its top or bottom face."""
        w, t = self.mortise_width / 2, self.mortise_thickness / 2
        plan = rectangle(centre - w, -t, centre + w, t)
        outline = plan if face == "top" else OVER.outline(plan)
        return Feature("mortise", face, outline, self.depth, "mortise", mates, self.clearance, self.end_clearance)

    def cheeks(self, zone: Outline, section: float, mates: tuple[str, ...]) -> tuple[Feature, Feature]:
        """The two cheek cuts over the tenon's side view `zone` on a leg `section` thick; the other two shoulders
        show in the leg's outline."""
        depth = (section - self.thickness) / 2
        shared = (depth, "saw cheeks and shoulders", mates, self.clearance, self.end_clearance)
        return (
            Feature("tenon", "top", zone, *shared),
            Feature("tenon", "bottom", OVER.outline(zone), *shared),
        )

"""The manner of a sheet: how tall its letters are, how far pockets run out, which unit its figures are in."""

from dataclasses import dataclass

from templategen.catalogue import figured, translated, worded
from templategen.table.profile.choices import Units
from templategen.units import decimal_figure, length_figure

UNIT_NAMES = {"mm": "millimetres", "in": "inches"}


@dataclass(frozen=True, slots=True)
class Manner:
    """`height` of capitals and `overrun` of open pockets in mm, whatever the `units` of the figures. `relief` is how
    inside corners are cleared for square wood; the bit is then twice the overrun wide. `layers` are the units of the
    depths that layers tell, those of the files for machines; `by_machine` has figures in decimals, as machines take
    them."""

    height: float
    overrun: float = 0.0
    units: Units = "mm"
    relief: str = "none"
    layers: Units = "mm"
    by_machine: bool = False

    @property
    def unit_name(self) -> str:
        """The unit as a header says it."""
        return translated(UNIT_NAMES[self.units])

    def figure(self, mm: float) -> str:
        """A length as drawings say it: no unit, no trailing noughts."""
        return figured((decimal_figure if self.by_machine else length_figure)(mm, self.units))

    def size(self, mm: float) -> str:
        """The same with its unit."""
        return f"{self.figure(mm)} {self.units}"

    def sizes(self, *mm: float) -> str:
        """Several lengths of one thing with their unit, in one style: all decimals where one is no fraction."""
        told = [self.figure(one) for one in mm]
        if any("." in one or "," in one for one in told):
            told = [figured(decimal_figure(one, self.units)) for one in mm]
        return f"{' x '.join(told)} {self.units}"

    def depth(self, mm: float) -> str:
        """A depth as notes say it."""
        return worded("{size} deep", size=self.size(mm))

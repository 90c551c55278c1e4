"""The bolt that holds a leg's dry tenon in its rail, and its barrel nut."""

from dataclasses import dataclass
from math import ceil

from templategen.geometry.outline import circle
from templategen.geometry.point import Point
from templategen.parts.feature import Feature

CLEARANCE = 1.0
"""A bolt's hole is so much wider than its thread, and a counterbore than its head, mm: M8 in 9, M10 in 11
(trade tables)."""

SUNK = 0.5
"""How far a head lies under the face, mm: its washer drains, and nothing rocks on it (assumed)."""

SPARE = 8.0
"""Bore past the bolt's tip, mm (assumed)."""

END = 7.0
"""From the shoulder to the middle of the nut, in thicknesses of the bolt at least: a loaded end, EN 1995-1-1."""

STEP = 10.0
"""Bolts are sold in lengths of so many mm (ISO 888)."""


@dataclass(frozen=True, slots=True)
class BoltAndNut:
    """A bolt from the rail's top face, through the mortise's floor and the tenon into a barrel nut across the leg.

    `thread`, `head` and `head_height` are the bolt's, `nut` and `nut_length` the barrel nut's; `thickness` is the
    rail's, `section` the leg's, `tenon` the dry tenon's length. Millimetres.
    """

    thread: float
    head: float
    head_height: float
    nut: float
    nut_length: float
    thickness: float
    section: float
    tenon: float

    @property
    def hole(self) -> float:
        """Diameter of the bolt's hole."""
        return self.thread + CLEARANCE

    @property
    def counterbore(self) -> float:
        """Diameter of the counterbore."""
        return self.head + CLEARANCE

    @property
    def sink(self) -> float:
        """Depth of the counterbore."""
        return self.head_height + SUNK

    @property
    def grip(self) -> float:
        """Rail under the head, down to the leg's shoulder."""
        return self.thickness - self.sink

    @property
    def length(self) -> float:
        """The bolt under its head: the shortest sold that goes right through the nut."""
        return ceil((self.grip + END * self.thread + self.nut / 2) / STEP - 1e-9) * STEP

    @property
    def below(self) -> float:
        """From the shoulder down to the nut's middle: the bolt's tip comes level with the nut's far side."""
        return self.length - self.grip - self.nut / 2

    @property
    def bore(self) -> float:
        """Depth of the bolt's hole from the tenon's end."""
        return self.tenon + self.below + self.nut / 2 + SPARE

    @property
    def cross(self) -> float:
        """Depth of the cross bore: the nut's middle lies on the bolt."""
        return (self.section + self.nut_length) / 2

    def in_rail(self, at: float) -> tuple[Feature, Feature]:
        """Counterbore and hole on the rail's middle line at x = `at`; the hole is one of the rail's own, too."""
        head = circle(at, 0, self.counterbore / 2)
        hole = Feature("hole", "top", circle(at, 0, self.hole / 2), self.thickness, "bore")
        return Feature("counterbore", "top", head, self.sink, "counterbore"), hole

    def in_leg(self, end: str, across: float, nut: Point) -> tuple[Feature, Feature]:
        """The hole in the middle of the tenon's `end`, which is `across` wide, and the cross bore about `nut`."""
        down = circle(across / 2, self.section / 2, self.hole / 2)
        bore = Feature("cross-bore", "top", circle(nut.x, nut.y, self.nut / 2), self.cross, "bore")
        return Feature("bolt-hole", end, down, self.bore, "bore"), bore

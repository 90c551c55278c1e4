"""The slats' pins: one at each end, from below, on a line along the slat; one end is held, the other may slide."""

from dataclasses import dataclass
from math import floor, radians, tan

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF, pinned_ends
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule

SHORTER = 2.0
"""By how much a pin stays short of the tongue's upper face, mm, so that it never shows (assumed)."""

POINT = 1 / 2 / tan(radians(118 / 2))
"""How far a twist drill's point reaches past its full width, as a share of that: 118 degrees are ground on drills for
general use (ISO 5419 names the angle, makers' tables its size)."""

STEP = {"mm": 1.0, "in": 25.4 / 16}
"""What a pin is cut to, mm: the next below its hole."""


DRAWN_ALONG = (
    "along each slat's underside a line through the middle of its slot, and of its other tongue's end (of two tongues"
    " at an end of the wider, or of like ones of the lower on its drawing): pins are bored on it"
)
"""What is drawn while tongues can be seen: later they are in their grooves, and what is square to a rail's edge leads
beside the slot of a slat that meets it aslant."""


@dataclass(frozen=True, slots=True)
class Pins:
    """Pins for one table, none where there are no slats: how many, the depth of their holes to the drill's point, the
    length of a pin that goes in flush, and how far in from a rail's edge and from the rim's each stands, square to
    it, mm. The left end's hole is round, so that end stays home; the right tongue has a slot, which is open at the
    tongue's end."""

    count: int
    depth: float
    length: float
    from_rail: float
    from_rim: float

    def sentence(self, units: Units) -> str:
        """How they go in, in one sentence."""
        thick = length_by_rule(PIN_OF[units].thick, units, 0, 32)
        rail, rim = (figured(length_by_rule(size, units)) for size in (self.from_rail, self.from_rim))
        return said(
            "pin each slat from below, one at each end, {thick} thick, where the line drawn along it at the dry fit,"
            " carried straight on with a rule, meets one gauged {rail} inside a rail's edge, {rim} inside the rim's:"
            " at its left end through a hole bored through groove and tongue, at its right end through the groove"
            " into the slot in the tongue, so that rails and rim can move",
            thick=thick, rail=rail, rim=rim,
        )  # fmt: skip


def pins_of(table: Table) -> Pins:
    """The pins of a table's slats."""
    sizes, tongue, pin = table.sizes, table.sizes.tongue_length, PIN_OF[table.profile.units]
    slats = [part for part in table.parts if part.kind == "slat"]
    count = sum(part.count * len(pinned_ends(part.body or part.outline, part.outline, tongue, pin)) for part in slats)
    deep = max(0.0, sizes.slat_groove.bottom) + sizes.slat_groove.tongue_thickness - SHORTER
    step = STEP[table.profile.units]
    long = floor((deep - POINT * pin.thick) / step) * step
    return Pins(count, deep, long, tongue / 2 - sizes.clearances.shoulder, tongue / 2)

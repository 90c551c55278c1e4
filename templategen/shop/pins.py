"""The slats' pins: one at each end, from below, on a line along the slat; one end is held, the other may slide."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor, radians, tan

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.tolerance import EQUAL
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF, pin_from_end, pinned_ends
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule

SHORTER = 2.0
"""By how much a pin stays short of the tongue's upper face, mm, so that it never shows (assumed)."""

POINT = 1 / 2 / tan(radians(118 / 2))
"""How far a twist drill's point reaches past its full width, as a share of that: 118 degrees are ground on drills for
general use (ISO 5419 names the angle, makers' tables its size)."""

STEP = {"mm": 1.0, "in": 25.4 / 16}
"""What a pin is cut to, mm: the next below its hole."""


GUIDED = 5
"""Height of the block that guides the bit, in pins' thicknesses (assumed)."""

BLOCK: Mapping[Units, tuple[float, float]] = {"mm": (150.0, 100.0), "in": (6 * 25.4, 4 * 25.4)}
"""Length of that block, and how far off the bit a hand bears on it (assumed), mm: no clamp reaches over a rail."""

USE = (
    "pin each slat from below, one at each end: at its plain end through groove and tongue, at S through the groove"
    " into the tongue's slot, so that rails and rim can move"
)

KNIFED_ALONG = (
    "along each slat's underside cut a knife line through the middle of its slot, and of its other tongue's end (of"
    " two tongues at an end of the wider, or of like ones of the lower on its drawing), S beside it at the slotted"
    " end: pins are bored on it"
)
"""What is cut while tongues can be seen: later they are in their grooves, and finish hides a pencil's line. What is
square to a rail's edge leads beside the slot of a slat that meets it aslant."""


@dataclass(frozen=True, slots=True)
class Pins:
    """Pins for one table, none where there are no slats: how many, the depth of their holes to the drill's point, the
    length of a pin that goes in flush, and how far in from a rail's edge and from the rim's each stands, square to
    it, mm; what of the wood they go through is below the groove, and how far slats' undersides lie above the rails',
    mm. The left, plain end's hole is round, so that end stays home; the right tongue has a slot, which is open at the
    tongue's end."""

    count: int
    depth: float
    length: float
    from_rail: float
    from_rim: float
    cheek: float
    above: float

    @property
    def filled(self) -> float:
        """How far a hole that missed its slot is filled, so that no glue gets to the tongue, mm."""
        return max(0.0, self.cheek - SHORTER)

    def tells(self, units: Units) -> Iterator[str]:
        """How they go in: where, how the line gets there, the bit and what guides it, what proves each hole."""
        pin = PIN_OF[units].thick

        def ruled(size: float) -> str:
            return figured(length_by_rule(size, units))

        yield translated(USE)
        yield said(
            "bore where its knife line, carried straight on by a rule, meets one gauged {rail} inside a rail's edge,"
            " {rim} inside the rim's",
            rail=ruled(self.from_rail), rim=ruled(self.from_rim),
        )  # fmt: skip
        if self.above > EQUAL:
            yield said(
                "a straight piece {high} thick, its edge on the knife line, bears the rule level with rail and rim",
                high=ruled(self.above),
            )
        long, off = BLOCK[units]
        yield said(
            "a {thick} bit, through a {thick} hole bored square near one end of a block of scrap, {high} high and"
            " {long} long, taped along the rail or the rim's edge, its point on the crossing, the hand on the block"
            " {off} off; the stop as high as"
            " the block + {deep}; a spacer beside each slat",
            thick=length_by_rule(pin, units, 0, 32), high=ruled(GUIDED * pin), long=ruled(long), off=ruled(off),
            deep=ruled(self.depth),
        )  # fmt: skip
        yield translated("a slat slides a hair with its pin at S loose in its hole, or the hole missed the slot")
        if self.filled:
            yield said(
                "glue a hard-wood dowel {filled} long into a hole that missed, flush, and bore again on both lines"
                " drawn anew",
                filled=ruled(self.filled),
            )
        yield translated("flood the holes with finish, which reaches no tongue later; drive the pins flush, no glue")

    def reach(self, units: Units) -> float:
        """From the bit's point to its stop: a hole's depth and the block, mm."""
        return self.depth + GUIDED * PIN_OF[units].thick


def pins_of(table: Table) -> Pins:
    """The pins of a table's slats."""
    sizes, tongue, pin = table.sizes, table.sizes.tongue_length, PIN_OF[table.profile.units]
    inside = tongue - pin_from_end(sizes)
    slats = [part for part in table.parts if part.kind == "slat"]
    count = sum(part.count * len(pinned_ends(part.body or part.outline, part.outline, tongue, pin)) for part in slats)
    cheek = max(0.0, sizes.slat_groove.bottom)
    deep = cheek + sizes.slat_groove.tongue_thickness - SHORTER
    step = STEP[table.profile.units]
    long = floor((deep - POINT * pin.thick) / step) * step
    above = max(0.0, sizes.slat_underside)
    return Pins(count, deep, long, inside - sizes.clearances.shoulder, inside, cheek, above)

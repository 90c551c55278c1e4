"""The slats' pins: one in the middle of each end, from below; one end is held, the other may slide."""

from __future__ import annotations

from dataclasses import dataclass

from templategen.checks.shoulders import drawn_back
from templategen.parts.work import works
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.seasons import Swing, board_swing
from templategen.units import length_by_rule

PIN = 4.0
"""Thickness of a slat's pin, mm (assumed)."""

SHORTER = 2.0
"""By how much a pin stays short of the tongue's upper face, mm, so that it never shows (assumed)."""

PLAY = 0.5
"""Play of a pin along its slot beyond what the wood moves, mm (assumed)."""

BOTH_ENDS = 2
"""Pins of a slat at most: an end between arm and rim may have two tongues, and still gets one."""


@dataclass(frozen=True, slots=True)
class Pins:
    """Pins for one table, none where there are no slats: how many, their length at most, how far from its shoulder
    each stands, how long their slot in the tongue of every right end would be, and how far in from that tongue's end
    it reaches, mm. The left end's hole is round, so that end stays home; the slot is open at the tongue's end, where
    too little wood would be left to close it."""

    count: int
    length: float
    place: float
    slot: float
    notch: float

    def sentence(self, units: Units) -> str:
        """How they go in, in one sentence."""
        thick, place = length_by_rule(PIN, units, 0, 32), length_by_rule(self.place, units)
        return (
            f"pin each slat from below, one pin of {thick} in the middle of each end, {place} from the shoulder (of"
            " two tongues at an end, in the longer): at its left end through a hole bored through groove and tongue,"
            " at its right end through the groove into the notch in the tongue, so that rails and rim can move"
        )

    def notch_sentence(self, units: Units) -> str:
        """How the notch is cut, in one sentence."""
        wide, deep = length_by_rule(PIN + PLAY, units), length_by_rule(self.notch, units)
        return (
            f"cut a notch {wide} wide and {deep} deep along the slat into the middle of the right tongue's end, of"
            " two tongues the longer one's"
        )


def pins_of(table: Table) -> Pins:
    """A slat that were held at both ends would be pulled as far as rails and rim move between them."""
    tongues = [(part.count, work.count) for part in table.parts for work in works(part) if work.kind == "tongue"]
    swing = board_swing(table.profile)
    moved = drawn_back(table, swing) + drawn_back(table, Swing(-swing.wet, 0.0))
    groove = table.sizes.slat_groove
    slot, tongue = PIN + moved + PLAY, groove.tongue_length
    long = max(0.0, groove.bottom) + groove.tongue_thickness - SHORTER
    count = sum(count * min(BOTH_ENDS, zones) for count, zones in tongues)
    return Pins(count, long, tongue / 2, slot, min(tongue, (tongue + slot) / 2))

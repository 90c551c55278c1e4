"""The slats' pins: one in the middle of each end, from below; one end is held, the other may slide."""

from __future__ import annotations

from dataclasses import dataclass

from templategen.checks.shoulders import drawn_back
from templategen.parts.work import works
from templategen.table.assembly import Table
from templategen.table.seasons import Swing, board_swing

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
    """Pins for one table, none where there are no slats: how many, their length at most, and how long the slot is in
    the tongue of every right end, mm. The left end's hole is round, so that end stays home."""

    count: int
    length: float
    slot: float

    @property
    def sentence(self) -> str:
        """How they go in, in one sentence."""
        return (
            f"pin each slat from below, one pin of {PIN:g} mm in the middle of each end: through a round hole at its"
            f" left end, at its right end through a slot {self.slot:.1f} mm long in the tongue along the slat, the"
            " pin in its middle, so that rails and rim can move"
        )


def pins_of(table: Table) -> Pins:
    """A slat that were held at both ends would be pulled as far as rails and rim move between them."""
    tongues = [(part.count, work.count) for part in table.parts for work in works(part) if work.kind == "tongue"]
    swing = board_swing(table.profile)
    moved = drawn_back(table, swing) + drawn_back(table, Swing(-swing.wet, 0.0))
    groove = table.sizes.slat_groove
    long = max(0.0, groove.bottom) + groove.tongue_thickness - SHORTER
    return Pins(sum(count * min(BOTH_ENDS, zones) for count, zones in tongues), long, PIN + moved + PLAY)

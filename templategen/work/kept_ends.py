"""Ends kept from an earlier trial: two pieces of a strip that were cut at one angle serve at the next with their
other ends."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from templategen.checks.describe import said
from templategen.shop.set_ups.set_up import BESIDES, SetUp
from templategen.shop.set_ups.tolerances import STRIPS

OTHER_ENDS = "the two pieces of {strip} kept from set-up {number}, their other ends cut one after the other and kept"
"""What such a set-up is tried on."""


def on_kept_ends(set_ups: Sequence[SetUp]) -> Iterator[SetUp]:
    """The first set-ups of a plan, in its order: every second one that is tried on a pair of the same strip is told
    whose pair that is."""
    free: dict[str, int] = {}
    for number, one in enumerate(set_ups, 1):
        pieces = one.proof.test_piece.split(BESIDES) if one.proof.is_kept else []
        for place, piece in enumerate(pieces):
            strip = next((code for code in STRIPS.values() if code in piece), "")
            if piece in free:
                pieces[place] = said(OTHER_ENDS, strip=strip, number=free.pop(piece))
            elif strip:
                free[piece] = number
        yield replace(one, proof=replace(one.proof, test_piece=BESIDES.join(pieces))) if pieces else one

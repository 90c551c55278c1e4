"""How the slats of a field are laid dry."""

from collections.abc import Iterator

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.table.assembly import Table
from templategen.units import length_words

LEAST_SEEN = 0.05
"""A clearance of less shows nowhere, mm."""


def slats_laid(table: Table) -> Iterator[str]:
    """With spacers, and what stands between a slat and the rail along which it lies; which end is pinned."""
    units, under = table.profile.units, table.sizes.slat_underside
    if under > 0:
        yield said(
            "tongues stay dry so that slats can move; set each gap with the spacers, slats packed up by {high}"
            " (the rails' own thickness less {less})",
            high=figured(length_words(under, units)),
            less=figured(length_words(table.profile.top.thickness - under, units)),
        )
    else:
        yield translated("tongues stay dry so that slats can move; set each gap with the spacers")
    play = table.spacing.bands[0][0] - table.sizes.half_rail
    if table.profile.slats.lie_along_a_rail and play > LEAST_SEEN:
        yield said(
            "the slats beside {rail} first, {play} off it all along: card of that thickness between; spacers only "
            "from there outwards",
            rail=next(part.code for part in table.parts if part.kind == "rail"),
            play=figured(length_words(play, units)),
        )
    yield translated(
        "plain end and slotted end (S) as the drawing lies; pins come once the top is closed and turned over"
    )

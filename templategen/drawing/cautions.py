"""Cautions on sheets, at the part they concern: short, general, and never instead of the machine's own manual."""

from collections.abc import Iterator

from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.shop.cautions import (
    DEFER,
    DUST,
    MITRES,
    ON_THE_MACHINE,
    SAWING_ROUND,
    SHORT,
    SHORT_PIECE,
    STOP_FIRST,
)

__all__ = ["DEFER", "DUST", "ON_THE_MACHINE", "ROUTING", "SAWING", "cautions"]

SAWING = (
    "Rip and crosscut with guard and riving knife on, a push stick for the last 300 mm (12 in), the far end held up.",
    STOP_FIRST,
    DUST,
    DEFER,
)
"""For a board that is sawn up."""

ROUTING = (
    "Hold the sheet down all over and the small parts by tabs or skin; cut inside before outside.",
    *ON_THE_MACHINE,
)
"""For a sheet that is routed."""


def cautions(part: Part) -> Iterator[str]:
    """The cautions that a part's sheet carries, each once."""
    yield from dict.fromkeys(kind.caution for name, kind in KINDS.items() if kind.caution and part.cuts(name))
    if part.kind in ("rim-segment", "slat"):
        yield MITRES
    if part.kind == "rim-segment" and len(part.outline.edges) and any(v.bulge for v in part.outline):
        yield SAWING_ROUND
    if part.size[0] < SHORT_PIECE:
        yield SHORT
    yield DUST
    yield DEFER

"""Cautions on sheets, at the part they concern: short, general, and never instead of the machine's own manual."""

from __future__ import annotations

from collections.abc import Iterator

from templategen.parts.part import Part

SHORT_PIECE = 300.0
"""Pieces shorter than this are not fed to a machine by hand, mm."""

DEFER = "Guards on. The machine's manual, local law and a competent person come before this sheet."
DUST = "Extract the dust at the machine; wear eye and ear protection and a mask that suits the wood."

BY_FEATURE = {
    "groove": "Grooves and slots: a jig or featherboards stand in where a guard comes off; never freehand.",
    "spline-slot": "Grooves and slots: a jig or featherboards stand in where a guard comes off; never freehand.",
    "hole": "Boring: clamp the work, back it with a board, withdraw often to clear the bit.",
    "round-over": "Router: work clamped, both hands, several light passes, unplugged while the bit is changed.",
    "mortise": "Mortises: clamp the work and the stops; keep hands behind the cutting edge.",
}
"""By the kind of work that the part carries."""

SAWING = (
    "Rip and crosscut with guard and riving knife on, a push stick for the last 300 mm and the far end supported.",
    "Stop the blade before clearing offcuts; wait for it to run down.",
    DUST,
    DEFER,
)
"""For a board that is sawn up."""

ROUTING = (
    "Hold the sheet down all over and the small parts by tabs or skin; cut inside before outside.",
    "Loose pieces fly: stand clear, and stop the spindle before reaching in.",
    DUST,
    DEFER,
)
"""For a sheet that is routed."""


def cautions(part: Part) -> Iterator[str]:
    """The cautions that a part's sheet carries, each once."""
    kinds = {feature.kind for feature in part.features}
    yield from dict.fromkeys(words for kind, words in BY_FEATURE.items() if kind in kinds)
    if part.kind in ("rim-segment", "slat"):
        yield "Mitres: clamp the piece to the fence; the stop must not trap the offcut."
    if part.kind == "rim-segment" and len(part.outline.edges) and any(v.bulge for v in part.outline):
        yield "Sawing round: pivot locked, blade guard down to the work, hands out of the blade's line."
    if part.size[0] < SHORT_PIECE:
        yield "Short piece: work it on the end of a longer strip or in a sled and cut it off last."
    yield DUST
    yield DEFER

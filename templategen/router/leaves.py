"""What a bit leaves in notches that it doesn't enter."""

from __future__ import annotations

from typing import Any

from templategen.geometry.outline import Outline, polygon
from templategen.router.hold import flat

TELLING = 0.02
"""Less than this is no wood worth a word, mm2."""


def left_outside(ring: Outline, bit: float) -> tuple[Outline, ...]:
    """What is left round a part whose notches are narrower than the bit, in chords of a hundredth of a millimetre."""
    part = flat(ring)
    closed = part.buffer(bit / 2, quad_segs=64).buffer(-bit / 2, quad_segs=64)
    left: Any = closed.difference(part)
    pieces = [piece for piece in getattr(left, "geoms", (left,)) if piece.area > TELLING]
    return tuple(polygon(piece.exterior.coords[:-1]).anticlockwise for piece in pieces)

"""Waste that hangs by a hair counts as loose: it gets its tab, or is told."""

from __future__ import annotations

import pytest

from templategen.geometry.outline import rectangle
from templategen.router.hold import CRUMB, HAIR, Freed, _Ground


@pytest.mark.parametrize(("neck", "pieces"), [(2 * CRUMB + 0.02, 2), (2 * HAIR + 0.02, 1)])
def test_a_thin_neck_parts_waste_and_a_wider_one_holds_it(neck: float, pieces: int) -> None:
    """Four parts round a field of waste, whose passes leave a neck between two of them."""
    bit = 6.0
    gap = 2 * bit + neck
    rings = (
        rectangle(100, 100, 150, 300), rectangle(150, 100, 300, 150), rectangle(150, 250, 300, 300),
        rectangle(300, 100, 350, 200 - gap / 2), rectangle(300, 200 + gap / 2, 350, 300),
    )  # fmt: skip
    ground = _Ground([Freed(ring) for ring in rings], rectangle(0, 0, 450, 400), bit, 8.0, (), ())
    assert len(ground.islands(ground.pieces((), set(), HAIR))) == pieces - 1
    assert not ground.islands(ground.pieces((), set()))

"""Volumes against solids, which know no formula."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from templategen.output.packet_json import part_json
from templategen.parts.volume import volume
from tests.random_profiles import tables
from tests.table.made import table_of

pytest.importorskip("manifold3d")
from tests.solids import solid


@pytest.mark.parametrize("spline", ["through", "stopped", "none"])
@pytest.mark.parametrize("edge", ["sawn", "faceted"])
def test_sharp_parts_are_as_large_as_their_solids(spline: str, edge: str) -> None:
    """Without rounded or chamfered edges each part's volume is its solid's to one part in 10,000."""
    table = table_of({"top.edge": edge, "joints.spline": spline})
    for part in table.parts:
        sharp = replace(part, features=tuple(f for f in part.features if not f.traits.arris))
        assert volume(sharp) == pytest.approx(solid(part_json(sharp, [])).volume(), rel=1e-4), part.code


@pytest.mark.wide
def test_random_parts_are_as_large_as_their_solids() -> None:
    """The same holds for the parts of random tables."""
    for table in tables(range(300, 306)):
        for part in table.parts:
            sharp = replace(part, features=tuple(f for f in part.features if not f.traits.arris))
            assert volume(sharp) == pytest.approx(solid(part_json(sharp, [])).volume(), rel=3e-4), part.code


def test_easing_takes_its_own_section() -> None:
    """A round-over takes 1 - pi/4 of its square along the leg, a chamfer half of it."""
    for corner, share in (("rounded", 1 - pi / 4), ("chamfered", 0.5), ("beaded", 3 * 0.16 * (1 - pi / 4) + 0.16)):
        square, eased = table_of({"legs.corner": "square"}).part("LEG"), table_of({"legs.corner": corner}).part("LEG")
        length = square.outline.bounds.width - 2 * 24
        assert volume(square) - volume(eased) == pytest.approx(4 * 36 * share * length)


def test_a_pole_hole_is_not_taken_off_twice() -> None:
    """The lap's floor has a hole in it, so a rail with a hole is lighter by the hole in what is left of it."""
    bored, plain = table_of().part("RAIL-LOW"), table_of({"top.pole_hole": 0.0}).part("RAIL-LOW")
    assert volume(plain) - volume(bored) == pytest.approx(3.141592653589793 * 18**2 * 38 / 3)

"""Mortises that face up let water out: a hole through each floor, and on through a pad that lies under it."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Any

import pytest

from templategen.errors import DesignError
from templategen.fit.solid import part_solid, placed_solid
from templategen.parts.volume import volume
from tests.table.made import table_of

WIDE = {"base.drain_hole": 9.0, "base.foot_length": 260.0}
"""Pads so long that the legs stand over them."""


@pytest.mark.parametrize("changes", [{"base.drain_hole": 9.0}, WIDE, {**WIDE, "base.feet": "relieved"}])
def test_water_in_every_mortise_falls_to_the_floor(changes: dict[str, Any]) -> None:
    """A drop 8.9 mm thick under each leg's middle, through all solids of the pedestal but the legs, touches none."""
    import manifold3d

    table = table_of(changes)
    out, top = table.profile.legs.base_centre_distance, table.sizes.foot_height + table.profile.base.thickness
    solids = [placed_solid(part_solid(table.part(one.code)), one) for one in table.placed
              if one.code.startswith("BASE") or one.code == "FOOT"]  # fmt: skip
    for arm in range(table.sizes.arms):
        turn = arm * table.sizes.field_angle
        drop = manifold3d.Manifold.cylinder(top, 4.45, 4.45, 64).translate((out * cos(turn), out * sin(turn), 0.0))
        assert sum((solid ^ drop).volume() for solid in solids) == 0


def test_a_drain_takes_its_floor_and_no_more() -> None:
    """What is left of the floor times the hole's circle, at both ends; and none is bored where none is wanted."""
    with_, without = (table_of({"base.drain_hole": size}).part("BASE-MID") for size in (9.0, 0.0))
    floor = with_.thickness - with_.cuts("mortise")[0].depth
    assert volume(without) - volume(with_) == pytest.approx(2 * floor * pi * 9.0**2 / 4)
    assert len(without.holes) == 1


def test_a_drain_wider_than_its_mortise_is_refused() -> None:
    """The tenon is 38 mm thick, its mortise 0.1 mm wider."""
    with pytest.raises(DesignError, match=r"base\.drain_hole"):
        table_of({"base.drain_hole": 38.2})

"""A parasol's base goes under the ground cross, or what does instead is told; forces are told as masses."""

from __future__ import annotations

import pytest

from templategen.checks.tipping import base_room, parasol
from templategen.checks.wording import format_size
from tests.table.made import table_of


def test_a_base_that_has_no_room_is_told_with_what_has() -> None:
    """Pads of 12 mm: under the cross goes a plate alone, between the feet."""
    table = table_of({}, "towpath-dining")
    found, base = parasol(table, 0.0), table.profile.base
    assert base_room(table) == (12.0, base.length - 2 * base.foot_length)
    assert (found.kind, found.measured, found.wanted) == ("parasol-no-room", 12.0, (50.0, None))
    told = found.described("mm")
    assert "socket in the ground" in told.do and "thinner than 12 mm" in told.do and "50 mm" in told.wanted


def test_a_base_that_has_room_is_asked_for() -> None:
    table = table_of({"base.foot_thickness": 60.0}, "towpath-dining")
    assert parasol(table, 0.0).kind == "parasol-in-base"


@pytest.mark.parametrize(("units", "told"), [("mm", "48 kg (473 N)"), ("in", "106 lbf")])
def test_a_force_is_told_as_the_mass_that_weighs_so_much(units: str, told: str) -> None:
    assert format_size(473.0, "N", units) == told

"""What is to be had at hand: every cutter that a set-up asks for, with the reach that it needs."""

from __future__ import annotations

import re

import pytest

from templategen.packet.shipped import shipped_names
from templategen.packet.stages import WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.pins import pins_of
from templategen.table.assembly import build_table
from templategen.work.tools import BLADES, tools_of
from tests.table.made import profile_of


@pytest.mark.parametrize("name", shipped_names())
def test_every_cutter_of_a_set_up_is_listed_once_and_reaches(name: str) -> None:
    """Each set-up with a cutter of its own stands in one row; no row's reach is less than the set-up's height."""
    worked = begun(profile_of(name=name))
    rows, set_ups = tools_of(worked[TABLE], worked[WORK]), worked[WORK].set_ups
    listed = [number for row in rows if row.item not in ("tenon saw", "chisels", "marking knife", "router plane",
              "block plane", "rip saw", "spokeshave") for number in _numbers(row.use)]  # fmt: skip
    wanted = [one.number for one in set_ups if one.cutter not in BLADES]
    assert wanted and sorted(listed) == sorted(wanted)
    scale = 25.4 if worked[TABLE].profile.units == "in" else 1.0
    for row in rows:
        if reach := re.search(r"(?:standing|cutting) ([\d.]+)(?:-(\d+)/(\d+))? (?:mm|in)", row.size):
            whole, over, under = (float(part) if part else 0.0 for part in reach.groups())
            told = (whole + (over / under if under else 0.0)) * scale
            heights = [one.value("height", cut) for one in set_ups if one.number in _numbers(row.use)
                       for cut in one.cuts if one.setting("height", cut)]  # fmt: skip
            assert all(told > height - 1e-6 for height in heights), row


def _numbers(use: str) -> list[int]:
    """The set-ups that a row names."""
    if not use.startswith("set-up"):
        return []
    found: list[int] = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", use):
        found += range(int(first), int(last or first) + 1)
    return found


@pytest.mark.parametrize("name", shipped_names())
def test_a_pin_goes_in_flush(name: str) -> None:
    """A pin ends above the cone that the drill's point leaves, and within a step of it."""
    pins = pins_of(build_table(profile_of(name=name)))
    cone = 2.0 / 1.6642794823505174  # half of 4 mm over tan 59 degrees
    assert 0 <= pins.depth - cone - pins.length < 25.4 / 16

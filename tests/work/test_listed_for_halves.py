"""What half rings are trimmed and slotted with is listed like all else; so is what a card at a machine chisels."""

from __future__ import annotations

import re

import pytest

from templategen.packet.shipped import shipped_names
from templategen.packet.stages import WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.work.tools import Tool, tools_of
from templategen.work.trimming import HALVES
from tests.table.made import profile_of


@pytest.mark.parametrize("name", shipped_names())
def test_packing_clamps_box_and_balks_are_had_at_hand(name: str) -> None:
    """Of the sizes that the plan and the card tell: packing and clamps under a half that is trimmed, balks beside the
    ends that are slotted, a box as high as brings these so far over the bench's top."""
    worked = begun(profile_of(name=name))
    rows, work = tools_of(worked[TABLE], worked[WORK]), worked[WORK]
    trimmed = next((one.operation for one in work.operations if one.operation.does == HALVES), None)
    own = {row.item: row for row in rows if row.use == HALVES}
    assert bool(own) == bool(trimmed)
    if trimmed is None:
        return
    told = " ".join(trimmed.tells)
    assert f"on packing {own['strips to pack up by'].size.split(', ')[1].removesuffix(' high')} thick" in told
    long, wide, thick = re.findall(r"[\d.]+", own["straight batten"].size)
    assert f"a straight batten {long} mm or longer, {wide} mm wide and {thick} mm thick" in told
    assert own["end blocks"].count == 2 and "a block level with the end" in told
    assert own["clamps to the bench"].count == 2 and "clamp it there at two places" in told
    (slotted,) = [one for one in work.set_ups if one.on_half]
    beside = {row.item: row for row in rows if row.use == f"set-up {slotted.number}"}
    says = " ".join(slotted.does)
    long, wide, thick = re.findall(r"[\d.]+", beside["balks"].size)
    assert f"{thick} mm thick, {wide} mm or wider" in says and beside["balks"].count == 2
    ends = [cut.outline.bounds.width for part in worked[TABLE].parts for cut in part.cuts("spline-slot")]
    assert float(long) >= worked[TABLE].sizes.joint_face + 2 * 150 > max(ends), (
        "a router's base longer at both corners"
    )
    assert "in a vice or by a bar clamp at each arm" in says and beside["bar clamps"].count == 2
    high, over = map(float, re.findall(r"half ring, ([\d.]+) mm high.*?level and ([\d.]+) mm over", says)[0])
    assert float(re.findall(r"[\d.]+", beside["firm box"].size)[0]) == high - over


@pytest.mark.parametrize("name", shipped_names())
def test_a_pilot_bit_goes_right_through(name: str) -> None:
    """As its card tells, through the thickest piece; and a card that asks for a channel stands beside the chisels."""
    worked = begun(profile_of(name=name))
    table, rows, set_ups = worked[TABLE], tools_of(worked[TABLE], worked[WORK]), worked[WORK].set_ups
    (bored,) = [row for row in rows if row.item == "hole saw"] or [None]
    thick = [table.part(code).thickness for one in set_ups if one.cutter == "hole saw" for code in one.codes]
    assert (bored is None) == (not thick)
    if bored and table.profile.units == "mm":
        assert f"its pilot bit through {max(thick):g} mm" in bored.size
    chiselled = [one.number for one in set_ups if any("chisel a channel" in told for told in one.does)]
    assert bool(chiselled) == (name == "towpath-hex")
    assert all(number in _numbers(rows, "chisels") for number in chiselled)
    assert chiselled == [one.number for one in set_ups if one.setting("channel")]


def _numbers(rows: tuple[Tool, ...], item: str) -> list[int]:
    (row,) = [row for row in rows if row.item == item]
    spans = re.findall(r"(\d+)(?: to (\d+))?", row.use)
    return [number for first, last in spans for number in range(int(first), int(last or first) + 1)]

"""Sheets carry the caution where the work is."""

from __future__ import annotations

import pytest

from templategen.drawing.cautions import DEFER, DUST, cautions
from templategen.drawing.drawing import Words
from templategen.drawing.part_sheet import part_drawing
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text


@pytest.mark.parametrize("name", shipped_names())
def test_every_part_defers_to_manual_law_and_person(name: str) -> None:
    """Each part's sheet ends with the dust and the deferring line, whatever the part."""
    for part in build_table(profile_from_text(shipped_text(name), name)).parts:
        words = [mark.text for mark in part_drawing(part, "t").marks if isinstance(mark, Words)]
        assert DUST in words and words[-1] == DEFER


def test_cautions_follow_the_work() -> None:
    """A segment is warned of grooves, mitres and round sawing, a spline of its shortness, a rail of boring."""
    table = build_table(profile_from_text(shipped_text("towpath-dining"), "dining"))
    told = {code: " ".join(cautions(table.part(code))) for code in ("RIM-A", "SPLINE", "RAIL-LOW", "LEG")}
    assert all(word in told["RIM-A"] for word in ("Grooves", "Mitres", "Sawing round"))
    assert "Short piece" in told["SPLINE"] and "Short piece" not in told["RAIL-LOW"]
    assert "Boring" in told["RAIL-LOW"] and "Boring" not in told["LEG"]

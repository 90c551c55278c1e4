"""Slat fields: gaps and slivers, told as they come out."""

from __future__ import annotations

from typing import Any

import pytest

from templategen.checks.fields import field_findings
from templategen.checks.finding import Finding
from templategen.fit.solid import part_solid
from templategen.packet.shipped import shipped_names
from tests.random_profiles import tables
from tests.table.made import table_of


def found(changes: dict[str, Any], name: str = "towpath-dining") -> list[Finding]:
    """The findings of the fields."""
    return list(field_findings(table_of(changes, name)))


def test_the_solved_gap_is_told_beside_the_asked_one() -> None:
    """The dining table's gap, asked 6, comes to 7.375 mm as worked by hand."""
    told = next(f for f in found({"slats.hold": "width"}) if "width held" in f.says)
    assert (told.level, told.where) == ("note", "slats.gap")
    assert told.measured == pytest.approx((549 - 84 - 7 * 58) / 8)
    assert told.wanted == (6.0, 6.0)


def test_the_solved_width_is_told_beside_the_asked_one() -> None:
    """With the gap held the width is what seven slats and eight gaps leave."""
    told = next(f for f in found({}) if "gap held" in f.says)
    assert (told.level, told.where) == ("note", "slats.width")
    assert told.measured == pytest.approx((549 - 84 - 8 * 6) / 7)
    assert told.wanted == (58.0, 58.0)


def test_a_gap_that_closes_is_a_stop() -> None:
    """Slats that leave under 2 mm between them may not be cut so."""
    told = next(f for f in found({"slats.width": 114.0, "slats.hold": "width"}) if "drain" in f.says)
    assert told.level == "stop"
    assert told.measured == pytest.approx((465 - 4 * 114) / 5)


def test_a_sliver_is_told_with_its_width() -> None:
    """A straight band that just reaches past a field's corner is a slat too narrow to cut."""
    slivers = {"slats.run": "straight", "slats.width": 29.0, "slats.hold": "width"}
    told = [f for f in found(slivers) if "at its widest" in f.says]
    assert told
    assert all(f.measured <= 29.0 + 1e-9 for f in told)
    assert {f.level for f in told} <= {"stop", "caution"}


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_fields_only_inform(name: str) -> None:
    """The shipped tables' slats and gaps are all sound."""
    assert all(finding.level == "note" for finding in found({}, name))


def test_a_long_edge_that_would_be_a_tongue_is_a_stop() -> None:
    """A slat of a table of chance reaches 0.1 mm past the shoulders of the rail that it lies along."""
    (table,) = tables(range(1214, 1215))
    told = next(one for one in field_findings(table) if one.kind == "edge-in-rail")
    assert told.level == "stop" and told.fields["parts"] == ("SLAT-01L", "SLAT-01R")
    slat = table.part("SLAT-01L")
    assert slat.body and told.measured == pytest.approx(slat.body.bounds.bottom - slat.outline.bounds.bottom)


def test_no_pin_s_slot_cuts_the_tip_off_a_pointed_slat() -> None:
    """Every slat of another is one piece; the pointed ones are pinned at one end."""
    (table,) = tables(range(1212, 1213))
    for part in (one for one in table.parts if one.kind == "slat"):
        assert sum(piece.volume() > 1.0 for piece in part_solid(part).decompose()) == 1, part.code
    assert not table.part("SLAT-08L").cuts("pin-slot") and table.part("SLAT-01R").cuts("pin-slot")

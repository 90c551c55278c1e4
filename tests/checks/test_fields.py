"""Slat fields: gaps and slivers, told as they come out."""

from __future__ import annotations

from typing import Any

import pytest

from templategen.checks.fields import field_findings
from templategen.checks.finding import Finding
from templategen.packet.shipped import shipped_names
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

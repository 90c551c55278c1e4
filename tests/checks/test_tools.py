"""What the shop's tools reach."""

from __future__ import annotations

from math import degrees
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.tools import (
    BLADE_RADIUS,
    end_angles,
    least_radius,
    passes,
    stopped_ends,
    tool_findings,
)
from tests.table.made import table_of


def found(changes: dict[str, Any], where: str, name: str = "towpath-dining") -> list[Finding]:
    """The findings of a table at the key `where`."""
    return [f for f in tool_findings(table_of(changes, name)) if f.where == where]


@pytest.mark.parametrize(
    ("width", "cutter", "times"),
    [(12, 12, 1), (12, 8, 2), (24, 12, 2), (24.1, 12, 3), (10, 12, 0), (12, 12 + 1e-9, 1)],
)
def test_passes(width: float, cutter: float, times: int) -> None:
    """A groove takes as many passes as cutters lie side by side in it, and none if the cutter is too wide."""
    assert passes(width, cutter) == times


def test_a_groove_narrower_than_any_cutter_is_a_stop() -> None:
    """With a cutter and a bit wider than the groove it can't be made; a narrow bit makes it."""
    stop = found({"shop.groove_cutter": 14.0, "shop.router_bit": 14.0}, "joints.tongue")
    assert [(f.level, f.measured) for f in stop] == [("stop", 12.0)]
    assert found({"shop.groove_cutter": 14.0, "shop.router_bit": 8.0}, "joints.tongue")[0].kind == "passes"
    assert not found({}, "joints.tongue")


def test_round_corners_are_told() -> None:
    """A bit leaves half its width in mortises; one wider than a mortise is a caution. A mortiser leaves none, though
    a sheet for jigs is routed."""
    assert found({}, "shop.router_bit")[0].kind == "round-ends"
    by_hand = {"work.mortises": "hand-held"}
    assert found({"shop.router_bit": 10.0, **by_hand}, "shop.router_bit")[0].kind == "round-corners"
    note = found({"shop.router_bit": 10.0}, "shop.router_bit")[0]
    assert (note.level, note.measured) == ("note", 5.0)
    assert (
        found({"shop.router_bit": 40.0, "shop.groove_cutter": 10.0, **by_hand}, "shop.router_bit")[0].level
        == "caution"
    )


def test_stopped_ends() -> None:
    """Each of the twelve rail grooves stops inside at one end; rim grooves and stopped slots add theirs."""
    table = table_of({"joints.spline": "none"})
    rails = sum(f.kind == "groove" for part in table.parts if part.kind == "rail" for f in part.features)
    assert rails == 12
    assert stopped_ends(table) >= 12
    assert stopped_ends(table_of({"joints.spline": "stopped"})) > stopped_ends(table)


@pytest.mark.parametrize("row", BLADE_RADIUS)
def test_blades_turn_as_tabled(row: tuple[float, float]) -> None:
    """A blade of a tabled width turns its tabled radius, and up to 19 mm near the square of its width over 2.5."""
    width, radius = row
    assert least_radius(width) == pytest.approx(radius)
    if 6 < width <= 19:
        assert radius == pytest.approx(width**2 / 2.5, rel=0.1)


def test_a_wide_blade_cannot_turn_the_ring() -> None:
    """A blade that is too wide for the circle is a stop; a faceted ring needs none."""
    assert [f.level for f in found({"shop.bandsaw_blade": (80.0, 2.0)}, "shop.bandsaw_blade")] == ["stop"]
    assert not found({"shop.bandsaw_blade": (80.0, 2.0), "top.edge": "faceted"}, "shop.bandsaw_blade")
    assert not found({}, "shop.bandsaw_blade")


def test_a_large_top_needs_a_stand() -> None:
    """The top reaches its diameter less half the table past the bandsaw; a table of three metres holds it."""
    assert found({}, "shop.bandsaw_table")[0].measured == 1340 - 200
    assert not found({"shop.bandsaw_table": (3000.0, 3000.0)}, "shop.bandsaw_table")


def test_small_pieces_are_named() -> None:
    """Pieces shorter than may be fed by hand are named, the shortest measured."""
    note = found({}, "shop.holding")[0]
    assert "SPLINE" in note.do and "FOOT" in note.do and "RAIL" not in note.do
    assert note.measured == 46
    assert not found({"shop.holding": 20.0}, "shop.holding")


def test_slat_ends_off_square() -> None:
    """Between three rails slats across end 30 degrees off square and slats along 60; the saw's reach decides."""
    first = table_of().part("SLAT-01")
    assert [degrees(angle) for angle in end_angles(first)] == pytest.approx([30, 30])
    assert found({}, "slats.run", "towpath-hex")[0].measured == pytest.approx(60)
    assert not found({"shop.mitre_reach": 1.1}, "slats.run", "towpath-hex")
    (ring,) = found({"shop.mitre_reach": 0.2}, "top.segments")
    assert ring.measured == 15 and ring.level == "caution" and ring.do


def test_long_pieces_need_a_longer_stop() -> None:
    """The longest piece is measured against how far a stop can be set."""
    assert not found({}, "shop.stop_reach")
    note = found({"shop.stop_reach": 1000.0}, "shop.stop_reach")[0]
    assert note.measured == 2 * (549 + 13)


def test_many_small_pieces_are_counted() -> None:
    """Six kinds of small piece are named, of more the rest is counted."""
    note = found({"shop.holding": 1000.0}, "shop.holding")[0]
    kinds = int(note.says.split("shortest of ")[1].split(" kinds")[0])
    assert kinds > 7
    assert note.do.split(":")[0].count(",") == 5
    assert f" and {kinds - 6} more by hand" in note.do
    few = found({}, "shop.holding")[0]
    assert "more" not in few.do.split(":")[0]


def test_a_blade_of_no_width_turns_anything() -> None:
    """Below the narrowest blade tabled the least radius goes down to nothing and no further."""
    assert least_radius(0.0) == 0.0
    assert least_radius(0.5) == 0.0

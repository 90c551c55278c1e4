"""Where rain stands: basins have the size that the design gives them, and a drain or an open end ends them."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, pi
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.run import check_table
from templategen.checks.water import standing_findings
from templategen.fit.basins import standing
from templategen.geometry.outline import rectangle
from templategen.parts.feature import Feature
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed as with_changes
from tests.table.made import profile_of, table_of

SIDE = "towpath-side"


def legless(changes: dict[str, Any]) -> Table:
    """A ground cross and a top whose mortises stand open, for the legs are taken away."""
    table = table_of(changes, SIDE)
    return replace(table, placed=tuple(one for one in table.placed if one.code != "LEG"))


def with_pocket(at: tuple[float, float, float, float], depth: float) -> Table:
    """A ground cross with a pocket sunk into the upper face of its lowest rail, by its sides."""
    table = table_of({}, SIDE)
    rail = table.part("BASE-LOW")
    sunk = Feature("mortise", "top", rectangle(*at), depth, "sunk")
    parts = tuple(replace(p, features=(*p.features, sunk)) if p is rail else p for p in table.parts)
    return replace(table, parts=parts)


@pytest.mark.parametrize("changes", [{}, pytest.param({"slats.face": "centred"}, marks=pytest.mark.slow)])
def test_no_table_left_to_us_holds_water(changes: dict[str, Any]) -> None:
    """Closed hollows under tenons, laps' play and grooves between slats aren't taken for basins."""
    assert standing(table_of(changes, SIDE)).basins == ()


def test_open_mortises_are_basins_until_they_drain() -> None:
    """Each as deep and as wide as it was designed, where it was; drained through its floor it is none."""
    table = legless({"base.drain_hole": 0.0, "legs.base_centre_distance": 97.0, "legs.tenon": (24.0, 27.0, 12.0)})
    found = standing(table).basins
    assert {one.code for one in found} == {"BASE-LOW", "BASE-HIGH"} and len(found) == 4
    mortise = table.part("BASE-LOW").cuts("mortise")[0]
    for one in found:
        assert one.depth == pytest.approx(mortise.depth)
        assert one.area == pytest.approx(abs(mortise.outline.area), rel=0.01)
        assert hypot(*one.at) == pytest.approx(97.0, abs=14.0)
        assert one.height == pytest.approx(table.sizes.base_top - mortise.depth)
    assert standing(legless({"legs.base_centre_distance": 97.0, "legs.tenon": (24.0, 27.0, 12.0)})).basins == ()


@pytest.mark.parametrize(
    ("at", "stands"),
    [((140.0, -11.0, 171.0, 13.0), True), ((140.0, -40.0, 171.0, 13.0), False), ((140.0, -1.2, 171.0, 1.2), False)],
)
def test_a_pocket_holds_water_unless_an_end_is_open(at: tuple[float, float, float, float], stands: bool) -> None:
    """Sunk in the middle, out through the edge, and narrower than a drop."""
    found = standing(with_pocket(at, 7.3)).basins
    assert [(one.code, round(one.depth, 6)) for one in found] == ([("BASE-LOW", 7.3)] if stands else [])
    assert not stands or found[0].area == pytest.approx(31.0 * 24.0, rel=0.01)


def test_bolts_heads_stand_in_recesses_that_are_capped() -> None:
    """The counterbores: all their depth, and the circle less its chords; an instruction, not a caution."""
    table = table_of({"legs.top_joint": "bolted"}, SIDE)
    told = {one.kind: one for one in standing_findings(table)}
    one = told["recess-holds-water"]
    assert one.measured == pytest.approx(9.0) and one.level == "note" and one.list == "do"
    assert one.fields["places"] == 4 and one.fields["area"] == pytest.approx(pi * 15.5**2 / 100, rel=0.01)


def test_a_basin_is_a_caution_with_its_place() -> None:
    """Depth, floor, how far out and how high; level wood is the cross from above, less its legs."""
    table = with_pocket((140.0, -11.0, 171.0, 13.0), 7.3)
    told: dict[str, Finding] = {one.kind: one for one in standing_findings(table)}
    one = told["holds-water"]
    assert one.level == "caution" and "7.4 cm²" in one.says and "open end" in one.why
    base, r = table.profile.base, table.profile.base.end_round
    arms = 2 * (base.length * base.rail_width - (4 - pi) * r**2) - base.rail_width**2
    bare = arms - 4 * table.profile.legs.section**2 - 31.0 * 24.0
    assert told["level-wood"].measured == pytest.approx(bare / 100, abs=2.0)


def test_the_part_is_told_though_the_floor_s_middle_lies_in_a_gap() -> None:
    """Slats that nearly touch, below the rim's face, make one floor; its spot may lie between two of them."""
    table = table_of({"slats.face": "centred", "slats.gap": 1.2, "slats.hold": "gap"}, SIDE)
    found = standing(table).basins
    assert found and all(table.part(one.code).kind == "slat" for one in found)


def test_a_slot_as_wide_as_a_drop_is_no_basin() -> None:
    """Laps with 2.5 mm of play on each side are open below, though no drop falls through."""
    assert standing(table_of({"joints.lap_clearance": 5.0})).basins == ()


def test_what_would_let_the_water_out_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were drops as wide as 8 mm, fields of slats below the rim's face would hold them: a caution that names the
    value with which none does."""
    monkeypatch.setattr("templategen.fit.basins.SPANNED", 8.0)
    table = build_table(with_changes(profile_of({}, SIDE), {"slats.face": "centred"}))
    one = next(one for one in check_table(table) if one.kind == "holds-water")
    assert one.level == "caution" and one.would
    dry = build_table(with_changes(table.profile, {one.would.key: one.would.value}))
    assert one.would.key == "slats.face" and standing(dry).basins == ()

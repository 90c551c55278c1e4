"""Glides lift the feet by exactly what the height counts, lie under their feet and tip the table where they stand."""

from __future__ import annotations

from math import cos, pi
from typing import Any

import pytest
import shapely

from templategen.checks.sentences import SENTENCES
from templategen.checks.tipping import feet_reach
from templategen.checks.water import water_findings
from templategen.drawing.section_wood import glides_seen
from templategen.errors import DesignError
from templategen.explain.quantities import book_of
from templategen.fit.plan import plan_assembly
from templategen.geometry.outline import Outline
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.hardware import hardware
from templategen.strength.table_frame import table_frame
from templategen.table.assembly import Table
from templategen.table.glides import glide_outlines
from templategen.work.plan import work_plan
from templategen.work.price import price_of
from tests.table.made import table_of

ODD: dict[str, Any] = {
    "base.glides": "screwed", "base.glide": (27.0, 4.3, 19.0), "base.length": 793.0, "base.foot_length": 97.0,
}  # fmt: skip
TWO = {**ODD, "base.glides_each": 2, "base.feet": "relieved", "base.glides": "nailed"}
OVER_DRAIN = {**ODD, "base.length": 440.0, "base.foot_length": 96.0, "base.drain_hole": 9.0}


def placed(table: Table) -> list[Outline]:
    """All feet, or rails, from above, in place."""
    kind = "foot" if table.profile.base.feet == "pads" else "base-rail"
    found = []
    for one in table.placed:
        if (part := table.part(one.code)).kind == kind:
            found.append(shapely.Polygon([one.point(p.x, p.y, 0.0)[:2] for p in part.outline.points]))
    return found


@pytest.mark.parametrize("changes", [ODD, TWO])
def test_the_height_counts_them_and_the_legs_are_shorter(changes: dict[str, Any]) -> None:
    """Glide, foot, base, leg and rail add up to the height asked; the lowest wood stands on the glides."""
    table, without = table_of(changes), table_of({**changes, "base.glides": "none"})
    profile, sizes = table.profile, table.sizes
    pad = profile.base.foot_thickness if profile.base.feet == "pads" else 0.0
    assert 4.3 + pad + profile.base.thickness + sizes.leg_height + profile.top.thickness == profile.top.height
    lowest = min(one.point(0, 0, 0).z for one in table.placed if one.code.startswith(("BASE", "FOOT")))
    assert lowest == 4.3
    longer = without.part("LEG").outline.bounds.width - table.part("LEG").outline.bounds.width
    assert longer == pytest.approx(4.3)
    assert {seen.bounds.top for seen in glides_seen(sizes)} == {4.3}


@pytest.mark.parametrize(("changes", "each"), [(ODD, 1), (TWO, 2), (OVER_DRAIN, 1)])
def test_they_lie_under_their_feet_beside_the_drains(changes: dict[str, Any], each: int) -> None:
    """Every glide, by shapely, within a foot and off all drain holes."""
    table = table_of(changes)
    feet = shapely.union_all(placed(table))
    discs = [shapely.Point(*ring.circle[0]).buffer(ring.circle[1]) for ring in glide_outlines(table.sizes)]  # type: ignore[index]
    assert len(discs) == each * table.sizes.arms
    assert all(feet.covers(disc) for disc in discs)
    out = table.profile.legs.base_centre_distance
    hole = shapely.Point(out, 0).buffer(table.profile.base.drain_hole / 2)
    assert not any(disc.intersects(hole) for disc in discs)


def test_the_table_tips_over_its_glides() -> None:
    """Half way between two of them, as the formula has it; explained alike, and the frame stands there."""
    table = table_of(ODD)
    out = 793 / 2 - table.profile.edges.base - 5 - 27 / 2
    assert feet_reach(table, pi / 6) == pytest.approx(out * cos(pi / 6) + 27 / 2, abs=1e-3)
    pages = book_of(table).pages
    assert pages["stance.reach"].value == pytest.approx(out * cos(pi / 6) + 27 / 2)
    assert pages["base.top"].value == pytest.approx(table.sizes.base_top)
    assert table_frame(table).nodes["base.0.end.near"][0] == pytest.approx(out)


def test_they_are_bought_priced_and_fixed_after_the_finish() -> None:
    """Twelve for two tables of six feet, each at its rate; fixed after the last coat, before the top comes down."""
    table = table_of({**ODD, "rates.glide_price": 0.85, "rates.hourly": 40.0})
    assembly = plan_assembly(table)
    wanted = hardware(table, gluing_plan(table, assembly), 2)
    (glides,) = [one for one in wanted if one.item == "glides"]
    assert (glides.amount, glides.unit) == (12, "pieces") and "4.3 mm thick" in glides.size
    plan = work_plan(table, assembly, 2)
    charges = price_of(table.profile.rates, (), {}, wanted, plan, {}).charges
    assert next(one.cost for one in charges if one.item == "glides") == pytest.approx(12 * 0.85)
    names = [one.operation.does for one in plan.operations]
    at = names.index("fix the glides")
    assert names[at - 1].startswith("finish, coat") and at < names.index("try the table")


@pytest.mark.parametrize(
    ("changes", "kind"),
    [
        ({"base.glide": (84.0, 5.0, 20.0)}, "glide-over-foot"),
        ({"base.glides_each": 2, "base.foot_length": 70.0}, "glide-over-foot"),
        ({**OVER_DRAIN, "base.glides_each": 2}, "glide-over-drain"),
        ({"base.glide": (30.0, 5.0, 45.5)}, "glide-into-mortise"),
    ],
)
def test_what_does_not_fit_is_refused(changes: dict[str, Any], kind: str) -> None:
    """Wider than the foot, over the drain, up into a mortise."""
    with pytest.raises(DesignError) as refused:
        table_of({"base.glides": "screwed", **changes})
    assert [fault.kind for fault in refused.value.faults] == [kind]


def test_a_table_without_glides_is_told_of_none() -> None:
    """What its feet stand on is told as their height, whether glides lift them or not."""
    for changes, high in (({"base.glides": "none"}, 0.0), (ODD, 4.3)):
        (found,) = (one for one in water_findings(table_of(changes)) if one.kind.startswith("feet-on"))
        assert found.measured == pytest.approx(high) and "glide" not in SENTENCES[found.kind].says

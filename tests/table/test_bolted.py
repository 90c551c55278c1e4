"""A top that is bolted on: bores of both mates meet, nothing of it is glued, and the bolt reaches through its nut."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Any

import pytest

from templategen.checks.dry_legs import dry_leg_findings
from templategen.checks.run import check_table
from templategen.errors import DesignError
from templategen.explain.quantities import book_of
from templategen.fit.plan import plan_assembly
from templategen.fit.solid import CHORD, part_solid, placed_solid
from templategen.parts.volume import volume
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.hardware import hardware
from templategen.strength.held import turning
from templategen.table.assembly import Table
from templategen.table.rails import top_bolt, top_leg_joint
from templategen.work.glued import step_done
from tests.table.made import table_of

BOLTED: dict[str, Any] = {"legs.top_joint": "bolted"}

RAKED: dict[str, Any] = {
    **BOLTED, "legs.base_centre_distance": 231.0, "legs.stub": 13.0, "legs.bolt": (8.0, 22.0, 6.0),
    "legs.barrel_nut": (12.0, 27.0),
}  # fmt: skip
"""Every size another one, legs that lean."""


@pytest.mark.parametrize(("changes", "name"), [(BOLTED, "towpath-side"), (RAKED, "towpath-dining")])
def test_every_bolt_drops_through_rail_and_leg_into_its_nut(changes: dict[str, Any], name: str) -> None:
    """A bolt as thick as its thread from the head's seat down, with its head, and a nut across: none claims wood."""
    import manifold3d

    table = table_of(changes, name)
    bolt, sizes = top_bolt(table.sizes), table.sizes
    assert bolt is not None
    seat, out = table.profile.top.height - bolt.sink, table.profile.legs.centre_distance
    solids = [placed_solid(part_solid(table.part(one.code)), one) for one in table.placed
              if one.code == "LEG" or one.code.startswith("RAIL")]  # fmt: skip
    for arm in range(sizes.arms):
        turn = arm * sizes.field_angle
        x, y = out * cos(turn), out * sin(turn)
        shank, head = bolt.thread / 2, bolt.head / 2
        steel = manifold3d.Manifold.cylinder(bolt.length, shank, shank, 64).translate((x, y, seat - bolt.length))
        steel += manifold3d.Manifold.cylinder(bolt.head_height, head, head, 64).translate((x, y, seat))
        across = bolt.nut / 2 - 2 * CHORD
        nut = manifold3d.Manifold.cylinder(bolt.nut_length, across, across, 64, True)
        nut = nut.rotate((90.0, 0.0, arm * 360.0 / sizes.arms))
        nut = nut.translate((x, y, seat - bolt.grip - bolt.below))
        assert sum((solid ^ (steel + nut)).volume() for solid in solids) < 1e-6


def test_the_tip_comes_level_with_the_nuts_far_side_and_a_loaded_end_is_left() -> None:
    """The length is one that is sold, and the shortest that leaves seven thicknesses to the nut's middle."""
    for changes, name in ((BOLTED, "towpath-inch"), (RAKED, "towpath-dining"), (BOLTED, "towpath-hex")):
        bolt = top_bolt(table_of(changes, name).sizes)
        assert bolt is not None
        assert bolt.grip + bolt.below + bolt.nut / 2 == pytest.approx(bolt.length)
        assert 7 * bolt.thread - 1e-9 <= bolt.below < 7 * bolt.thread + 10
        assert bolt.length % 10 == pytest.approx(0)


def test_nothing_of_the_top_is_glued_to_its_legs() -> None:
    """The last step is dry, closes one lettered joint for each leg, and hardware has one set for each."""
    table = table_of(BOLTED, "towpath-side")
    gluing = gluing_plan(table, plan_assembly(table))
    down = gluing.steps[-1]
    assert down.dry and len(down.letters) == len(set(down.letters)) == table.sizes.arms == 4
    assert not down.advice and any("spacers" in told for step in gluing.steps for told in step.advice)
    assert sum(step.joints.get("leg tenon", 0) for step in gluing.steps) == 4
    let_down = step_done(table, gluing, down, 3)
    assert let_down.minutes == pytest.approx(3 * 4 * table.profile.rates.cut) and "key" in let_down.way
    (sets,) = (one for one in hardware(table, gluing, 3) if one.unit == "sets")
    assert sets.amount == 12


def test_what_the_bores_take_is_told() -> None:
    """Every bore but the little that two of them share is taken off once: that and the chords are within 1 cm3. Each
    size is as `explain` has it."""
    table = table_of({**RAKED, "legs.corner": "square", "edges.rail": 0.0})
    for code in ("LEG", "RAIL-MID"):
        part = table.part(code)
        assert volume(part) == pytest.approx(part_solid(part).volume(), abs=1000)
    pages = book_of(table).pages
    bolt = top_bolt(table.sizes)
    assert bolt is not None
    told = {"bolt_length": bolt.length, "nut_below": bolt.below, "bolt_hole_depth": bolt.bore,
            "cross_bore_depth": bolt.cross, "counterbore": bolt.counterbore, "bolt_hole": bolt.hole,
            "counterbore_depth": bolt.sink, "top_mortise_depth": top_leg_joint(table.sizes).depth,
            "top_mortise_thickness": top_leg_joint(table.sizes).mortise_thickness}  # fmt: skip
    assert {name: pages[f"legs.{name}"].value for name in told} == pytest.approx(told)


@pytest.mark.parametrize(
    ("changes", "kind"),
    [
        ({"legs.bolt": (10.0, 30.0, 14.0), "legs.stub": 19.0}, "under-the-head"),
        ({"legs.section": 52.0, "legs.tenon": (28.0, 34.0, 24.0), "legs.barrel_nut": (27.0, 20.0)}, "behind-the-nut"),
    ],
)
def test_thin_wood_round_a_bolt_is_found(changes: dict[str, Any], kind: str) -> None:
    """Thinner than its limit, the finding names what is left; at the defaults nothing is."""
    whole: dict[str, Any] = {**BOLTED, **changes}
    if kind == "behind-the-nut":
        whole["legs.barrel_nut"] = (16.0, 40.0)
    found = {one.kind: one for one in dry_leg_findings(table_of(whole))}
    assert found[kind].level != "note"
    assert {one.kind for one in dry_leg_findings(table_of(BOLTED))} == {"nut-to-the-end", "bolt-play"}


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"legs.bolt": (10.0, 59.0, 8.0)}, "legs.bolt"),
        ({"legs.barrel_nut": (9.0, 20.0)}, "legs.barrel_nut"),
        ({"legs.barrel_nut": (16.0, 71.0)}, "legs.barrel_nut"),
        ({"legs.stub": 31.0}, "legs.stub"),
        ({"top.height": 200.0}, "top.height"),
    ],
)
def test_what_no_bolt_fits_is_refused(changes: dict[str, Any], where: str) -> None:
    """By the key that would mend it."""
    with pytest.raises(DesignError) as refusal:
        table_of({**BOLTED, **changes})
    assert where in [fault.where for fault in refusal.value.faults]


def _bolted_side() -> Table:
    return table_of(BOLTED, "towpath-side")


def test_a_bolted_leg_gives_way_by_its_springs_in_line() -> None:
    """By hand, with the figures of its wood: bolt M10 x 100, nut 16, washer 30 on 19 mm of rail, leg 45."""
    from templategen.wood.species import figures_of

    table = _bolted_side()
    bolt, wood = top_bolt(table.sizes), figures_of(table.profile.wood, table.profile.woods)
    assert bolt is not None
    steel = 100 / (2e5 * 0.71 * pi / 4 * 100)
    bed = 23 / (0.8 * 2 * wood.density**1.5 * 16)
    rail = 19 / (0.8 * wood.stiffness * 1000 / 30 * pi / 4 * (49**2 - 11**2))
    assert turning(table) == pytest.approx(22.5**2 / (steel + bed + rail))


def test_a_bolted_table_has_nothing_to_settle() -> None:
    """Every check, dry fit and order of assembly too."""
    assert [one for one in check_table(_bolted_side()) if one.level != "note"] == []


def test_bolts_are_bought_that_their_counterbores_take() -> None:
    """A hexagon head with a broad and a spring washer stands higher than the counterbore is deep: how high all that
    may be is told where it is bought."""
    table = table_of(BOLTED)
    bolt = top_bolt(table.sizes)
    assert bolt is not None
    (bought,) = (
        one
        for one in hardware(table, gluing_plan(table, plan_assembly(table)))
        if one.item == "bolts with barrel nuts"
    )
    assert f"flat head, {bolt.head_height:g} mm high at most with its washers" in bought.size
    assert bolt.head_height < bolt.sink

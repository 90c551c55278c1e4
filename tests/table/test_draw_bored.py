"""A top that is draw-bored: both holes are off each other by the draw, a peg pulls the shoulder home, none of it is
glued, and a bench that follows the plan ends with the table."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from math import acos, cos, degrees, pi, sin, sqrt
from random import Random
from typing import Any

import pytest

from templategen.checks.dry_legs import dry_leg_findings
from templategen.checks.fit import fit_findings
from templategen.checks.run import check_table
from templategen.english import spoken
from templategen.errors import DesignError, ProfileError
from templategen.explain.quantities import book_of
from templategen.fit.dry_fit import dry_fit
from templategen.fit.plan import plan_assembly
from templategen.fit.solid import CHORD, part_solid, placed_solid
from templategen.jigs.bore_block import draw_block
from templategen.parts.volume import volume
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.hardware import hardware
from templategen.shop.refit.common import common_profile
from templategen.shop.refit.read import bench_from_text
from templategen.shop.refit.refit import refit
from templategen.shop.refit.settle import Settled
from templategen.shop.refit.sizes import Best
from templategen.strength.held import turning
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.table.rails import top_peg
from templategen.wood.species import figures_of
from templategen.work.glued import step_done
from tests.proof.followed import alone, faults, without_steps, written
from tests.random_profiles import profile_text
from tests.table.made import profile_of, table_of

PEGGED: dict[str, Any] = {"legs.top_joint": "draw-bored"}

SIDE: dict[str, Any] = {
    **PEGGED, "top.thickness": 40.0, "legs.peg": (8.0, 1.2, 11.0), "legs.tenon": (22.0, 28.0, 26.0),
}  # fmt: skip

RAKED: dict[str, Any] = {
    **PEGGED, "top.thickness": 54.0, "legs.peg": (12.0, 1.7, 19.0), "legs.tenon": (34.0, 42.0, 36.0),
    "legs.base_centre_distance": 215.0,
}  # fmt: skip
"""Every size another one, legs that lean, three rails."""


@cache
def side() -> Table:
    return table_of(SIDE, "towpath-side")


@cache
def raked() -> Table:
    return table_of(RAKED, "towpath-hex")


def claimed(table: Table, lift: float) -> tuple[float, float]:
    """What of rails and of legs a peg takes in every arm, mm3, that much higher than the rails' holes."""
    import manifold3d

    peg, sizes = top_peg(table.sizes), table.sizes
    assert peg is not None
    high, out = sizes.top_underside + peg.rise + lift, table.profile.legs.centre_distance
    radius, long = peg.thickness / 2 - 2 * CHORD, peg.length
    found = {"LEG": 0.0, "RAIL": 0.0}
    solids = [(one.code[:4].rstrip("-"), placed_solid(part_solid(table.part(one.code)), one))
              for one in table.placed if one.code == "LEG" or one.code.startswith("RAIL")]  # fmt: skip
    for arm in range(sizes.arms):
        turn = arm * sizes.field_angle
        wood = manifold3d.Manifold.cylinder(long, radius, radius, 128, True).rotate((90.0, 0.0, degrees(turn)))
        wood = wood.translate((out * cos(turn), out * sin(turn), high))
        for kind, solid in solids:
            found[kind] += (solid ^ wood).volume()
    return found["RAIL"], found["LEG"]


@pytest.mark.parametrize("made", [side, raked])
def test_a_peg_takes_of_the_tenon_what_the_draw_is_off_and_nothing_of_the_rail(made: Callable[[], Table]) -> None:
    """Straight through the rails; of each tenon a crescent by its closed formula; lower by the draw nothing of it,
    higher more: the tenon's hole is the nearer one to the shoulder."""
    table = made()
    peg = top_peg(table.sizes)
    assert peg is not None
    r, d = peg.thickness / 2 - CHORD, peg.draw
    crescent = pi * r**2 - 2 * r**2 * acos(d / 2 / r) + d / 2 * sqrt(4 * r**2 - d**2)
    rails, legs = claimed(table, 0.0)
    assert rails < 1e-3
    assert legs == pytest.approx(table.sizes.arms * crescent * table.profile.legs.tenon[0], rel=0.05)
    assert claimed(table, -d)[1] < 1e-3 < legs < 0.7 * claimed(table, d)[1]


def test_sizes_are_as_explained_and_wood_is_taken_once() -> None:
    """Each size as `explain` has it, volumes as the solids', the joint's contact less both holes."""
    table = table_of({**RAKED, "legs.corner": "square", "edges.rail": 0.0}, "towpath-hex")
    for code in ("LEG", "RAIL-MID"):
        assert volume(table.part(code)) == pytest.approx(part_solid(table.part(code)).volume(), abs=150)
    peg, pages = top_peg(table.sizes), book_of(table).pages
    assert peg is not None
    told = {"in_tenon": peg.in_tenon, "cheek": peg.cheek, "bore": peg.bore, "tip": peg.tip, "length": peg.length,
            "tip_thickness": peg.tip_thickness, "taken": peg.taken}  # fmt: skip
    assert {name: pages[f"legs.peg_{name}"].value for name in told} == pytest.approx(told)
    (contact,) = {joint.contact_mm2 for joint in table.joints if joint.kind == "draw-bored-tenon"}
    assert pages["joint.draw_bored_tenon.contact"].value == pytest.approx(contact)
    assert pages["legs.peg_spring"].value == pytest.approx(turning(table))


def test_what_a_peg_bears_and_gives_by_hand() -> None:
    """Peg of 8 mm in iroko, leg of 45: two planes of shear at a quarter of K_ser; 9.5 d2 a plane."""
    table, pages = side(), book_of(side()).pages
    density = figures_of(table.profile.wood, table.profile.woods).density
    assert turning(table) == pytest.approx(22.5**2 * 2 * 0.25 * 0.8 * density**1.5 / 23 * 8)
    assert pages["legs.peg_bears"].value == pytest.approx(2 * 9.5 * 64)
    assert pages["legs.peg_end_bears"].value == pytest.approx(2 * 0.67 * (26 - 9.8) * 22 * 4.2)


def test_nothing_is_glued_and_pegs_are_made_driven_and_spare() -> None:
    """The last step is dry, closes a lettered joint for each leg and drives no bolt; two pegs more than legs."""
    table = side()
    gluing = gluing_plan(table, plan_assembly(table))
    down = gluing.steps[-1]
    assert down.dry and len(set(down.letters)) == table.sizes.arms == 4
    let_down = step_done(table, gluing, down, 3)
    assert "drift" in let_down.way and any("thin end first" in told for told in let_down.tells)
    (pegs,) = (one for one in hardware(table, gluing, 3) if one.unit == "pegs")
    assert pegs.amount == 14 and pegs.size == "8 mm thick, 82 mm long, 16 mm of it tapered to 5.6 mm"


def test_the_block_has_the_draw_between_its_edges() -> None:
    """One hole as wide as the peg; from it to one edge the rail's distance, to the other the tenon's."""
    (jig,) = draw_block(raked())
    (plate,) = jig.parts
    ((middle, radius),) = [hole.circle for hole in plate.holes if hole.circle]
    box = plate.outline.bounds
    assert (box.top - middle.y, middle.y - box.bottom, radius) == pytest.approx((19.0, 17.3, 6.0))
    assert set(jig.serves) == {"RAIL-LOW", "RAIL-MID", "RAIL-HIGH", "LEG"}
    assert not list(draw_block(table_of()))


def test_the_plan_of_work_ends_with_rails_and_legs() -> None:
    """A bench that knows no table follows every figure, two tables' worth; a hole a little off shows."""
    record = without_steps(alone(written(raked(), tables=2), {"RAIL-HIGH", "LEG"}))
    assert faults(record) == []
    for one in record["plan"]["operations"]:
        if one["operation"] in ("peg bore", "tenon bore"):
            (edge,) = (setting for setting in one["set_up"]["settings"] if setting["name"] == "edge")
            edge["value"] += 0.3
            assert faults(record) != []
            edge["value"] -= 0.3


def test_a_pegged_table_has_nothing_to_settle() -> None:
    """Every check, dry fit and order of assembly too."""
    assert [one for one in check_table(side()) if one.level != "note"] == []


@pytest.mark.parametrize(
    ("changes", "kind"),
    [
        ({"legs.peg": (8.0, 0.4, 8.0)}, "under-the-peg"),
        ({"legs.peg": (8.0, 2.3, 11.0)}, "peg-to-shoulder"),
        ({"legs.peg": (8.0, 2.3, 14.0)}, "peg-draw"),
        ({"legs.tenon": (22.0, 28.0, 17.0)}, "peg-to-tenon-end"),
        ({"legs.peg": (12.0, 0.3, 15.0), "shop.humidity": (5.0, 90.0), "shop.build_moisture": 20.0}, "peg-play"),
        ({"limits.cheek": (3.0, 14.0)}, "peg-to-groove"),
    ],
)
def test_each_limit_of_a_peg_is_measured(changes: dict[str, Any], kind: str) -> None:
    """Beyond it, the finding is a caution or a stop; at the sizes of the table none is."""
    found = {one.kind: one.level for one in dry_leg_findings(table_of({**SIDE, **changes}, "towpath-side"))}
    assert found[kind] != "note"
    assert {one.level for one in dry_leg_findings(side())} == {"note"}


@pytest.mark.parametrize(
    ("changes", "where", "name"),
    [
        ({"top.thickness": 28.0}, "legs.peg", "towpath-side"),
        ({"legs.peg": (8.0, 1.2, 5.1)}, "legs.peg", "towpath-side"),
        ({"legs.peg": (7.0, 3.6, 13.0)}, "legs.peg", "towpath-side"),
        ({"legs.tenon": (22.0, 28.0, 13.9)}, "legs.tenon", "towpath-side"),
        ({"legs.tenon": (22.0, 28.0, 39.5)}, "legs.tenon", "towpath-side"),
        ({"legs.centre_distance": 121.0, "legs.base_centre_distance": 150.0}, "legs.centre_distance", "towpath-hex"),
    ],
)
def test_what_no_peg_fits_is_refused(changes: dict[str, Any], where: str, name: str) -> None:
    """By the key that would mend it."""
    with pytest.raises(DesignError) as refusal:
        table_of({**(SIDE if name == "towpath-side" else RAKED), **changes}, name)
    assert where in [fault.where for fault in refusal.value.faults]


def test_rails_too_thin_for_a_peg_say_how_thick_they_should_be() -> None:
    """The shipped side table with its rails as they are: what was found, against what, and what would do."""
    with pytest.raises(DesignError, match=r"begin 10\.0 mm over it.*a larger top\.thickness"):
        table_of({**SIDE, "top.thickness": 28.0}, "towpath-side")


@pytest.mark.parametrize("word", ["wedged", "Keyed"])
def test_joints_that_no_such_top_can_have_are_refused_with_the_reason(word: str) -> None:
    """In a file and from Python, and both name what comes off instead."""
    with pytest.raises(ProfileError, match=r'(wedge|key).*"draw-bored"') as refusal:
        profile_from_text(f'format = 1\n[legs]\ntop_joint = "{word}"\n', "said")
    assert "is not known" not in str(refusal.value)
    with pytest.raises(ProfileError, match=r'(wedge|key).*"bolted"'):
        profile_of({"legs.top_joint": word})


def test_a_hole_that_was_bored_elsewhere_moves_its_mate() -> None:
    """A rail's, measured, moves the tenon's still to bore by as much, and a tenon's the rail's: the draw stays."""
    for code, name, value in (("RAIL-LOW", "peg_rise", 12.4), ("LEG", "peg_shoulder", 11.2)):
        sizes = {(code, 1): {name: Best(value, 0.1)}}
        profile, _ = common_profile(side(), Settled(sizes, frozenset(), ()))
        peg = top_peg(build_table(profile).sizes)
        assert peg is not None
        assert (peg.rise, peg.in_tenon) == pytest.approx((12.4, 11.2))


def test_the_draw_of_two_measured_holes_is_told_with_what_to_do() -> None:
    """On two rails and four legs: as drawn or nearly, pushed apart, let go by the driest, too much for the peg."""
    holes = {"RAIL-LOW": [11.3], "RAIL-HIGH": [13.1], "LEG": [9.9, 13.4, 11.25, 9.4]}
    name = {"RAIL-LOW": "peg_rise", "RAIL-HIGH": "peg_rise", "LEG": "peg_shoulder"}
    entries = (
        f'[[measured]]\npart = "{code}"\nplace = {place}\n{name[code]} = {value}\n'
        for code, values in holes.items()
        for place, value in enumerate(values, 1)
    )
    found = refit(side(), bench_from_text(side(), "format = 1\n" + "".join(entries))).findings
    told = {str(one.fields.get("leg", "all")): one for one in found if one.kind.startswith("draw-")}
    assert {leg: (one.level, round(one.measured, 6)) for leg, one in told.items()} == {
        "all": ("note", 1.4), "LEG at place 2": ("stop", -0.3), "LEG at place 3": ("caution", 0.05),
        "LEG at place 4": ("caution", 3.7),
    }  # fmt: skip
    assert "push the shoulder off" in told["LEG at place 2"].says and "1 leg" in told["all"].why
    assert "push" not in told["LEG at place 3"].says
    for leg, words in {2: "anew 11.9 mm", 3: "anew 10.1 mm", 4: "2.5 mm longer"}.items():
        assert words in told[f"LEG at place {leg}"].do
    with spoken("german", ()):
        assert "10,1 mm von der Brüstung neu bohren" in told["LEG at place 3"].do


def test_holes_measured_as_drawn_have_the_draw_that_was_drawn() -> None:
    """All legs, of which one was measured, and no word where only one of two mates was."""
    rails = [part.code for part in raked().parts if part.kind == "rail"]
    one_of_each = "".join(f'[[measured]]\npart = "{code}"\npeg_rise = 19\n' for code in rails)
    leg = '[[measured]]\npart = "LEG"\npeg_shoulder = 17.3\n[[cut]]\npart = "LEG"\n'
    for text, count in ((one_of_each + leg, [6]), (one_of_each, []), (leg, [])):
        found = refit(raked(), bench_from_text(raked(), f"format = 1\n{text}")).findings
        assert [one.fields["count"] for one in found if one.kind == "draw-measured"] == count
        assert all(one.measured == pytest.approx(1.7) for one in found if one.kind == "draw-measured")


def _pegged_at_random(seed: int) -> Table | None:
    """A table of chance with pegs that chance sizes, rails thick enough for some; None where it can't be built."""
    rng = Random(f"pegs {seed}")
    thick, draw = rng.uniform(6, 14), rng.uniform(0.6, 1.8)
    more = {
        "legs.peg": (thick, draw, thick / 2 + draw + rng.uniform(4, 12)),
        "top.thickness": rng.uniform(46, 70),
        "legs.top_joint": "draw-bored",
    }
    try:
        return build_table(profile_from_text(profile_text(seed), f"random-{seed}")).with_(more)
    except (DesignError, ProfileError):
        return None


@pytest.mark.slow
def test_pegs_of_twenty_tables_of_chance() -> None:
    """Each peg passes rail and tenon as it should, no leg is refuted, and the bench ends with the table."""
    built = [table for seed in range(200) if (table := _pegged_at_random(seed))][:20]
    assert len(built) == 20
    for table in built:
        rails, _ = claimed(table, 0.0)
        assert rails < 1e-3 and claimed(table, -table.profile.legs.peg[1])[1] < 1e-3
        assert [one for one in fit_findings(table, dry_fit(table)) if "LEG" in one.fields.values()] == []
        assert faults(written(table)) == []

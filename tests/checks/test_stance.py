"""How a table stands, against figures worked by hand."""

from __future__ import annotations

from math import cos, pi, sin
from typing import Any

import pytest

from templategen.checks.balance import balance_of, least_weight
from templategen.checks.finding import Finding
from templategen.checks.sitting import knee_depth, seats
from templategen.checks.stance import stance_findings
from templategen.checks.stiffness import cantilever, rail_stiffness
from templategen.checks.tipping import (
    rim_reach,
    standing_reach,
    tipping_force,
    wind_lift,
    wind_moment,
)
from templategen.shop.weigh import mass_kg
from tests.table.made import table_of


def found(changes: dict[str, Any], says: str, name: str = "towpath-dining") -> list[Finding]:
    """The findings of a table whose words hold `says`."""
    return [f for f in stance_findings(table_of(changes, name)) if says in f.says]


@pytest.mark.parametrize(
    ("feet", "radius", "reach", "force"),
    [(3, 450, 225, 265), (4, 450, 318, 498), (4, 520, 368, 699), (6, 450, 390, 818)],
)
def test_tipping_as_worked(feet: int, radius: float, reach: float, force: float) -> None:
    """A table of 45 kg and radius 600 tips at the worked loads on 3, 4 and 6 feet."""
    a = radius * cos(pi / feet)
    assert a == pytest.approx(reach, abs=0.5)
    assert tipping_force(45 * 9.81, a, 600) == pytest.approx(force, abs=1)


def test_a_load_inside_the_feet_never_tips() -> None:
    """Where the rim does not reach past the feet there is no tipping load and no finding of one."""
    assert tipping_force(400, 300, 300) is None
    assert not found({"base.length": 1700.0}, "tips the table")


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex", "towpath-inch", "towpath-side"])
def test_reach_of_the_feet_as_built(name: str) -> None:
    """The tipping line touches the rounded corners of two neighbouring feet, pads or relieved rails."""
    table = table_of(name=name)
    base, half = table.profile.base, pi / table.sizes.arms
    corner = (base.length / 2 - base.end_round) * cos(half) + (base.rail_width / 2 - base.end_round) * sin(half)
    assert standing_reach(table) == pytest.approx(corner + base.end_round, abs=1e-6)


def test_narrow_feet_come_near_the_formula() -> None:
    """Rails as narrow as lines with square ends tip over r cos(pi/n) from the axis, wider ones further out."""
    table = table_of({"base.end_round": 0.0})
    assert standing_reach(table) - 410 * cos(pi / 6) == pytest.approx(42 * sin(pi / 6))


def test_a_light_table_on_a_short_base_is_a_caution() -> None:
    """A tipping load under the one wanted is a caution, and the base it asks for makes it good."""
    short = found({"base.length": 400.0}, "tips the table", "towpath-side")[0]
    assert short.level == "caution" and short.measured < 200
    longer = float(short.why.rpartition("base rails ")[2].split(" mm")[0])
    assert found({"base.length": 400.0 + longer + 0.1}, "tips the table", "towpath-side")[0].level == "note"


def test_mass_and_centre() -> None:
    """All copies together weigh what the lists say, their centre on the axis and at the height of their solids'."""
    pytest.importorskip("manifold3d")
    from templategen.output.packet_json import part_json, placed_json
    from tests.parts.test_centroid import mesh_centre
    from tests.solids import standing

    sharp = {"top.edge_round": 0.0, "legs.corner": "square", "slats.chamfer": 0.0}
    sharp |= {f"edges.{part}": 0.0 for part in ("rim", "rail", "slat", "base")}
    table = table_of(sharp)
    balance = balance_of(table)
    assert balance.mass == pytest.approx(mass_kg(table))
    assert balance.centre[:2] == pytest.approx((0, 0), abs=1e-6)
    record = {
        "parts": [part_json(part, []) for part in table.parts],
        "placed": [placed_json(spot) for spot in table.placed],
    }
    bodies = standing(record)
    whole = sum(body.volume() for body in bodies)
    height = sum(body.volume() * mesh_centre(body)[2] for body in bodies) / whole
    assert balance.mass == pytest.approx(whole * 583 / 1e9, rel=1e-3)
    assert balance.centre.z == pytest.approx(height, abs=0.05)


def test_dry_wood_weighs_less() -> None:
    """At 8.59 % moisture a mass told at 12 % has lost 3 % of its weight."""
    assert least_weight(table_of(), 100) == pytest.approx(981 * 108.59 / 112, abs=0.1)


def test_wind_as_worked() -> None:
    """A canopy of 2.7 m in 10 m/s takes about 110 N m and lifts by 175 to 350 N; at 20 m/s four times that."""
    assert wind_moment(10, 2.7) == pytest.approx(110, abs=3)
    assert wind_lift(10, 2.7) == pytest.approx((175, 350), abs=1)
    assert wind_moment(20, 2.7) == pytest.approx(4 * wind_moment(10, 2.7))


def test_no_hole_no_parasol() -> None:
    """Only a table with a pole hole is told about wind."""
    assert found({}, "parasol")
    assert not found({"top.pole_hole": 0.0}, "parasol")


def test_rim_sinks_by_hand() -> None:
    """The dining table's rim sinks 3.7 mm under 500 N: larch at 0.8 of its stiffness, the grooves taken off."""
    section = 84 * 38**3 / 12 - 2 * 14 * (12**3 / 12 + 12 * 8**2)
    stiffness = 0.8 * 13_800 * section
    assert rail_stiffness(table_of()) == pytest.approx(stiffness)
    finding = found({}, "rim sinks")[0]
    assert finding.measured == pytest.approx(500 * 445**3 / (3 * stiffness))
    assert finding.measured == pytest.approx(3.71, abs=0.01)
    assert found({"top.thickness": 28.0, "slats.thickness": 18.0}, "rim sinks")[0].level == "caution"


def test_a_bar_held_at_one_end() -> None:
    """The textbook's bar sinks by F L3 / (3 E I)."""
    assert cantilever(500, 400, 4e9) == pytest.approx(500 * 6.4e7 / 1.2e10)


@pytest.mark.parametrize(
    ("diameter", "tight", "easy"), [(900, 4, 4), (1000, 5, 4), (1200, 6, 5), (1350, 7, 6), (1500, 7, 6), (1800, 9, 8)]
)
def test_seats_as_worked(diameter: float, tight: int, easy: int) -> None:
    """Round tables seat the worked numbers with 600 and 700 mm of rim each."""
    assert (seats(diameter, 600), seats(diameter, 700)) == (tight, easy)


def test_sitters_are_only_asked_at_a_table_to_sit_at() -> None:
    """A low table is told its height; seats and room for feet belong to one to sit at."""
    assert found({}, "room for 6 sitters") and not found({}, "sitters", "towpath-side")
    assert found({}, "height outside", "towpath-side")
    assert not found({}, "rim beyond the feet")
    assert found({"base.length": 1000.0}, "rim beyond the feet")[0].measured == 170
    assert found({"limits.knee_height": 700.0}, "room for knees")[0].measured == 697


def test_the_access_rule_is_named() -> None:
    """No access rule is checked unasked; the one asked for is named in each finding."""
    assert not found({}, "wheelchair")
    depth = next(f for f in found({"limits.wheelchair": "ADA"}, "ADA") if "depth" in f.says)
    assert (depth.level, depth.measured, depth.wanted) == ("caution", 445, (485.0, None))
    clear = found({"limits.wheelchair": "Scotland"}, "Scottish")
    assert [(f.level, f.measured) for f in clear] == [("caution", 697), ("note", 445)]


def test_raked_legs_leave_their_least_depth() -> None:
    """Where legs lean, knees meet them where they stand furthest out."""
    table = table_of(name="towpath-hex")
    assert knee_depth(table, 0) == 550 - 195 - 33
    assert knee_depth(table, 2000) == 550 - 165 - 33


def test_only_a_heavy_top_asks_for_two_persons() -> None:
    """A top over 23 kg is for two or more to lift, one under it isn't said to be."""
    heavy, light = found({}, "mass of the wood")[0], found({}, "mass of the wood", "towpath-side")[0]
    assert "two or more persons" in heavy.why
    assert "two or more persons" not in light.why
    weighs = [float(finding.why.partition("the top alone weighs ")[2].split(" kg")[0]) for finding in (heavy, light)]
    assert weighs[1] < 23.0 < weighs[0]


def test_the_push_that_tips_is_told() -> None:
    """A push at the top tips at W a / h, moments about the tipping line; the finding tells it."""
    table = table_of()
    note = found({}, "tips the table")[0]
    push = least_weight(table, balance_of(table).mass) * standing_reach(table) / 735
    assert f"so would {push / 9.81:.0f} kg ({push:.0f} N) pushed sideways" in note.why
    load = least_weight(table, balance_of(table).mass) * standing_reach(table) / (670 - standing_reach(table))
    assert note.measured == round(load)


def test_a_parasol_that_the_table_must_hold_is_a_caution() -> None:
    """A parasol in a base of its own informs and names the base, also where there is no room under the table; held by
    the table alone its moment is judged."""
    high, moment = {"base.foot_thickness": 60.0}, round(wind_moment(14, 2.54))
    own, flat, alone = (
        found({"top.parasol": who, "limits.wind": 14.0} | feet, "parasol")[0]
        for who, feet in (("own base", high), ("own base", {}), ("table", {}))
    )
    assert own.level == flat.level == "note" and alone.level == "caution"
    assert own.measured == alone.measured == moment and f"brings it {moment} N m" in flat.why
    for note in (own, flat):
        kg = int(note.do.partition(" kg or more")[0].rpartition("of ")[2])
        assert kg * 9.81 * 0.3 >= moment > (kg - 5) * 9.81 * 0.3
    assert alone.wanted[1] == round(
        least_weight(table_of(), balance_of(table_of()).mass) * standing_reach(table_of()) / 1000
    )


def test_a_faceted_rim_reaches_as_far_as_its_corners_do() -> None:
    """Half way between the feet of an eight-sided table lies a flat, half way round from it a corner."""
    table = table_of(name="towpath-side")
    radius = table.profile.top.diameter / 2
    assert rim_reach(table, pi / 4) == pytest.approx(radius)
    assert rim_reach(table, pi / 8) == pytest.approx(radius / cos(pi / 8))

"""Places: frames, heights, and what a placement says beside its axes."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin, tan

import pytest

from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.placed import Placed
from tests.table.made import table_of

RAKED = {"legs.base_centre_distance": 215.0}
TABLES = {
    "dining": {},
    "raked out": RAKED,
    "raked in": {"legs.base_centre_distance": 172.0},
    "along": {"slats.run": "along"},
    "straight": {"slats.run": "straight"},
}


@pytest.mark.parametrize("name", TABLES)
def test_axes_are_right_handed_unit_frames(name: str) -> None:
    """Every copy's axes are orthonormal and right-handed."""
    for spot in table_of(TABLES[name]).placed:
        x, y, z = spot.axes
        for one in (x, y, z):
            assert sum(c * c for c in one) == pytest.approx(1)
        cross = (x.y * y.z - x.z * y.y, x.z * y.x - x.x * y.z, x.x * y.y - x.y * y.x)
        assert cross == pytest.approx(tuple(z), abs=1e-12)


@pytest.mark.parametrize("name", TABLES)
def test_turn_and_turned_over_say_what_the_axes_do(name: str) -> None:
    """For flat parts the plan placement carries a point where the axes do."""
    table = table_of(TABLES[name])
    for spot in table.placed:
        if table.part(spot.code).kind == "leg":
            continue
        plan = Placement(spot.at.x, spot.at.y, spot.turn, spot.turned_over).point(Point(31, 17))
        assert spot.point(31, 17, 5)[:2] == pytest.approx(plan)


def heights(table: Table, spot: Placed) -> tuple[float, float]:
    """The lowest and highest point of a copy."""
    part = table.part(spot.code)
    zs = [spot.point(p.x, p.y, z).z for p in part.outline.points for z in (0, part.thickness)]
    return min(zs), max(zs)


@pytest.mark.parametrize("feet", ["pads", "relieved"])
@pytest.mark.parametrize("face", ["flush", "centred"])
def test_heights_add_up_to_the_tables(feet: str, face: str) -> None:
    """Feet, base, legs and rails stack up to the height given; rim, rails and flush slats share the top face."""
    table = table_of({"base.feet": feet, "slats.face": face})
    by_kind: dict[str, set[tuple[float, float]]] = {}
    for spot in table.placed:
        low, high = heights(table, spot)
        by_kind.setdefault(table.part(spot.code).kind, set()).add((round(low, 6), round(high, 6)))
    foot = 12 if feet == "pads" else 0
    assert by_kind["rail"] == by_kind["rim-segment"] == {(697, 735)}
    assert by_kind["slat"] == ({(713, 735)} if face == "flush" else {(705, 727)})
    assert by_kind["base-rail"] == {(foot, foot + 58)}
    assert by_kind["leg"] == {(foot + 58 - 24, 697 + 24)}
    assert by_kind.get("foot", {(0, 12)}) == {(0, 12)}
    assert table.sizes.leg_height == pytest.approx(735 - 38 - 58 - foot)


@pytest.mark.parametrize("out", [-18.0, 0.0, 25.0])
def test_legs_stand_over_their_mortises(out: float) -> None:
    """Both ends of each leg's axis lie on its arm at the distances given, and its tenons point straight up."""
    table = table_of({"legs.base_centre_distance": 190.0 + out})
    axis, leg = leg_axis(table.sizes), table.part("LEG")
    rake = atan2(-out, table.sizes.leg_height)
    assert axis.rake == pytest.approx(rake)
    assert axis.length == pytest.approx(table.sizes.leg_height / cos(rake))
    for spot in (spot for spot in table.placed if spot.code == "LEG"):
        ends = [spot.point(p.x, p.y, 35.0) for p in leg.outline.points]
        for level, distance in ((70.0 - 24, 190 + out), (697.0 + 24, 190.0)):
            tips = [p for p in ends if abs(p.z - level) < 1e-6]
            radii = sorted(hypot(p.x, p.y) for p in tips)
            assert radii == pytest.approx([distance - 23, distance + 23])


def test_a_raked_leg_is_a_bar_of_its_section() -> None:
    """Raked shoulders leave the leg's side view as wide as its section and the tenons upright."""
    table = table_of(RAKED)
    leg = table.part("LEG")
    rake = leg_axis(table.sizes).rake
    assert leg.outline.bounds.height == pytest.approx(70)
    slopes = {round(abs(tan(atan2(e.end.y - e.start.y, e.end.x - e.start.x))), 6) for e in leg.outline.edges}
    assert round(abs(tan(rake)), 6) in slopes


def test_arms_stand_a_field_angle_apart() -> None:
    """Rails, legs and pads lie along the arms."""
    table = table_of()
    for kind in ("leg", "foot"):
        spots = [spot for spot in table.placed if table.part(spot.code).kind == kind]
        turns = [
            atan2(spot.axes[1 if kind == "leg" else 0].y, spot.axes[1 if kind == "leg" else 0].x) for spot in spots
        ]
        assert [(cos(t), sin(t)) for t in turns] == [
            pytest.approx((cos(j * pi / 3), sin(j * pi / 3))) for j in range(6)
        ]

"""The year's movement, summed a second time from the written parts alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import cos, pi, radians, sin
from typing import Any

import pytest
from shapely import Polygon
from shapely.ops import unary_union

from templategen.checks.movement import movement_findings
from templategen.output.packet_json import part_json, placed_json
from templategen.table.assembly import Table, build_table
from templategen.wood.species import SPECIES
from tests.random_profiles import tables
from tests.table.made import profile_of, table_of

WOODS = [name for name in SPECIES if name != "plywood"]
PRESSED = ("squeeze", "shoulders", "tongues across")


def pressed(table: Table) -> list[str]:
    """What is told of joints that the year presses, at anything above a note."""
    found = [f for f in movement_findings(table) if any(words in f.says for words in PRESSED)]
    assert len(found) >= 4
    return [f"{f.level} {f.says}" for f in found if f.level != "note"]


@pytest.mark.parametrize("wood", WOODS)
@pytest.mark.parametrize("sawn", ["plain", "quarter"])
def test_no_wood_is_pressed_at_default(wood: str, sawn: str) -> None:
    """In every built-in wood a table drawn at its defaults needs no easing by hand."""
    profile = profile_of({"shop.sawn": sawn, "shop.humidity": (40.0, 85.0), "shop.build_moisture": 9.5})
    assert pressed(build_table(replace(profile, wood=wood))) == []


def test_no_random_table_is_pressed_at_default() -> None:
    """Nor do tables of any sizes."""
    assert [pressed(table) for table in tables(range(900, 912))].count([]) >= 8
    assert all(pressed(table) == [] for table in tables(range(900, 912)))


@pytest.mark.slow
def test_hundreds_of_random_tables_are_not_pressed_at_default() -> None:
    """The same for five hundred, each in the next of the woods."""
    seen = 0
    for number, table in enumerate(tables(range(1000, 1500))):
        wood = WOODS[number % len(WOODS)]
        assert pressed(build_table(replace(table.profile, wood=wood))) == [], (number, wood)
        seen += 1
    assert seen >= 250


def record(table: Table, code: str) -> dict[str, Any]:
    """A part as packet.json has it."""
    return part_json(table.part(code), [])


def swing(moisture: float, built: float, shrinkage: float) -> float:
    """Change of larch from built to another moisture, as a share, times 1.2: straight from 30 % to dry."""
    then, now = (1 - shrinkage / 100 * (30 - min(m, 30)) / 30 for m in (moisture, built))
    return 1.2 * (then / now - 1)


def moisture(humidity: float, warmth: float) -> float:
    """Moisture of wood in air of so many % and degrees: the Wood Handbook's equation 4-5 (USDA), in Celsius."""
    h, t = humidity / 100, warmth
    w, k = 349 + 1.29 * t + 0.0135 * t**2, 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1, k2 = 6.27 - 0.00938 * t - 0.000303 * t**2, 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    return 1800 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))


def placed(table: Table, code: str, points: Sequence[Sequence[float]]) -> Iterator[list[tuple[float, float]]]:
    """A part's points where each of its copies lies, by what packet.json says of them."""
    for spot in (placed_json(copy) for copy in table.placed if copy.code == code):
        turn, (x0, y0, _) = radians(spot["turn"]), spot["at"]
        side = -1 if spot["turned_over"] else 1
        yield [
            (x0 + side * x * cos(turn) - y * sin(turn), y0 + side * x * sin(turn) + y * cos(turn))
            for x, y, *_ in points
        ]


def test_gaps_laps_and_shoulders_of_the_written_parts() -> None:
    """From outlines and depths alone: gaps at both ends of the year, and room in laps, grooves and at shoulders."""
    table = build_table(profile_of({"shop.humidity": (37.0, 81.0), "shop.temperature": 12.0}))
    told = {f.kind: f for f in movement_findings(table)}
    driest, wettest = moisture(37.0, 12.0), moisture(81.0, 12.0)
    built = (driest + wettest) / 2
    slat, rail = record(table, "SLAT-03"), record(table, "RAIL-LOW")
    ys = [y for _, y, _ in slat["outline"]]
    for end, then in (("driest", driest), ("wettest", wettest)):
        gap = 6.0 - (max(ys) - min(ys)) * swing(then, built, 7.8)
        assert told[f"{end}-gap"].measured == pytest.approx(gap, abs=0.01)
    lap = next(f for f in rail["features"] if f["kind"] == "lap")["outline"]
    trench = 2 * max(abs(x * sin(pi / 3) - y * cos(pi / 3)) for x, y, _ in lap if x * y > 0)
    assert trench - 84 >= 84 * swing(wettest, built, 7.8) - 0.01
    tongue = [f for f in slat["features"] if f["kind"] == "tongue"]
    thickness = 22 - tongue[0]["depth"] - tongue[-1]["depth"]
    assert 12 - thickness >= 0.2 + 12 * (swing(wettest, built, 7.8) - swing(wettest, built, 3.3)) - 0.01
    zones = unary_union([Polygon([(x, y) for x, y, _ in f["outline"]]) for f in tongue if f["face"] == "top"])
    body = Polygon([(x, y) for x, y, _ in slat["outline"]]).difference(zones)
    beside = min(
        min(abs(y) for _, y in spots)
        for spots in placed(table, "SLAT-03", list(body.exterior.coords))
        if min(x for x, _ in spots) > 0
    )
    grows = 42 * swing(wettest, built, 7.8)
    assert beside - 42 == pytest.approx(grows, abs=0.01)
    assert told["shoulder-play"].measured == pytest.approx(grows, abs=0.01)


def test_squeeze_of_the_written_laps_and_tenons() -> None:
    """Set too tight, what a rail outgrows its trench by, and a tenon its mortise, at the wettest."""
    changes = {"joints.lap_clearance": 0.35, "joints.tenon_clearance": 0.2, "shop.build_moisture": 9.5}
    table = table_of({"shop.humidity": (37.0, 81.0), "shop.temperature": 12.0, **changes})
    told = {f.says: f.measured for f in movement_findings(table) if "squeeze" in f.says}
    rail, grows = record(table, "RAIL-LOW"), swing(moisture(81.0, 12.0), 9.5, 7.8)
    lap = next(f for f in rail["features"] if f["kind"] == "lap")["outline"]
    trench = 2 * max(abs(x * sin(pi / 3) - y * cos(pi / 3)) for x, y, _ in lap if x * y > 0)
    laps = next(value for says, value in told.items() if "laps" in says)
    assert laps * 84 / 100 == pytest.approx(84 * (1 + grows) - trench, abs=0.01)
    mortise = next(f for f in rail["features"] if f["kind"] == "mortise")["outline"]
    room = max(x for x, _, _ in mortise if x > 0) - min(x for x, _, _ in mortise if x > 0)
    tenons = next(value for says, value in told.items() if "tenons" in says)
    assert tenons * 46 / 100 == pytest.approx(46 * (1 + grows) - room, abs=0.01)

"""Every copy in place, as solids built from the packet's record by code that shares nothing with the tool."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from templategen.output.packet_json import joints_json, part_json, placed_json
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.volume import volume
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables

pytest.importorskip("manifold3d")
from tests.solids import clashes, solid, standing


def record_of(table: Table) -> dict[str, Any]:
    """What packet.json says of parts, places and joints."""
    return {
        "parts": [part_json(part, []) for part in table.parts],
        "placed": [placed_json(spot) for spot in table.placed],
        "joints": joints_json(table),
    }


def shipped(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


@pytest.fixture(scope="module")
def dining() -> dict[str, Any]:
    """The dining table's record."""
    return record_of(shipped("towpath-dining"))


@pytest.mark.parametrize("name", shipped_names())
def test_no_two_parts_of_a_shipped_table_claim_one_volume(name: str) -> None:
    """Placed solids of the shipped tables share no wood."""
    assert clashes(record_of(shipped(name))) == []


@pytest.mark.parametrize("name", shipped_names())
def test_parts_touch_where_joints_say_and_nowhere_else(name: str) -> None:
    """Each joint's two parts come within its clearance of each other, and other pairs keep apart."""
    record = record_of(shipped(name))
    bodies = standing(record)
    jointed = {tuple(sorted(joint["placed"])) for joint in record["joints"]}
    for joint in record["joints"]:
        one, other = joint["placed"]
        assert bodies[one].min_gap(bodies[other], 5.0) <= joint["clearance"] / 2 + 1e-6, joint
    for i in range(len(bodies)):
        for j in range(i + 1, len(bodies)):
            if (i, j) not in jointed:
                assert bodies[i].min_gap(bodies[j], 1.0) > 0.2, (record["placed"][i], record["placed"][j])


def some_tables() -> Iterator[Table]:
    """A handful of random tables."""
    return tables(range(20))


@pytest.mark.wide
def test_random_tables_fit() -> None:
    """Random tables share no wood between parts."""
    fitted = 0
    for table in some_tables():
        assert clashes(record_of(table)) == [], table.profile.title
        fitted += 1
    assert fitted >= 5


@pytest.mark.slow
def test_many_random_tables_fit() -> None:
    """Hundreds of random tables share no wood between parts."""
    fitted = 0
    for table in tables(range(1000, 2000)):
        assert clashes(record_of(table)) == [], table.profile.title
        fitted += 1
    assert fitted >= 300


@pytest.mark.parametrize("name", shipped_names())
def test_volume_agrees_with_the_solids(name: str) -> None:
    """The exact volume of parts without rounded edges is the solid's, up to the chords of arcs."""
    for part in shipped(name).parts:
        if not any(feature.kind in ("round-over", "chamfer") for feature in part.features):
            assert volume(part) == pytest.approx(solid(part_json(part, [])).volume(), rel=1e-4), part.code


def features(record: dict[str, Any], code: str, kind: str) -> list[dict[str, Any]]:
    """Some features of a part in the record."""
    part = next(part for part in record["parts"] if part["code"] == code)
    return [feature for feature in part["features"] if feature["kind"] == kind]


def test_a_shallow_mortise_clashes(dining: dict[str, Any]) -> None:
    """A mortise 1.3 mm shallower than drawn is found by the clash of its tenon."""
    record = deepcopy(dining)
    for mortise in features(record, "RAIL-LOW", "mortise"):
        mortise["depth"] -= 1.3
    assert ("RAIL-LOW", "LEG") in {pair[:2] for pair in clashes(record)}


def test_a_groove_a_millimetre_off_clashes(dining: dict[str, Any]) -> None:
    """A groove 1 mm too high is found by the clash of the tongues in it."""
    record = deepcopy(dining)
    for groove in features(record, "RIM-A", "groove"):
        groove["outline"] = [[x, y + 1, bulge] for x, y, bulge in groove["outline"]]
    assert any("RIM-A" in pair for pair in clashes(record))


def test_a_lap_on_the_wrong_side_clashes(dining: dict[str, Any]) -> None:
    """A rail lapped from below instead of above is found by the clash of the rails."""
    record = deepcopy(dining)
    for lap in features(record, "RAIL-LOW", "lap"):
        lap["face"] = "bottom"
    assert any(pair[0].startswith("RAIL") and pair[1].startswith("RAIL") for pair in clashes(record))


def test_a_long_spline_clashes(dining: dict[str, Any]) -> None:
    """A spline 3 mm too wide is found by the clash with its slots' bottoms."""
    record = deepcopy(dining)
    spline = next(part for part in record["parts"] if part["code"] == "SPLINE")
    spline["outline"] = [[x * 1.07, y, bulge] for x, y, bulge in spline["outline"]]
    assert any("SPLINE" in pair for pair in clashes(record))

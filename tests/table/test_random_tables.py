"""Random and spoilt profiles: what is built holds together, what isn't is refused in words."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from templategen.errors import DesignError
from templategen.output.packet_json import part_json
from templategen.parts.part import Part
from templategen.table.assembly import Table, build_table
from templategen.table.profile.keys import KEYS
from templategen.table.slat import base_fields, fit_slats
from tests.random_profiles import tables
from tests.table.made import changed, profile_of
from tests.table.test_ring import closes
from tests.table.test_slats import field_of

PARTNERS = {"groove": ("tongue", "tenon"), "spline-slot": (), "lap": ("lap",), "mortise": ("tenon",)}
"""Which features of a mate answer one of a part; a spline is all tongue."""


def numbers(value: Any) -> Iterator[float]:
    """Every number in a piece of the record."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for item in value:
            yield from numbers(item)
    elif isinstance(value, float | int):
        yield value


def fills(table: Table) -> None:
    """Asserts that bodies and the strips that no band covers make up each field."""
    from shapely.affinity import rotate
    from shapely.geometry import box
    from shapely.ops import unary_union

    for field in base_fields(table.sizes):
        region, far = field_of(table, field.number, table.sizes.clearances.shoulder), 9999
        slats = fit_slats(field, table.spacing)
        if slats:
            bands = unary_union([box(-far, low, far, high) for low, high in table.spacing.bands])
            bare = region.difference(rotate(bands, slats[0].run, origin=(0, 0), use_radians=True)).area
            assert sum(slat.body.area for slat in slats) + bare == pytest.approx(region.area, abs=0.02 * far)


def agree(table: Table) -> None:
    """Asserts that each feature with a mate meets one of the mate's with the same clearance; a groove that tenons and
    tongues share tells the tightest."""
    for part in table.parts:
        for feature in part.features:
            for code in feature.mates:
                mate = table.part(code)
                answers = [f for f in mate.features if f.kind in PARTNERS.get(feature.kind, ())]
                assert mate.kind == "spline" or feature.kind not in PARTNERS or answers
                if feature.kind != "groove":
                    assert all(f.clearance <= feature.clearance for f in answers)
                    assert all(f.clearance == feature.clearance for f in answers if f.kind != "groove")
                assert part.code in {c for f in mate.features for c in f.mates} or mate.kind == "spline"


def finite(parts: tuple[Part, ...]) -> None:
    """Asserts that every number of the record is one."""
    assert all(isfinite(number) for part in parts for number in numbers(part_json(part, [])))


def sound(seeds: range) -> int:
    """Asserts all of this for the tables of `seeds`, and counts them."""
    built = 0
    for table in tables(seeds):
        closes(table)
        fills(table)
        agree(table)
        finite(table.parts)
        assert all(joint.contact_mm2 > 0 for joint in table.joints), table.profile.title
        built += 1
    return built


@pytest.mark.wide
def test_random_tables_hold_together() -> None:
    """Rings close, slats and gaps fill the fields, mates agree and numbers are finite."""
    assert sound(range(60)) >= 30


@pytest.mark.slow
def test_many_random_tables_hold_together() -> None:
    """The same for two thousand seeds."""
    assert sound(range(5000, 7000)) >= 1000


SPOILT = [key for key in KEYS.values() if key.section in ("top", "slats", "joints", "legs", "base")]


@st.composite
def spoilings(draw: st.DrawFn) -> dict[str, Any]:
    """A few keys at other values inside their ranges, the limits among them."""
    changes: dict[str, Any] = {}
    for key in draw(st.lists(st.sampled_from(SPOILT), min_size=1, max_size=5, unique=True)):
        if key.kind == "length":
            changes[key.path] = draw(st.floats(key.low, key.high) | st.sampled_from((key.low, key.high)))
        elif key.kind == "choice":
            changes[key.path] = draw(st.sampled_from(key.choices))
        elif key.kind == "list":
            changes[key.path] = tuple(draw(st.floats(part.low, part.high)) for part in key.parts)
    rails = draw(st.sampled_from((2, 3)))
    return changes | {"top.rails": rails, "top.segments": 2 * rails * draw(st.integers(2, 4))}


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(changes=spoilings())
def test_a_spoilt_profile_is_built_or_refused(changes: dict[str, Any]) -> None:
    """Sizes inside the keys' ranges give a sound table or faults that name a key and a remedy, no other error."""
    try:
        finite(build_table(changed(profile_of(), changes)).parts)
    except DesignError as refusal:
        assert refusal.faults
        for fault in refusal.faults:
            assert fault.where in KEYS
            assert fault.found
            assert fault.remedy

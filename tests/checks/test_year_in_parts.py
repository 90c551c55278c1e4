"""The year's movement, summed a second time from the written parts alone."""

from __future__ import annotations

import json
from dataclasses import replace
from random import Random
from typing import Any

import pytest

from templategen.checks.finding import Finding
from templategen.checks.movement import movement_findings
from templategen.errors import DesignError
from templategen.live.mend import for_faults
from templategen.output.packet_json import part_json, placed_json
from templategen.packet.build import in_units
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed as with_changes
from templategen.table.profile.read import profile_from_text
from templategen.wood.species import SPECIES
from tests.checks.year_sum import FIGURES, Air, Year
from tests.random_profiles import profile_text, tables
from tests.table.made import changed, profile_of, table_of

WOODS = [name for name in SPECIES if name != "plywood"]
PRESSED = ("squeeze", "shoulders", "tongues across")


def pressed(table: Table) -> list[str]:
    """What is told of joints that the year presses, at anything above a note."""
    found = [f for f in movement_findings(table) if any(words in f.says for words in PRESSED)]
    assert len(found) >= 4
    return [f"{f.level} {f.says}" for f in found if f.level != "note"]


@pytest.mark.parametrize("wood", WOODS)
@pytest.mark.parametrize("sawn", ["plain", pytest.param("quarter", marks=pytest.mark.wide)])
def test_no_wood_is_pressed_at_default(wood: str, sawn: str) -> None:
    """In every built-in wood a table drawn at its defaults needs no easing by hand."""
    profile = profile_of({"shop.sawn": sawn, "shop.humidity": (40.0, 85.0), "shop.build_moisture": 9.5})
    assert pressed(build_table(replace(profile, wood=wood))) == []


def built(seed: int) -> Table:
    """A table of chance; one that can't be built with the first value that would do, as its refusal names it."""
    profile = profile_from_text(profile_text(seed), f"random-{seed}")
    try:
        return build_table(profile)
    except DesignError as refusal:
        offer = for_faults(profile, [in_units(fault, profile.units) for fault in refusal.faults])[0]
        return build_table(with_changes(profile, offer["changes"]))


def test_what_is_refused_is_not_pressed_once_mended() -> None:
    """Twenty-four segments whose inner edges are narrower than the rails: by far the most of what chance refuses."""
    profile = built(1010).profile
    assert profile.top.segments == 24 and profile.top.rail_width < 91.3
    assert pressed(build_table(profile)) == []


@pytest.mark.wide
def test_no_random_table_is_pressed_at_default() -> None:
    """Nor do tables of any sizes."""
    assert [pressed(table) for table in tables(range(900, 912))].count([]) >= 8
    assert all(pressed(table) == [] for table in tables(range(900, 912)))


@pytest.mark.slow
def test_hundreds_of_random_tables_are_not_pressed_at_default() -> None:
    """The same for five hundred, each in the next of the woods; what is refused is mended first."""
    for number, seed in enumerate(range(1000, 1500)):
        wood = WOODS[number % len(WOODS)]
        assert pressed(build_table(replace(built(seed).profile, wood=wood))) == [], (seed, wood)


HELD: dict[str, tuple[str, dict[str, Any], Air]] = {
    "towpath-dining": ("towpath-dining", {}, Air()),
    "towpath-hex": ("towpath-hex", {}, Air()),
    "towpath-inch": ("towpath-inch", {}, Air()),
    "towpath-side": ("towpath-side", {}, Air()),
    "draw-bored, with glides and a drip groove": (
        "towpath-hex",
        {"legs.top_joint": "draw-bored", "top.thickness": 54.0, "legs.peg": (12.0, 1.7, 19.0),
         "legs.tenon": (34.0, 42.0, 36.0), "legs.base_centre_distance": 215.0, "base.glides": "screwed",
         "top.drip_groove": (14.0, 6.0, 5.0)},
        Air(52.0, 91.0, 8.0),
    ),
    "bolted on two rails round a parasol, too tight": (
        "towpath-dining",
        {"legs.top_joint": "bolted", "top.rails": 2, "top.pole_hole": 41.0, "top.parasol": "table",
         "slats.run": "straight", "joints.lap_clearance": 0.35, "joints.tenon_clearance": 0.2,
         "joints.shoulder_clearance": 0.15, "joints.slide_clearance": 0.17, "shop.sawn": "rift"},
        Air(37.0, 81.0, 12.0, 9.5),
    ),
}  # fmt: skip
"""Tables shipped and changed, by the shipped profile, what is changed, and the air that they stand in."""


def in_air(air: Air) -> dict[str, Any]:
    """The keys that say so."""
    return {
        "shop.humidity": (air.driest, air.dampest), "shop.temperature": air.warmth, "shop.build_moisture": air.built,
    }  # fmt: skip


def told_and_summed(table: Table, air: Air) -> dict[str, tuple[float, float]]:
    """What the findings tell of a table's year, and what its written parts come to."""
    parts, copies = [part_json(part, ()) for part in table.parts], [placed_json(copy) for copy in table.placed]
    sums = Year(*json.loads(json.dumps([parts, copies])), air, table.profile.wood, table.profile.shop.sawn)
    found = {one.kind: one for one in movement_findings(table)}

    def told(*kinds: str) -> Finding:
        return next(found[kind] for kind in kinds if kind in found)

    laps, tenons = told("laps-free", "laps-squeezed"), told("tenons-free", "tenons-squeezed")
    shoulders, slide, mitres = told("shoulder-play", "shoulders-pushed"), told("sliding-play"), told("mitre-opening")
    assert slide.wanted[0] is not None
    (pressed_laps, loose_laps), (pressed_tenons, loose_tenons) = sums.laps(), sums.tenons()
    (driest, wettest), (play, grown), (thinner, wanted) = sums.gaps(), sums.shoulders(), sums.sliding()
    (tongue, tenon), (inside, outside) = sums.tongues(), sums.mitres()
    return {
        "gap at the driest": (told("driest-gap", "finger-gap").measured, driest),
        "gap at the wettest": (told("wettest-gap").measured, wettest),
        "laps pressed": (laps.measured * laps.fields["width"] / 100, max(0.0, pressed_laps)),
        "laps loose": (laps.fields["loose"], loose_laps),
        "tenons pressed": (tenons.measured * tenons.fields["width"] / 100, max(0.0, pressed_tenons)),
        "tenons loose": (tenons.fields["loose"], loose_tenons),
        "play at shoulders": (shoulders.measured, play),
        "half a rail grows": (shoulders.fields["grown"], grown),
        "play of tongues": (slide.measured, thinner),
        "play that tongues want": (slide.wanted[0] + 0.01, wanted),
        "left of slats' tongues": (told("slat-tongue-left").measured, tongue),
        "left of rails' tenons": (told("rail-tenon-left").measured, tenon),
        "mitres open inside": (mitres.fields["inside"], inside),
        "mitres open outside": (mitres.fields["outside"], outside),
    }


def apart(found: dict[str, tuple[float, float]]) -> dict[str, tuple[float, float]]:
    """What differs by more than a hundredth."""
    return {what: pair for what, pair in found.items() if abs(pair[0] - pair[1]) > 0.01}


TIGHT = "bolted on two rails round a parasol, too tight"
QUICK = ("towpath-hex", TIGHT)


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=() if name in QUICK else pytest.mark.slow) for name in HELD]
)
def test_the_written_parts_come_to_the_year_that_is_told(name: str) -> None:
    """Gaps, laps, tenons, shoulders, tongues and mitres, at the driest and the wettest, to a hundredth; what was set
    too tight is pressed."""
    shipped, changes, air = HELD[name]
    found = told_and_summed(table_of(changes | in_air(air), shipped), air)
    assert apart(found) == {}
    pressed = [found[what][1] > 0.1 for what in ("laps pressed", "tenons pressed")]
    assert pressed == [name == TIGHT] * 2


@pytest.mark.slow
def test_so_do_those_of_tables_of_chance() -> None:
    """Sixty of any sizes, each in the next of four woods, sawn and built otherwise, in other air."""
    seen = 0
    for number, table in enumerate(tables(range(1000, 1100))):
        rng = Random(f"air {number}")
        air = Air(rng.uniform(25, 55), rng.uniform(65, 92), rng.uniform(2, 26), rng.choice((0.0, rng.uniform(9, 16))))
        profile = replace(changed(table.profile, in_air(air)), wood=list(FIGURES)[number % len(FIGURES)])
        assert apart(told_and_summed(build_table(profile), air)) == {}, (number, table.profile.name)
        seen += 1
    assert seen >= 60

"""The package from Python: what is exported, a table with other values, a part by itself."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from math import radians

import pytest

import templategen
from templategen.packet.shipped import shipped_names, shipped_text

DINING = templategen.build_table(templategen.profile_from_text(shipped_text("towpath-dining"), "dining"))


def same_written(table: templategen.Table, text: str) -> bool:
    """Whether a table is the one that a profile of this text makes, whatever the text's hash."""
    profile = templategen.profile_from_text(text, "dining")
    other = templategen.build_table(replace(profile, sha256=table.profile.sha256, file=table.profile.file))
    return table == other


def test_every_public_name_is_there_and_has_words() -> None:
    """Each name of `__all__` can be had and says what it is; `dir` offers them all."""
    assert set(dir(templategen)) == set(templategen.__all__)
    for name in set(templategen.__all__) - {"__version__"}:
        assert getattr(templategen, name).__doc__.strip(), name
    with pytest.raises(AttributeError, match="no_such"):
        _ = templategen.no_such


def test_errors_cost_no_drawings() -> None:
    """A program that only catches errors brings nothing else in."""
    asked = "import sys, templategen; templategen.ProfileError; print('templategen.drawing' in sys.modules)"
    assert (
        subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True).stdout == "False\n"
    )


def test_a_changed_table_is_the_one_that_an_edited_file_makes() -> None:
    """However a key is named, the table equals that of the text with the value written in."""
    text = shipped_text("towpath-dining")
    written = next(line for line in text.splitlines() if line.startswith("diameter"))
    edited = text.replace(written, "diameter = 1290")
    for changes in (
        {"diameter": 1290},
        {"top_diameter": 1290},
        {"diameter": "129 cm"},
        {"diameter": "1250 mm + 4 cm"},
    ):
        assert same_written(DINING.with_(**changes), edited), changes
    assert same_written(DINING.with_({"top.diameter": 1290}), edited)
    assert DINING.with_().parts == DINING.parts


def test_bare_numbers_are_in_the_units_of_the_profile() -> None:
    """50 is 50 in on a table in inches; an angle is in degrees; a list is a list."""
    inches = templategen.build_table(templategen.profile_from_text(shipped_text("towpath-inch"), "inch"))
    assert inches.with_(diameter=50).profile.top.diameter == 1270.0
    assert DINING.with_(shop_mitre_error=0.25).profile.shop.mitre_error == pytest.approx(radians(0.25))
    assert DINING.with_(humidity=[41, 77]).profile.shop.humidity == (41.0, 77.0)


def test_none_brings_the_default_back() -> None:
    """A key taken out holds its default; one that isn't there may be taken out too."""
    wide = DINING.with_(slats_gap=9.5)
    plain = templategen.build_table(templategen.profile_from_text("format = 1", "plain"))
    assert wide.profile.slats.gap == 9.5
    assert wide.with_(slats_gap=None).profile.slats.gap == plain.profile.slats.gap
    assert DINING.with_(corner_relief=None).profile.dxf == DINING.profile.dxf


def test_other_values_are_another_state_of_the_profile() -> None:
    """Its hash, and so the revision on every sheet, is another one; the first table is as it was."""
    other = DINING.with_(title="Another")
    assert other.profile.sha256 != DINING.profile.sha256
    assert (other.profile.title, DINING.profile.title) == ("Another", "Towpath dining table")
    assert other.with_(title="Third").profile.slats == DINING.profile.slats


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"diamter": 1400}, "diamter: is not known; did you mean diameter?"),
        ({"diameter": 3}, "top.diameter: 3 mm; 400 mm to 4000 mm is allowed"),
        ({"rails": 2, "segments": 9}, "top.segments: 9; with 2 rails it is a multiple of 4"),
        ({"wood": "mahogny"}, "wood: "),
        ({"thickness": 30}, "thickness: stands in more than one section; write top_thickness or slats_thickness"),
        ({"stock": object()}, "a value can't stand in a profile"),
        ({"diameter": float("nan")}, "top.diameter: "),
        ({"edge": "wavy"}, "top.edge: "),
    ],
)
def test_what_a_file_may_not_hold_is_refused_in_its_words(changes: dict[str, object], told: str) -> None:
    """Unknown, out of range, against another key, ambiguous, no value at all: the fault names the key, no file."""
    with pytest.raises(templategen.ProfileError) as refusal:
        DINING.with_(changes)
    assert str(refusal.value.faults[0]).startswith(told)
    assert all(fault.file == "" and fault.line == 0 for fault in refusal.value.faults)


def test_all_faults_are_told_at_once() -> None:
    """Two unknown keys are two faults; so are two values out of range."""
    for changes in ({"diamter": 1, "hieght": 2}, {"diameter": 3, "height": 5}):
        with pytest.raises(templategen.ProfileError) as refusal:
            DINING.with_(**changes)
        assert len(refusal.value.faults) == 2


def test_what_cant_be_built_is_a_design_error() -> None:
    """A rim too narrow for its groove reads, and is refused as `build_table` refuses it."""
    with pytest.raises(templategen.DesignError, match=r"joints.groove_depth: .* or a wider rim"):
        DINING.with_(rim_width=40)


def test_a_profile_changed_by_other_means_is_not_guessed_at() -> None:
    """A value put in behind the profile's back would be lost: it is refused."""
    table = replace(DINING, profile=replace(DINING.profile, title="Slipped in"))
    with pytest.raises(templategen.ProfileError, match="change it by with_ alone"):
        table.with_(diameter=1400)


@pytest.mark.parametrize("name", shipped_names())
def test_a_profile_as_text_is_the_same_profile(name: str) -> None:
    """Written out and read back every shipped profile has the same values, stock and faults."""
    profile = templategen.profile_from_text(shipped_text(name), name)
    again = templategen.profile_from_text(templategen.profile_text(profile), name)
    assert replace(again, sha256=profile.sha256) == profile


@pytest.mark.wide
def test_a_part_by_itself_is_the_packets_own_file() -> None:
    """Both formats, byte for byte; a part that isn't there is named with the nearest that is."""
    side = templategen.profile_from_text(shipped_text("towpath-side"), "side")
    packet = templategen.make_packet(side, only=["parts"])
    table = templategen.build_table(side)
    for part in table.parts:
        assert templategen.part_dxf(table, part.code) == packet.files[f"parts/{part.code}.dxf"]
        assert templategen.part_svg(table, part.code).encode() == packet.files[f"parts/{part.code}.svg"]
    with pytest.raises(templategen.DesignError, match=r'"RIM-Z" is no part of this table; did you mean RIM-'):
        templategen.part_dxf(table, "RIM-Z")

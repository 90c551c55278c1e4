"""Faults of a table told by the file and line of the key at fault."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from templategen.errors import DesignError, Fault, OutputError
from templategen.packet.build import built, with_places
from templategen.packet.make import make_packet
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text, read_profile


@pytest.fixture
def profile(tmp_path: Path) -> Profile:
    """A profile whose rim stands on line 4."""
    path = tmp_path / "own.toml"
    path.write_text('format = 1\ntitle = "Own"\n[top]\nrim_width = 40\n', encoding="utf-8")
    return read_profile(path)


def test_every_fault_gets_its_line(profile: Profile) -> None:
    """Those that have a place keep it, the others get theirs, and the kind of the refusal stays."""
    kept = Fault("paper.margin", "too wide", "", "other.toml", 9)
    with pytest.raises(DesignError) as refusal, with_places(profile):
        raise DesignError([kept, Fault("top.rim_width", "too narrow", "wider")])
    first, second = refusal.value.faults
    assert first.file == "other.toml"
    assert (second.file, second.line, second.where) == (profile.file, 4, "top.rim_width")


def test_a_profile_without_a_file_has_no_places() -> None:
    """Given as text its faults stay as they are."""
    bare = profile_from_text("format = 1", "bare")
    fault = Fault("top.rim_width", "too narrow")
    with pytest.raises(DesignError) as refusal, with_places(replace(bare, file="")):
        raise DesignError(fault)
    assert refusal.value.faults == (fault,)


def test_a_table_that_cant_be_built_is_told_by_line(profile: Profile) -> None:
    """By `built` and by `make_packet` alike."""
    for make in (lambda: built(profile.file), lambda: make_packet(profile, ["lists"])):
        with pytest.raises(DesignError) as refusal:
            make()
        assert all(fault.file == profile.file for fault in refusal.value.faults)


def test_another_refusal_stays_a_refusal(profile: Profile) -> None:
    """Its kind is kept whatever it is."""
    with pytest.raises(OutputError, match=r"own\.toml"), with_places(profile):
        raise OutputError(Fault("top.rim_width", "can't be drawn"))

"""What is kept comes out the same as what is made, and nothing is kept that isn't whole."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from templategen.kept import keep
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text
from tests.packet.test_lost import D, failing_at, of_part
from tests.shipped_packets import packet_files

TEXT = shipped_text("towpath-side")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own for each test, in which all is kept however quickly this machine makes it."""
    monkeypatch.setenv(keep.WHERE, str(tmp_path))
    monkeypatch.setattr(keep, "WORTH", 0.0)
    return tmp_path


def made(text: str, *shares: str, second_core: bool = False) -> dict[str, bytes]:
    """The files of a packet, with what an earlier one left."""
    with keep.keeping():
        return dict(
            make_packet(profile_from_text(text, "towpath-side"), shares or None, second_core=second_core).files
        )


@pytest.mark.wide
def test_the_bytes_are_the_same_cold_and_warm_on_one_core_and_two(monkeypatch: pytest.MonkeyPatch) -> None:
    """As those of the command that keeps nothing; warm, no part is drawn and no board laid out."""
    plain = packet_files("towpath-side")
    assert made(TEXT, second_core=True) == plain

    def never(*_args: object, **_named: object) -> None:
        raise AssertionError("made anew")

    for place in ("templategen.drawing.part_sheet.part_drawing", "templategen.nesting.nest.nest",
                  "templategen.drawing.template._face", "templategen.router.clamping.clampings"):  # fmt: skip
        module, _, name = place.rpartition(".")
        monkeypatch.setattr(__import__(module, fromlist=[name]), name, never)
    assert made(TEXT) == plain == made(TEXT, second_core=True)


@pytest.mark.wide
def test_a_change_costs_what_hangs_on_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """After another price and another height only the legs, which alone are longer, are drawn anew; all bytes are
    those of a packet made from nothing."""
    made(TEXT, "parts")
    drawn: list[str] = []
    from templategen.drawing import part_sheet

    real = part_sheet.part_drawing

    def counted(part: object, *args: object, **named: object) -> object:
        drawn.append(str(getattr(part, "code", "")))
        return real(part, *args, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(part_sheet, "part_drawing", counted)
    dearer = re.sub(r"(?m)^price = .*$", "price = 31", TEXT, count=1)
    higher = re.sub(r"(?m)^height = .*$", "height = 487", TEXT, count=1)
    assert dearer != TEXT != higher
    made(dearer, "parts")
    assert drawn == []
    kept = made(higher, "parts")
    assert drawn == ["LEG"]
    monkeypatch.setenv(keep.WHERE, "none")
    assert kept == made(higher, "parts")


@pytest.mark.wide
def test_what_failed_is_not_kept() -> None:
    """A drawing lost by a mistake is tried again the next time, and there."""
    with pytest.MonkeyPatch.context() as patch:
        failing_at(patch, f"{D}part_sheet.part_drawing", of_part("LEG"))
        assert "parts/LEG.dxf" not in made(TEXT, "parts")
    assert made(TEXT, "parts")["parts/LEG.dxf"] == packet_files("towpath-side")["parts/LEG.dxf"]


def test_another_state_of_the_program_finds_nothing(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    """What other code made, or another English was told in, isn't taken."""
    from templategen.english import speak

    calls: list[int] = []

    def work() -> int:
        from time import sleep

        sleep(keep.WORTH * 1.5)
        calls.append(1)
        return 7

    def ask() -> None:
        with keep.keeping():
            who = keep.keeper()
            assert who is not None and who.value("work", (3, "mm"), work) == 7

    ask()
    ask()
    assert len(calls) == 1
    speak("american", ("Mitre House",))
    try:
        ask()
    finally:
        speak("british")
    assert len(calls) == 2
    monkeypatch.setattr(keep, "_state", lambda: b"another")
    ask()
    assert len(calls) == 3 and (folder / "made.sqlite").exists()

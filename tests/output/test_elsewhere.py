"""The ways of systems that the suite doesn't run on, simulated: macOS exchanges by a call of its own, Windows in two
steps and without locks or a shell."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from templategen.output import swap, watch
from templategen.output.folder import STALE, write_folder
from templategen.packet.second_core import on_second_core
from tests.output.test_folder import NEW, OLD, held

MINE = {"notes/rim.txt": b"left too long"}


def packet(folder: Path) -> Path:
    """The old packet, with a file of the maker's in it."""
    write_folder(folder / "packet", OLD)
    (folder / "packet/notes").mkdir()
    (folder / "packet/notes/rim.txt").write_bytes(MINE["notes/rim.txt"])
    return folder / "packet"


def test_macos_exchanges_two_folders_by_its_own_call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """renamex_np is given both names as bytes and the flag to swap; where it fails two steps do."""
    target, asked = packet(tmp_path), []

    def renamex_np(one: bytes, other: bytes, flags: int) -> int:
        asked.append((one, other, flags))
        for first, second in ((one, one + b"~"), (other, one), (one + b"~", other)):
            os.rename(first, second)
        return 0

    monkeypatch.setattr(sys, "platform", "darwin")
    monkeypatch.setattr(swap, "_library", lambda: SimpleNamespace(renamex_np=renamex_np))
    write_folder(target, NEW)
    ((one, other, flags),) = asked
    assert flags == 2 and other == os.fsencode(target) and os.path.dirname(one) == os.fsencode(tmp_path)
    assert held(target) == {**NEW, **MINE} and list(tmp_path.iterdir()) == [target]
    monkeypatch.setattr(swap, "_library", lambda: SimpleNamespace(renamex_np=lambda *_: -1))
    write_folder(target, OLD)
    assert held(target) == {**OLD, **MINE} and list(tmp_path.iterdir()) == [target]


def test_windows_has_neither_locks_nor_shell_nor_exchange(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The packet is replaced in two steps; what may be another run's work waits a day, then it is cleared away."""
    target = packet(tmp_path)
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setitem(sys.modules, "fcntl", None)
    monkeypatch.setattr(watch, "SHELL", "/none")
    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: pytest.fail("no library is asked"))
    other = tmp_path / ".packet.part-0123456789ab"
    other.mkdir()
    write_folder(target, NEW)
    assert held(target) == {**NEW, **MINE} and other.is_dir()
    before = other.stat().st_mtime - STALE - 60
    os.utime(other, (before, before))
    write_folder(target, OLD)
    assert held(target) == {**OLD, **MINE} and list(tmp_path.iterdir()) == [target]
    assert on_second_core(os.getpid, True)() == os.getpid()

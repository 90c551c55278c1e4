"""The shelf gives back what was put on it, or nothing: never something else, and never trouble."""

from __future__ import annotations

import os
import pickle
import sqlite3
from pathlib import Path

import pytest

from templategen.geometry.point import Point
from templategen.kept.shelf import MISSING, Shelf


class Bad:
    """Has a command run where it is read."""

    def __reduce__(self) -> tuple[object, ...]:
        return os.system, ("touch hurt",)


def rewritten(path: Path, **columns: object) -> None:
    """Has the only row hold something else."""
    with sqlite3.connect(path) as base:
        for name, value in columns.items():
            base.execute(f"update kept set {name} = ?", (value,))


def test_what_was_put_is_taken(tmp_path: Path) -> None:
    """By another shelf on the same file too; another key has nothing."""
    path = tmp_path / "deep" / "made"
    Shelf(path).put(b"1", {"a": (Point(1, 2), b"\0")})
    assert Shelf(path).take(b"1") == {"a": (Point(1, 2), b"\0")} and Shelf(path).take(b"2") is MISSING


def test_damage_is_nothing(tmp_path: Path) -> None:
    """A byte changed, a file cut short, a file of something else: as if it weren't there."""
    path = tmp_path / "made"
    shelf = Shelf(path)
    shelf.put(b"1", b"wood" * 9)
    rewritten(path, value=pickle.dumps(b"good" * 9))
    assert shelf.take(b"1") is MISSING
    for data in (b"no base at all, but some words" * 200, b"SQLite format 3\0" + bytes(500), b""):
        other = tmp_path / f"other-{len(data)}"
        other.write_bytes(data)
        shelf = Shelf(other)
        shelf.put(b"1", 1)
        assert shelf.take(b"1") in (MISSING, 1)


def test_no_room_and_no_leave_are_nothing(tmp_path: Path) -> None:
    """A folder where the file should be, a file where the folder should be."""
    (tmp_path / "made").mkdir()
    (tmp_path / "file").write_text("mine")
    for path in (tmp_path / "made", tmp_path / "file" / "made"):
        shelf = Shelf(path)
        shelf.put(b"1", 1)
        shelf.tidy()
        assert shelf.take(b"1") is MISSING
    assert (tmp_path / "file").read_text() == "mine"


HOME, CLASS = b"templategen.kept.shelf", b"sqlite3.Connection"
OURS = b"\x80\x04\x8c" + bytes([len(HOME)]) + HOME + b"\x8c" + bytes([len(CLASS)]) + CLASS + b"\x93."


@pytest.mark.parametrize(
    "data", [pickle.dumps(Bad()), b"ctemplategen.kept.shelf\nos.system\n(S'touch hurt'\ntR.", OURS]
)
def test_nothing_is_done_by_what_is_read(tmp_path: Path, data: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """A value that would run a command, also by a name that a module of ours has at hand, isn't taken."""
    from hashlib import blake2b

    monkeypatch.chdir(tmp_path)
    shelf = Shelf(tmp_path / "made")
    shelf.put(b"1", 1)
    rewritten(tmp_path / "made", value=data, sum=blake2b(data, digest_size=16).digest())
    assert shelf.take(b"1") is MISSING and not (tmp_path / "hurt").exists()


def test_what_was_least_lately_used_goes(tmp_path: Path) -> None:
    """Past its size a half is kept, and of that what was used last."""
    path = tmp_path / "made"
    shelf = Shelf(path, most=50_000)
    for number in range(9):
        shelf.put(bytes([number]), bytes([number]) * 6_000)
        with sqlite3.connect(path) as base:
            base.execute("update kept set used = ? where key = ?", ((number * 7) % 9, bytes([number])))
    shelf.tidy()
    left = {number for number in range(9) if shelf.take(bytes([number])) is not MISSING}
    assert left == {number for number in range(9) if (number * 7) % 9 >= 5}
    assert path.stat().st_size < 50_000

"""Whatever in a packet's folder is the maker's stays, byte for byte, or the packet is refused by name."""

from __future__ import annotations

import json
import os
import threading
from pathlib import Path

import pytest

from templategen.errors import OutputError
from templategen.output import folder
from templategen.output.folder import check_target, write_folder
from templategen.output.packet_json import sealed
from tests.output.test_folder import NEW, OLD, held, recorded

MINE = {
    "mine.toml": b"format = 1",
    "parts/photograph.jpg": b"knot",
    "notes/first day/rim.txt": b"left too long",
    "second/packet.json": b"not ours",
}


def with_mine(target: Path) -> Path:
    """An old packet in which a maker keeps things."""
    write_folder(target, OLD)
    for name, data in MINE.items():
        path = target / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    (target / "to do").mkdir()
    return target


@pytest.mark.parametrize("at_once", [True, False])
def test_the_makers_files_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at_once: bool) -> None:
    """Measurements, photographs, notes, a foreign record, an empty folder: all are where they were, ours are new."""
    if not at_once:
        monkeypatch.setattr(folder, "swapped", lambda *_: False)
    target = with_mine(tmp_path / "packet")
    (target / "link").symlink_to(tmp_path / "elsewhere")
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "kept").write_bytes(b"x")
    write_folder(target, NEW)
    os.unlink(target / "link")
    assert held(target) == {**NEW, **MINE}
    assert (target / "to do").is_dir()
    assert (tmp_path / "elsewhere" / "kept").read_bytes() == b"x"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["elsewhere", "packet"]


def test_what_the_maker_changed_is_refused_by_name(tmp_path: Path) -> None:
    """A list with the maker's ticks in it isn't written over; told before the work begins, and nothing is touched."""
    target = tmp_path / "packet"
    write_folder(target, NEW)
    (target / "lists/cut-list.csv").write_bytes(b"a,done")
    before = held(target)
    for attempt in (lambda: check_target(target), lambda: write_folder(target, OLD)):
        with pytest.raises(OutputError, match=r"lists/cut-list\.csv changed since we wrote it"):
            attempt()
    assert held(target) == before


@pytest.mark.parametrize("name", ["parts/L1.dxf", "parts/l1.dxf/mine.txt", "lists"])
def test_a_name_that_the_maker_took_is_refused(tmp_path: Path, name: str) -> None:
    """Where a new file needs the name of one of the maker's, the packet is refused and both stay."""
    target = tmp_path / "packet"
    write_folder(target, OLD)
    path = target / name.replace("l1", "L1")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"mine")
    before = held(target)
    with pytest.raises(OutputError, match="needs the name"):
        write_folder(target, NEW)
    assert held(target) == before
    assert [one.name for one in tmp_path.iterdir()] == ["packet"]


FOREIGN = [b"", b"[]", b'{"files": 3}', b'{"format": 1, "files": [], "name": "app"}', b"\xff"]


@pytest.mark.parametrize("record", FOREIGN)
def test_a_foreign_record_is_no_packet(tmp_path: Path, record: bytes) -> None:
    """A folder of somebody else's that happens to hold a packet.json is refused and stays."""
    own = tmp_path / "own"
    own.mkdir()
    (own / "packet.json").write_bytes(record)
    (own / "main.c").write_bytes(b"int main;")
    with pytest.raises(OutputError, match="isn't a record of ours"):
        write_folder(own, NEW)
    assert held(own) == {"packet.json": record, "main.c": b"int main;"}


def test_a_record_that_lies_removes_nothing_elsewhere(tmp_path: Path) -> None:
    """Paths that lead out of the folder, or name what was never written, have no effect."""
    target = tmp_path / "packet"
    write_folder(target, recorded({"parts/R1.dxf": b"old"}))
    (tmp_path / "mine").write_bytes(b"mine")
    lying = recorded({"../mine": b"mine", "/etc/hostname": b"x", "parts/R1.dxf": b"old"})["packet.json"]
    (target / "packet.json").write_bytes(lying)
    write_folder(target, NEW)
    assert held(target) == NEW and (tmp_path / "mine").read_bytes() == b"mine"


def test_many_threads_leave_one_whole_packet(tmp_path: Path) -> None:
    """Threads of one process that write one folder all succeed, one packet stands whole, nothing lies beside it."""
    target, failed = tmp_path / "packet", []
    packets = [recorded({f"parts/{letter}{i}.dxf": letter.encode() * 99 for i in range(9)}) for letter in "abcd"]

    def write(packet: dict[str, bytes]) -> None:
        try:
            for _ in range(5):
                write_folder(target, packet)
        except Exception as problem:
            failed.append(problem)

    threads = [threading.Thread(target=write, args=(packet,)) for packet in packets]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert held(target) in packets
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_an_input_in_the_folder_is_refused(tmp_path: Path) -> None:
    """An input that lies in the folder to be written is named before any work, however its path is told."""
    target = with_mine(tmp_path / "packet")
    (tmp_path / "bench.toml").symlink_to(target / "mine.toml")
    before = held(target)
    for name in (target / "mine.toml", tmp_path / "packet" / ".." / "packet" / "mine.toml", tmp_path / "bench.toml"):
        with pytest.raises(OutputError, match=r"mine\.toml lies in the folder|bench\.toml lies in the folder"):
            check_target(target, [tmp_path / "elsewhere.toml", name])
    check_target(target, [tmp_path / "elsewhere.toml", tmp_path / "packet.toml"])
    assert held(target) == before


@pytest.mark.parametrize("within", ["", "notes"])
def test_the_working_folder_is_not_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, within: str) -> None:
    """Whoever stands in the folder, or below it, is told so, and the folder stays the one they stand in."""
    target = with_mine(tmp_path / "packet")
    monkeypatch.chdir(target / within)
    for name in (Path("."), target):
        if name != Path(".") or not within:
            with pytest.raises(OutputError, match="you are in this folder"):
                write_folder(name, NEW)
    assert held(target) == {**OLD, **MINE} and Path.cwd() == target / within


def test_what_comes_during_the_exchange_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A note saved while the folders change names is in the new one, under a name of its own where that is taken."""
    target = with_mine(tmp_path / "packet")
    swap = folder.swapped

    def late(part: Path, old: Path) -> bool:
        (target / "late.txt").write_bytes(b"late")
        (target / "parts/L1.dxf").write_bytes(b"drawn by hand")
        return swap(part, old)

    monkeypatch.setattr(folder, "swapped", late)
    write_folder(target, NEW)
    late_ones = {"late.txt": b"late", "parts/L1 (2).dxf": b"drawn by hand"}
    assert held(target) == {**NEW, **MINE, **late_ones}
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_a_run_killed_while_it_clears_away_leaves_no_second_copies(tmp_path: Path) -> None:
    """What is left of an old packet still tells by its record what was ours, and goes with the next run."""
    target = with_mine(tmp_path / "packet")
    write_folder(
        tmp_path / ".packet.old-0123456789ab", recorded({"parts/R1.dxf": b"older", "parts/R2.dxf": b"older"})
    )
    (tmp_path / ".packet.old-0123456789ab" / "parts/R1.dxf").unlink()
    write_folder(target, NEW)
    assert held(target) == {**NEW, **MINE}
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_a_folder_that_cannot_be_emptied_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the old packet could not be cleared away it isn't exchanged, so that no copies of it pile up."""
    target = with_mine(tmp_path / "packet")
    access = os.access
    monkeypatch.setattr(os, "access", lambda path, mode: Path(path).name != "first day" and access(path, mode))
    for _ in range(3):
        with pytest.raises(OutputError, match="may not change notes/first day in it"):
            write_folder(target, NEW)
    assert held(target) == {**OLD, **MINE} and [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_an_old_packet_that_stays_is_no_failure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The new packet stands; what couldn't be cleared away goes with the next run."""
    target = with_mine(tmp_path / "packet")
    unlink, stuck = Path.unlink, [True]

    def held_fast(path: Path, missing_ok: bool = False) -> None:
        if stuck and path.name == "R1.dxf":
            raise PermissionError(13, "no")
        unlink(path, missing_ok)

    monkeypatch.setattr(Path, "unlink", held_fast)
    write_folder(target, NEW)
    assert held(target) == {**NEW, **MINE}
    stuck.clear()
    write_folder(target, NEW)
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]


def test_a_record_that_somebody_wrote_in_is_not_replaced(tmp_path: Path) -> None:
    """A record whose seal does not hold was changed since, so it is refused by name; with its seal it is ours."""
    target, record = tmp_path / "packet", json.loads(OLD["packet.json"])
    whole = {**OLD, "packet.json": json.dumps(sealed({**record, "title": "Oak"})).encode()}
    write_folder(target, whole)
    noted = whole["packet.json"].replace(b"Oak", b"Oak, for the terrace")
    (target / "packet.json").write_bytes(noted)
    with pytest.raises(OutputError, match=r"packet\.json changed since we wrote it"):
        write_folder(target, NEW)
    assert held(target) == {**whole, "packet.json": noted}
    (target / "packet.json").write_bytes(whole["packet.json"])
    write_folder(target, NEW)
    assert held(target) == NEW

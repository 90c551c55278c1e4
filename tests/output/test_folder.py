"""Folders written whole or not at all."""

from __future__ import annotations

import errno
import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from templategen.errors import OutputError
from templategen.output import folder, lock, watch
from templategen.output.folder import write_file, write_folder


def recorded(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files with a record that names them, as every packet has one."""
    named = [{"path": path, "sha256": sha256(data).hexdigest()} for path, data in files.items()]
    return {"packet.json": json.dumps({"format": 1, "templategen": "0", "files": named}).encode(), **files}


OLD = recorded({"parts/R1.dxf": b"old"})
NEW = recorded({"parts/L1.dxf": b"new", "lists/cut-list.csv": b"a\r\n"})


def held(target: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {p.relative_to(target).as_posix(): p.read_bytes() for p in target.rglob("*") if p.is_file()}


def test_a_folder_is_replaced_as_a_whole(tmp_path: Path) -> None:
    """After a second write only the second's files are there, and nothing lies beside it."""
    write_folder(tmp_path / "packet", OLD)
    assert held(tmp_path / "packet") == OLD
    write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "packet") == NEW
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    """A folder without anything in it is nobody's work."""
    (tmp_path / "packet").mkdir()
    write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "packet") == NEW


def test_a_folder_that_is_no_packet_is_left_alone(tmp_path: Path) -> None:
    """Somebody's own folder is refused and stays as it was."""
    own = tmp_path / "photos"
    own.mkdir()
    (own / "me.jpg").write_bytes(b"me")
    with pytest.raises(OutputError, match=r"no packet\.json"):
        write_folder(own, NEW)
    assert held(own) == {"me.jpg": b"me"}


@pytest.mark.parametrize(
    "name",
    [
        "../x",
        "/etc/x",
        "a/../../x",
        "a\\b",
        "C:x",
        "C:/x",
        "",
        ".",
        "a//b",
        "a/",
        "a\x00b",
        "a\nb",
        "a/./b",
        "..",
        "x:y",
    ],
)
def test_names_that_lead_out_are_refused(tmp_path: Path, name: str) -> None:
    """A hostile file name is an error, and nothing at all is written."""
    with pytest.raises(OutputError, match="leads out"):
        write_folder(tmp_path / "packet", {"packet.json": b"{}", name: b"x"})
    assert list(tmp_path.iterdir()) == []


def test_names_that_clash_are_refused(tmp_path: Path) -> None:
    """Names that differ in capitals alone, or that are file and folder at once, are errors."""
    with pytest.raises(OutputError, match="one name"):
        write_folder(tmp_path / "packet", {"parts/R1.dxf": b"", "parts/r1.dxf": b""})
    with pytest.raises(OutputError, match="both a file and a folder"):
        write_folder(tmp_path / "packet", {"parts": b"", "parts/r1.dxf": b""})


def test_a_file_in_the_way_is_said(tmp_path: Path) -> None:
    """A target that is a file is refused and kept."""
    (tmp_path / "packet").write_bytes(b"mine")
    with pytest.raises(OutputError, match="is a file"):
        write_folder(tmp_path / "packet", NEW)
    assert (tmp_path / "packet").read_bytes() == b"mine"


def test_a_missing_parent_is_said(tmp_path: Path) -> None:
    """A folder in a place that doesn't exist is an error that names the place."""
    with pytest.raises(OutputError, match="doesn't exist"):
        write_folder(tmp_path / "nowhere" / "packet", NEW)


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    """A target that is a link is refused, and what it points to is kept."""
    write_folder(tmp_path / "real", OLD)
    (tmp_path / "packet").symlink_to(tmp_path / "real")
    with pytest.raises(OutputError, match="is a link"):
        write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "real") == OLD


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "disk is full"),
        (errno.EROFS, "only be read"),
        (errno.EACCES, "may not write"),
        (errno.EIO, "can't"),
    ],
)
def test_a_failing_disk_leaves_the_old_packet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    """Whatever the system refuses midway is told in words, the old packet stands, no half of the new one does."""
    write_folder(tmp_path / "packet", OLD)
    written: list[int] = []

    def fail(handle: int) -> None:
        written.append(handle)
        if len(written) > 1:
            raise OSError(number, os.strerror(number))

    monkeypatch.setattr(folder.os, "fsync", fail)
    with pytest.raises(OutputError, match=words):
        write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "packet") == OLD
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_a_failed_exchange_puts_the_old_packet_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where names change in two steps and the new folder can't take its name, the old one has it again."""
    write_folder(tmp_path / "packet", OLD)
    monkeypatch.setattr(folder, "swapped", lambda *_: False)
    rename, calls = os.rename, []

    def second_fails(source: Path, target: Path) -> None:
        calls.append(source)
        if len(calls) == 2:
            raise OSError(errno.EIO, "no")
        rename(source, target)

    monkeypatch.setattr(folder.os, "rename", second_fails)
    with pytest.raises(OutputError):
        write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "packet") == OLD
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="no folder is closed to this user")
def test_a_closed_folder_is_said(tmp_path: Path) -> None:
    """A parent without the right to write is an error that names it."""
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="may not write"):
            write_folder(tmp_path / "packet", NEW)
    finally:
        tmp_path.chmod(0o700)


KILLED = """
import os, signal, sys
from pathlib import Path
from templategen.output import folder, lock, watch
name, when = sys.argv[2], int(sys.argv[3])
if sys.argv[4] == "unwatched":
    watch.SHELL = "/none"
if name == "rename":
    folder.swapped = lambda *_: False
real, calls = getattr(os, name), []
def dying(*args):
    calls.append(args)
    if len(calls) == when:
        os.kill(os.getpid(), signal.SIGKILL)
    return real(*args)
setattr(folder.os, name, dying)
folder.write_folder(Path(sys.argv[1]), {"packet.json": b"{1}", "parts/L1.dxf": b"new"})
"""


@pytest.mark.skipif(os.name != "posix", reason="needs a signal that can't be caught")
@pytest.mark.parametrize(("call", "when"), [("fsync", 1), ("fsync", 3), ("rename", 1), ("rename", 2)])
def test_a_run_killed_midway_leaves_a_whole_packet(tmp_path: Path, call: str, when: int) -> None:
    """Killed at any step, the old packet is whole (or is put back by the next run), and leftovers are cleared."""
    target = tmp_path / "packet"
    write_folder(target, OLD)
    run = subprocess.run([sys.executable, "-c", KILLED, str(target), call, str(when), "unwatched"], check=False)
    assert run.returncode == -signal.SIGKILL
    whole = target if target.exists() else next(tmp_path.glob(".packet.old-*"))
    assert held(whole) == OLD
    assert len(list(tmp_path.iterdir())) == 2
    with pytest.raises(OutputError):
        write_folder(target, {"../x": b""})
    write_folder(target, NEW)
    assert held(target) == NEW
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def alone_soon(target: Path, seconds: float = 5.0) -> bool:
    """Whether nothing lies beside the folder, after so many seconds at most."""
    end = time.monotonic() + seconds
    while [path.name for path in target.parent.iterdir()] != [target.name]:
        if time.monotonic() > end:
            return False
        time.sleep(0.02)
    return True


@pytest.mark.skipif(not os.path.exists(watch.SHELL), reason="needs the shell that watches")
@pytest.mark.parametrize(("call", "when"), [("fsync", 1), ("fsync", 3), ("rename", 1), ("rename", 2)])
def test_what_a_killed_run_began_is_gone_soon(tmp_path: Path, call: str, when: int) -> None:
    """Killed at any step, the old packet stands whole and alone a moment later, without another run."""
    target = tmp_path / "packet"
    write_folder(target, OLD)
    run = subprocess.run([sys.executable, "-c", KILLED, str(target), call, str(when), "watched"], check=False)
    assert run.returncode == -signal.SIGKILL
    assert alone_soon(target, 20.0) and held(target) == OLD


WRITING = """
import sys
from pathlib import Path
from templategen.output.folder import write_folder
from tests.output.test_folder import recorded
def packet(letter):
    return recorded({f"parts/{letter.decode()}{i}.dxf": letter * 9_000 for i in range(40)})
print("ready", flush=True)
rounds = int(sys.argv[2])
while rounds:
    for letter in (b"a", b"b"):
        write_folder(Path(sys.argv[1]), packet(letter))
    rounds -= 1
"""


def one_whole_packet(target: Path) -> bool:
    """Whether the folder holds just what one of the writer's packets holds."""
    packets = [recorded({f"parts/{letter}{i}.dxf": letter.encode() * 9_000 for i in range(40)}) for letter in "ab"]
    return held(target) in packets


def killed_at_random(tmp_path: Path, times: int) -> None:
    """Kills a writer again and again; after each the folder is whole, and the next run clears the rest away."""
    target, chance = tmp_path / "packet", random.Random(7)
    subprocess.run([sys.executable, "-c", WRITING, str(target), "1"], check=True, capture_output=True)
    for _ in range(times):
        run = subprocess.Popen([sys.executable, "-c", WRITING, str(target), "-1"], stdout=subprocess.PIPE)
        assert run.stdout is not None
        run.stdout.readline()
        time.sleep(chance.uniform(0.0, 0.12))
        run.kill()
        run.wait()
        run.stdout.close()
        assert one_whole_packet(target)
    assert alone_soon(target, 20.0)
    write_folder(target, NEW)
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


@pytest.mark.skipif(sys.platform != "linux", reason="needs folders that change names in one step")
def test_killed_at_random_moments_a_packet_is_whole(tmp_path: Path) -> None:
    """At whichever moment a run is killed, the folder holds the old packet whole or the new one whole."""
    killed_at_random(tmp_path, 12)


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="needs folders that change names in one step")
def test_killed_two_hundred_times_a_packet_is_whole(tmp_path: Path) -> None:
    """The same at two hundred moments."""
    killed_at_random(tmp_path, 200)


def test_two_runs_at_once_leave_one_whole_packet(tmp_path: Path) -> None:
    """Two runs that write one folder at the same time both succeed, and one packet stands there whole."""
    target = tmp_path / "packet"
    runs = [subprocess.Popen([sys.executable, "-c", WRITING, str(target), "4"], stdout=-3) for _ in range(2)]
    assert [run.wait() for run in runs] == [0, 0]
    assert one_whole_packet(target)
    assert [p.name for p in tmp_path.iterdir()] == ["packet"]


def test_an_old_packet_comes_back_even_when_the_next_run_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An old packet whose successor never came is put back before anything else is tried."""
    write_folder(tmp_path / ".packet.old-0123456789ab", OLD)

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(folder.os, "fsync", full)
    with pytest.raises(OutputError):
        write_folder(tmp_path / "packet", NEW)
    assert held(tmp_path / "packet") == OLD


def test_another_runs_work_is_left_alone(tmp_path: Path) -> None:
    """The unfinished folder of a process that still runs isn't cleared away, nor are others' names."""
    alive, dead, mine = (tmp_path / f".packet.part-{mark}" for mark in ("0123456789ab", "ba9876543210", "notes"))
    for path in (alive, dead, mine):
        path.mkdir()
    with lock.held(alive):
        write_folder(tmp_path / "packet", NEW)
    assert alive.is_dir() and mine.is_dir() and not dead.exists()


def test_a_file_is_written_once(tmp_path: Path) -> None:
    """An existing file is kept unless replacing is asked for, and nothing is left beside it."""
    path = tmp_path / "round.toml"
    write_file(path, b"one")
    with pytest.raises(OutputError, match="exists already"):
        write_file(path, b"two")
    assert path.read_bytes() == b"one"
    write_file(path, b"two", replace=True)
    assert path.read_bytes() == b"two"
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_that_cannot_be_written_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of that name, a missing parent and a full disk are errors, and the old content stays."""
    with pytest.raises(OutputError, match="is a folder"):
        write_file(tmp_path, b"x", replace=True)
    with pytest.raises(OutputError, match="doesn't exist"):
        write_file(tmp_path / "a" / "b", b"x")
    write_file(tmp_path / "kept", b"old")

    def full(handle: int) -> None:
        raise OSError(errno.ENOSPC, "full")

    monkeypatch.setattr(folder.os, "fsync", full)
    with pytest.raises(OutputError, match="disk is full"):
        write_file(tmp_path / "kept", b"new", replace=True)
    assert held(tmp_path) == {"kept": b"old"}


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of one megabyte, where this user may make one."""
    disk = tmp_path / "disk"
    disk.mkdir()
    tried = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=1M", "tmpfs", str(disk)], capture_output=True, check=False
    )
    if tried.returncode:
        pytest.skip("no small disk can be made here")
    yield disk
    subprocess.run(["umount", str(disk)], check=False)


@pytest.mark.skipif(sys.platform != "linux", reason="needs a disk that can be filled")
def test_a_full_disk_leaves_the_old_packet(small_disk: Path) -> None:
    """On a disk that really fills up the old packet stays whole, nothing else is left, and the message says so."""
    target = small_disk / "packet"
    write_folder(target, OLD)
    with pytest.raises(OutputError, match="the disk is full"):
        write_folder(target, {**NEW, "parts/large.dxf": b"x" * 2_000_000})
    assert held(target) == OLD
    assert [path.name for path in small_disk.iterdir()] == ["packet"]


@pytest.mark.skipif(not os.path.exists(watch.SHELL), reason="the watch needs a shell")
def test_an_interrupt_while_the_old_folder_goes_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The new packet stands, and soon nothing lies beside it."""
    target = tmp_path / "packet"
    write_folder(target, OLD)

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(folder, "discard", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_folder(target, NEW)
    end = time.monotonic() + 5.0
    while len(list(tmp_path.iterdir())) > 1 and time.monotonic() < end:
        time.sleep(0.02)
    assert held(target) == NEW
    assert [path.name for path in tmp_path.iterdir()] == ["packet"]

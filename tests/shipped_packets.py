"""Packets of the shipped profiles as the command writes them, each made once in a run for all its workers."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from click.testing import CliRunner

from templategen.cli import main
from templategen.packet.shipped import shipped_text
from tests.conftest import CACHE, SHARED, shelf_of_run


@contextmanager
def alone(path: Path) -> Iterator[None]:
    """One worker at a time."""
    import fcntl

    with path.open("w") as file:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield


@cache
def packet_folder(name: str) -> Path:
    """The packet's folder, to be read and not changed; its profile lies beside it. What is made for it is left for
    tests that make another of the same parts."""
    shared = Path(os.environ[SHARED])
    folder, profile = shared / name, shared / f"{name}.toml"
    with alone(shared / f"{name}.lock"):
        if not folder.exists():
            profile.write_text(shipped_text(name), encoding="utf-8")
            result = CliRunner(env={CACHE: shelf_of_run()}).invoke(main, ["make", str(profile), "-o", str(folder)])
            assert result.exit_code == 0, result.output
            (shared / f"{name}.txt").write_text(result.output, encoding="utf-8")
    return folder


@cache
def packet_files(name: str) -> dict[str, bytes]:
    """Its files by their path in it."""
    folder = packet_folder(name)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def told_by_make(name: str) -> str:
    """What the command said of it."""
    return packet_folder(name).with_name(f"{name}.txt").read_text(encoding="utf-8")


def page_of(name: str) -> str:
    """Its page."""
    return packet_files(name)["index.html"].decode()

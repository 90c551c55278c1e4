"""One profile gives one packet, whatever machine, place, time and user it is made by."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from templategen.packet.shipped import shipped_text
from tests.shipped_packets import packet_files

ROOT = Path(__file__).parents[2]

RUN = """
import datetime, os, sys, time
time.time = lambda: 4102444800.5
time.localtime = lambda *_: time.gmtime(0)
listdir, scandir = os.listdir, os.scandir
os.listdir = lambda *a: sorted(listdir(*a), reverse=True)
os.getlogin = lambda: "somebody"
sys.setrecursionlimit(3000)
from templategen.cli import main
main(["make", sys.argv[1], "-o", sys.argv[2]], standalone_mode=False)
"""

ODD = {
    "PYTHONHASHSEED": "4242",
    "LC_ALL": "de_DE.UTF-8",
    "LANG": "tr_TR.UTF-8",
    "TZ": "Pacific/Kiritimati",
    "USER": "somebody-else",
    "SOURCE_DATE_EPOCH": "1",
    "FONTCONFIG_PATH": "/nonexistent",
    "COLUMNS": "31",
    "NO_COLOR": "1",
}


def made(folder: Path, profile_name: str, environment: dict[str, str]) -> dict[str, bytes]:
    """Every file of a packet made by a process of its own in a folder and a home of its own."""
    folder.mkdir()
    home = folder / "home"
    home.mkdir()
    profile = folder / f"{profile_name}.toml"
    profile.write_text(shipped_text(profile_name), encoding="utf-8")
    places = {"HOME": str(home), "XDG_CACHE_HOME": str(home / "cache"), "PYTHONPATH": str(ROOT)}
    surroundings = {**os.environ, **environment, **places}
    run = subprocess.run(
        [sys.executable, "-c", RUN, str(profile), str(folder / "out")],
        cwd=home, env=surroundings, capture_output=True, check=False,
    )  # fmt: skip
    assert (folder / "out" / "packet.json").is_file(), run.stderr.decode()
    assert not list(home.iterdir()), "something was left in the home folder"
    out = folder / "out"
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


@pytest.mark.wide
def test_other_machines_make_the_same_bytes(tmp_path: Path) -> None:
    """Hash seed, locale, time zone, clock, user, home, folder and the order of files change no byte of the packet;
    nor does a second core, which a process of one thread works on and a worker of the tests doesn't."""
    plain = packet_files("towpath-side")
    odd = made(tmp_path / "a longer Ordner", "towpath-side", ODD)
    assert set(plain) == set(odd)
    assert [path for path in plain if plain[path] != odd[path]] == []

"""What large jobs take, at four sizes each: `python -m tests.bench.load [JOB ...]` prints the table of DEVELOPERS.md.

Each is a process of its own, of which processor time and the most memory are told, so that a busy machine doesn't
show in the figures. `growth` is the power of the size by which the time grew between the last two.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
from collections.abc import Callable, Sequence
from math import log
from random import Random

from templategen.packet.shipped import shipped_text

HEAD = shipped_text("towpath-dining").partition("[[stock]]")[0]
SHARES = ("stock", "lists")
LONGEST = 1800
"""Seconds of the processor after which a job is given up and said to be."""


def board(name: str, length: float, width: float, thickness: float, more: str = "") -> str:
    """A kind of stock."""
    return (
        f'[[stock]]\nname = "{name}"\nlength = {length:g}\nwidth = {width:g}\nthickness = {thickness:g}\n'
        f"price = {length * width * 5e-5:.2f}\n{more}\n"
    )


BOARDS = board("top", 2400, 160, 45) + board("slats", 2100, 110, 32) + board("legs", 1500, 110, 90)


def tables(count: int) -> tuple[str, int]:
    """So many tables at once."""
    return HEAD + BOARDS, count


def kinds(count: int) -> tuple[str, int]:
    """One table out of so many kinds of stock, all of other sizes."""
    chance = Random(count)
    sizes = [
        (chance.uniform(1100, 3200), chance.uniform(95, 240), chance.choice((32, 45, 90))) for _ in range(count - 3)
    ]
    return HEAD + BOARDS + "".join(board(f"kind {i}", *size) for i, size in enumerate(sizes)), 1


def knots(count: int) -> tuple[str, int]:
    """Ten tables out of boards of which each kind has its knots, so many in all."""
    chance, each = Random(count), count // 30
    text = BOARDS
    for i in range(30):
        found = [[round(chance.uniform(60, 2340)), round(chance.uniform(8, 152)), round(chance.uniform(5, 25))]
                 for _ in range(each)]  # fmt: skip
        text += board(f"knotty {i}", 2400, 160, 45, f"count = 1\nfaults = {found}")
    return HEAD + text, 10


def pieces(count: int) -> tuple[str, int]:
    """One table of about so many pieces."""
    width = 10250 / count
    text = (
        f"format = 1\n[top]\ndiameter = 4000\nrails = 3\nsegments = 24\n[slats]\nwidth = {width:.2f}\ngap = 5\n"
        'hold = "width"\n'
    )
    return text, 1


JOBS: dict[str, tuple[Callable[[int], tuple[str, int]], tuple[int, ...], tuple[str, ...]]] = {
    "tables": (tables, (1, 10, 50, 200), SHARES),
    "kinds of stock": (kinds, (10, 50, 100, 200), SHARES),
    "knots": (knots, (300, 900, 1800, 3000), SHARES),
    "pieces": (pieces, (150, 350, 650, 1020), ("parts", "lists")),
}


def one(kind: str, size: int) -> None:
    """Does one job and prints its figures."""
    from templategen.packet.make import make_packet
    from templategen.table.profile.read import profile_from_text

    resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST))
    make, _, shares = JOBS[kind]
    text, count = make(size)
    packet = make_packet(profile_from_text(text, "load"), shares, tables=count)
    used = resource.getrusage(resource.RUSAGE_SELF)
    told = {"size": size, "seconds": used.ru_utime + used.ru_stime, "memory": used.ru_maxrss / 1024}
    print(json.dumps({**told, "pieces": sum(part["count"] for part in packet.record["parts"])}))


def run(kind: str, size: int) -> dict[str, float] | str:
    """The figures of one job in a process of its own, or what it ended with."""
    words = (sys.executable, "-m", "tests.bench.load", "--one", kind, str(size))
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    if done.returncode < 0:
        return f"over {LONGEST} s"
    lines = (done.stdout if done.returncode == 0 else done.stderr).strip().splitlines()
    return json.loads(lines[-1]) if done.returncode == 0 else lines[-1][:90]


def table(wanted: Sequence[str]) -> None:
    """Every job, as a row."""
    print("| job | size | seconds | MB | growth |", "| --- | --- | --- | --- | --- |", sep="\n", flush=True)
    for kind in wanted:
        before: dict[str, float] | None = None
        for size in JOBS[kind][1]:
            found = run(kind, size)
            if isinstance(found, str):
                print(f"| {kind} | {size} | {found} | | |", flush=True)
                continue
            shown = int(found["pieces"]) if kind == "pieces" else size
            growth = ""
            if before:
                ratio = (shown if kind == "pieces" else size) / before["shown"]
                growth = f"{log(found['seconds'] / before['seconds']) / log(ratio):.1f}" if ratio > 1 else ""
            print(f"| {kind} | {shown} | {found['seconds']:.0f} | {found['memory']:.0f} | {growth} |", flush=True)
            before = {**found, "shown": shown}


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        one(sys.argv[2], int(sys.argv[3]))
    else:
        table(sys.argv[1:] or list(JOBS))

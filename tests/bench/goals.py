"""What was aimed at, and what is reached: python -m tests.bench.goals [--runs 5] [--only make nesting].

Prints the table of goals in DEVELOPERS.md: medians of so many runs, the worst of them beside. Layouts by the clock
are the portfolio's, each run in a process of its own; packets are made as the command makes them.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from templategen.kept.keep import WHERE
from tests.bench.instance import kept
from tests.bench.nesting import measured
from tests.bench.speed import DINING, changed_height

NESTING = (
    ("boards_x1", 1, 1.0, 2.304e6), ("boards_x1", 1, 15.0, 2.226e6), ("boards_x1", 1, 60.0, 2.196e6),
    ("boards_x1", 20, 40.0, 44.5e6), ("boards_x1", 20, 120.0, 44.0e6),
    ("jig30", 1, 5.0, 1850.0), ("jig30", 1, 30.0, 1800.0),
)  # fmt: skip
"""Instance, tables, seconds, and the cost aimed at: mm2 of boards, mm of the sheet for the jigs."""

MAKE = (
    ("make, nothing kept, s", 4.0), ("the same, processor s", 8.0), ("make again, s", 2.0),
    ("make, 3 mm higher, s", 2.0),
)  # fmt: skip


def main() -> None:
    """Prints the rows."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only", nargs="+", default=["make", "nesting"])
    told = parser.parse_args()
    print("| goal | aimed at | median | worst |\n| --- | --- | --- | --- |")
    if "make" in told.only:
        runs = [made() for _ in range(told.runs)]
        for at, (name, goal) in enumerate(MAKE):
            print(_row(name, goal, [run[at] for run in runs]), flush=True)
    for name, tables, seconds, goal in NESTING if "nesting" in told.only else ():
        found = [laid(name, tables, seconds) for _ in range(told.runs)]
        print(_row(f"{name} x {tables}, {seconds:g} s", goal, found), flush=True)


def _row(name: str, goal: float, found: list[float]) -> str:
    cells = (f"{value:,.0f}" if goal > 100 else f"{value:.1f}" for value in (goal, median(found), max(found)))
    return f"| {name} | {' | '.join(cells)} |"


def made() -> tuple[float, ...]:
    """Seconds of `make` from nothing by the clock and of the processors, again, and after a change."""
    with TemporaryDirectory() as at:
        folder = Path(at)
        higher = changed_height(DINING, folder)
        command = [sys.executable, "-m", "templategen", "make", "-o", str(folder / "packet")]
        cold, busy = _run([*command, str(DINING)], "none")
        _run([*command, str(DINING)], at)
        again, _ = _run([*command, str(DINING)], at)
        changed, _ = _run([*command, str(higher)], at)
        return cold, busy, again, changed


def _run(command: list[str], cache: str) -> tuple[float, float]:
    """Seconds by the clock and of the processors."""
    before, start = _used(), perf_counter()
    subprocess.run(command, check=False, capture_output=True, env={**os.environ, WHERE: cache})
    return perf_counter() - start, _used() - before


def _used() -> float:
    told = resource.getrusage(resource.RUSAGE_CHILDREN)
    return told.ru_utime + told.ru_stime


def laid(name: str, tables: int, seconds: float) -> float:
    """The cost that the portfolio reaches."""
    with ProcessPoolExecutor(1, mp_context=get_context("spawn")) as pool:
        row = pool.submit(measured, kept(name, tables), "portfolio", seconds).result()
    found = row[3]
    assert isinstance(found, float | int)
    return float(found)


if __name__ == "__main__":
    main()

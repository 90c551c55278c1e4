"""Every figure of README and DEVELOPERS.md that is measured: python -m tests.bench [NAME ...].

Runs the benchmarks one after the other, or those named, each as its own file runs it by itself; first machine, cores
and date. All of them take about two hours on two quiet cores.
"""

from __future__ import annotations

import os
import platform
import runpy
import sys
from datetime import date

EACH = {
    "goals": [],
    "speed": [],
    "live": [],
    "load": [],
    "nesting": [],
    "ablation": [],
    "suit": ["--grid", "5"],
}


def main(names: list[str]) -> None:
    """Runs the benchmarks of these names."""
    if unknown := [name for name in names if name not in EACH]:
        raise SystemExit(f"no benchmark {unknown[0]}; there are {', '.join(EACH)}")
    print(f"{date.today()}, {platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    for name in names or EACH:
        print(f"\n== {name}", flush=True)
        sys.argv[1:] = EACH[name]
        runpy.run_module(f"tests.bench.{name}", run_name="__main__")


if __name__ == "__main__":
    main(sys.argv[1:])

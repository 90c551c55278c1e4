"""How long the commands take, and the share of each proof: python -m tests.bench.speed [PROFILE].

Whole commands are timed as processes, in turn with `import click` so that the ratio holds on a busy machine;
medians of five.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

ROUNDS = 5
DINING = Path(__file__).parent.parent.parent / "profiles" / "towpath-dining.toml"


def process(*words: str) -> float:
    """Seconds that a Python process takes."""
    start = perf_counter()
    subprocess.run([sys.executable, *words], check=False, capture_output=True)
    return perf_counter() - start


def commands(profile: Path) -> None:
    """The commands as processes."""
    with tempfile.TemporaryDirectory() as folder:
        rows = {
            "import click": ("-c", "import click"),
            "--help": ("-m", "templategen", "--help"),
            "check": ("-m", "templategen", "check", str(profile)),
            "make": ("-m", "templategen", "make", str(profile), "-o", f"{folder}/packet"),
        }
        times: dict[str, list[float]] = {name: [] for name in rows}
        for _ in range(ROUNDS):
            for name, words in rows.items():
                times[name].append(process(*words))
    for name, taken in times.items():
        print(f"{name:<24}{median(taken):8.3f} s   {median(taken) / median(times['import click']):6.1f} x click")


def proofs(profile: Path) -> None:
    """The stages and proofs in this process."""
    import templategen
    from templategen.checks.fields import field_findings
    from templategen.checks.movement import movement_findings
    from templategen.checks.shows import show_findings
    from templategen.checks.stance import stance_findings
    from templategen.checks.tools import tool_findings
    from templategen.checks.walls import wall_findings
    from templategen.fit.dry_fit import dry_fit
    from templategen.fit.plan import plan_assembly

    table = templategen.build_table(templategen.read_profile(profile))
    stages: dict[str, Callable[[], object]] = {
        "read and build": lambda: templategen.build_table(templategen.read_profile(profile)),
        "dry fit in solids": lambda: dry_fit(table),
        "order of assembly": lambda: plan_assembly(table),
        "walls": lambda: list(wall_findings(table)),
        "shows": lambda: list(show_findings(table)),
        "fields": lambda: list(field_findings(table)),
        "movement": lambda: list(movement_findings(table)),
        "stance": lambda: list(stance_findings(table)),
        "tools": lambda: list(tool_findings(table)),
    }
    for name, stage in stages.items():
        taken = []
        for _ in range(ROUNDS):
            start = perf_counter()
            stage()
            taken.append(perf_counter() - start)
        print(f"{name:<24}{median(taken):8.3f} s")


if __name__ == "__main__":
    chosen = Path(sys.argv[1]) if len(sys.argv) > 1 else DINING
    commands(chosen)
    proofs(chosen)

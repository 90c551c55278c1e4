"""How long the commands take, and the share of each proof: python -m tests.bench.speed [PROFILE].

Whole commands are timed as processes, in turn with `import click` so that the ratio holds on a busy machine;
medians of five.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median
from time import perf_counter

from templategen.kept.keep import WHERE

ROUNDS = 5
DINING = Path(__file__).parent.parent.parent / "profiles" / "towpath-dining.toml"


def process(*words: str, cache: str = "none") -> float:
    """Seconds that a Python process takes which keeps what it makes in the folder `cache`."""
    start = perf_counter()
    subprocess.run([sys.executable, *words], check=False, capture_output=True, env={**os.environ, WHERE: cache})
    return perf_counter() - start


def commands(profile: Path) -> None:
    """The commands as processes; `make` from nothing, the same again, and after a change of the height."""
    times: dict[str, list[float]] = {}
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            for name, taken in one_round(profile, Path(folder)):
                times.setdefault(name, []).append(taken)
    click = median(times["import click"])
    for name, all_taken in times.items():
        print(f"{name:<24}{median(all_taken):8.3f} s   {median(all_taken) / click:6.1f} x click")


def one_round(profile: Path, folder: Path) -> Iterator[tuple[str, float]]:
    """Each command once."""
    higher = changed_height(profile, folder)
    make, out, cache = ("-m", "templategen", "make"), ("-o", str(folder / "packet")), str(folder / "cache")
    yield "import click", process("-c", "import click")
    yield "--help", process("-m", "templategen", "--help")
    yield "check", process("-m", "templategen", "check", str(profile))
    yield "make, nothing kept", process(*make, str(profile), *out)
    yield "make, the first time", process(*make, str(profile), *out, cache=cache)
    yield "make again", process(*make, str(profile), *out, cache=cache)
    yield "make, 3 mm higher", process(*make, str(higher), *out, cache=cache)


def changed_height(profile: Path, folder: Path) -> Path:
    """A copy of the profile in the folder, of a table 3 mm higher."""
    text = profile.read_text(encoding="utf-8")
    higher = re.sub(r"(?m)^height = (\d+)", lambda found: f"height = {int(found[1]) + 3}", text, count=1)
    assert higher != text
    copy = folder / profile.name
    copy.write_text(higher, encoding="utf-8")
    return copy


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

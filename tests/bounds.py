"""The suite on the lowest and the newest versions that pyproject.toml allows.

`python -m tests.bounds lowest|newest [PYTHON] [PYTEST WORD ...]` makes a virtual environment of that Python with just
those versions of what the tool needs (tests' own libraries as pip finds them) and runs pytest there: a share that
meets every library unless others are named. What the oldest versions fail at is a bound to raise.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).parent.parent

SHARE = (
    "tests/fit", "tests/nesting/test_engine_portfolio.py", "tests/nesting/test_nest.py", "tests/output",
    "tests/proof", "tests/cli/test_check.py", "tests/packet/test_packet.py", "tests/checks",
)  # fmt: skip
"""Tests that between them use every library."""


def bound(requirement: str, newest: bool) -> str:
    """A requirement with its lower bound as the only version, or as it stands with the newest that it lets in."""
    head, _, marker = requirement.partition(";")
    low = re.fullmatch(r"\s*([\w.-]+)\s*>=\s*([\w.]+)\s*(?:,.*)?", head)
    if low is None or newest:
        return requirement
    return f"{low[1]}=={low[2]}" + (f";{marker}" if marker else "")


def requirements(newest: bool) -> list[str]:
    """What the tool needs, and what its tests need."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [*(bound(one, newest) for one in project["dependencies"]), *project["optional-dependencies"]["dev"]]


def main(which: str, python: str, words: list[str]) -> int:
    """Makes the environment and runs the tests in it; pytest's exit code."""
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([python, "-m", "venv", folder], check=True)
        inside = str(
            next(path for path in (Path(folder, "bin/python"), Path(folder, "Scripts/python.exe")) if path.exists())
        )
        install = [inside, "-m", "pip", "install", "--quiet"]
        subprocess.run([*install, *requirements(which == "newest")], check=True, cwd=ROOT)
        return subprocess.run(
            [inside, "-m", "pytest", "-q", "-n", "0", *(words or SHARE)], check=False, cwd=ROOT
        ).returncode


if __name__ == "__main__":
    if sys.argv[1:2] not in (["lowest"], ["newest"]):
        raise SystemExit(__doc__)
    given = sys.argv[2:]
    chosen = given.pop(0) if given and Path(given[0]).name.startswith("python") else sys.executable
    raise SystemExit(main(sys.argv[1], chosen, given))

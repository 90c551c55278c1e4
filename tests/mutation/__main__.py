"""Mutation testing: `python -m tests.mutation [ROOM ...] --sample 60` says how many wrong changes the tests catch.

A sample of mutants of each room (seeded, so the same each time; all with `--sample 0`) is put into a copy of this
process, one by one, by exchanging the code of the functions concerned; the room's own tests run there. Survivors are
printed. Needs a system that can copy a process.
"""

from __future__ import annotations

import argparse
import contextlib
import importlib
import io
import multiprocessing
import os
import random
import signal
import subprocess
import sys
import time
import types
from pathlib import Path

from tests.mutation.mutate import Mutant, mutants

ROOT = Path(__file__).parents[2]
LONGEST = 90
"""Seconds after which a mutant that runs on is taken for caught."""

ROOMS: dict[str, tuple[list[str], list[str]]] = {
    "geometry": (
        ["geometry/clip", "geometry/distance", "geometry/edge", "geometry/fillet", "geometry/intersect",
         "geometry/offset", "geometry/outline", "geometry/placement", "geometry/cross", "geometry/relief",
         "geometry/cutter"],
        ["tests/geometry"],
    ),
    "joinery": (
        ["joinery/groove", "joinery/lap", "joinery/mortise", "joinery/spline"],
        ["tests/joinery", "tests/table/test_dry_fit.py", "tests/table/test_worked_tables.py"],
    ),
    "spacing": (
        ["table/spacing", "table/field"],
        ["tests/table/test_spacing.py", "tests/table/test_worked_tables.py", "tests/table/test_slats.py",
         "tests/table/test_field.py"],
    ),
    "checks": (
        ["checks/walls", "checks/movement", "checks/tipping", "checks/stiffness", "checks/tools",
         "checks/shoulders"],
        ["tests/checks"],
    ),
    "verifier": (["nesting/verify"], ["tests/nesting/test_verify.py", "tests/nesting/test_verify_rounds.py"]),
}  # fmt: skip


def functions_of(module: types.ModuleType) -> dict[str, types.FunctionType]:
    """The plain functions and methods of a module, by qualified name."""
    found: dict[str, types.FunctionType] = {}
    for name, value in vars(module).items():
        if isinstance(value, types.FunctionType) and value.__module__ == module.__name__:
            found[name] = value
        elif isinstance(value, type) and value.__module__ == module.__name__:
            for inner, held in vars(value).items():
                plain = getattr(held, "fget", None) or getattr(held, "func", None) or held
                if isinstance(plain, types.FunctionType):
                    found[f"{name}.{inner}"] = plain
    for name, value in list(vars(module).items()):
        wrapped = getattr(value, "__wrapped__", None)
        if isinstance(wrapped, types.FunctionType) and wrapped.__module__ == module.__name__:
            found[name] = wrapped
    return found


def poison(module: types.ModuleType, mutant: Mutant) -> bool:
    """Puts the mutant's code into the function it changes; False where that can't be done."""
    space = dict(vars(module))
    exec(compile(mutant.tree, str(module.__file__), "exec"), space)
    changed = types.ModuleType(module.__name__)
    changed.__dict__.update(space)
    old, new = functions_of(module).get(mutant.function), functions_of(changed).get(mutant.function)
    if old is None or new is None or old.__code__.co_freevars != new.__code__.co_freevars:
        return False
    old.__code__ = new.__code__
    return True


def caught(module: types.ModuleType, mutant: Mutant, tests: list[str]) -> bool | None:
    """Whether the tests fail under the mutant, in a copy of this process; None where it can't be put in."""
    here, there = multiprocessing.Pipe(duplex=False)
    child = os.fork()
    if child == 0:
        os.setpgrp()
        with (
            open(os.devnull, "w") as nothing,
            contextlib.redirect_stdout(nothing),
            contextlib.redirect_stderr(nothing),
        ):
            there.send(answer(module, mutant, tests))
        os._exit(0)
    there.close()
    said: bool | None = True
    if here.poll(LONGEST):
        with contextlib.suppress(EOFError):
            said = here.recv()
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return said


def answer(module: types.ModuleType, mutant: Mutant, tests: list[str]) -> bool | None:
    """Runs in the copy."""
    import pytest

    try:
        if not poison(module, mutant):
            return None
        return pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", *tests]) != 0
    except BaseException:
        return True


def warm(tests: list[str]) -> float:
    """Loads every library the tests need, and no more, so that nothing kept from a true run hides a mutant; they must
    pass as they are."""
    import pytest
    from hypothesis import Phase, settings

    for name in ("shapely", "numpy", "manifold3d"):
        importlib.import_module(name)
    settings.register_profile("mutation", phases=(Phase.explicit, Phase.generate), database=None, deadline=None)
    settings.load_profile("mutation")
    quiet = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist"]
    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main(["--collect-only", *quiet, *tests])
    start = time.monotonic()
    run = subprocess.run([sys.executable, "-m", "pytest", "-x", *quiet, *tests], capture_output=True, check=False)
    if run.returncode:
        raise SystemExit(f"the tests of {tests} fail as they are")
    return time.monotonic() - start


def study(room: str, sample: int) -> tuple[int, int]:
    """Mutants tried and caught in one room."""
    names, tests = ROOMS[room]
    took = warm(tests)
    every = []
    for name in names:
        module = importlib.import_module("templategen." + name.replace("/", "."))
        every += [
            (module, mutant) for mutant in mutants((ROOT / f"templategen/{name}.py").read_text(encoding="utf-8"))
        ]
    chosen = random.Random(room).sample(every, min(sample, len(every))) if sample else every
    print(f"{room}: {len(chosen)} of {len(every)} mutants, tests take {took:.0f} s", flush=True)
    tried = killed = 0
    for module, mutant in chosen:
        said = caught(module, mutant, tests)
        if said is None:
            continue
        tried += 1
        killed += said
        if not said:
            print(f"  survives: {module.__name__}:{mutant.line} {mutant.function}: {mutant.says}", flush=True)
    print(f"{room}: {killed} of {tried} caught, {100 * killed / max(tried, 1):.0f} %", flush=True)
    return tried, killed


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("rooms", nargs="*", default=list(ROOMS))
    parser.add_argument("--sample", type=int, default=60)
    told = parser.parse_args()
    sys.exit(0 if all(study(room, told.sample) for room in told.rooms) else 1)

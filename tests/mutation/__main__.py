"""Mutation testing: `python -m tests.mutation [ROOM ...] --sample 6` tells how many wrong changes a room's tests see.

A sample of mutants of each room (seeded, so the same each time; all with `--sample 0`) is put into a copy of this
process, one by one, by exchanging the code of the functions concerned; the room's own tests run there and no others,
those that name the module first. Survivors are printed. No mutant is begun after `--seconds`. Needs a system that can
copy a process.
"""

from __future__ import annotations

import argparse
import contextlib
import functools
import gc
import importlib
import os
import random
import select
import signal
import subprocess
import sys
import time
import types
from collections import Counter
from pathlib import Path

from tests.mutation.mutate import Mutant, mutants

ROOT = Path(__file__).parents[2]
LONGEST = 900
"""Seconds after which a mutant that still runs is stopped: it hangs, and is taken for caught."""

QUIET = ["-q", "-p", "no:cacheprovider", "-n", "0"]

ROOMS: dict[str, tuple[list[str], list[str]]] = {
    "words": (["expression.py", "units.py"], ["tests/test_expression.py", "tests/test_units.py"]),
    "page": (["packet/page", "output/page"], ["tests/page", "tests/packet/test_pages.py"]),
    **{
        folder.parent.name: ([folder.parent.name], [f"tests/{folder.parent.name}"])
        for folder in sorted((ROOT / "templategen").glob("*/__init__.py"))
    },
}
"""What is changed, under `templategen/`, and the tests of the same room."""


def modules_of(room: str) -> list[Path]:
    """The room's modules, each in one room only."""
    found = []
    for name in ROOMS[room][0]:
        place = ROOT / "templategen" / name
        found += [place] if place.is_file() else sorted(place.rglob("*.py"))
    return [path for path in found if room == "page" or "page" not in path.parent.name]


def functions_of(module: types.ModuleType) -> dict[str, types.FunctionType]:
    """The plain functions and methods of a module, by qualified name."""
    found: dict[str, types.FunctionType] = {}
    for name, value in vars(module).items():
        value = getattr(value, "__wrapped__", value)
        if isinstance(value, types.FunctionType) and value.__module__ == module.__name__:
            found[name] = value
        elif isinstance(value, type) and value.__module__ == module.__name__:
            for inner, held in vars(value).items():
                plain = next((p for k in ("fget", "func", "__func__") if (p := getattr(held, k, None))), held)
                if isinstance(plain, types.FunctionType):
                    found[f"{name}.{inner}"] = plain
    return found


def poison(module: types.ModuleType, mutant: Mutant) -> bool:
    """Puts the mutant's code into the function it changes; False where that can't be done."""
    space = dict(vars(module))
    exec(compile(mutant.tree(), str(module.__file__), "exec"), space)
    changed = types.ModuleType(module.__name__)
    changed.__dict__.update(space)
    old, new = functions_of(module).get(mutant.function), functions_of(changed).get(mutant.function)
    if old is None or new is None or old.__code__.co_freevars != new.__code__.co_freevars:
        return False
    old.__code__ = new.__code__
    return True


def caught(module: types.ModuleType, mutant: Mutant, tests: list[str]) -> bool | None:
    """Whether the tests fail under the mutant, in a copy of this process; None where it can't be put in."""
    here, there = os.pipe()
    child = os.fork()
    if child == 0:
        os.setpgrp()
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 1), os.dup2(nothing, 2)
        os.write(there, {None: b"-", True: b"c", False: b"s"}[answer(module, mutant, tests)])
        os._exit(0)
    os.close(there)
    ready, _, _ = select.select([here], [], [], LONGEST)
    said = os.read(here, 1) if ready else b"c"
    os.close(here)
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return {b"-": None, b"s": False}.get(said, True)


def answer(module: types.ModuleType, mutant: Mutant, tests: list[str]) -> bool | None:
    """Runs in the copy."""
    import pytest

    try:
        if not poison(module, mutant):
            return None
        return any(pytest.main(["-x", *QUIET, *some]) != 0 for some in nearest_first(module, tests) if some)
    except BaseException:
        return True


def nearest_first(module: types.ModuleType, tests: list[str]) -> tuple[list[str], list[str]]:
    """The files of tests that name the module, and the others."""
    files = [
        file
        for test in tests
        for file in ([ROOT / test] if test.endswith(".py") else (ROOT / test).rglob("test_*.py"))
    ]
    near = [file for file in files if module.__name__ in file.read_text(encoding="utf-8")]
    return [str(file) for file in sorted(near)], [str(file) for file in sorted(set(files) - set(near))]


def warm(tests: list[str], trust: bool) -> None:
    """Loads every library the tests need, and no more, so that nothing kept from a true run hides a mutant; they must
    pass as they are, unless that is taken on trust."""
    import pytest
    from hypothesis import Phase, settings

    phases = (Phase.explicit, Phase.generate)
    settings.register_profile("mutation", phases=phases, database=None, deadline=None, derandomize=True)
    settings.load_profile("mutation")
    with open(os.devnull, "w", encoding="utf-8") as nothing, contextlib.redirect_stdout(nothing):
        pytest.main(["--collect-only", *QUIET, *tests])
    for name in [name for name in sys.modules if name.startswith("tests.") and "mutation" not in name]:
        del sys.modules[name]
    for kept in [thing for thing in gc.get_objects() if isinstance(thing, functools._lru_cache_wrapper)]:
        kept.cache_clear()
    if not trust:
        run = subprocess.run([sys.executable, "-m", "pytest", "-x", *QUIET, *tests], capture_output=True, check=False)
        if run.returncode:
            raise SystemExit(f"the tests of {tests} fail as they are")


def study(room: str, sample: int, until: float, trust: bool, seed: str) -> Counter[str]:
    """Mutants tried and caught in one room, of all and of those a hand might make."""
    tests = ROOMS[room][1]
    warm(tests, trust)
    every = []
    for path in modules_of(room):
        module = importlib.import_module(".".join(path.relative_to(ROOT).with_suffix("").parts))
        every += [(module, mutant) for mutant in mutants(path.read_text(encoding="utf-8"))]
    count: Counter[str] = Counter()
    random.Random(room + seed).shuffle(every)
    for module, mutant in every:
        if time.monotonic() > until or (sample and count["tried"] == sample):
            break
        start = time.monotonic()
        said = caught(module, mutant, tests)
        if said is None:
            continue
        count.update(
            tried=1, caught=int(said), by_hand=int(mutant.by_hand), caught_by_hand=int(said and mutant.by_hand)
        )
        word = "caught" if said else "SURVIVES"
        where = f"{module.__name__}:{mutant.line} {mutant.function}"
        print(f"  {word} after {time.monotonic() - start:.0f} s: {where}: {mutant.says}", flush=True)
    print(
        f"{room}: {count['caught']} of {count['tried']} caught, by hand {count['caught_by_hand']} of "
        f"{count['by_hand']}; {len(every)} could be tried",
        flush=True,
    )
    return count


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("rooms", nargs="*", default=list(ROOMS))
    parser.add_argument("--sample", type=int, default=6)
    parser.add_argument("--seconds", type=float, default=3600.0, help="no mutant is begun later than this")
    parser.add_argument("--seed", default="", help="any words: another sample")
    parser.add_argument("--trust", action="store_true", help="take it that the tests pass as they are")
    told = parser.parse_args()
    until = time.monotonic() + told.seconds
    whole: Counter[str] = Counter()
    for room in told.rooms:
        whole += study(room, told.sample, until, told.trust, told.seed)
    print(f"all rooms: {whole['caught']} of {whole['tried']} caught", flush=True)
    sys.exit(0 if whole["caught"] == whole["tried"] else 1)

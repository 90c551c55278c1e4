"""Studies of a whole sitting: from nothing to a packet, twenty changes and their bytes, what many changes leave."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tomllib
from pathlib import Path
from time import monotonic, sleep

import pytest

from templategen.live.guard import TRIES, Pass
from templategen.live.pictures import shown
from templategen.table.assembly import build_table
from templategen.table.profile.read import read_profile
from tests.live.browser import browsing, typed
from tests.live.conftest import ended, opened


def test_a_code_lets_in_one_device_and_not_for_ever() -> None:
    """Once used it is spent; so is one that was guessed at too often."""
    passes = Pass()
    assert not passes.opens("")
    code = passes.renew()
    assert len(code) == 6 and passes.opens(code) and not passes.opens(code)
    code = passes.renew()
    for _ in range(TRIES):
        assert not passes.opens("x")
    assert not passes.opens(code)


@pytest.mark.slow
def test_a_new_table_is_made_from_nothing_with_the_bytes_of_the_command(tmp_path: Path) -> None:
    """Twenty sizes are changed and boards added on the page; pictures and packet are those of the saved file."""
    path, rnd = tmp_path / "new.toml", random.Random(3)
    page = opened(path)
    sizes = {"top.diameter": 1290, "top.height": 728, "base.length": 840, "legs.section": 72, "slats.thickness": 23}
    with browsing(page.url) as view:
        for number in range(20):
            key = list(sizes)[number % len(sizes)]
            sizes[key] += rnd.choice([1, 2, 3])
            typed(view, key, sizes[key])
            section, _, name = key.partition(".")
            end = monotonic() + 10
            while tomllib.loads(path.read_text(encoding="utf-8"))[section][name] != sizes[key]:
                assert monotonic() < end, f"{key} isn't written"
                sleep(0.02)
            view.wait_for_timeout(150)
            told = view.request.get(f"{page.url}picture?view=above").json()["svg"]
            assert told == shown(build_table(read_profile(path, "none")), "above")["svg"]
        view.locator("[data-chapter=rack]").click()
        view.locator("#add-board").click()
        view.wait_for_selector("#rack tbody tr")
        view.locator("[data-chapter=making]").click()
        view.locator("#begin").click()
        view.wait_for_selector("#packet iframe", timeout=180_000)
    assert ended(page) == 0
    words = [sys.executable, "-m", "templategen", "make", str(path), "--shop", "none", "-o", str(tmp_path / "other")]
    subprocess.run(words, check=False, capture_output=True, timeout=300)
    made, other = tmp_path / "new-packet", tmp_path / "other"
    names = {file.relative_to(made) for file in made.rglob("*") if file.is_file()}
    assert names == {file.relative_to(other) for file in other.rglob("*") if file.is_file()}
    assert all((made / name).read_bytes() == (other / name).read_bytes() for name in names)


@pytest.mark.slow
def test_many_changes_leave_memory_level_and_nothing_behind(tmp_path: Path) -> None:
    """After fifty changes 150 more take less than a tenth more, and no process outlives the page."""
    page, rnd = opened(tmp_path / "new.toml"), random.Random(5)

    def megabytes() -> float:
        pages = Path(f"/proc/{page.process.pid}/statm").read_text().split()[1]
        return int(pages) * os.sysconf("SC_PAGE_SIZE") / 1e6

    held = []
    with browsing(page.url) as view:
        for number in range(200):
            typed(view, "top.diameter", 1200 + rnd.randrange(200))
            view.wait_for_timeout(120)
            if number in (50, 199):
                held.append(megabytes())
        threads = len(os.listdir(f"/proc/{page.process.pid}/task"))
    group = subprocess.run(["pgrep", "-P", str(page.process.pid)], capture_output=True, text=True, check=False)
    assert ended(page) == 0
    print(held, threads)
    assert held[1] < 1.1 * held[0] and threads < 50
    end = monotonic() + 3
    while left := [one for one in group.stdout.split() if Path(f"/proc/{one}").exists()]:
        assert monotonic() < end, f"left behind: {left}"
        sleep(0.05)

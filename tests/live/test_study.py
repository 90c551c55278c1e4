"""Studies of a whole sitting: from nothing to a packet, twenty changes and their bytes, what many changes leave."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from time import monotonic, sleep
from zipfile import ZipFile

import pytest

from templategen.live.guard import TRIES, Pass
from templategen.live.pictures import shown
from templategen.table.assembly import build_table
from templategen.table.profile.read import read_profile
from tests.live.browser import browsing, typed, until
from tests.live.conftest import Open, ended, opened
from tests.live.sitting import VIEWS, sitting

TWENTY = {
    "top.diameter": 1293, "top.height": 728, "top.rim_width": 131, "top.rail_width": 103, "top.thickness": 37,
    "top.edge_round": 4, "top.pole_hole": 41, "slats.width": 83, "slats.gap": 7, "slats.thickness": 23,
    "slats.chamfer": 1.5, "joints.tongue": 11, "joints.groove_depth": 14.5, "joints.spline_thickness": 9,
    "joints.spline_depth": 17, "legs.section": 72, "legs.base_centre_distance": 193, "base.length": 846,
    "base.rail_width": 91, "base.thickness": 53,
}  # fmt: skip
"""Twenty sizes, each its own."""


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


def held(path: Path, key: str, value: object) -> None:
    """Waits until the file has that value."""
    section, _, name = key.partition(".")
    end = monotonic() + 10
    while tomllib.loads(path.read_text(encoding="utf-8"))[section].get(name) != value:
        assert monotonic() < end, f"{key} isn't written"
        sleep(0.02)


def files_of(folder: Path) -> dict[str, bytes]:
    """What lies in a packet."""
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


@pytest.mark.slow
def test_a_new_table_is_made_from_nothing_with_the_bytes_of_the_command(tmp_path: Path) -> None:
    """Twenty different sizes are changed, boards and a knot added, a packet begun, stopped, made and taken away;
    pictures, findings and packet are those of the saved file."""
    path = tmp_path / "new.toml"
    page = opened(path)
    with browsing(page.url) as view:
        for number, (key, size) in enumerate(TWENTY.items()):
            typed(view, key, size)
            held(path, key, size)
            until(view, f"Number(document.getElementById('k-{key.replace('.', '-')}').defaultValue) === {size}")
            seen, part = VIEWS[number % len(VIEWS)], ("LEG", "RIM-A", "RAIL-LOW")[number % 3]
            told = view.request.get(f"{page.url}picture?view={seen}&part={part}").json()
            of_file = json.loads(json.dumps(shown(build_table(read_profile(path, "none")), seen, part)))
            assert {name: told[name] for name in of_file} == of_file, key
        view.locator("[data-chapter=rack]").click()
        view.locator("#add-board").click()
        view.wait_for_selector("#rack tbody tr")
        price = view.locator("#rack tbody input[aria-label^=price]")
        price.fill("21.5")
        price.press("Tab")
        view.locator("#rack .board [aria-label$='from the left end']").fill("817")
        until(view, "document.querySelector('#rack tbody input[aria-label^=price]').defaultValue === '21.5'")
        view.locator("#rack .board [aria-label$='from the lower edge']").fill("52")
        view.locator("#rack .board button").click()
        view.wait_for_selector(".knot")
        [board] = tomllib.loads(path.read_text(encoding="utf-8"))["stock"]
        assert board["price"] == 21.5 and board["faults"] == [[817, 52, 40]]
        until(view, "document.getElementById('going').textContent === ''", 60)
        told = view.request.get(f"{page.url}state").json()["news"]["found"]["found"]
        view.locator("[data-chapter=making]").click()
        view.locator("#begin").click()
        view.wait_for_timeout(1500)
        view.locator("#stop").click()
        until(view, "document.getElementById('begin').disabled === false")
        assert not (tmp_path / "new-packet").exists()
        view.locator("#begin").click()
        view.wait_for_selector("#packet iframe", timeout=900_000)
        with view.expect_download() as download:
            view.locator("#packet a[download]").click()
        with ZipFile(download.value.path()) as archive:
            taken = {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}
        assert view.complaints == []
    assert ended(page) == 0
    words = [sys.executable, "-m", "templategen", "make", str(path), "--shop", "none", "-o", str(tmp_path / "other")]
    subprocess.run(words, check=False, capture_output=True, timeout=300)
    assert taken == files_of(tmp_path / "new-packet") == files_of(tmp_path / "other")
    words = [sys.executable, "-m", "templategen", "check", str(path), "--shop", "none", "--json"]
    checked = subprocess.run(words, check=False, capture_output=True, text=True, timeout=300).stdout
    [table] = json.loads(checked) if checked.startswith("[") else [json.loads(checked)]
    both = [[(one["level"], one["where"]) for one in found] for found in (told, table["findings"])]
    assert both[0] == both[1]


@pytest.mark.slow
def test_a_long_sitting_leaves_memory_level_and_nothing_behind(page: Open) -> None:
    """After a hundred random changes two hundred more take less than a twentieth more: caches have limits, and a step
    back weighs half a kilobyte. No process outlives the page, and few threads live in it."""
    held = dict(sitting(page, 300, 100))
    threads = len(os.listdir(f"/proc/{page.process.pid}/task"))
    group = subprocess.run(["pgrep", "-P", str(page.process.pid)], capture_output=True, text=True, check=False)
    assert ended(page) == 0
    assert held[300] < 1.05 * held[100] and threads < 20
    end = monotonic() + 3
    while left := [one for one in group.stdout.split() if Path(f"/proc/{one}").exists()]:
        assert monotonic() < end, f"left behind: {left}"
        sleep(0.05)

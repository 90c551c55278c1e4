"""The solver's own process: it can end, hang or talk nonsense, and nothing else suffers."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path
from time import monotonic, sleep

import pytest

from templategen.geometry.outline import circle, rectangle
from templategen.nesting.engines import child, solver_process
from templategen.nesting.engines.child import Child
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import random_job, trapezoid, wrongs

HEAD = "import json, os, sys, time\nfor line in sys.stdin:\n    number = json.loads(line)['number']\n"
FAULTS = {
    "crashes": "    os.abort()\n",
    "hangs": "    time.sleep(600)\n",
    "talks nonsense": "    print('{]'); print('[1]'); print('\"x\"', flush=True)\n",
    "answers other questions": "    print(json.dumps({'number': 10**9, 'layout': [{'bin': 9}]}), flush=True)\n",
    "lays parts nowhere": "    print(json.dumps({'number': number, 'layout': "
    "[{'bin': 0, 'copies': 1, 'parts': [[0, 1e999, 0, 0, False]]}]}), flush=True)\n",
    "lays parts on one another": "    print(json.dumps({'number': number, 'layout': "
    "[{'bin': 0, 'copies': 1, 'parts': [[0, 5, 5, 0, False]] * 6}]}), flush=True)\n",
}
ITEMS = [Item("disc", circle(0, 0, 80), 6), Item("rim", trapezoid(400, 120, 60), 5)]
SHEETS = [Piece("ply", 1200, 800, None, 30.0, grain=False), Piece("board", 1000, 300, None, 9.0)]


def gone(number: int) -> bool:
    """Whether no process of that number runs."""
    try:
        os.kill(number, 0)
    except OSError:
        return True
    stat = Path(f"/proc/{number}/stat")
    return not stat.exists() or stat.read_text().rpartition(")")[2].split()[0] == "Z"


def instead(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, words: str) -> None:
    """Another script in the worker's place."""
    script = tmp_path / "worker.py"
    script.write_text(HEAD + words)
    monkeypatch.setattr(child, "WORKER", script)
    monkeypatch.setattr(solver_process, "able", lambda: True)


@pytest.mark.parametrize("fault", FAULTS)
def test_a_worker_at_fault_costs_nothing(fault: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A worker that crashes, hangs or lies leaves a whole, proved layout and no process."""
    started: list[int] = []
    begin = Child.__enter__

    def noted(self: Child) -> Child:
        begin(self)
        assert self.process is not None
        started.append(self.process.pid)
        return self

    monkeypatch.setattr(Child, "__enter__", noted)
    instead(monkeypatch, tmp_path, FAULTS[fault])
    layout = nest(ITEMS, SHEETS, 6.0, 0.6)
    assert layout.unplaced == {}
    assert wrongs(layout, ITEMS, SHEETS, 6.0) == []
    assert started
    assert all(gone(number) for number in started)


def test_the_fixed_work_starts_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without an effort by the clock no worker is even begun."""

    def refused(self: Child) -> Child:
        raise AssertionError("started")

    monkeypatch.setattr(Child, "__enter__", refused)
    assert nest(ITEMS, SHEETS, 6.0).unplaced == {}


def test_sawn_boards_start_no_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """The solver knows no saw, so it isn't asked about boards that are sawn."""

    def refused(self: Child) -> Child:
        raise AssertionError("started")

    monkeypatch.setattr(Child, "__enter__", refused)
    boards = [Piece("board", 1000, 300, None, 9.0, mode="sawn")]
    assert nest([Item("slat", rectangle(0, 0, 400, 45), 9)], boards, 3.0, 0.3).unplaced == {}


@pytest.mark.skipif(os.name != "posix", reason="ends by a signal")
@pytest.mark.parametrize("how", ["its asker is killed", "its time is up"])
def test_the_worker_never_outlives_its_asker(how: str, tmp_path: Path) -> None:
    """When the asking process is killed outright, or the worker's time is up, the worker ends by itself."""
    life = 60 if how == "its asker is killed" else -1.5
    text = (
        "import sys, time\nfrom templategen.nesting.engines.child import Child\n"
        f"child = Child({life}).__enter__()\nprint(child.process.pid, flush=True)\ntime.sleep(60)\n"
    )
    asker = subprocess.Popen([sys.executable, "-c", text], stdout=subprocess.PIPE, text=True)
    assert asker.stdout is not None
    worker = int(asker.stdout.readline())
    try:
        if how == "its asker is killed":
            assert not gone(worker)
            asker.send_signal(signal.SIGKILL)
        end = monotonic() + 8
        while not gone(worker) and monotonic() < end:
            sleep(0.05)
        assert gone(worker)
    finally:
        asker.kill()
        asker.wait()
        asker.stdout.close()


@pytest.mark.skipif(not child.able(), reason="the solver isn't installed")
@pytest.mark.parametrize("seed", range(300, 304))
def test_the_solver_joins_without_harm(seed: int) -> None:
    """With the solver at work, random routed jobs are still laid legally."""
    items, pieces, spacing = random_job(seed)
    routed = [Piece(p.name, p.length, p.width, p.count, p.price, p.defects, grain=p.grain) for p in pieces]
    assert wrongs(nest(items, routed, spacing, 1.0), items, routed, spacing) == []

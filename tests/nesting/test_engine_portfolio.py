"""All engines together: none is cut short, and the best that any of them finds is what comes out."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from time import monotonic

import pytest

from templategen.geometry.outline import rectangle
from templategen.geometry.placement import Placement
from templategen.nesting.engines import child, packing, solver_process, timed
from templategen.nesting.engines.child import Child, able
from templategen.nesting.engines.column_mix import rest_of
from templategen.nesting.engines.job import Used
from templategen.nesting.engines.packing import Packing
from templategen.nesting.engines.solver_process import SolverProcess
from templategen.nesting.engines.timed import TimedPortfolio
from templategen.nesting.engines.timed_lanes import TimedLanes
from templategen.nesting.nest import nest
from templategen.nesting.stock import Item, Laid, Layout, Piece
from tests.nesting.cases import proved

SLAT = Item("slat", rectangle(0, 0, 400, 90), 4)
BOARDS = [Piece("wide", 500, 500, None, 20.0), Piece("narrow", 500, 200, None, 9.0)]
WORDS = """import json, sys, time
start = time.monotonic()
for line in sys.stdin:
    request = json.loads(line)
    left = float(sys.argv[1]) - (time.monotonic() - start)
    with open({noted!r}, 'a') as note:
        note.write(json.dumps([request['mode'], request['seconds'], left]) + chr(10))
    wide = next(n for n, one in enumerate(request['bins']) if one['cost'] == 20)
    narrow = next(n for n, one in enumerate(request['bins']) if one['cost'] == 9)
    dear = [dict(bin=wide, copies=1, parts=[[0, 0, 100 * n, 0, False] for n in range(4)])]
    cheap = [dict(bin=narrow, copies=2, parts=[[0, 0, 100 * n, 0, False] for n in range(2)])]
    for layout in (dear, cheap, dear):
        print(json.dumps(dict(number=request['number'], layout=layout)), flush=True)
"""


def test_whatever_a_member_finds_is_taken_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """With our own engine silent, the cheapest of the solver's layouts comes out, not its last; and it was asked as
    if it were alone: better and better, for all the time there is."""

    def silent(self: TimedLanes, seconds: float) -> Iterator[Layout | None]:
        self.spent = True
        yield from ()

    noted = tmp_path / "noted"
    script = tmp_path / "worker.py"
    script.write_text(WORDS.format(noted=str(noted)))
    monkeypatch.setattr(child, "WORKER", script)
    monkeypatch.setattr(solver_process, "able", lambda: True)
    monkeypatch.setattr(TimedLanes, "turn", silent)
    layout = nest([SLAT], BOARDS, 5.0, 2.5)
    assert layout.cost == 18.0
    assert proved(layout, [SLAT], BOARDS, 5.0) == ()
    mode, seconds, left = json.loads(noted.read_text().splitlines()[0])
    assert mode == "Anytime"
    assert seconds > left - 0.5


def test_wide_rounds_come_sooner_only_where_there_is_time() -> None:
    """With little time no round of the solver is left out; with more time more are, with more parts fewer; the first
    one left in takes its share of the time or at most half as much again, each round taking twice the one before."""
    few, many = (Packing([replace(SLAT, count=count)], BOARDS, 5.0) for count in (72, 288))
    left_out = [few.skipped(seconds) for seconds in (1, 5, 10, 30, 60, 300)]
    assert left_out[:2] == [0, 0]
    assert left_out == sorted(left_out)
    assert left_out[3] > many.skipped(30)
    for seconds, rounds in zip((10, 30, 60), left_out[2:5], strict=True):
        assert packing.ROUND * 2**rounds <= packing.SKIPPED * seconds * 1.5


@pytest.mark.skipif(not able(), reason="the packing solver isn't installed")
def test_leaving_rounds_out_goes_on_as_the_solver_would() -> None:
    """Our figures for its first round and from round to round are the solver's own."""
    told = "from packingsolver.irregular import OptimizeParameters as P; p = P(); print(p.%s, p.%s, p.%s)"
    names = packing.START, packing.START_RATIO, "maximum_approximation_ratio_factor"
    shown = subprocess.run([sys.executable, "-c", told % names], capture_output=True, text=True, check=True).stdout
    assert [float(figure) for figure in shown.split()] == [1, packing.FIRST_RATIO, packing.RATIO_FACTOR]


@pytest.mark.parametrize(("cores", "busy", "idle", "asked"), [
    (2, True, 1.0, True), (2, True, 60.0, False), (2, False, 60.0, True), (8, True, 60.0, True),
])  # fmt: skip
def test_on_few_cores_chances_make_way(
    monkeypatch: pytest.MonkeyPatch, cores: int, busy: bool, idle: float, asked: bool
) -> None:
    """Where cores are few and the steady search is at work, chances are no longer tried once nothing comes of it."""
    monkeypatch.setattr(timed, "CPUS", cores)
    monkeypatch.setattr(SolverProcess, "busy", property(lambda self: busy))
    monkeypatch.setattr(solver_process, "able", lambda library="packingsolver": False)
    race = TimedPortfolio([SLAT], BOARDS, 5.0, 100.0, lambda: None, 1)
    with (
        SolverProcess([SLAT], BOARDS, 5.0, 100.0) as steady,
        SolverProcess([SLAT], BOARDS, 5.0, 100.0, "varied") as varied,
    ):
        race.steady, race.varied = [steady], [varied]
        race.changed = varied.begun = monotonic() - idle
        assert race._may_ask(varied, standing_back=True) == asked


def test_a_rest_and_what_was_taken_are_the_whole() -> None:
    """Parts taken and parts of the rest add up to what is wanted; stock with a count is used up by the taking."""
    items = [SLAT, Item("pad", rectangle(0, 0, 80, 80), 9)]
    pieces = [replace(BOARDS[0], count=3), BOARDS[1]]
    laid = Laid("slat", Placement()), Laid("pad", Placement(0, 100)), Laid("pad", Placement(90, 100))
    taken = [Used(0, laid, 0.0, 0.0), Used(1, laid[:1], 0.0, 0.0)]
    rest, stock = rest_of(taken, items, pieces)
    held = Counter(one.code for used in taken for one in used.laid)
    assert {i.code: i.count + held[i.code] for i in rest} == {"slat": 4, "pad": 9}
    assert [piece.count for piece in stock] == [2, None]


def test_a_child_without_its_script_is_no_child() -> None:
    """A worker that isn't there leaves nobody to ask."""
    with Child(1.0, Path("nowhere.py")) as worker:
        if worker.process is not None:
            worker.process.wait(5)
        assert not worker.alive
        assert not worker.ask({"number": 1})

"""Pieces taken up and filled again: nothing is lost or doubled, and what is reported holds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import pairwise, product
from random import Random
from typing import Any

import pytest

from templategen.geometry.outline import rectangle
from templategen.nesting.engines.child import Child, able
from templategen.nesting.engines.packing import Packing
from templategen.nesting.engines.refill import Refill
from templategen.nesting.stock import Item, Piece
from tests.nesting.cases import proved

SLATS = [Item("long", rectangle(0, 0, 600, 90), 6), Item("short", rectangle(0, 0, 250, 90), 8)]
BOARDS = [Piece("wide", 900, 200, 6, 18.0), Piece("narrow", 900, 95, 20, 8.0), Piece("stub", 620, 100, 6, 5.0)]
FIRST = 500


def clumsily(request: Mapping[str, Any], random: Random) -> dict[str, Any]:
    """Everything laid by chance in rows from the left, on one piece of the request after another."""
    copies = [(number, one) for number, one in enumerate(request["items"]) for _ in range(one["copies"])]
    random.shuffle(copies)
    layout = []
    for place, board in enumerate(request["bins"]):
        left, right, bottom, top = board["box"]
        x, y, parts = left, bottom, []
        for one in list(copies):
            number, shape = one
            long, wide = (max(axis) - min(axis) for axis in zip(*shape["ring"], strict=True))
            if x + long > right:
                x, y = left, y + wide + request["spacing"]
            if x + long <= right and y + wide <= top:
                parts.append([number, x, y, 0, False])
                copies.remove(one)
                x += long + request["spacing"]
        if parts:
            layout.append({"bin": place, "copies": 1, "parts": parts})
    return {"number": request["number"], "layout": layout} if not copies else {"number": request["number"]}


def refilled(seed: int, turns: int) -> tuple[Packing, list[float], Refill]:
    """What is found by so many turns with the clumsy filler, each layout proved; every cost found."""
    packing = Packing(SLATS, BOARDS, 5.0)
    random = Random(seed)
    search = Refill(packing, Random(seed), FIRST)
    best, sheets, costs = 108.0, 6, []
    for _ in range(turns):
        request = search.ask(best, sheets, 20.0, 1.0)
        if request is None:
            break
        filled = search.take(clumsily(request, random))
        if filled is None:
            continue
        layout = packing.layout(filled)
        assert not layout.unplaced
        assert proved(layout, SLATS, BOARDS, 5.0) == ()
        best, sheets = layout.cost, len(layout.sheets)
        costs.append(best)
    return packing, costs, search


def test_layouts_found_hold_and_get_cheaper() -> None:
    """Even with a filler that knows nothing, whole and ever cheaper layouts come out."""
    for seed in range(4):
        _, costs, _ = refilled(seed, 400)
        assert costs
        assert all(later < before for before, later in pairwise(costs))
        assert costs[-1] < 108.0


def test_nothing_is_lost_on_the_way() -> None:
    """In every layout gone on from, what lies on the pieces and what is left over are all the parts, each once."""
    packing, _, search = refilled(3, 60)
    wanted = Counter({item.code: item.count for item in packing.items})
    assert any(runner.attempts for runner in search.runners.values())
    for kinds, runner in search.runners.items():
        for attempt in runner.attempts:
            held = Counter(one.code for _, laid in attempt.pieces for one in laid)
            assert held + attempt.left == wanted
            assert sorted(kind for kind, _ in attempt.pieces) == sorted(kinds)
            assert attempt.missing == sum(search.area[code] * count for code, count in attempt.left.items())


def test_only_cheaper_sets_of_the_stock_there_is_are_tried() -> None:
    """Sets cost less than the best known, no less than the bound, and use no piece that isn't there."""
    packing = Packing(SLATS, BOARDS, 5.0)
    search = Refill(packing, Random(1), FIRST)
    tried = set()
    for _ in range(200):
        assert search.ask(60.0, 5, 30.0, 1.0) is not None
        tried |= set(search.runners)
    assert len(tried) > 10
    for kinds in tried:
        assert 30.0 <= sum(BOARDS[kind].price for kind in kinds) < 60.0
        assert all(count <= (BOARDS[kind].count or 0) for kind, count in Counter(kinds).items())


def test_without_a_cheaper_set_nothing_is_asked() -> None:
    """When the best meets the bound there is nothing to ask."""
    assert Refill(Packing(SLATS, BOARDS, 5.0), Random(1), FIRST).ask(30.0, 5, 30.0, 1.0) is None


def test_an_answer_to_another_question_changes_nothing() -> None:
    """An answer that was never asked for, or makes no sense, is passed over."""
    search = Refill(Packing(SLATS, BOARDS, 5.0), Random(1), FIRST)
    request = search.ask(60.0, 5, 30.0, 1.0)
    assert request is not None
    nonsense: list[dict[str, Any]] = [
        {"number": 7, "layout": []},
        {"number": request["number"]},
        {"number": request["number"], "layout": [{"bin": 99, "copies": 1, "parts": [[50, 0, 0, 0, False]]}]},
    ]
    for answer in nonsense:
        assert search.take(answer) is None
    assert all(one.missing > 0 for runner in search.runners.values() for one in runner.attempts)


@pytest.mark.skipif(not able(), reason="the packing solver isn't installed")
def test_with_the_solver_a_tight_set_is_filled() -> None:
    """The cheapest there is is found: a lane of 900 holds a long and a short one or three short ones, one of 620 a
    long one or two short ones, and all ways to fill them are tried out here."""
    packing = Packing(SLATS, BOARDS, 5.0)
    search = Refill(packing, Random(1), FIRST)
    best, sheets = 108.0, 6
    with Child(8.0) as solver:
        for _ in range(40):
            request = search.ask(best, sheets, 20.0, 4.0)
            if request is None or not solver.ask(request):
                break
            done = False
            while not done:
                for answer in solver.answers(0.2):
                    done = "done" in answer or done
                    if (filled := search.take(answer)) is not None:
                        layout = packing.layout(filled)
                        assert proved(layout, SLATS, BOARDS, 5.0) == ()
                        best, sheets = min((best, sheets), (layout.cost, len(layout.sheets)))
    assert best == _cheapest()


def _cheapest() -> float:
    """The least cost of the boards above by trying every number of lanes of each sort; a wide board has two lanes."""
    found = []
    for shared, shorts, long_stubs, short_stubs in product(range(7), range(4), range(7), range(5)):
        enough = shared + long_stubs >= 6 and shared + 3 * shorts + 2 * short_stubs >= 8
        if enough and long_stubs + short_stubs <= 6:
            lanes = shared + shorts
            boards = min(18.0 * wide + 8.0 * (lanes - 2 * wide) for wide in range(lanes // 2 + 1))
            found.append(boards + 5.0 * (long_stubs + short_stubs))
    return min(found)

"""What the strip packer answers, for `worker.py`; it imports nothing of ours.

A request holds `items` (rings, turns, copies), `box` (left, right, bottom, top), `spacing`, `seconds` and `seed`.
"""

from collections.abc import Callable
from math import cos, radians, sin
from threading import Thread
from time import monotonic
from typing import Any

import spyrrow

HOLDING = ("ExplFeas", "CmprFeas", "Final")
"""Reports of layouts that hold."""

NEWS = 0.1
"""A layout whose length differs by less from the one before isn't passed on, mm. Longer ones are: the shorter one may
turn out not to hold."""

LOOK = 0.1
"""How often the packer is asked for what it has found, seconds."""

SLACK, CHORDS = 0.002, 0.01
"""Parts are kept so much further apart than asked, mm, and by that share of the distance: the packer counts in short
numbers, and rounds corners by chords."""


def answer(request: dict[str, Any], end: float, say: Callable[[dict[str, Any]], None]) -> None:
    """Packs for the whole seconds that are left, and passes the last layout of each while on."""
    left, right, bottom, top = request["box"]
    apart = request["spacing"] * (1 + CHORDS) + SLACK
    items = [
        spyrrow.Item(str(number), [(x, y) for x, y in one["ring"]], one["copies"], [turn for turn, _ in one["turns"]])
        for number, one in enumerate(request["items"])
    ]
    # The packer keeps its distance to the strip's edges too.
    strip = spyrrow.StripPackingInstance("", top - bottom + 2 * apart - SLACK, items)
    settings = spyrrow.StripPackingConfig(
        early_termination=False, min_items_separation=apart, num_workers=1, seed=request["seed"],
        total_computation_time=max(1, int(min(request["seconds"], end - monotonic()))),
    )  # fmt: skip
    holds = [getattr(spyrrow.ReportType, name) for name in HOLDING]
    found = spyrrow.ProgressQueue()
    packer = Thread(target=strip.solve, args=(settings, found), daemon=True)
    packer.start()
    before, working = right - left + NEWS, True
    while working:
        packer.join(LOOK)
        working = packer.is_alive()
        # Reports of layouts in which parts still lie on one another come by too.
        holding = [solution for kind, solution in found.drain() if kind in holds]
        for solution in holding[-1:]:
            parts, width = _moved(request, solution, left, bottom)
            whole = len(parts) == sum(one["copies"] for one in request["items"])
            if whole and width <= right - left and abs(width - before) >= NEWS:
                before = width
                say({"number": request["number"], "layout": [{"bin": 0, "copies": 1, "parts": parts}]})


def _moved(request: dict[str, Any], solution: Any, left: float, bottom: float) -> tuple[list[Any], float]:
    """The parts of a strip, moved against the left and the lower edge, and how much of the length they take."""
    placed, low, high = [], [float("inf"), float("inf")], float("-inf")
    for one in solution.placed_items:
        turn, (x, y) = radians(one.rotation), one.translation
        for u, v in request["items"][int(one.id)]["ring"]:
            across, up = x + u * cos(turn) - v * sin(turn), y + u * sin(turn) + v * cos(turn)
            low, high = [min(low[0], across), min(low[1], up)], max(high, across)
        placed.append((int(one.id), x, y, one.rotation))
    dx, dy = left - low[0], bottom - low[1]
    return [(number, x + dx, y + dy, turn, False) for number, x, y, turn in placed], high - low[0]

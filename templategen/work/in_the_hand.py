"""What tools that are held in the hand are led by, and what ends are planed on."""

from collections.abc import Iterator

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.shop.cautions import HAND_SAW
from templategen.shop.set_ups.feed import FED
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan
from templategen.work.stock import FLATWISE_SAWN
from templategen.work.tool import Tool, by_rule, numbers_of, up

STEP = {"mm": 10.0, "in": 25.4}
"""What a guide's length is rounded up to, mm."""

SHOOTING_BOARD = "shooting board"


def in_the_hand(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """Guides of saw and router, the rip saw of what no machine saws flatwise, the shooting board, and what holds."""
    set_ups = work.set_ups
    split = [one.operation for one in work.operations if one.operation.does == FLATWISE_SAWN]
    if any(HAND_SAW in one.cautions for one in split) and not any("rip saw" in one.needs for one in set_ups):
        yield Tool(translated("rip saw"), 0, "", translated(FLATWISE_SAWN))
    if sawn := [one for one in set_ups if "circular saw" in one.needs]:
        shop, units = table.profile.shop, table.profile.units
        long, _, thick = map(max, zip(*(table.part(code).size for one in sawn for code in one.codes), strict=True))
        size = said(
            "{long} or longer; the saw cuts {deep} or deeper", long=by_rule(up(long, STEP[units]), units, 0),
            deep=by_rule(min(shop.circular_saw_depth, thick), units),
        )  # fmt: skip
        yield Tool(translated("straight guide for the circular saw"), 1, size, numbers_of(sawn))
    if led := [one for one in set_ups if one.operation in FED and one.way == "hand-held"]:
        yield Tool(translated("edge guide for the router"), 1, "", numbers_of(led))
    if shot := [one for one in set_ups if SHOOTING_BOARD in one.machine]:
        yield Tool(translated(SHOOTING_BOARD), 1, "SHOOTING-BOARD", numbers_of(shot))
        yield Tool(translated("bench vice, bench hook"), 1, "", numbers_of(shot))

"""What tools that are held in the hand are led by, and what ends are planed on."""

from collections.abc import Iterator
from math import cos, radians

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.shop.cautions import HAND_SAW
from templategen.shop.set_ups.choose import first_of
from templategen.shop.set_ups.feed import FED
from templategen.shop.trial_wood import trial_wood
from templategen.table.assembly import Table
from templategen.work.jigs import JIGS_MADE
from templategen.work.plan import WorkPlan
from templategen.work.stock import FLATWISE_SAWN, SAW_CURVES, SAWN_OUT, marks_boards
from templategen.work.tool import Tool, by_rule, numbers_of, up

STEP = {"mm": 10.0, "in": 25.4}
"""What a guide's length is rounded up to, mm."""

SOLE = {"mm": 400.0, "in": 16 * 25.4}
"""How much longer than the cut a guide is: the saw's sole lies on it from before the blade meets wood until after it
has left it (assumed), mm."""

SHOOTING_BOARD = "shooting board"


def in_the_hand(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """Guides of saw and router, the rip saw of what no machine saws flatwise, the shooting board, and what holds."""
    set_ups, shop = work.set_ups, table.profile.shop
    split = [one.operation for one in work.operations if one.operation.does == FLATWISE_SAWN]
    if any(HAND_SAW in one.cautions for one in split) and not any("rip saw" in one.needs for one in set_ups):
        yield Tool(translated("rip saw"), 0, "", translated(FLATWISE_SAWN))
    curved = first_of(shop, *SAW_CURVES) == "bow saw" and not any("bow saw" in one.needs for one in set_ups)
    if curved and any(one.operation.does == JIGS_MADE for one in work.operations):
        yield Tool(translated("bow saw"), 0, "", translated(JIGS_MADE))
    if sawn := [one for one in set_ups if "circular saw" in one.needs]:
        units = table.profile.units
        long = max(_cut_along_it(table, work)) + SOLE[units]
        thick = max(table.part(code).thickness for one in sawn for code in one.codes)
        size = said(
            "{long} or longer; the saw cuts {deep} or deeper", long=by_rule(up(long, STEP[units]), units, 0),
            deep=by_rule(min(shop.circular_saw_depth, thick), units),
        )  # fmt: skip
        yield Tool(translated("straight guide for the circular saw"), 1, size, numbers_of(sawn))
    if marks_boards(shop.machines) and "circular saw" in shop.machines and _is_sawn_up(work):
        yield Tool(translated("chalk line"), 1, "", translated("boards longer than the saw's guide"))
    if led := [one for one in set_ups if one.operation in FED and one.way == "hand-held"]:
        yield Tool(translated("edge guide for the router"), 1, "", numbers_of(led))
    if shot := [one for one in set_ups if SHOOTING_BOARD in one.machine]:
        yield Tool(translated(SHOOTING_BOARD), 1, "SHOOTING-BOARD", numbers_of(shot))
        yield Tool(translated("bench vice, bench hook"), 1, "", numbers_of(shot))


def _is_sawn_up(work: WorkPlan) -> bool:
    """Whether boards are sawn up in this shop."""
    return any(one.operation.does == SAWN_OUT for one in work.operations)


def _cut_along_it(table: Table, work: WorkPlan) -> Iterator[float]:
    """How long the cuts of the set-ups are that the guide leads, test strips' too, mm."""
    for one in (one.operation for one in work.operations):
        if one.set_up and "circular saw" in one.set_up.needs:
            is_ripped = one.set_up.operation == "rip"
            for size in (piece.before or piece.after for piece in one.pieces):
                yield size[0] if is_ripped else size[1] / cos(radians(one.set_up.value("angle")))
            yield from (strip.length for strip in trial_wood(table, work.set_ups) if is_ripped)

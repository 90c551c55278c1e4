"""Boards that a routing machine cuts up: what is done there, and what the plan then leaves out."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from templategen.checks.wording import format_size
from templategen.shop.boards import Boards
from templategen.shop.cautions import ON_THE_MACHINE, PLANING
from templategen.shop.routed import finished_of, planed_to
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Rates
from templategen.units import length_by_rule, length_words
from templategen.work.operation import Operation

DONE_THERE = (
    "face and edge", "plane", "rip", "crosscut", "mitre", "lap", "rebate", "nib", "shoulder", "mortise", "bore",
    "drain", "tenon bore", "counterbore", "drill through", "cross bore", "relief", "round corner",
)  # fmt: skip
"""Operations whose work on a finished part is its outline, its holes or on its flat faces."""


def routed_out(table: Table, boards: Boards, sizes: Collection[str], minutes: float) -> Operation:
    """What the machine does to boards that are all routed; `sizes` are those of what is sawn out otherwise."""
    finished = finished_of(table, boards)
    blanks = [told for told in sizes if told.partition(":")[0] not in finished]
    told = (*_cut(table, boards), *_held(table), _finished(finished))
    told += (f"blanks, for the set-ups: {'; '.join(blanks)}",) if blanks else ()
    return Operation(
        "rout out",
        "routing machine with three axes",
        "boards",
        f"{boards.wood}, {length_by_rule(boards.bought, table.profile.units)} thick",
        tuple(one for one in told if one),
        "its label (lists/labels.pdf) on each piece; before the second face, that the first lies under its parts",
        (PLANING, *ON_THE_MACHINE),
        minutes=minutes,
        codes=boards.codes,
    )


def _cut(table: Table, boards: Boards) -> Iterator[str]:
    """By which files, in which order, turned over how."""
    thick = length_by_rule(planed_to(table, boards), table.profile.units)
    yield f"flatten each board and plane it to {thick} first: its file reckons depths from that"
    yield (
        f"a file of stock/ for each board, named after {' and '.join(one.name for one in boards.stock)}: every cut in"
        " the order of its notes, with the bit, the depth and the passes told there"
    )
    yield (
        "where there is a -bottom file it comes first, underside up; then turn the board over about TURN_LINE, left"
        " end staying left, and lay it on its two pins"
    )


def _finished(codes: Collection[str]) -> str:
    told = "saw none of them again, go on with edges, ends and round edges"
    return f"finished: {', '.join(codes)}; {told}" if codes else ""


def _held(table: Table) -> Iterator[str]:
    """What holds the parts to the end."""
    router, units = table.profile.router, table.profile.units
    wide, high = (length_words(size, units) for size in router.tab)
    skin = length_words(router.skin, units)
    if router.held_by == "skin":
        yield f"parts are held by a skin of {skin} under their outlines; slit it with a knife, trim it flush"
        return
    if router.held_by == "vacuum":
        least = format_size(router.vacuum, "cm2", units)
        yield f"parts of {least} and more are held by suction, smaller ones as follows"
    if router.held_by == "screws":
        yield "screw the board down at the HOLDING_SCREW circles"
    yield (
        f"parts are held by tabs, {wide} wide and {high} high, in the HOLDING_TAB boxes, or where the notes say so by"
        f" a skin of {skin}; saw and pare them flush"
    )


def beside_router(one: Operation, finished: Collection[str], rates: Rates) -> Operation:
    """The operation without what a routing machine has already done to finished parts. Its settings stay, since a
    file may name work that it leaves out."""
    codes = one.set_up.codes if one.set_up else one.codes
    done = [code for code in codes if code in finished]
    if one.does not in DONE_THERE or not done:
        return one
    whose = "nothing to do here" if len(done) == len(codes) else "not"
    told = (
        f"{whose} for {', '.join(done)}: the routing machine has cut that, but for what a file of stock/ names under "
        "Left out or marks BORED_HOLE"
    )
    share = _left(one.set_up, finished) if one.set_up else 1 - len(done) / len(codes)
    minutes = rates.set_up + (one.minutes - rates.set_up) * share if share else 0.0
    set_up = one.set_up and replace(one.set_up, warnings=(told, *one.set_up.warnings))
    return replace(one, tells=(told, *one.tells), minutes=minutes, set_up=set_up)


def _left(set_up: SetUp, finished: Collection[str]) -> float:
    """The share of its cuts that is still to be made."""
    lays = [lay for cut in set_up.cuts for lay in cut.lays]
    left = sum(lay.pieces for lay in lays if lay.code not in finished)
    return left / sum(lay.pieces for lay in lays)

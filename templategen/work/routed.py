"""Boards that a routing machine cuts up: what is done there, and what the plan then leaves out."""

from collections.abc import Collection, Iterator
from dataclasses import replace

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
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


ALL_DONE = (
    "nothing to do here for {codes}: the routing machine has cut that, but for what a file of stock/ names under "
    "Left out or marks BORED_HOLE"
)
SOME_DONE = (
    "not for {codes}: the routing machine has cut that, but for what a file of stock/ names under Left out or marks "
    "BORED_HOLE"
)


def routed_out(table: Table, boards: Boards, sizes: Collection[str], minutes: float) -> Operation:
    """What the machine does to boards that are all routed; `sizes` are those of what is sawn out otherwise."""
    finished = finished_of(table, boards)
    blanks = [told for told in sizes if told.partition(":")[0] not in finished]
    told = (*_cut(table, boards), *_held(table), _finished(finished))
    told += (said("blanks, for the set-ups: {blanks}", blanks="; ".join(blanks)),) if blanks else ()
    return Operation(
        "rout out",
        "routing machine with three axes",
        "boards",
        said(
            "{wood:word}, {thick} thick", wood=boards.wood,
            thick=figured(length_by_rule(boards.bought, table.profile.units)),
        ),
        tuple(one for one in told if one),
        "its label (lists/labels.pdf) on each piece; before the second face, that the first lies under its parts",
        (PLANING, *ON_THE_MACHINE),
        minutes=minutes,
        codes=boards.codes,
    )  # fmt: skip


def _cut(table: Table, boards: Boards) -> Iterator[str]:
    """By which files, in which order, turned over how."""
    thick = figured(length_by_rule(planed_to(table, boards), table.profile.units))
    yield said("flatten each board and plane it to {thick} first: its file reckons depths from that", thick=thick)
    yield said(
        "a file of stock/ for each board, named after {boards}: every cut in the order of its notes, with the bit,"
        " the depth and the passes told there",
        boards=translated(" and ").join(one.name for one in boards.stock),
    )
    yield translated(
        "where there is a -bottom file it comes first, underside up; then turn the board over about TURN_LINE, left"
        " end staying left, and lay it on its two pins"
    )


def _finished(codes: Collection[str]) -> str:
    told = "finished: {codes}; saw none of them again, go on with edges, ends and round edges"
    return said(told, codes=", ".join(codes)) if codes else ""


def _held(table: Table) -> Iterator[str]:
    """What holds the parts to the end."""
    router, units = table.profile.router, table.profile.units
    wide, high = (figured(length_words(size, units)) for size in router.tab)
    skin = figured(length_words(router.skin, units))
    if router.held_by == "skin":
        told = "parts are held by a skin of {skin} under their outlines; slit it with a knife, trim it flush"
        yield said(told, skin=skin)
        return
    if router.held_by == "vacuum":
        least = figured(format_size(router.vacuum, "cm2", units))
        yield said("parts of {least} and more are held by suction, smaller ones as follows", least=least)
    if router.held_by == "screws":
        yield translated("screw the board down at the HOLDING_SCREW circles")
    yield said(
        "parts are held by tabs, {wide} wide and {high} high, in the HOLDING_TAB boxes, or where the notes say so by"
        " a skin of {skin}; saw and pare them flush",
        wide=wide, high=high, skin=skin,
    )  # fmt: skip


def beside_router(one: Operation, finished: Collection[str], rates: Rates) -> Operation:
    """The operation without what a routing machine has already done to finished parts. Its settings stay, since a
    file may name work that it leaves out."""
    codes = one.set_up.codes if one.set_up else one.codes
    done = [code for code in codes if code in finished]
    if one.does not in DONE_THERE or not done:
        return one
    told = said(ALL_DONE if len(done) == len(codes) else SOME_DONE, codes=", ".join(done))
    share = _left(one.set_up, finished) if one.set_up else 1 - len(done) / len(codes)
    minutes = rates.set_up + (one.minutes - rates.set_up) * share if share else 0.0
    set_up = one.set_up and replace(one.set_up, warnings=(told, *one.set_up.warnings))
    return replace(one, tells=(told, *one.tells), minutes=minutes, set_up=set_up)


def _left(set_up: SetUp, finished: Collection[str]) -> float:
    """The share of its cuts that is still to be made."""
    lays = [lay for cut in set_up.cuts for lay in cut.lays]
    left = sum(lay.pieces for lay in lays if lay.code not in finished)
    return left / sum(lay.pieces for lay in lays)

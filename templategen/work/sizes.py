"""How large every piece is before and after each operation, and how many of it there are."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import ceil

from templategen.parts.part import Part
from templategen.shop.boards import boards_of, rough_in
from templategen.shop.cautions import Holder, holder_of
from templategen.shop.rough import wider
from templategen.shop.set_ups.remarks import CARRIED
from templategen.shop.set_ups.set_up import Cut, SetUp
from templategen.shop.set_ups.set_up import Operation as Kind
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Shop
from templategen.work.operation import Operation, Worked
from templategen.work.stock import FLATWISE_SAWN, PLANED_DOWN

ENDS: tuple[Kind, ...] = ("crosscut", "mitre")
"""Cuts that make a piece shorter."""

TO_THE_OUTLINE: tuple[Kind, ...] = ("shoulder", "saw round", "trim")
"""Cuts that take a blank to its outline; a raked leg's tenon ends before its blank's corners."""


def sized(table: Table, operations: Iterable[Operation], tables: int) -> Iterator[Operation]:
    """The operations with the pieces of the table's parts that pass through each, followed from the boards on."""
    bought = {code: boards.bought for boards in boards_of(table, tables) for code in boards.codes}
    found = tuple(operations)
    left = {part.code: sum(_shortens(one, part.code) for one in found) for part in table.parts}
    now: dict[str, Worked] = {}
    for one in found:
        pieces = []
        for code in one.set_up.codes if one.set_up else one.codes:
            if code not in left:
                continue  # it was cut before the re-fit
            part, rough = table.part(code), rough_in(table.profile, table.part(code), tables)
            before = now.get(code) or Worked(
                code, rough.count, rough.pieces, None, (rough.length, rough.width, bought[code])
            )
            left[code] -= _shortens(one, code)
            now[code] = _after(table, one, part, before, left[code] == 0, tables) if code in now else before
            pieces.append(replace(now[code], held=_held(one, part, table.profile.shop)))
        yield replace(one, pieces=tuple(pieces))


def _held(one: Operation, part: Part, shop: Shop) -> Holder:
    """What holds the pieces of a part in a set-up, where the part is too short for the hand or doesn't stand."""
    if one.set_up and CARRIED in one.set_up.warnings:
        return "carriage"
    return holder_of(one.set_up, part) if one.set_up and part.size[0] < shop.holding - 1e-6 else ""


def _shortens(one: Operation, code: str) -> int:
    """How many times an operation saws an end of a part to a stop, or pieces of it off a strip."""
    if one.set_up is None or one.set_up.operation not in ENDS:
        return 0
    return sum(len(_sawn_to(cut)) for cut in one.set_up.cuts for lay in cut.lays if lay.code == code)


def _after(table: Table, one: Operation, part: Part, before: Worked, is_last: bool, tables: int) -> Worked:
    """What a piece is after an operation, from what it was."""
    length, width, thick = before.after
    count, holds = before.count, before.holds
    shop = table.profile.shop
    kind = one.set_up.operation if one.set_up else one.does
    if kind == "face and edge":
        width = part.blank.bounds.height + wider(shop, part.size[0]) / 2
    elif kind in (FLATWISE_SAWN, PLANED_DOWN):
        layers = rough_in(table.profile, part, tables).layers
        thick, holds = part.thickness + shop.resaw_face, holds // layers
        count = min(count * layers, ceil(part.count * tables / holds))
    elif kind == "plane":
        thick = part.thickness
    elif kind == "rip":
        width = part.blank.bounds.height
    elif one.set_up and _shortens(one, part.code):
        length = part.blank.bounds.width if is_last else min((length, *_stops(one.set_up, part.code)))
        count, holds = part.count * tables, 1
    elif kind in TO_THE_OUTLINE:
        length, width = part.outline.bounds.width, part.outline.bounds.height
    return Worked(part.code, count, holds, before.after, (length, width, thick))


def _sawn_to(cut: Cut) -> tuple[float, ...]:
    """The stop to which a cut saws, or how far apart it saws pieces off a strip; none where it only cuts clean."""
    return tuple(one.figure.value for one in cut.settings if one.name in ("stop", "apart", "beyond"))


def _stops(set_up: SetUp, code: str) -> Iterator[float]:
    """The lengths to which a part is sawn in a set-up; a stop beyond the piece only takes a corner off, as does what
    is told along the edge of that corner."""
    for cut in set_up.cuts:
        if code in cut.codes and not any(one.name == "beyond" for one in cut.settings):
            yield from _sawn_to(cut)

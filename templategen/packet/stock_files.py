"""The share of stock: a drawing of each piece with what is laid on it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from templategen.packet.file_name import file_names
from templategen.packet.jigs import JigPlan
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.part_files import in_two_formats
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

if TYPE_CHECKING:
    from templategen.drawing.machining import Routed


def routed_parts(table: Table, jigs: JigPlan) -> Routed:
    """What the sheets for a routing machine must know of the parts and the jigs' pieces."""
    from templategen.drawing.machining import Routed
    from templategen.jigs.seats import seats

    parts = {part.code: part for part in (*table.parts, *jigs.pieces)}
    return Routed(parts, table.profile.shop.router_bit, seats(jigs.jigs))


def stock_files(table: Table, laid: LaidStock | None, routed: Routed) -> dict[str, bytes]:
    """A drawing of each piece of stock, in two formats, by path."""
    from templategen.drawing.stock_sheet import stock_drawing

    profile = table.profile
    files: dict[str, bytes] = {}
    for path, one in named_sheets(profile, laid):
        items = {item.code: item for item in one.supply.items}
        title, units = profile.title, profile.units
        draw = partial(stock_drawing, one.sheet, items, title, units, one.cuts, one.offcuts, routed)
        files.update(in_two_formats(path, draw, profile))
    return files


def named_sheets(profile: Profile, laid: LaidStock | None) -> Iterator[tuple[str, LaidSheet]]:
    """Each laid sheet with the path of its drawing, its ending left off."""
    names = file_names(stock.name for stock in profile.stock)
    for one in laid.sheets if laid else ():
        yield f"stock/{names[one.sheet.piece.name]}-{one.sheet.number}", one

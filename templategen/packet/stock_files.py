"""The share of stock: a drawing of each piece with what is laid on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from templategen.packet.file_name import file_names
from templategen.packet.jigs import pieces_of, planned
from templategen.packet.lay_out import LaidStock
from templategen.table.assembly import Table

if TYPE_CHECKING:
    from templategen.drawing.machining import Routed


def routed_parts(table: Table) -> Routed:
    """What the sheets for a routing machine must know of the parts and the jigs' pieces."""
    from templategen.drawing.machining import Routed
    from templategen.jigs.seats import seats

    jigs, _ = planned(table)
    parts = {part.code: part for part in (*table.parts, *pieces_of(jigs))}
    return Routed(parts, table.profile.shop.router_bit, seats(jigs))


def stock_files(
    table: Table, laid: LaidStock | None, known: Callable[[Table], Routed] = routed_parts
) -> Iterator[tuple[str, bytes]]:
    """A drawing of each piece of stock, in two formats; `known` tells what sheets for a routing machine must know."""
    from templategen.drawing.stock_sheet import stock_drawing
    from templategen.output.dxf import dxf_bytes
    from templategen.output.svg import svg_text

    assert laid is not None
    profile = table.profile
    names = file_names(stock.name for stock in profile.stock)
    routed = known(table) if any(one.sheet.piece.mode == "routed" for one in laid.sheets) else None
    for one in laid.sheets:
        sheet, items = one.sheet, {item.code: item for item in one.supply.items}
        drawing = stock_drawing(sheet, items, profile.title, profile.units, one.cuts, one.offcuts, routed)
        stem = f"stock/{names[sheet.piece.name]}-{sheet.number}"
        yield f"{stem}.dxf", dxf_bytes(drawing, profile.dxf.version, profile.dxf.units)
        yield f"{stem}.svg", svg_text(drawing).encode()

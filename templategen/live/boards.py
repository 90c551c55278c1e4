"""The boards as they are laid out, each as a picture; the rack as plain values."""

from collections.abc import Iterator
from typing import Any

from templategen.drawing.stock_picture import stock_picture
from templategen.nesting.offcuts import used_share
from templategen.output.svg_inline import inline_svg
from templategen.packet.lay_out import LaidStock
from templategen.table.assembly import Table


def layouts(table: Table, laid: LaidStock) -> Iterator[dict[str, Any]]:
    """Each piece of stock: its name and number, how much of it becomes blanks, its picture and what letters mean."""
    for number, one in enumerate(laid.sheets):
        items = {item.code: item for item in one.supply.items}
        shown = stock_picture(one.sheet, items, table.profile.units, one.cuts, one.offcuts)
        yield {
            "stock": one.sheet.piece.name, "number": one.sheet.number, "key": dict(shown.key),
            "used": round(used_share(one.sheet, one.supply.items), 3),
            "svg": inline_svg(shown.drawing, f"board-{number}"),
        }  # fmt: skip

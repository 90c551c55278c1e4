"""The stock: how each piece is laid out and cut up."""

from __future__ import annotations

from itertools import groupby

from templategen.drawing.cautions import ROUTING, SAWING
from templategen.drawing.stock_picture import stock_picture
from templategen.nesting.offcuts import used_share
from templategen.nesting.stock import Cut
from templategen.output.page.content import Section, Sheet
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.packet.stock_files import named_sheets
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import angle_words

MM2_PER_M2 = 1e6


def stock(table: Table, laid: LaidStock | None) -> Section | None:
    """A sheet for each piece, None where nothing was laid out here."""
    if laid is None or laid.elsewhere or not laid.sheets:
        return None
    units = table.profile.units
    pieces = tuple(_piece(path, one, units) for path, one in named_sheets(table.profile, laid))
    return Section("stock", "Stock, piece by piece", pieces, pairs=True)


def _piece(path: str, one: LaidSheet, units: Units) -> Sheet:
    piece = one.sheet.piece
    items = {item.code: item for item in one.supply.items}
    name = f"{piece.name} {one.sheet.number}"
    shown = or_lost(
        f"page, picture of {name}", lambda: stock_picture(one.sheet, items, units, one.cuts, one.offcuts), None
    )
    across = f"{size(piece.length, units)} x {size(piece.width, units)}"
    order = ": blue numbers are the order of the cuts" if one.cuts else ""
    words = [f"{used_share(one.sheet, one.supply.items):.0%} of it becomes blanks; what is shown are rough sizes."]
    words += [strips for strips in (_strips(one),) if strips]
    key = shown.key if shown else {}
    words += ["Letters: " + "; ".join(f"{letter} {code}" for letter, code in key.items()) + "."] if key else []
    caption = f"{name}, {across}{order}"
    told = (picture(shown.drawing, f"stock-{name}", caption, large=True),) if shown else ()
    return Sheet(
        name, name, tuple(words), pictures=told,
        short=_cuts(one.cuts, units), cautions=SAWING if piece.mode == "sawn" else ROUTING,
        links=links(f"{path}.dxf", f"{path}.svg"),
    )  # fmt: skip


def _strips(one: LaidSheet) -> str:
    """Which of what lies on it are strips."""
    codes = {laid.code for laid in one.sheet.laid}
    strips = [
        f"{item.pieces} {item.code}" for item in one.supply.items if item.code in codes and item.pieces > item.layers
    ]
    deep = [f"{item.code} into {item.layers}" for item in one.supply.items if item.code in codes and item.layers > 1]
    told = (
        [f"In strips, planed and ripped whole, the pieces cut off last: {', '.join(strips)} on each."]
        if strips
        else []
    )
    told += [f"Sawn flatwise once it is sawn out: {', '.join(deep)}."] if deep else []
    return " ".join(told)


def _cuts(cuts: tuple[Cut, ...], units: Units) -> tuple[str, ...]:
    """The cuts in order; those alike that follow each other together."""
    told = []
    for (kind, angle, length), alike in groupby(cuts, lambda cut: (cut.kind, _angle(cut), _length(cut, units))):
        numbers = [cut.number for cut in alike]
        first, last = numbers[0], numbers[-1]
        count = f"cut {first}" if first == last else f"cuts {first} to {last}"
        told.append(f"{count}: {kind}{angle}, {length}")
    return tuple(told)


def _angle(cut: Cut) -> str:
    """Off square as the saw reads it, with the gauge's reading, for cuts neither along the board nor square to it."""
    if cut.kind != "mitre":
        return ""
    gauge = abs(cut.angle)
    return f" {angle_words(90 - gauge)} off square (gauge {angle_words(gauge)})"


def _length(cut: Cut, units: Units) -> str:
    return size(cut.start.distance(cut.end), units)

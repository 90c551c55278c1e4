"""The stock: what to buy, how each piece is laid out and cut up."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from math import fsum

from templategen.drawing.cautions import ROUTING, SAWING
from templategen.drawing.stock_picture import stock_picture
from templategen.jigs.jig import KINDS
from templategen.nesting.offcuts import used_share
from templategen.nesting.stock import Cut
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import blank, size
from templategen.packet.stock_files import named_sheets
from templategen.shop.hardware import Wanted
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import angle_words

MM2_PER_M2 = 1e6

JOINT = "The stock of this table is laid out and bought together with that of the others: see the page of all tables."


def stock(table: Table, laid: LaidStock | None, hardware: tuple[Wanted, ...]) -> Section | None:
    """The sheets, None where nothing was laid out."""
    if laid is None:
        return None
    if laid.elsewhere:
        one = Sheet("joint", "With the other tables", (JOINT,), links=(("../index.html", "the page of all tables"),))
        return Section("stock", "Stock", (one,))
    units = table.profile.units
    pieces = (_piece(path, one, units) for path, one in named_sheets(table.profile, laid))
    return Section("stock", "Stock", (_bought(table, laid, hardware), *pieces), pairs=True)


def _bought(table: Table, laid: LaidStock, hardware: tuple[Wanted, ...]) -> Sheet:
    grids = (*_taken(laid), *_short(laid, table.profile.units), *_boards(table, laid), *_hardware(hardware))
    least = laid.least.pieces
    words = [f"No layout can do with less than {least} pieces."] if laid.sheets and least else []
    words += [f"No place for {count} of {code}." for code, count in sorted(laid.unplaced.items())]
    paths = links("lists/buy-list.csv", "lists/boards.csv", "lists/hardware.csv", "lists/offcuts.toml")
    return Sheet("buy", "To take or to buy", tuple(words), grids=grids, links=paths)


def _taken(laid: LaidStock) -> Iterator[Grid]:
    """What the layouts use of the stock."""
    pieces = {one.sheet.piece.name: one.sheet.piece for one in laid.sheets}
    rows = tuple(
        (name, str(count), f"{price:.2f}" if price else "", f"{price * count:.2f}" if price else "")
        for name, count in laid.used.items()
        for price in (pieces[name].price,)
    )
    if rows:
        yield Grid(("stock", "pieces", "each", "together"), rows, "of the stock", figures=(1, 2, 3), ticks=True)


def _short(laid: LaidStock, units: Units) -> Iterator[Grid]:
    """Parts that no stock serves."""
    jigs = [part for part in laid.unserved if part.kind in KINDS]
    rows = [
        (part.code, part.name, str(part.count * laid.tables), part.wood, *(blank(one, units) for one in part.size))
        for part in laid.unserved
        if part.kind not in KINDS
    ]
    for wood, thickness in dict.fromkeys((part.wood, part.thickness) for part in jigs):
        alike = [part for part in jigs if (part.wood, part.thickness) == (wood, thickness)]
        area = fsum(part.count * part.size[0] * part.size[1] for part in alike) / MM2_PER_M2
        count = str(sum(part.count for part in alike))
        rows.append(("", f"pieces of jigs, {area:.2f} m2 in all", count, wood, "", "", blank(thickness, units)))
    if rows:
        head = ("code", "part", "number", "wood", "length", "width", "thickness")
        yield Grid(head, tuple(rows), "what no stock serves, to be bought", (2, 4, 5, 6))


def _boards(table: Table, laid: LaidStock) -> Iterator[Grid]:
    """What to ask a yard for, wood by wood."""
    from templategen.shop.boards import boards_of

    units, inches = table.profile.units, table.profile.units == "in"
    rows = []
    for one in boards_of(table, laid.tables):
        rough = one.quarters if inches else size(one.rough, units) if one.rough else ""
        amount = f"{one.board_feet:.1f} board feet" if inches else f"{one.volume:.3f} m3"
        rows.append((one.wood, size(one.bought, units), rough, ", ".join(one.codes), str(one.pieces), amount))
    head = ("wood", "planed from", "sawn", "parts", "pieces", "to ask for")
    waste = table.profile.shop.waste
    yield Grid(head, tuple(rows), f"where boards are bought by volume, {waste:g} % waste included", (4, 5))


def _hardware(wanted: tuple[Wanted, ...]) -> Iterator[Grid]:
    from templategen.shop.hardware import hardware_list

    head, rows = hardware_list(wanted)
    if rows:
        cells = tuple(tuple(str(cell) for cell in row) for row in rows)
        yield Grid(tuple(head), cells, "besides the wood", (1,), ticks=True)


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
    """Off the board's length, for cuts that are neither along nor square to it."""
    return "" if cut.kind != "mitre" else f" at {angle_words(cut.angle)}"


def _length(cut: Cut, units: Units) -> str:
    return size(cut.start.distance(cut.end), units)

"""The stock: how each piece is laid out and cut up."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.cautions import ROUTING, sawing
from templategen.drawing.cut_words import cut_words, from_there
from templategen.drawing.stock_picture import stock_picture
from templategen.nesting.offcuts import used_share
from templategen.output.page.content import Section, Sheet
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.packet.stock_files import named_sheets
from templategen.shop.set_ups.choose import NOTHING, first_of
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Shop
from templategen.units import in_one_unit
from templategen.work.stock import SAW_CURVES, marks_boards


def stock(table: Table, laid: LaidStock | None) -> Section | None:
    """A sheet for each piece, None where nothing was laid out here."""
    if laid is None or laid.elsewhere or not laid.sheets:
        return None
    units = table.profile.units
    first, *more = (_piece(path, one, table.profile.shop, units) for path, one in named_sheets(table.profile, laid))
    if any(one.cuts for one in laid.sheets):
        first = replace(first, words=(from_there(table.profile.shop.machines), *first.words))
    told = tuple(_told_once((first, *more), _routed(table.profile.shop), sawn_instead(table.profile.shop), units))
    return Section("stock", "Stock, piece by piece", told, pairs=True)


SAWN_INSTEAD = (
    "Without a routing machine: draw the pieces on, apart by a kerf and more. First saw the sheet into parts that the"
    " {last:word} takes, {first:word} along a guide, between the pieces; then each piece a little outside its line,"
    " the large ones first, a small one while it hangs on a larger; what is cut out inside from a bored hole. Then to"
    " the line."
)
"""In what order a sheet is sawn up that is laid out for a router's bit."""


def sawn_instead(shop: Shop) -> str:
    """How a sheet laid out for a router is sawn, "" where the shop has nothing that saws a curve."""
    last = first_of(shop, *SAW_CURVES)
    first = first_of(shop, "circular saw", "table saw", "rip saw", "bandsaw", "bow saw")
    return "" if last == NOTHING else said(SAWN_INSTEAD, first=first, last=last)


def _routed(shop: Shop) -> tuple[str, ...]:
    """What is minded with a sheet that is routed, or sawn instead."""
    return tuple(dict.fromkeys((*ROUTING, *sawing(shop.machines, shop.hand_tools))))


def _told_once(sheets: Iterable[Sheet], minded: tuple[str, ...], instead: str, units: Units) -> Iterator[Sheet]:
    """Sheets for the router follow each other: what all of them have to beware of, and how they are sawn `instead`,
    stands on the first."""
    lines, told = _told(minded, units), False
    for one in sheets:
        is_routed = one.cautions == lines
        if is_routed and instead and not told:
            one = replace(one, words=(*one.words, instead))
        yield replace(one, cautions=()) if told and is_routed else one
        told = told or is_routed


def _told(lines: Iterable[str], units: Units) -> tuple[str, ...]:
    return tuple(in_one_unit(translated(line), units) for line in lines)


def _piece(path: str, one: LaidSheet, shop: Shop, units: Units) -> Sheet:
    piece = one.sheet.piece
    items = {item.code: item for item in one.supply.items}
    name = f"{piece.name} {one.sheet.number}"
    shown = or_lost(
        f"page, picture of {name}", lambda: stock_picture(one.sheet, items, units, one.cuts, one.offcuts), None
    )
    across = f"{size(piece.length, units)} x {size(piece.width, units)}"
    order = translated(": blue numbers are the order of the cuts") if one.cuts else ""
    share = used_share(one.sheet, one.supply.items)
    words = [said("{share:.0f} % of it becomes blanks; what is shown are rough sizes.", share=100 * share)]
    words += [strips for strips in (_strips(one),) if strips]
    key = shown.key if shown else {}
    letters = "; ".join(f"{letter} {code}" for letter, code in key.items())
    words += [said("Letters: {letters}.", letters=letters)] if key else []
    caption = f"{name}, {across}{order}"
    told = (picture(shown.drawing, f"stock-{name}", caption, large=True),) if shown else ()
    lines = sawing(shop.machines, shop.hand_tools) if piece.mode == "sawn" else _routed(shop)
    cautions = _told(lines, units)
    return Sheet(
        name, name, tuple(words), pictures=told,
        short=cut_words(one.cuts, one.settings, units, marks_boards(shop.machines)), cautions=cautions,
        links=links(f"{path}.dxf", f"{path}.svg"),
        holds=tuple(dict.fromkeys(f"cut:{part.code}" for part in one.sheet.laid)),
    )  # fmt: skip


def _strips(one: LaidSheet) -> str:
    """Which of what lies on it are strips."""
    codes = {laid.code for laid in one.sheet.laid}
    strips = [
        f"{item.pieces} {item.code}" for item in one.supply.items if item.code in codes and item.pieces > item.layers
    ]
    deep = [
        said("{code} into {layers}", code=item.code, layers=item.layers)
        for item in one.supply.items
        if item.code in codes and item.layers > 1
    ]
    told = (
        [
            said(
                "In strips, planed and ripped whole, the pieces cut off last: {strips} on each.",
                strips=", ".join(strips),
            )
        ]
        if strips
        else []
    )
    told += [said("Sawn flatwise once it is sawn out: {deep}.", deep=", ".join(deep))] if deep else []
    return " ".join(told)

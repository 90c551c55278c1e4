"""The stock: how each piece is laid out and cut up."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.drawing.cautions import ROUTING, sawing
from templategen.drawing.cut_words import FROM_THERE, cut_words
from templategen.drawing.stock_picture import stock_picture
from templategen.nesting.offcuts import used_share
from templategen.output.page.content import Section, Sheet
from templategen.packet.lay_out import LaidSheet, LaidStock
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.packet.page.sizes import size
from templategen.packet.stock_files import named_sheets
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Shop
from templategen.units import in_one_unit


def stock(table: Table, laid: LaidStock | None) -> Section | None:
    """A sheet for each piece, None where nothing was laid out here."""
    if laid is None or laid.elsewhere or not laid.sheets:
        return None
    units = table.profile.units
    first, *more = (_piece(path, one, table.profile.shop, units) for path, one in named_sheets(table.profile, laid))
    if any(one.cuts for one in laid.sheets):
        first = replace(first, words=(FROM_THERE, *first.words))
    return Section(
        "stock", "Stock, piece by piece", tuple(_told_once((first, *more), _told(ROUTING, units))), pairs=True
    )


def _told_once(sheets: Iterable[Sheet], lines: tuple[str, ...]) -> Iterator[Sheet]:
    """Sheets for the router follow each other: what all of them have to beware of stands on the first."""
    told = False
    for one in sheets:
        yield replace(one, cautions=()) if told and one.cautions == lines else one
        told = told or one.cautions == lines


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
    lines = sawing(shop.machines, shop.hand_tools) if piece.mode == "sawn" else ROUTING
    cautions = _told(lines, units)
    return Sheet(
        name, name, tuple(words), pictures=told,
        short=cut_words(one.cuts, one.settings, units), cautions=cautions,
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

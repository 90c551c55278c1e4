"""The stock: what to buy, how each piece is laid out and cut up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from templategen.drawing.cautions import ROUTING, SAWING
from templategen.drawing.stock_sheet import stock_drawing
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.lay_out import LaidSheet
from templategen.packet.page.made import Made
from templategen.packet.page.picture import picture


def stock(made: Made) -> Section | None:
    """The sheets, None where nothing was laid out."""
    if made.laid is None or not made.laid.sheets:
        return None
    return Section("stock", "Stock", (_bought(made), *(_piece(made, one) for one in made.laid.sheets)))


def _bought(made: Made) -> Sheet:
    laid = made.laid
    assert laid is not None
    used = Counter((one.sheet.piece.name, one.sheet.piece.price) for one in laid.sheets)
    rows = tuple(
        (name, str(count), f"{price:.2f}" if price else "", f"{price * count:.2f}" if price else "")
        for (name, price), count in used.items()
    )
    bound = made.record["stock_bound"]
    words = [f"No layout can do with less than {bound['pieces']} pieces or cost less than {bound['cost']:g}."]
    words += [f"No place for {count} of {code}." for code, count in sorted(laid.unplaced.items())]
    grid = Grid(("stock", "pieces", "each", "together"), rows, figures=(1, 2, 3))
    links = made.links("lists/buy-list.csv", "lists/boards.csv", "lists/hardware.csv", "lists/offcuts.toml")
    return Sheet("buy", "To take or to buy", tuple(words), grids=(grid, *_hardware(made)), links=links, alone=True)


def _hardware(made: Made) -> Iterator[Grid]:
    from templategen.shop.gluing.plan import gluing_plan
    from templategen.shop.hardware import hardware, hardware_list

    tables = made.laid.tables if made.laid else 1
    head, rows = hardware_list(hardware(made.table, gluing_plan(made.table, made.plan), tables))
    if rows:
        cells = tuple(tuple(str(cell) for cell in row) for row in rows)
        yield Grid(tuple(head), cells, "besides the wood", (1,))


def _piece(made: Made, one: LaidSheet) -> Sheet:
    piece = one.sheet.piece
    items = {item.code: item for item in one.supply.items}
    drawing = stock_drawing(one.sheet, items, "", made.units, one.cuts, one.offcuts)
    name = f"{piece.name} {one.sheet.number}"
    caption = f"{name}, {made.size(piece.length)} x {made.size(piece.width)}: blue numbers are the order of the cuts"
    cuts = tuple(
        (str(cut.number), cut.kind, f"{cut.angle:.2f} deg", made.size(cut.start.distance(cut.end)))
        for cut in one.cuts
    )
    grids = (Grid(("cut", "kind", "angle", "length"), cuts, figures=(2, 3), ticks=True),) if cuts else ()
    record = next(
        entry for entry in made.record["stock"] if entry["name"] == piece.name and entry["piece"] == one.sheet.number
    )
    return Sheet(
        name, name, pictures=(picture(drawing, f"stock-{name}", caption, large=True),), grids=grids,
        cautions=SAWING if piece.mode == "sawn" else ROUTING, links=made.links(*record["files"]), alone=True,
    )  # fmt: skip

"""What comes first: what to take or to buy, and every blank with its rough and its finished sizes."""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import fsum

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.english import tag
from templategen.jigs.jig import KINDS
from templategen.output.page.content import Grid, Section, Sheet
from templategen.packet.lay_out import LaidStock
from templategen.packet.offcut_list import BOUGHT
from templategen.packet.page.links import links
from templategen.packet.page.sizes import blank, size
from templategen.packet.scrap_sawn import scrap_sawn
from templategen.packet.trial_offcuts import StripsSawn, strips_sawn
from templategen.parts.part import Part
from templategen.shop.hardware import Wanted
from templategen.shop.rough import rough_of, rough_size
from templategen.shop.trial_wood import TrialWood, trial_wood
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Stock
from templategen.work.plan import WorkPlan

MM2_PER_M2 = 1e6

JOINT = "The stock of this table is laid out and bought together with that of the others: see the page of all tables."


def buying(
    table: Table, laid: LaidStock | None, hardware: tuple[Wanted, ...], strips: Sequence[TrialWood]
) -> Sheet | None:
    """What is taken of the stock and what is bought, None where nothing was laid out."""
    if laid is None:
        return None
    if laid.elsewhere:
        return Sheet("joint", "With the other tables", (JOINT,), links=(("../index.html", "the page of all tables"),))
    return _bought(table, laid, hardware, strips)


def first(table: Table, tables: int, laid: LaidStock | None, hardware: tuple[Wanted, ...], work: WorkPlan) -> Section:
    """What to buy, the cut list, then what is worked with."""
    bought = buying(table, laid, hardware, trial_wood(table, work.set_ups))
    sheets = (*((bought,) if bought else ()), cut_list(table, tables), at_hand(table, laid, work))
    return Section("first", "Buy and rough out", sheets, language=tag(of_catalogue=True))


def at_hand(table: Table, laid: LaidStock | None, work: WorkPlan) -> Sheet:
    """What is worked with besides the machines, to be ticked as it is laid ready; of scrap, which rest gives it."""
    from templategen.work.tools import tools_of

    tools = tools_of(table, work)
    sources: Sequence[Sequence[str]] = [()] * len(tools)
    if laid is not None and not laid.elsewhere:
        shop, stock = table.profile.shop, table.profile.stock
        sawn = strips_sawn(shop, stock, laid, trial_wood(table, work.set_ups))
        sources = scrap_sawn(shop, stock, sawn.left, tools)
    told = tuple(
        said("[{count} ]{item}[, {size}][, out of {source}][: {use}]", count=one.count or None, item=one.item,
             size=one.size or None, source=_source(source), use=one.use or None)
        for one, source in zip(tools, sources, strict=True)
    )  # fmt: skip
    return Sheet("tools", "To have at hand", short=told, links=links("lists/tools.csv"))


def _source(names: Sequence[str]) -> str | None:
    return ", ".join(_counted([name or translated("scrap to be found") for name in names])) or None


def _bought(table: Table, laid: LaidStock, hardware: tuple[Wanted, ...], strips: Sequence[TrialWood]) -> Sheet:
    units = table.profile.units
    sawn = strips_sawn(table.profile.shop, table.profile.stock, laid, strips)
    grids = (
        *_taken(table, laid, sawn), *_short(laid, units), *_boards(table, laid), *_strips(strips, sawn, units),
        *_hardware(hardware),
    )  # fmt: skip
    least = laid.least.pieces
    words = [said("No layout can do with less than {least:# piece}.", least=least)] if laid.sheets and least else []
    words += [
        said("No place for {count} of {code}.", count=count, code=code)
        for code, count in sorted(laid.unplaced.items())
    ]
    words += _rest(sawn, units)
    lists = ("buy-list.csv", "boards.csv", "hardware.csv", "test-wood.csv", "offcuts.toml")
    paths = links(*(f"lists/{name}" for name in lists))
    return Sheet("buy", "To take or to buy", tuple(words), grids=grids, links=paths)


def _rest(sawn: StripsSawn, units: Units) -> Iterator[str]:
    """What stays of the boards bought for test strips, the largest first."""
    left = sorted(
        (one for one in sawn.left if one.number == BOUGHT), key=lambda one: -one.piece.length * one.piece.width
    )
    if left:
        told = ", ".join(
            f"{one.stock} ({_sizes((one.thickness, one.piece.width, one.piece.length), units)})" for one in left
        )
        yield said("What is bought for test strips leaves {left}: scrap comes out of it too.", left=told)


def _taken(table: Table, laid: LaidStock, sawn: StripsSawn) -> Iterator[Grid]:
    """What the layouts use of the stock, and how much more test strips take, each with its size as it is bought; then
    the strips that neither holds."""
    more = sawn.boards
    stock, units = {one.name: one for one in table.profile.stock}, table.profile.units
    rows = []
    price_of = {at.sheet.piece.name: at.sheet.piece.price for at in laid.sheets}
    for name in dict.fromkeys((*laid.used, *more)):
        one, count, tried = stock.get(name), laid.used.get(name, 0), more.get(name, 0)
        price = price_of[name] if name in price_of else stock[name].price
        prices = (f"{price:.2f}", f"{price * (count + tried):.2f}") if price else ("", "")
        told = f"{count} + {tried}" if tried else str(count)
        rows.append((name, *(_bought_as(one, units) if one else ("", "")), told, *prices))
    for strip in sawn.unserved:
        sizes = _sizes((strip.thickness, strip.width, strip.length), units)
        rows.append((strip.code, translated(strip.wood), sizes, f"0 + {strip.count}", "", translated("not counted")))
    if rows:
        head = ("stock", "wood", "size", "pieces", "each", "together")
        caption = "of the stock; after + for test strips" if more or sawn.unserved else "of the stock"
        yield Grid(head, tuple(rows), caption, figures=(3, 4, 5), ticks=True)


def _bought_as(stock: Stock, units: Units) -> tuple[str, str]:
    """Wood, thickness, width and length."""
    return translated(stock.wood), _sizes((stock.thickness, stock.width, stock.length), units)


def _sizes(sizes: Sequence[float], units: Units) -> str:
    return " x ".join(size(one, units).removesuffix(f" {units}") for one in sizes) + f" {units}"


def _short(laid: LaidStock, units: Units) -> Iterator[Grid]:
    """Parts that no stock serves."""
    jigs = [part for part in laid.unserved if part.kind in KINDS]
    rows = [
        (
            part.code,
            part.name,
            str(part.count * laid.tables),
            translated(part.wood),
            *(blank(one, units) for one in part.size),
        )
        for part in laid.unserved
        if part.kind not in KINDS
    ]
    for wood, thickness in dict.fromkeys((part.wood, part.thickness) for part in jigs):
        alike = [part for part in jigs if (part.wood, part.thickness) == (wood, thickness)]
        area = fsum(part.count * part.size[0] * part.size[1] for part in alike) / MM2_PER_M2
        count = str(sum(part.count for part in alike))
        rows.append(
            (
                "",
                said("pieces of jigs, {area:m2} in all", units, area=area),
                count,
                translated(wood),
                "",
                "",
                blank(thickness, units),
            )
        )
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
        feet = said("{feet:.1f} board feet ({net:.1f} net)", feet=one.board_feet, net=one.net_board_feet)
        amount = feet if inches else figured(f"{one.volume:.3f} m\N{SUPERSCRIPT THREE}")
        rows.append(
            (translated(one.wood), size(one.bought, units), rough, ", ".join(one.codes), str(one.pieces), amount)
        )
    head = ("wood", "planed from", "as sawn", "parts", "pieces", "to ask for")
    waste = table.profile.shop.waste
    yield Grid(
        head,
        tuple(rows),
        said("where boards are bought by volume, as sawn, {waste:g} % waste included", waste=waste),
        (4, 5),
    )


def _strips(strips: Sequence[TrialWood], sawn: StripsSawn, units: Units) -> Iterator[Grid]:
    """What set-ups are tried on, each with the offcuts and boards that it comes out of."""
    rows = tuple(
        (one.code, str(one.count), translated(one.wood), size(one.length, units), blank(one.width, units),
         blank(one.thickness, units), ", ".join(_counted(sawn.out_of[place])))
        for place, one in enumerate(strips)
    )  # fmt: skip
    if rows:
        head = ("strip", "number", "wood", "length", "width", "thickness", "out of")
        yield Grid(head, rows, "wood for test pieces, sizes finished", (1, 3, 4, 5), ticks=True)


def _counted(names: Sequence[str]) -> Iterator[str]:
    """Each of the names, with how many strips come out of it where they don't all come out of one."""
    found = Counter(names)
    return (f"{count} x {name}" if len(found) > 1 else name for name, count in found.items())


def _hardware(wanted: tuple[Wanted, ...]) -> Iterator[Grid]:
    from templategen.shop.hardware import hardware_list

    head, rows = hardware_list(wanted)
    if rows:
        cells = tuple(_in_own_units(*(str(cell) for cell in row)) for row in rows)
        yield Grid(tuple(head), cells, "besides the wood", (1,), ticks=True)


def _in_own_units(item: str, amount: str, unit: str, says: str, *more: str) -> tuple[str, ...]:
    """A row whose size says the amount in pounds or quarts has that alone."""
    if says and unit in ("kg", "l"):
        (amount, _, unit), says = says.partition(" "), ""
    return (item, amount, unit, says, *more)


def cut_list(table: Table, tables: int) -> Sheet:
    """Every part with what is sawn out for it and what it finishes to."""
    units = table.profile.units
    rows = tuple(
        (part.code, part.name, str(part.count * tables), translated(part.wood),
         *(blank(size, units) for size in part.size), _rough(table, part, tables))
        for part in table.parts
    )  # fmt: skip
    head = ("code", "part", "number", "wood", "length", "width", "thickness", "sawn out as")
    codes = tuple(row[0] for row in rows)
    grid = Grid(head, rows, "sizes of the blanks, length along the grain", (2, 4, 5, 6), codes, ticks=True)
    return Sheet("cut-list", "Cut list", grids=(grid,), links=links("lists/cut-list.csv"))


def _rough(table: Table, part: Part, tables: int) -> str:
    """How many rough blanks or strips, and how large."""
    rough, units = rough_of(table.profile.shop, part, tables), table.profile.units
    told = said(
        "{count:# strip}[ of {pieces}]" if rough.is_strip else "{count:# blank}",
        count=rough.count,
        pieces=rough.pieces,
    )
    long, wide = (rough_size(one, units) for one in (rough.length, rough.width))
    return f"{told}, {long.removesuffix(f' {units}')} x {wide}"

"""The buy list: the stock that the layouts use, and the wood for parts that no stock serves."""

from collections.abc import Iterator, Mapping, Sequence

from templategen.catalogue import translated, worded
from templategen.jigs.jig import KINDS
from templategen.parts.part import Part
from templategen.shop.cut_list import SIZES, inch_columns
from templategen.shop.listing import Cell, Listing
from templategen.shop.trial_wood import ANY_WOOD, TrialWood
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Stock
from templategen.units import format_mm

MM3_PER_M3 = 1e9
MM3_PER_BOARD_FOOT = 25.4**3 * 144
"""A board foot is 144 cubic inches."""


NO_STOCK = "no stock in the profile is this wood and thick enough; sizes are net"

ANY = "no offcut of the layouts holds it: whatever dry wood lies about, net sizes; not in the price"

FOR_STRIPS = "{stock}, for test strips"

NO_OFFCUT = (
    "no offcut of the layouts holds these strips (lists/test-wood.csv); leave it out where such wood lies about"
)


def buy_list(
    table: Table,
    used: Mapping[str, int],
    unserved: Sequence[Part],
    tables: int = 1,
    more: Mapping[str, int] | None = None,
    strips: Sequence[TrialWood] = (),
) -> Listing:
    """Header and rows: one for each stock of which pieces are `used` (by name), one for each part that has none, then
    the same for test strips: `more` boards, and `strips` that no stock holds."""
    inches = table.profile.units == "in"
    header = ["item", "kind", "wood", "pieces", "length_mm", "width_mm", "thickness_mm"]
    if inches:
        header += [column for size in SIZES for column in (f"{size}_in", f"{size}_in_error_mm")]
    header += ["volume_m3", *(["board_feet"] if inches else []), "price_each", "cost", "note"]
    rows = [list(_stock_row(stock, used.get(stock.name, 0), inches)) for stock in table.profile.stock]
    rows += [list(_part_row(part, inches, tables)) for part in unserved]
    for stock in table.profile.stock:
        _, _, *cells, _ = _stock_row(stock, (more or {}).get(stock.name, 0), inches)
        rows.append([worded(FOR_STRIPS, stock=stock.name), translated("test strip"), *cells, translated(NO_OFFCUT)])
    rows += [list(_strip_row(strip, inches)) for strip in strips]
    return header, [row for row in rows if row[3] != "0"]


def _stock_row(stock: Stock, used: int, inches: bool) -> Iterator[Cell]:
    sizes = (stock.length, stock.width, stock.thickness)
    yield from (stock.name, translated(stock.kind), translated(stock.wood), str(used))
    yield from _sizes(sizes, used, inches)
    yield from (format_mm(stock.price, 2), format_mm(stock.price * used, 2))
    yield translated("as many as needed") if stock.count is None else worded("of {count} listed", count=stock.count)


def _part_row(part: Part, inches: bool, tables: int) -> Iterator[Cell]:
    pieces = part.count if part.kind in KINDS else part.count * tables
    yield from (part.code, translated("part"), translated(part.wood), str(pieces))
    yield from _sizes(part.size, pieces, inches)
    yield from ("", "", translated(NO_STOCK))


def _strip_row(strip: TrialWood, inches: bool) -> Iterator[Cell]:
    yield from (strip.code, translated("test strip"), translated(strip.wood), str(strip.count))
    yield from _sizes((strip.length, strip.width, strip.thickness), strip.count, inches)
    yield from ("", "", translated(ANY if strip.wood == ANY_WOOD else NO_STOCK))


def _sizes(sizes: tuple[float, float, float], pieces: int, inches: bool) -> Iterator[Cell]:
    yield from (format_mm(size, 1) for size in sizes)
    if inches:
        yield from inch_columns(sizes)
    solid = pieces * sizes[0] * sizes[1] * sizes[2]
    yield format_mm(solid / MM3_PER_M3, 4)
    if inches:
        yield format_mm(solid / MM3_PER_BOARD_FOOT, 2)

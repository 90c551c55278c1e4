"""The buy list: the stock that the layouts use, and the wood for parts that no stock serves."""

from collections.abc import Iterator, Mapping, Sequence

from templategen.catalogue import translated, worded
from templategen.jigs.jig import KINDS
from templategen.parts.part import Part
from templategen.shop.cut_list import SIZES, inch_columns
from templategen.shop.listing import Cell, Listing
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Stock
from templategen.units import format_mm

MM3_PER_M3 = 1e9
MM3_PER_BOARD_FOOT = 25.4**3 * 144
"""A board foot is 144 cubic inches."""


def buy_list(table: Table, used: Mapping[str, int], unserved: Sequence[Part], tables: int = 1) -> Listing:
    """Header and rows: one for each stock of which pieces are `used` (by name), one for each part that has none."""
    inches = table.profile.units == "in"
    header = ["item", "kind", "wood", "pieces", "length_mm", "width_mm", "thickness_mm"]
    if inches:
        header += [column for size in SIZES for column in (f"{size}_in", f"{size}_in_error_mm")]
    header += ["volume_m3", *(["board_feet"] if inches else []), "price_each", "cost", "note"]
    rows = [list(_stock_row(stock, used.get(stock.name, 0), inches)) for stock in table.profile.stock]
    rows += [list(_part_row(part, inches, tables)) for part in unserved]
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
    yield from ("", "", translated("no stock in the profile is this wood and thick enough; sizes are net"))


def _sizes(sizes: tuple[float, float, float], pieces: int, inches: bool) -> Iterator[Cell]:
    yield from (format_mm(size, 1) for size in sizes)
    if inches:
        yield from inch_columns(sizes)
    solid = pieces * sizes[0] * sizes[1] * sizes[2]
    yield format_mm(solid / MM3_PER_M3, 4)
    if inches:
        yield format_mm(solid / MM3_PER_BOARD_FOOT, 2)

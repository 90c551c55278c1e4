"""Which offcuts of the layouts the test strips come out of, and which boards are bought for the rest."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import translated, worded
from templategen.packet.lay_out import LaidStock
from templategen.packet.offcut_list import offcut_pieces
from templategen.packet.supply import piece_of
from templategen.shop.boards import THIN
from templategen.shop.rough import wider
from templategen.shop.trial_wood import ANY_WOOD, TrialWood
from templategen.table.profile.model_of_shop import Shop, Stock

BOUGHT = "to be bought"

ONE_MORE = "{stock}, one more"


@dataclass(frozen=True, slots=True)
class _Left:
    """A rectangle of wood that is left over, mm, and the offcut or board that it belongs to."""

    name: str
    wood: str
    length: float
    width: float
    thickness: float


@dataclass(frozen=True, slots=True)
class StripsSawn:
    """`out_of`: for each entry the offcuts and further boards that its strips are sawn out of, by name; `boards`: how
    many further pieces of which stock; `unserved`: strips that no stock holds, `count` of each."""

    out_of: tuple[tuple[str, ...], ...]
    boards: Mapping[str, int]
    unserved: tuple[TrialWood, ...]


def strips_sawn(shop: Shop, stock: Sequence[Stock], laid: LaidStock, strips: Sequence[TrialWood]) -> StripsSawn:
    """Every strip out of the least piece of wood that is left over; where none is large enough, out of one more board
    of the stock that costs least for each strip, of which what remains serves the strips after it."""
    left, used, more = list(_lefts(laid)), laid.used, Counter[str]()
    out_of: list[tuple[str, ...]] = []
    unserved: list[TrialWood] = []
    for strip in strips:
        names = []
        for _ in range(strip.count):
            there = [one for one in stock if one.count is None or used.get(one.name, 0) + more[one.name] < one.count]
            if not any(_holds(shop, one, strip) for one in left) and (board := _cheapest(shop, there, strip)):
                more[board.name] += 1
                left.append(_whole(board))
            names.append(_taken(shop, left, strip))
        out_of.append(tuple(name or translated(BOUGHT) for name in names))
        if missing := names.count(""):
            unserved.append(replace(strip, count=missing))
    return StripsSawn(tuple(out_of), dict(more), tuple(unserved))


def _cheapest(shop: Shop, stock: Sequence[Stock], strip: TrialWood) -> Stock | None:
    """The stock that costs least for each strip that a piece of it holds; nobody buys boards of the table's wood for
    what any wood does for."""
    many = {one.name: _yields(shop, one, strip) for one in stock}
    able = (one for one in stock if many[one.name] and strip.wood != ANY_WOOD)
    return min(able, default=None, key=lambda one: (one.price / many[one.name], one.thickness, one.name))


def _lefts(laid: LaidStock) -> Iterator[_Left]:
    for one in laid.sheets:
        for piece, _ in offcut_pieces(one):
            yield _Left(piece.name, one.supply.wood, piece.length, piece.width, one.supply.thickness)


def _whole(stock: Stock) -> _Left:
    room = piece_of(stock).room
    return _Left(worded(ONE_MORE, stock=stock.name), stock.wood, room.width, room.height, stock.thickness)


def _yields(shop: Shop, stock: Stock, strip: TrialWood) -> int:
    """How many of the strip a piece of stock holds; none where it has faults, is a sheet, or is too small."""
    board = _whole(stock)
    if stock.kind != "board" or stock.faults or stock.fault_areas or not _holds(shop, board, strip):
        return 0
    sizes = zip((board.length, board.width), _rough(shop, strip), strict=True)
    along, across = (int((size + shop.saw_kerf) // (rough + shop.saw_kerf)) for size, rough in sizes)
    return along * across


def _rough(shop: Shop, strip: TrialWood) -> tuple[float, float]:
    return strip.length + shop.longer, strip.width + wider(shop, strip.length)


def _holds(shop: Shop, left: _Left, strip: TrialWood) -> bool:
    long, wide = _rough(shop, strip)
    thick = left.thickness >= strip.thickness - THIN
    return strip.wood in (left.wood, ANY_WOOD) and left.length >= long and left.width >= wide and thick


def _taken(shop: Shop, left: list[_Left], strip: TrialWood) -> str:
    """The least of what is left that holds one strip as sawn out, "" where none does; what that leaves of it is left
    for others."""
    fit = [one for one in left if _holds(shop, one, strip)]
    if not fit:
        return ""
    long, wide = _rough(shop, strip)
    least = min(fit, key=lambda one: (one.length * one.width * one.thickness, one.name))
    left.remove(least)
    beyond = replace(least, length=least.length - long - shop.saw_kerf)
    beside = replace(least, length=long, width=least.width - wide - shop.saw_kerf)
    left += [one for one in (beyond, beside) if min(one.length, one.width) > 0]
    return least.name

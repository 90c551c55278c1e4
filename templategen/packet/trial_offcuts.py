"""Which offcuts of the layouts the test strips come out of, and which boards are bought for the rest."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

from templategen.catalogue import translated, worded
from templategen.nesting.offcuts import LEAST_LENGTH, LEAST_WIDTH
from templategen.packet.lay_out import LaidStock
from templategen.packet.offcut_list import BOUGHT, GRAIN, Offcut, offcuts_of
from templategen.packet.supply import piece_of
from templategen.shop.boards import THIN
from templategen.shop.trial_wood import ANY_WOOD, TrialWood
from templategen.table.profile.model_of_shop import Shop, Stock

TO_BE_BOUGHT = "to be bought"

ONE_MORE = "{stock}, one more"


@dataclass(frozen=True, slots=True)
class StripsSawn:
    """`out_of`: for each entry the offcuts and further boards that its strips are sawn out of, by name; `boards`: how
    many further pieces of which stock; `unserved`: strips that no stock holds, `count` of each; `left`: what of all
    that wood is worth keeping afterwards; `resawn`: how many strips are sawn flatwise."""

    out_of: tuple[tuple[str, ...], ...]
    boards: Mapping[str, int]
    unserved: tuple[TrialWood, ...]
    left: tuple[Offcut, ...]
    resawn: int


def strips_sawn(shop: Shop, stock: Sequence[Stock], laid: LaidStock, strips: Sequence[TrialWood]) -> StripsSawn:
    """Every strip out of the least piece of wood that is left over; where none is large enough, out of one more board
    of the stock that costs least for each strip, of which what remains serves the strips after it. Tried as they are
    listed and the longest first, with what is left beside a strip as long as that or as its board, the least wood
    first or what needn't be sawn flatwise: of all that what leaves the fewest unserved and costs least is taken, then
    what has fewest sawn flatwise; that goes before what it costs where no machine saws it."""
    price = {one.name: one.price for one in stock}
    listed = range(len(strips))
    orders = listed, sorted(listed, key=lambda at: -strips[at].rough[0])
    ways = product(orders, (False, True), (False, True))
    tried = [_sawn(shop, stock, laid, strips, order, *way) for order, *way in ways]
    by_hand = "bandsaw" not in shop.machines
    return min(tried, key=lambda one: (
        sum(strip.count for strip in one.unserved), by_hand * one.resawn,
        sum(price[name] * count for name, count in one.boards.items()),
        one.resawn, sum(one.boards.values()),
    ))  # fmt: skip


def _sawn(
    shop: Shop,
    stock: Sequence[Stock],
    laid: LaidStock,
    strips: Sequence[TrialWood],
    order: Sequence[int],
    whole: bool,
    ready: bool,
) -> StripsSawn:
    """The strips one after another in an `order`; `whole` keeps the length of what is ripped off beside a strip,
    `ready` has them out of wood of their own thickness first."""
    left = [offcut for one in laid.sheets for offcut in offcuts_of(one)]
    used, more = laid.used, Counter[str]()
    out_of: dict[int, tuple[str, ...]] = {}
    unserved: list[TrialWood] = []
    resawn = 0
    for at in order:
        strip, names = strips[at], list[str]()
        for _ in range(strip.count):
            there = [one for one in stock if one.count is None or used.get(one.name, 0) + more[one.name] < one.count]
            if board := _bought(shop, left, there, strip, ready):
                more[board.name] += 1
                left.append(_whole(board))
            taken = _least(shop, left, strip, ready)
            resawn += taken is not None and strip.resawn(shop, taken.thickness)
            names.append(_taken(shop.saw_kerf, left, taken, strip, whole) if taken else "")
        out_of[at] = tuple(name or translated(TO_BE_BOUGHT) for name in names)
        if missing := names.count(""):
            unserved.append(replace(strip, count=missing))
    told = tuple(out_of[at] for at in sorted(out_of))
    return StripsSawn(told, dict(more), tuple(unserved), tuple(one for one in left if _worth_keeping(one)), resawn)


def _bought(
    shop: Shop, left: Sequence[Offcut], stock: Sequence[Stock], strip: TrialWood, ready: bool
) -> Stock | None:
    """The stock of which one more is bought for a strip: where nothing that is left holds it, or, if it is to be out
    of wood of its own thickness and no machine saws flatwise, only what is thicker does."""
    fit = [one for one in left if _holds(one, strip)]
    by_hand = ready and "bandsaw" not in shop.machines
    if any(not (by_hand and strip.resawn(shop, one.thickness)) for one in fit):
        return None
    board = _cheapest(shop, stock, strip, ready)
    return None if fit and board and strip.resawn(shop, board.thickness) else board


def _cheapest(shop: Shop, stock: Sequence[Stock], strip: TrialWood, ready: bool) -> Stock | None:
    """The stock that costs least for each strip that a piece of it holds; nobody buys boards of the table's wood for
    what any wood does for."""
    many = {one.name: _yields(shop, one, strip) for one in stock}
    able = (one for one in stock if many[one.name] and strip.wood != ANY_WOOD)
    return min(able, default=None, key=lambda one: (
        ready and strip.resawn(shop, one.thickness), one.price / many[one.name], one.thickness, one.name,
    ))  # fmt: skip


def _worth_keeping(one: Offcut) -> bool:
    return one.piece.length >= LEAST_LENGTH and one.piece.width >= LEAST_WIDTH


def _whole(stock: Stock) -> Offcut:
    piece = piece_of(stock)
    board = Offcut(piece, stock.name, BOUGHT, (0.0, 0.0), stock.wood, stock.thickness)
    told = board.part((piece.room.left, piece.room.bottom, piece.room.width, piece.room.height))
    return replace(told, piece=replace(told.piece, name=worded(ONE_MORE, stock=stock.name)))


def _yields(shop: Shop, stock: Stock, strip: TrialWood) -> int:
    """How many of the strip a piece of stock holds; none where it has faults, is a sheet, or is too small."""
    board = _whole(stock)
    if stock.kind != "board" or stock.faults or stock.fault_areas or not _holds(board, strip):
        return 0
    sizes = zip((board.piece.length, board.piece.width), strip.rough, strict=True)
    along, across = (int((size + shop.saw_kerf) // (rough + shop.saw_kerf)) for size, rough in sizes)
    return along * across


def _holds(left: Offcut, strip: TrialWood) -> bool:
    """Whether a strip comes out of it; what is left is told in steps of GRAIN, never larger than it is."""
    long, wide = (size - GRAIN for size in strip.rough)
    thick = left.thickness >= strip.thickness - THIN
    return strip.wood in (left.wood, ANY_WOOD) and left.piece.length >= long and left.piece.width >= wide and thick


def _least(shop: Shop, left: Sequence[Offcut], strip: TrialWood, ready: bool) -> Offcut | None:
    """The least of what is left that holds one strip as sawn out, None where none does."""
    return min((one for one in left if _holds(one, strip)), default=None, key=lambda one: (
        ready and strip.resawn(shop, one.thickness), one.piece.length * one.piece.width * one.thickness,
        one.piece.name,
    ))  # fmt: skip


def _taken(kerf: float, left: list[Offcut], least: Offcut, strip: TrialWood, whole: bool) -> str:
    """One strip sawn out of one of what is left, by its name; what that leaves of it, beyond and beside the strip,
    stands in its place for others: crosscut first, or ripped first where that stays `whole`."""
    long, wide = strip.rough
    length, width = least.piece.length, least.piece.width
    beyond, beside = (wide, length) if whole else (width, long)
    boxes = (long + kerf, 0.0, length - long - kerf, beyond), (0.0, wide + kerf, beside, width - wide - kerf)
    place = left.index(least)
    left[place : place + 1] = [least.part(box) for box in boxes if min(box[2:]) > GRAIN]
    return least.piece.name

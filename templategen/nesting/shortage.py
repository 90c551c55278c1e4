"""Shortage: what to buy so that the parts left over find a place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from templategen.errors import StockError
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Layout, Piece

MOST_RUNS = 6
"""How often the whole job is laid out again to try what is bought."""


@dataclass(frozen=True, slots=True)
class NoRoom:
    """A part that fits on no piece of stock: how long and wide it lies there, and the piece that comes nearest with
    the clear length and width between its margins and bad ends, mm."""

    code: str
    length: float
    width: float
    nearest: str
    clear_length: float
    clear_width: float


@dataclass(frozen=True, slots=True)
class Shortage:
    """More pieces of stock, by name, with which everything was laid out when tried, and what they cost.

    `clean` are the names of which the new pieces must be without the defects listed; `no_room` the parts that fit on
    no piece at all, and why. `priced` tells whether the stock has prices.
    """

    buy: Mapping[str, int] = field(default_factory=dict)
    clean: tuple[str, ...] = ()
    cost: float = 0.0
    priced: bool = False
    no_room: tuple[NoRoom, ...] = ()

    @property
    def never(self) -> tuple[str, ...]:
        """The codes of the parts that fit on no piece."""
        return tuple(one.code for one in self.no_room)

    def and_then(self, other: Shortage) -> Shortage:
        """Both together; their stock has different names."""
        return Shortage(
            {**self.buy, **other.buy},
            (*self.clean, *other.clean),
            self.cost + other.cost,
            self.priced or other.priced,
            (*self.no_room, *other.no_room),
        )


NOTHING_SHORT = Shortage()


def shortage(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Shortage:
    """What to add to the stock, in whole pieces, so that what `layout` leaves over is laid too; the cheapest found.

    More pieces like those listed are looked at first, defects and all, then pieces without defects. What is named has
    been tried: with it in stock the whole job was laid out again and left nothing, parts of `never` put aside.
    """
    left = layout.unplaced
    short = [replace(item, count=left[item.code]) for item in items if left.get(item.code, 0) > 0]
    more = [*_likes(pieces), *_cleaned(pieces)]
    outsize = [item for item in short if not _holds([replace(item, count=1)], more, spacing)]
    misfits = Shortage(no_room=tuple(_no_room(item, more) for item in outsize))
    short = [item for item in short if item.code not in misfits.never]
    wanted = [item for item in items if item.code not in misfits.never]
    if not short:
        return misfits
    priced = any(piece.price > 0 for piece in pieces)
    for kinds in (_likes(pieces), more):
        first = _cheapest(short, kinds, spacing)
        bought = first and _tried(wanted, pieces, more, spacing, first)
        if bought:
            return replace(_named(bought, more, priced), no_room=misfits.no_room)
    return replace(misfits, priced=priced)


def _no_room(item: Item, pieces: Sequence[Piece]) -> NoRoom:
    """The piece that lacks least, by the side that lacks most of it."""
    box = Placement(turn=item.grain_turn).outline(item.outline).bounds
    nearest = max(pieces, key=lambda piece: min(piece.room.width / box.width, piece.room.height / box.height))
    room = nearest.room
    return NoRoom(item.code, box.width, box.height, nearest.name.removesuffix(CLEAN), room.width, room.height)


def _named(bought: Counter[str], more: Sequence[Piece], priced: bool) -> Shortage:
    kinds = {piece.name: piece for piece in more}
    buy: Counter[str] = Counter()
    for key, count in sorted(bought.items()):
        buy[kinds[key].name.removesuffix(CLEAN)] += count
    clean = tuple(sorted({kinds[key].name.removesuffix(CLEAN) for key in bought if kinds[key].name.endswith(CLEAN)}))
    return Shortage(dict(buy), clean, sum(kinds[key].price * n for key, n in bought.items()), priced)


CLEAN = " without defects"
"""Marks the names of pieces without defects while they are tried."""


def _likes(pieces: Sequence[Piece]) -> list[Piece]:
    return [replace(piece, count=None) for piece in pieces]


def _cleaned(pieces: Sequence[Piece]) -> list[Piece]:
    """The stock that has defects, as if it had none."""
    clear = {"defects": (), "defect_areas": (), "bad_ends": (0.0, 0.0)}
    return [
        replace(piece, name=piece.name + CLEAN, count=None, **clear)  # type: ignore[arg-type]
        for piece in pieces
        if piece.defects or piece.defect_areas or any(piece.bad_ends)
    ]


def _holds(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> bool:
    from templategen.nesting.nest import nest

    return not nest(items, pieces, spacing).unplaced


def _cheapest(short: Sequence[Item], kinds: Sequence[Piece], spacing: float) -> Counter[str] | None:
    """The cheapest set of new pieces found that takes what is left over: of one kind, or of several."""
    from templategen.nesting.nest import nest

    best: tuple[float, Counter[str]] | None = None
    for choice in (*([kind] for kind in kinds), kinds if len(kinds) > 1 else ()):
        layout = nest(short, choice, spacing) if choice else None
        if layout is None or layout.unplaced:
            continue
        found = layout.cost, Counter(sheet.piece.name for sheet in layout.sheets)
        best = found if best is None or found[0] < best[0] - 1e-9 else best
    return best[1] if best else None


def _tried(
    items: Sequence[Item], pieces: Sequence[Piece], more: Sequence[Piece], spacing: float, first: Counter[str]
) -> Counter[str] | None:
    """What was bought, with the whole job laid out on it: a piece more where it left parts, fewer where it can do."""
    from templategen.nesting.nest import nest

    bought, runs, done = Counter(first), 0, False
    while not done and runs < MOST_RUNS:
        left = nest(items, _with(pieces, more, bought), spacing).unplaced
        runs, done = runs + 1, not left
        if left:
            rest = [replace(item, count=left[item.code]) for item in items if left.get(item.code, 0) > 0]
            bought += _cheapest(rest, more, spacing) or Counter()
    if not done:
        return None
    for fewer in _fewer(bought, more):
        if runs < MOST_RUNS and _may_do(items, _with(pieces, more, fewer), spacing):
            runs += 1
            if _holds(items, _with(pieces, more, fewer), spacing):
                return fewer
    return bought


def _fewer(bought: Counter[str], more: Sequence[Piece]) -> Iterator[Counter[str]]:
    """The same with a piece less, the dearest first."""
    price = {piece.name: (piece.price, piece.length * piece.width) for piece in more}
    for key in sorted(bought, key=lambda key: (price[key], key), reverse=True):
        yield bought - Counter({key: 1})


def _with(pieces: Sequence[Piece], more: Sequence[Piece], bought: Counter[str]) -> list[Piece]:
    """The stock with so many more pieces of each kind."""
    kinds = {piece.name: piece for piece in more}
    names = {piece.name for piece in pieces}
    told = [
        piece if piece.count is None else replace(piece, count=piece.count + bought[piece.name]) for piece in pieces
    ]
    return told + [replace(kinds[key], count=count) for key, count in sorted(bought.items()) if key not in names]


def _may_do(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> bool:
    """Whether the stock might hold the items, by their areas."""
    from templategen.nesting.bound import bound

    try:
        bound(items, pieces, spacing)
    except StockError:
        return False
    return True

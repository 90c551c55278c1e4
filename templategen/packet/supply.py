"""Which stock serves which part."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2

from templategen.jigs.jig import KINDS
from templategen.nesting.stock import Item, Piece
from templategen.parts.part import Part
from templategen.shop.boards import THIN, thinnest
from templategen.shop.rough import rough_of
from templategen.shop.routed import is_finished
from templategen.table.assembly import Table
from templategen.table.profile.model_of_shop import Shop, Stock


@dataclass(frozen=True, slots=True)
class Supply:
    """The parts that come out of one thickness of one wood: items, the stock that serves them, the saw's kerf
    or the router's bit between parts (the larger where both are at work; a piece with less has its own), and the
    kerf of the cuts that free them. `resawn` are the codes of parts so much thinner than the stock that it must be
    sawn flatwise, not planed; `only_jigs` says that all parts are pieces of jigs, not worth a long search.
    `planed` is what routed boards are planed to before, 0 where a saw frees the parts; `finished` are the codes of
    the parts whose own outline a router then cuts."""

    wood: str
    thickness: float
    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float
    kerf: float
    resawn: tuple[str, ...] = ()
    only_jigs: bool = False
    planed: float = 0.0
    finished: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Order:
    """So many tables of one profile; `label` goes before the codes of its parts where several are made together.

    `jigs` are the pieces of jigs, made once however many tables there are.
    """

    table: Table
    tables: int = 1
    label: str = ""
    jigs: tuple[Part, ...] = ()

    @property
    def parts(self) -> tuple[Part, ...]:
        """All that is laid out: the table's parts and the jigs' pieces. Test pieces of the table's own wood aren't:
        they come out of its offcuts."""
        sheet = self.table.profile.jigs.wood
        return (*self.table.parts, *(part for part in self.jigs if part.wood == sheet))

    def count(self, part: Part) -> int:
        """How many of a part."""
        return part.count if part.kind in KINDS else part.count * self.tables

    def code(self, code: str) -> str:
        """A part's code among those of all orders."""
        return f"{self.label}/{code}" if self.label else code


def supplies(table: Table, tables: int = 1) -> tuple[tuple[Supply, ...], tuple[Part, ...]]:
    """The table's parts by the stock they come out of, and the parts that no stock serves; `tables` are made at
    once."""
    return joint_supplies([Order(table, tables)], table.profile.stock)


def joint_supplies(orders: Sequence[Order], stock: Sequence[Stock]) -> tuple[tuple[Supply, ...], tuple[Part, ...]]:
    """The parts of all orders by the stock they come out of, and the parts that no stock serves.

    A part comes out of the thinnest stock of its wood that is thick enough: planed, or, where that takes off more
    than the planing allowance, sawn out of it. Sheet is not planed: a jig's piece comes out of its own thickness.
    """
    groups: dict[tuple[str, float], list[tuple[Order, Part]]] = {}
    unserved: list[Part] = []
    for order in orders:
        for part in order.parts:
            thickness = _thinnest(part, stock)
            if thickness is None:
                unserved.append(replace(part, code=order.code(part.code)) if order.label else part)
            else:
                groups.setdefault((part.wood, thickness), []).append((order, part))
    made = (_supply(stock, wood, thickness, parts) for (wood, thickness), parts in groups.items())
    return tuple(sorted(made, key=_place)), tuple(unserved)


def _place(supply: Supply) -> tuple[bool, str, float]:
    """The table's boards come before the sheets for its jigs."""
    return supply.only_jigs, supply.wood, supply.thickness


def _thinnest(part: Part, stock: Sequence[Stock]) -> float | None:
    found = thinnest(part, stock)
    return None if found and part.kind in KINDS and found > part.thickness + THIN else found


def _supply(stock: Sequence[Stock], wood: str, thickness: float, parts: Sequence[tuple[Order, Part]]) -> Supply:
    serving = [s for s in stock if s.wood == wood and s.thickness == thickness]
    shops = [order.table.profile.shop for order, _ in parts]
    spacing = max(_between(s, shops) for s in serving)
    resawn = [_is_resawn(part, order, thickness) for order, part in parts]
    thick = tuple(order.code(part.code) for (order, part), is_thin in zip(parts, resawn, strict=True) if is_thin)
    whole = [part.thickness for (_, part), is_thin in zip(parts, resawn, strict=True) if not is_thin]
    planed = max(whole, default=thickness) if any(s.mode == "routed" for s in serving) else 0.0
    finishing = planed if all(s.mode == "routed" for s in serving) else 0.0
    items = tuple(
        replace(item_of(part, order, 0.0 if is_thin else finishing, thickness), code=order.code(part.code))
        for (order, part), is_thin in zip(parts, resawn, strict=True)
    )
    finished = tuple(
        order.code(part.code)
        for (order, part), is_thin in zip(parts, resawn, strict=True)
        if finishing and not is_thin and is_finished(part, finishing)
    )
    jigs = all(part.kind in KINDS for _, part in parts)
    pieces = tuple(_spaced(piece_of(s), _between(s, shops), spacing) for s in serving)
    return Supply(
        wood, thickness, items, pieces, spacing, max(shop.saw_kerf for shop in shops), thick, jigs, planed, finished
    )


def _is_resawn(part: Part, order: Order, thickness: float) -> bool:
    """Whether it is sawn flatwise out of stock so much thicker."""
    return part.kind not in KINDS and thickness > part.thickness + order.table.profile.shop.planing


def _spaced(piece: Piece, own: float, spacing: float) -> Piece:
    """The piece with a spacing of its own, where that isn't its supply's."""
    return piece if own == spacing else replace(piece, spacing=own)


def _between(stock: Stock, shops: Sequence[Shop]) -> float:
    """What lies between two parts: the gap of routed stock, the widest kerf of all shops for a saw."""
    return stock.gap if stock.mode == "routed" else max(shop.saw_kerf for shop in shops)


def item_of(part: Part, order: Order, planed: float = 0.0, thickness: float = 0.0) -> Item:
    """What is cut out for a part, as nesting sees it: the part itself where a router finishes it out of a board
    `planed` to its thickness, the true blank of a jig's piece, else what the plan of work has sawn out, of which
    boards of that `thickness` may hold several in theirs."""
    turn = -atan2(part.grain.y, part.grain.x)
    is_whole = bool(planed) and is_finished(part, planed)
    if is_whole or part.kind in KINDS or turn:
        return Item(
            part.code, part.outline if is_whole else part.blank, order.count(part), turn, part.alike_both_faces
        )
    rough = rough_of(order.table.profile.shop, part, order.tables, thickness)
    turns = rough.is_strip or part.alike_both_faces
    return Item(part.code, rough.outline, rough.count, 0.0, turns, rough.pieces, rough.layers)


def piece_of(stock: Stock) -> Piece:
    """The stock, as nesting sees it."""
    return Piece(
        stock.name, stock.length, stock.width, stock.count, stock.price, stock.faults, stock.margin,
        stock.kind == "board", stock.fault_areas, stock.bad_ends, stock.mode,
    )  # fmt: skip

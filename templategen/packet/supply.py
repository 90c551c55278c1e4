"""Which stock serves which part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2

from templategen.nesting.stock import Item, Piece
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile, Stock

THIN = 0.05
"""Stock measured this much thinner than a part still serves it, mm."""


@dataclass(frozen=True, slots=True)
class Supply:
    """The parts that come out of one thickness of one wood: items, the stock that serves them and the saw's kerf
    or the router's bit between parts."""

    wood: str
    thickness: float
    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float


def supplies(table: Table) -> tuple[tuple[Supply, ...], tuple[Part, ...]]:
    """The table's parts by the stock they come out of, and the parts that no stock serves.

    A part comes out of the thinnest stock of its wood that is thick enough; what is thicker is planed or resawn.
    """
    profile = table.profile
    groups: dict[tuple[str, float], list[Part]] = {}
    unserved: list[Part] = []
    for part in table.parts:
        thickness = _thinnest(part, profile.stock)
        if thickness is None:
            unserved.append(part)
        else:
            groups.setdefault((part.wood, thickness), []).append(part)
    made = (_supply(profile, wood, thickness, parts) for (wood, thickness), parts in sorted(groups.items()))
    return tuple(made), tuple(unserved)


def _thinnest(part: Part, stock: Sequence[Stock]) -> float | None:
    fit = [s.thickness for s in stock if s.wood == part.wood and s.thickness >= part.thickness - THIN]
    return min(fit, default=None)


def _supply(profile: Profile, wood: str, thickness: float, parts: Sequence[Part]) -> Supply:
    stock = [s for s in profile.stock if s.wood == wood and s.thickness == thickness]
    routed = any(s.kind != "board" for s in stock)
    spacing = profile.shop.router_bit if routed else profile.shop.saw_kerf
    return Supply(wood, thickness, tuple(item_of(part) for part in parts), tuple(piece_of(s) for s in stock), spacing)


def item_of(part: Part) -> Item:
    """The part's blank, as nesting sees it."""
    turn = -atan2(part.grain.y, part.grain.x)
    return Item(part.code, part.blank, part.count, turn, part.alike_both_faces)


def piece_of(stock: Stock) -> Piece:
    """The stock, as nesting sees it."""
    return Piece(
        stock.name, stock.length, stock.width, stock.count, stock.price, stock.faults, stock.margin,
        grain=stock.kind == "board",
    )  # fmt: skip

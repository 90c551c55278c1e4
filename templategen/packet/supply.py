"""Which stock serves which part."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2

from templategen.nesting.stock import Item, Piece
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile, Stock

THIN = 0.05
"""Stock measured this much thinner than a part still serves it, mm."""


@dataclass(frozen=True, slots=True)
class Supply:
    """The parts that come out of one thickness of one wood: items, the stock that serves them, the saw's kerf
    or the router's bit between parts, and the kerf of the cuts that free them. `resawn` are the codes of parts so
    much thinner than the stock that it must be sawn flatwise, not planed."""

    wood: str
    thickness: float
    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    spacing: float
    kerf: float
    resawn: tuple[str, ...] = ()


def supplies(table: Table, tables: int = 1) -> tuple[tuple[Supply, ...], tuple[Part, ...]]:
    """The table's parts by the stock they come out of, and the parts that no stock serves.

    A part comes out of the thinnest stock of its wood that is thick enough: planed, or, where that takes off more
    than the planing allowance, sawn out of it. `tables` are made at once.
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
    made = (_supply(profile, wood, thickness, parts, tables) for (wood, thickness), parts in sorted(groups.items()))
    return tuple(made), tuple(unserved)


def _thinnest(part: Part, stock: Sequence[Stock]) -> float | None:
    fit = [s.thickness for s in stock if s.wood == part.wood and s.thickness >= part.thickness - THIN]
    return min(fit, default=None)


def _supply(profile: Profile, wood: str, thickness: float, parts: Sequence[Part], tables: int) -> Supply:
    stock = [s for s in profile.stock if s.wood == wood and s.thickness == thickness]
    shop = profile.shop
    spacing = max(shop.router_bit if s.mode == "routed" else shop.saw_kerf for s in stock)
    thick = tuple(part.code for part in parts if thickness > part.thickness + shop.planing)
    items = tuple(replace(item_of(part), count=part.count * tables) for part in parts)
    return Supply(wood, thickness, items, tuple(piece_of(s) for s in stock), spacing, shop.saw_kerf, thick)


def item_of(part: Part) -> Item:
    """The part's blank, as nesting sees it."""
    turn = -atan2(part.grain.y, part.grain.x)
    return Item(part.code, part.blank, part.count, turn, part.alike_both_faces)


def piece_of(stock: Stock) -> Piece:
    """The stock, as nesting sees it."""
    return Piece(
        stock.name, stock.length, stock.width, stock.count, stock.price, stock.faults, stock.margin,
        stock.kind == "board", stock.fault_areas, stock.bad_ends, stock.mode,
    )  # fmt: skip

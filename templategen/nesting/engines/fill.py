"""Fill one piece of stock with blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from templategen.nesting.engines.block import Block, Demand
from templategen.nesting.engines.clearing import Clearing, Cut, clearings
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.stock import Laid, Piece

TICKS = 10_000
"""Rectangles are packed in whole ticks of 1/10000 mm, so that sums are exact."""

SLACK = 1e-3
"""Share of a tick that is forgiven, so that a part as long as its board still fits."""

RULES = ("MaxRectsBl", "MaxRectsBssf", "MaxRectsBaf", "MaxRectsBlsf")
"""The packing library's rules for the best place: lowest, best short side, best area, best long side."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """One way of filling: how faults are cut round, the rule for the best place, and the codes of each row
    that goes first, in the order in which the row should take them."""

    cut: Cut
    rule: str
    rows: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Filled:
    """What a recipe laid on a piece, and the area of those parts, mm2."""

    laid: tuple[Laid, ...]
    area: float


def fill(
    piece: Piece, blocks: Sequence[Block], demand: Demand, recipe: Recipe, interlock: Interlock
) -> Filled:
    """Lay blocks in the order given, each as often as there is demand and room; `demand` is left alone."""
    left = Demand(demand.left.copy())
    laid: list[Laid] = []
    area = 0.0
    spacing = interlock.spacing
    for room in clearings(piece, recipe.cut, spacing):
        order = [*_rows(room, left, recipe.rows, interlock), *blocks]
        for block, placed in _pack(room, order, left, recipe.rule, spacing, turning=not piece.grain):
            laid.extend(placed)
            area += block.area
    return Filled(tuple(laid), area)


def _rows(
    room: Clearing, demand: Demand, rows: Sequence[Sequence[str]], interlock: Interlock
) -> Iterator[Block]:
    """Full rows while their widths fit, from a list of demand of their own: `_pack` counts what it lays."""
    spare = Demand(demand.left.copy())
    height = room.top - room.bottom
    for codes in rows:
        width = interlock.width(codes[0]) + interlock.spacing
        copies = [code for code in codes for _ in range(spare.left[code])] if width <= height else []
        block = interlock.longest_row(copies, room.right - room.left - interlock.spacing)
        if block is not None:
            height -= width
            spare.take(block)
            yield block


def _pack(
    room: Clearing, order: Sequence[Block], demand: Demand, rule: str, spacing: float, turning: bool
) -> Iterator[tuple[Block, tuple[Laid, ...]]]:
    packer = _packer(rule)(_down(room.right - room.left), _down(room.top - room.bottom), rot=turning)
    for block in order:
        across, up = _up(block.length + spacing), _up(block.width + spacing)
        while demand.allows(block):
            spot = packer.add_rect(across, up) if _fits(packer, across, up, turning) else None
            if spot is None:
                break
            demand.take(block)
            upright = (spot.width, spot.height) != (across, up)
            yield block, block.at(room.left + spot.x / TICKS, room.bottom + spot.y / TICKS, upright)


def _fits(packer: Any, across: int, up: int, turning: bool) -> bool:
    w, h = packer.width, packer.height
    return (across <= w and up <= h) or (turning and up <= w and across <= h)


def _packer(rule: str) -> Callable[..., Any]:
    import rectpack

    packer: Callable[..., Any] = getattr(rectpack, rule)
    return packer


def _up(size: float) -> int:
    ticks = size * TICKS - SLACK
    return max(1, int(ticks) + (ticks > int(ticks)))


def _down(size: float) -> int:
    return max(1, int(size * TICKS + SLACK))

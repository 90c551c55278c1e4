"""Nest items on pieces of stock, and prove the layout before it is handed on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import isfinite

from templategen.errors import Fault, StockError
from templategen.nesting.engines.protocol import Engine, Progress
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.stock import Item, Layout, Piece
from templategen.nesting.verify import verify

ENGINES: tuple[Engine, ...] = (Rectangles(),)
"""Asked in turn; the cheapest proved layout is kept."""


def nest(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    seconds: float | None = None,
    progress: Progress | None = None,
) -> Layout:
    """The cheapest proved layout of `items` on `pieces`, parts `spacing` mm apart (the kerf).

    `seconds` asks for that much effort on an ordinary machine; the same call always gives the same layout.
    Copies that found no place are named in `Layout.unplaced`.

    Raises:
        StockError: sizes that no stock can have, or a layout that can't be proved.
    """
    wrong = tuple(_wrong(items, pieces, spacing))
    if wrong:
        raise StockError(wrong)
    proved: list[Layout] = []
    faults: list[Fault] = []
    for engine in ENGINES:
        layout = engine.nest(items, pieces, spacing, seconds, progress)
        found = verify(layout, items, pieces, spacing)
        if found:
            faults.extend(found)
        else:
            proved.append(layout)
    if not proved:
        raise StockError(faults)
    return min(proved, key=lambda layout: _rank(layout, items))


def cost(layout: Layout) -> float:
    """What the pieces in use cost; their area in mm2 where no prices are given."""
    priced = sum(sheet.piece.price for sheet in layout.sheets)
    return priced if priced > 0 else sum(sheet.piece.length * sheet.piece.width for sheet in layout.sheets)


def _rank(layout: Layout, items: Sequence[Item]) -> tuple[float, float, int]:
    area = {item.code: abs(item.outline.area) for item in items}
    missing = sum(area[code] * count for code, count in layout.unplaced.items())
    return missing, cost(layout), len(layout.sheets)


def _wrong(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Iterator[Fault]:
    if not (isfinite(spacing) and spacing >= 0):
        yield Fault("nesting", f"a kerf of {spacing} mm", "give a length of 0 or more")
    for piece in pieces:
        yield from _wrong_piece(piece)
    for code, times in Counter(item.code for item in items).items():
        if times > 1:
            yield Fault(f"nesting {code}", f"{times} items of one code", "give each its own code")
    for item in items:
        if item.count < 0:
            yield Fault(f"nesting {item.code}", f"a count of {item.count}", "give 0 or more")
        if not all(isfinite(value) for vertex in item.outline for value in vertex):
            yield Fault(f"nesting {item.code}", "an outline that isn't finite")


def _wrong_piece(piece: Piece) -> Iterator[Fault]:
    where = f"stock {piece.name}"
    sizes = piece.length, piece.width, piece.margin, piece.price, *(v for fault in piece.faults for v in fault)
    if not all(isfinite(size) for size in sizes):
        yield Fault(where, "a size that isn't finite", "give lengths in mm")
    elif piece.length <= 0 or piece.width <= 0 or piece.margin < 0 or piece.price < 0:
        yield Fault(where, f"{piece.length:g} x {piece.width:g} mm", "give sizes above 0")
    if piece.count is not None and piece.count < 0:
        yield Fault(where, f"a count of {piece.count}", "give 0 or more, or leave it out")

"""Batches of identical sets of parts: one set is laid out, and its layout repeated."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from math import gcd

from templategen.nesting.stock import Item, Layout, Piece, Sheet

FEWEST = 60
"""Batches of fewer parts are laid out whole only; larger ones also one set at a time."""


def batch(items: Sequence[Item]) -> int:
    """How many identical sets the parts divide into; 1 for small jobs."""
    counts = [item.count for item in items if item.count > 0]
    return gcd(*counts) if sum(counts) >= FEWEST and counts else 1


def share_of(items: Sequence[Item], sets: int) -> list[Item]:
    """The parts of one set."""
    return [replace(item, count=item.count // sets) for item in items]


def stock_for(pieces: Sequence[Piece], sets: int) -> list[Piece]:
    """The stock that each set may take."""
    return [piece if piece.count is None else replace(piece, count=piece.count // sets) for piece in pieces]


def repeated(layout: Layout, sets: int, pieces: Sequence[Piece]) -> Layout:
    """The layout once for each set, on pieces of the whole stock, which are numbered throughout."""
    whole = {replace(piece, count=None): piece for piece in pieces}
    numbers: Counter[str] = Counter()
    sheets = []
    for sheet in layout.sheets:
        for _ in range(sets):
            numbers[sheet.piece.name] += 1
            sheets.append(Sheet(whole[replace(sheet.piece, count=None)], numbers[sheet.piece.name], sheet.laid))
    return Layout(tuple(sheets), {code: count * sets for code, count in layout.unplaced.items()})

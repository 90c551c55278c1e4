"""Shortage: what to buy so that the parts left over find a place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from templategen.nesting.nest import cost, nest
from templategen.nesting.stock import Item, Piece


def wanted(
    unplaced: Mapping[str, int], items: Sequence[Item], pieces: Sequence[Piece], spacing: float
) -> dict[str, int]:
    """How many more pieces of which stock hold what found no place; empty where no stock can.

    Each kind of stock is tried alone, new pieces taken to be without faults; the cheapest that holds all is named.
    """
    left = [replace(item, count=unplaced[item.code]) for item in items if unplaced.get(item.code)]
    found: list[tuple[float, dict[str, int]]] = []
    for piece in pieces:
        fresh = replace(piece, count=None, faults=(), fault_areas=(), bad_ends=(0.0, 0.0))
        layout = nest(left, [fresh], spacing)
        if layout.sheets and not layout.unplaced:
            found.append((cost(layout), dict(Counter(sheet.piece.name for sheet in layout.sheets))))
    return min(found, key=lambda pair: pair[0])[1] if found else {}

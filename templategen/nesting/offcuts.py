"""Offcuts: the rectangles worth keeping that a sheet leaves."""

from __future__ import annotations

from collections.abc import Sequence

from templategen.geometry.bounds import Bounds
from templategen.nesting.stock import Item, Sheet

LEAST_LENGTH = 150.0
"""Shorter offcuts aren't worth a place on the rack, mm."""

LEAST_WIDTH = 30.0
"""Nor narrower ones, mm."""

Rectangle = tuple[float, float, float, float]
"""x and y of the lower left corner, width and height, mm."""


def offcuts(
    sheet: Sheet,
    items: Sequence[Item],
    spacing: float,
    least: tuple[float, float] = (LEAST_LENGTH, LEAST_WIDTH),
) -> list[Rectangle]:
    """The largest clear rectangles left, one after another, `spacing` from parts and from each other.

    Parts count with their boxes. On stock with grain the first of `least` is measured along it, on other
    sheets along the longer side.
    """
    free = [_usable(sheet)]
    for box in taken(sheet, items, spacing):
        free = _without(free, box)
    kept: list[Rectangle] = []
    while free:
        box = max(free, key=lambda b: (round(b.width * b.height, 6), -b.left, -b.bottom))
        free.remove(box)
        if _useful(box, least, sheet.piece.grain):
            kept.append((box.left, box.bottom, box.width, box.height))
            free = _without(free, box.grown(spacing))
    return kept


def used_share(sheet: Sheet, items: Sequence[Item]) -> float:
    """The share of the piece, margins included, that becomes parts."""
    area = {item.code: abs(item.outline.area) for item in items}
    return sum(area[laid.code] for laid in sheet.laid) / (sheet.piece.length * sheet.piece.width)


def taken(sheet: Sheet, items: Sequence[Item], spacing: float) -> list[Bounds]:
    """The boxes in which no offcut may lie: parts with a kerf round them, and faults."""
    outlines = {item.code: item.outline for item in items}
    parts = [laid.placement.outline(outlines[laid.code]).bounds.grown(spacing) for laid in sheet.laid]
    knots = [Bounds(x - d / 2, y - d / 2, x + d / 2, y + d / 2) for x, y, d in sheet.piece.faults]
    return parts + knots


def _usable(sheet: Sheet) -> Bounds:
    piece = sheet.piece
    return Bounds(piece.margin, piece.margin, piece.length - piece.margin, piece.width - piece.margin)


def _without(free: list[Bounds], box: Bounds) -> list[Bounds]:
    """The maximal rectangles of what is left of `free` when `box` is taken out."""
    left: list[Bounds] = []
    for room in free:
        left.extend(_split(room, box))
    return _maximal(left)


def _split(room: Bounds, box: Bounds) -> list[Bounds]:
    across = box.left < room.right and room.left < box.right
    if not (across and box.bottom < room.top and room.bottom < box.top):
        return [room]
    parts = [
        room._replace(right=box.left),
        room._replace(left=box.right),
        room._replace(top=box.bottom),
        room._replace(bottom=box.top),
    ]
    return [part for part in parts if part.width > 0 and part.height > 0]


def _maximal(rooms: list[Bounds]) -> list[Bounds]:
    kept: list[Bounds] = []
    for room in sorted(set(rooms), key=lambda b: (-b.width * b.height, b)):
        if not any(_holds(other, room) for other in kept):
            kept.append(room)
    return kept


def _holds(outer: Bounds, inner: Bounds) -> bool:
    across = outer.left <= inner.left and inner.right <= outer.right
    return across and outer.bottom <= inner.bottom and inner.top <= outer.top


def _useful(box: Bounds, least: tuple[float, float], grain: bool) -> bool:
    length, width = box.width, box.height
    if not grain:
        length, width = max(length, width), min(length, width)
    return length >= least[0] and width >= least[1]

"""Clear rectangles: what a piece of stock offers between its margins and round its faults."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from templategen.nesting.stock import Piece

Cut = Literal["lengths", "lanes"]
"""Full-width lengths between knots, or full-length lanes beside them."""


@dataclass(frozen=True, slots=True)
class Clearing:
    """A rectangle without faults.

    `right` and `top` are where the last kerf may end: `spacing` beyond the wood where the rectangle ends at a
    margin or a fault, at the wood's own end where another clearing begins.
    """

    left: float
    bottom: float
    right: float
    top: float

    @property
    def area(self) -> float:
        """Area, mm2; 0 where nothing is left."""
        return max(0.0, self.right - self.left) * max(0.0, self.top - self.bottom)


def clearings(piece: Piece, cut: Cut, spacing: float) -> tuple[Clearing, ...]:
    """The clear rectangles of `piece`, largest first; parts in different ones are `spacing` apart."""
    m = piece.margin
    whole = Clearing(m, m, piece.length - m + spacing, piece.width - m + spacing)
    found = _split(whole, piece.faults, cut, spacing)
    return tuple(sorted((c for c in found if c.area > 0), key=lambda c: (-c.area, c.left, c.bottom)))


def _split(
    room: Clearing, faults: tuple[tuple[float, float, float], ...], cut: Cut, spacing: float
) -> list[Clearing]:
    inside = [fault for fault in faults if _meets(room, fault, spacing)]
    if not inside or room.area <= 0:
        return [room]
    x, y, diameter = min(inside)
    r = diameter / 2
    parts = (_lengths if cut == "lengths" else _lanes)(room, x, y, r, spacing)
    return [c for part in parts for c in _split(part, tuple(inside), cut, spacing)]


def _meets(room: Clearing, fault: tuple[float, float, float], spacing: float) -> bool:
    x, y, diameter = fault
    r = diameter / 2
    across = room.left < x + r - 1e-9 and x - r < room.right - spacing - 1e-9
    return across and room.bottom < y + r - 1e-9 and y - r < room.top - spacing - 1e-9


def _lengths(room: Clearing, x: float, y: float, r: float, spacing: float) -> list[Clearing]:
    middle = max(room.left, min(x - r + spacing, x + r)), min(x + r, room.right)
    return [
        Clearing(room.left, room.bottom, x - r + spacing, room.top),
        Clearing(x + r, room.bottom, room.right, room.top),
        Clearing(middle[0], room.bottom, middle[1], y - r + spacing),
        Clearing(middle[0], y + r, middle[1], room.top),
    ]


def _lanes(room: Clearing, x: float, y: float, r: float, spacing: float) -> list[Clearing]:
    middle = max(room.bottom, min(y - r + spacing, y + r)), min(y + r, room.top)
    return [
        Clearing(room.left, room.bottom, room.right, y - r + spacing),
        Clearing(room.left, y + r, room.right, room.top),
        Clearing(room.left, middle[0], x - r + spacing, middle[1]),
        Clearing(x + r, middle[0], room.right, middle[1]),
    ]

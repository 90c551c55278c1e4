"""Clear rectangles: what a piece of stock offers between its margins and round its faults."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from templategen.geometry.bounds import Bounds
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
    room = piece.room
    whole = Clearing(room.left, room.bottom, room.right + spacing, room.top + spacing)
    found = _split(whole, piece.fault_boxes, cut, spacing)
    return tuple(sorted((c for c in found if c.area > 0), key=lambda c: (-c.area, c.left, c.bottom)))


def _split(room: Clearing, faults: tuple[Bounds, ...], cut: Cut, spacing: float) -> list[Clearing]:
    inside = [fault for fault in faults if _meets(room, fault, spacing)]
    if not inside or room.area <= 0:
        return [room]
    parts = (_lengths if cut == "lengths" else _lanes)(room, min(inside), spacing)
    return [c for part in parts for c in _split(part, tuple(inside), cut, spacing)]


def _meets(room: Clearing, fault: Bounds, spacing: float) -> bool:
    across = room.left < fault.right - 1e-9 and fault.left < room.right - spacing - 1e-9
    return across and room.bottom < fault.top - 1e-9 and fault.bottom < room.top - spacing - 1e-9


def _lengths(room: Clearing, fault: Bounds, spacing: float) -> list[Clearing]:
    middle = max(room.left, min(fault.left + spacing, fault.right)), min(fault.right, room.right)
    return [
        Clearing(room.left, room.bottom, fault.left + spacing, room.top),
        Clearing(_behind(room.left, fault.left, fault.right, spacing), room.bottom, room.right, room.top),
        Clearing(middle[0], room.bottom, middle[1], fault.bottom + spacing),
        Clearing(middle[0], _behind(room.bottom, fault.bottom, fault.top, spacing), middle[1], room.top),
    ]


def _lanes(room: Clearing, fault: Bounds, spacing: float) -> list[Clearing]:
    middle = max(room.bottom, min(fault.bottom + spacing, fault.top)), min(fault.top, room.top)
    return [
        Clearing(room.left, room.bottom, room.right, fault.bottom + spacing),
        Clearing(room.left, _behind(room.bottom, fault.bottom, fault.top, spacing), room.right, room.top),
        Clearing(room.left, middle[0], fault.left + spacing, middle[1]),
        Clearing(_behind(room.left, fault.left, fault.right, spacing), middle[0], room.right, middle[1]),
    ]


def _behind(start: float, low: float, high: float, spacing: float) -> float:
    """Where parts may begin behind a fault: a kerf from those before it too, where it is narrower than that."""
    return max(high, low + spacing) if low > start else high

"""Clear rectangles: what a piece of stock offers between its margins and around its defects."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from templategen.geometry.bounds import Bounds
from templategen.nesting.offcuts import clear_rooms
from templategen.nesting.stock import Piece

Cut = Literal["lengths", "lanes", "largest", "longest"]
"""How a piece is cut around its defects: full-width lengths between them, full-length lanes beside them, or the
largest or longest clear rectangle first, then those of what is left on its four sides."""

LEAST = 60.0, 15.0
"""Smaller clear rectangles aren't looked for one by one, mm."""

NARROW = 5.0
"""What is left between defects is given up where it is no wider than this, mm."""

MANY = 40
"""So many defects are divided in the middle, not from the left: the time then grows little faster than they do."""


@dataclass(frozen=True, slots=True)
class Clearance:
    """How a piece is cut clear of its defects: crosscuts first, at a part's length from its left or its right end (0
    for none), then each length around its own defects."""

    cut: Cut
    from_left: float = 0.0
    from_right: float = 0.0


@lru_cache(4096)
def clearings(piece: Piece, way: Clearance, spacing: float) -> tuple[Bounds, ...]:
    """The clear rectangles of `piece`, largest first; parts in different ones are `spacing` apart.

    Right and top are where the last kerf may end: `spacing` beyond the wood where a rectangle ends at a margin or a
    defect, at the wood's own end where another one begins.
    """
    found = [
        one for share in _shares(piece, way, spacing) for one in _split(share, piece.defect_boxes, way.cut, spacing)
    ]
    clear = [one for one in found if one.width > 0 and one.height > 0]
    return tuple(sorted(clear, key=lambda one: (-one.width * one.height, one.left, one.bottom)))


def _shares(piece: Piece, way: Clearance, spacing: float) -> Iterator[Bounds]:
    """The lengths between the crosscuts."""
    room = piece.room
    ends = [room.left, room.right + spacing]
    if way.from_left:
        ends.insert(1, room.left + way.from_left + spacing)
    if way.from_right:
        ends.insert(-1, room.right - way.from_right)
    if ends != sorted(ends):
        ends = [ends[0], ends[-1]]
    yield from (Bounds(left, room.bottom, right, room.top + spacing) for left, right in pairwise(ends))


def _split(room: Bounds, defects: tuple[Bounds, ...], cut: Cut, spacing: float) -> Iterator[Bounds]:
    waiting = [(room, defects)]
    while waiting:
        room, defects = waiting.pop()
        if min(room.width, room.height) - spacing < NARROW and defects:
            continue
        inside = tuple(defect for defect in defects if _meets(room, defect, spacing))
        if not inside:
            yield room
        elif cut in ("lengths", "lanes"):
            defect = min(inside) if len(inside) < MANY else sorted(inside)[len(inside) // 2]
            parts = (_lengths if cut == "lengths" else _lanes)(room, defect, spacing)
            waiting += [(part, inside) for part in parts]
        else:
            wood = Bounds(room.left, room.bottom, room.right - spacing, room.top - spacing)
            rooms = clear_rooms(wood, inside, LEAST)
            if rooms:
                best = max(rooms, key=lambda box: (_size(box, cut), -box.left, -box.bottom))
                yield Bounds(best.left, best.bottom, best.right + spacing, best.top + spacing)
                waiting += [(part, inside) for part in _round(room, best, spacing)]


def _size(box: Bounds, cut: Cut) -> float:
    return box.width if cut == "longest" else box.width * box.height


def _round(room: Bounds, taken: Bounds, spacing: float) -> list[Bounds]:
    """What is left of a room on four sides of a rectangle, a kerf away from it."""
    left, right = taken.left, taken.right + spacing
    return [
        Bounds(room.left, room.bottom, taken.left, room.top),
        Bounds(right, room.bottom, room.right, room.top),
        Bounds(left, room.bottom, right, taken.bottom),
        Bounds(left, taken.top + spacing, right, room.top),
    ]


def _meets(room: Bounds, defect: Bounds, spacing: float) -> bool:
    across = room.left < defect.right - 1e-9 and defect.left < room.right - spacing - 1e-9
    return across and room.bottom < defect.top - 1e-9 and defect.bottom < room.top - spacing - 1e-9


def _lengths(room: Bounds, defect: Bounds, spacing: float) -> list[Bounds]:
    middle = max(room.left, min(defect.left + spacing, defect.right)), min(defect.right, room.right)
    return [
        Bounds(room.left, room.bottom, defect.left + spacing, room.top),
        Bounds(_behind(room.left, defect.left, defect.right, spacing), room.bottom, room.right, room.top),
        Bounds(middle[0], room.bottom, middle[1], defect.bottom + spacing),
        Bounds(middle[0], _behind(room.bottom, defect.bottom, defect.top, spacing), middle[1], room.top),
    ]


def _lanes(room: Bounds, defect: Bounds, spacing: float) -> list[Bounds]:
    middle = max(room.bottom, min(defect.bottom + spacing, defect.top)), min(defect.top, room.top)
    return [
        Bounds(room.left, room.bottom, room.right, defect.bottom + spacing),
        Bounds(room.left, _behind(room.bottom, defect.bottom, defect.top, spacing), room.right, room.top),
        Bounds(room.left, middle[0], defect.left + spacing, middle[1]),
        Bounds(_behind(room.left, defect.left, defect.right, spacing), middle[0], room.right, middle[1]),
    ]


def _behind(start: float, low: float, high: float, spacing: float) -> float:
    """Where parts may begin behind a defect: a kerf from those before it too, where it is narrower than that."""
    return max(high, low + spacing) if low > start else high

"""Small parts laid in the holes of larger ones, before these are laid anywhere: there they cost no stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import pi
from typing import TYPE_CHECKING

from templategen.geometry.placement import QUARTER, Placement
from templategen.nesting.engines.flat import flat
from templategen.nesting.stock import Item, Laid, Layout, Piece

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

SPOTS = 14
"""Places tried along each side of a hole for a part that doesn't fit in its middle."""

ROUNDING = 1e-4
"""A part in a hole keeps so much more than its distance, mm."""

MOST_FILLED = 400
"""Holes filled at most; in a batch all sets are filled alike."""

MARK = "\x1f"
"""Stands between an item's code and what fills its holes; no code holds it."""


@dataclass(frozen=True, slots=True)
class Filled:
    """The items with holes filled, and what lies in each filled one: its code -> parts, in the frame of the first."""

    items: tuple[Item, ...]
    inside: Mapping[str, tuple[Laid, ...]]

    def opened(self, layout: Layout) -> Layout:
        """The layout with every part named that it holds."""
        if not self.inside:
            return layout
        sheets = tuple(replace(sheet, laid=tuple(self._parts(sheet.laid))) for sheet in layout.sheets)
        left: Counter[str] = Counter()
        for code, count in layout.unplaced.items():
            for one in self.inside.get(code, (Laid(code, Placement()),)):
                left[one.code] += count
        return Layout(sheets, dict(left))

    def _parts(self, laid: Sequence[Laid]) -> Iterator[Laid]:
        for one in laid:
            if one.code in self.inside:
                for part in self.inside[one.code]:
                    yield Laid(part.code, part.placement.then(one.placement))
            else:
                yield one


def fill_holes(items: Sequence[Item], pieces: Sequence[Piece], spacing: float, sets: int = 1) -> Filled:
    """The items of `sets` like sets with the holes filled that smaller parts fit in, the largest parts first.

    Only where every piece is routed: a saw can't reach into a hole.
    """
    holed = [item for item in items if item.holes and item.count > 0]
    if not holed or not pieces or any(piece.mode != "routed" for piece in pieces):
        return Filled(tuple(items), {})
    apart = max(piece.apart(spacing) for piece in pieces) + ROUNDING
    left = Counter({item.code: item.count // sets for item in items})
    grain = any(piece.grain for piece in pieces)
    found: Counter[str] = Counter()
    inside: dict[str, tuple[Laid, ...]] = {}
    made: dict[str, Item] = {}
    for item in sorted(holed, key=lambda one: (-sum(abs(hole.area) for hole in one.holes), one.code)):
        for _ in range(min(left[item.code], MOST_FILLED)):
            small = [one for one in items if one.code != item.code and left[one.code] > 0]
            parts = _within(item, small, left, apart, grain)
            if not parts:
                break
            left[item.code] -= 1
            left.subtract(part.code for part in parts)
            code = MARK.join((item.code, *(f"{p.code}@{p.placement.x:.6f},{p.placement.y:.6f}" for p in parts)))
            found[code] += 1
            inside[code] = (Laid(item.code, Placement()), *parts)
            over = item.may_turn_over and all(_known(items, p.code).may_turn_over for p in parts)
            made[code] = replace(item, code=code, holes=(), may_turn_over=over)
    kept = [replace(item, count=left[item.code] * sets) for item in items]
    return Filled((*kept, *(replace(made[code], count=n * sets) for code, n in found.items())), inside)


def _known(items: Sequence[Item], code: str) -> Item:
    return next(item for item in items if item.code == code)


def _within(
    item: Item, small: Sequence[Item], left: Mapping[str, int], apart: float, grain: bool
) -> tuple[Laid, ...]:
    """Parts in the holes of one item, in its frame."""
    placed: list[Laid] = []
    used: Counter[str] = Counter()
    order = sorted(small, key=lambda one: (-abs(one.outline.area), one.code))
    for hole in item.holes:
        room: BaseGeometry = flat(hole, outside=False).buffer(-apart, quad_segs=32)
        for one in order:
            while not room.is_empty and used[one.code] < left[one.code]:
                spot = _spot(room, one, item, grain)
                if spot is None:
                    break
                placed.append(Laid(one.code, spot))
                used[one.code] += 1
                room = room.difference(flat(spot.outline(one.outline)).buffer(apart, quad_segs=32))
    return tuple(placed)


def _spot(room: BaseGeometry, one: Item, item: Item, grain: bool) -> Placement | None:
    """A place for a part in a room: in its middle, or as low and as far left as one of a grid of places lets it."""
    from shapely import affinity, prepare

    if abs(one.outline.area) > room.area:
        return None
    left, bottom, right, top = room.bounds
    prepare(room)
    for turn in _turns(one, item, grain):
        turned = Placement(turn=turn).outline(one.outline)
        box = turned.bounds
        if box.width > right - left or box.height > top - bottom:
            continue
        shape = flat(turned)
        for x, y in _places(left, bottom, right - box.width, top - box.height):
            dx, dy = x - box.left, y - box.bottom
            if room.covers(affinity.translate(shape, dx, dy)):
                return Placement(dx, dy, turn)
    return None


def _places(left: float, bottom: float, right: float, top: float) -> Iterator[tuple[float, float]]:
    yield (left + right) / 2, (bottom + top) / 2
    for row in range(SPOTS + 1):
        for column in range(SPOTS + 1):
            yield left + (right - left) * column / SPOTS, bottom + (top - bottom) * row / SPOTS


def _turns(one: Item, item: Item, grain: bool) -> tuple[float, ...]:
    """The turns of a part in the frame of the one that holds it."""
    along = one.grain_turn - item.grain_turn
    return (along, along + pi) if grain else (along, along + QUARTER, along + pi, along + 3 * QUARTER)

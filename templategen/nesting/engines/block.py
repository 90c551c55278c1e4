"""Blocks: rectangles that hold one part or several interlocked ones."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from templategen.geometry.placement import HALF, QUARTER, Placement
from templategen.geometry.point import Point
from templategen.nesting.stock import Item, Laid


@dataclass(frozen=True)
class Blank:
    """An item as it lies along the grain, in one of its two turns, turned over or not, lower left corner of its box
    at the origin."""

    item: Item
    half: bool
    over: bool = False

    @cached_property
    def placement(self) -> Placement:
        """Takes the item's own outline there."""
        turn = self.item.grain_turn * (-1 if self.over else 1) + (HALF if self.half else 0.0)
        box = Placement(turn=turn, turned_over=self.over).outline(self.item.outline).bounds
        return Placement(-box.left, -box.bottom, turn, self.over)

    @cached_property
    def size(self) -> tuple[float, float]:
        """Length along the grain and width."""
        box = self.placement.outline(self.item.outline).bounds
        return box.width, box.height

    @cached_property
    def corners(self) -> tuple[Point, ...]:
        """The corners where they lie."""
        return self.placement.outline(self.item.outline).points


@dataclass(frozen=True)
class Block:
    """A rectangle, length along x and width along y from its lower left corner, with parts laid in it."""

    length: float
    width: float
    laid: tuple[Laid, ...]
    area: float

    @cached_property
    def uses(self) -> tuple[tuple[str, int], ...]:
        """How many copies of each code it takes."""
        return tuple(Counter(laid.code for laid in self.laid).items())

    def at(self, x: float, y: float, upright: bool) -> tuple[Laid, ...]:
        """Its parts with the block's lower left corner at (x, y), turned a quarter when `upright`."""
        move = Placement(x + self.width, y, QUARTER) if upright else Placement(x, y)
        return tuple(Laid(laid.code, laid.placement.then(move)) for laid in self.laid)


@dataclass
class Demand:
    """Copies still to be laid."""

    left: Counter[str] = field(default_factory=Counter)

    def allows(self, block: Block) -> bool:
        """Whether enough copies are left for `block`."""
        return all(self.left[code] >= count for code, count in block.uses)

    def take(self, block: Block) -> None:
        """Count the copies of `block` as laid."""
        for code, count in block.uses:
            self.left[code] -= count

    def holds(self, laid: Iterable[Laid]) -> bool:
        """Whether enough copies are left for all of `laid`."""
        return Counter(x.code for x in laid) <= self.left

    def without(self, laid: Iterable[Laid]) -> Demand:
        """What is left once `laid` is laid too."""
        return Demand(Counter({c: n for c, n in (self.left - Counter(x.code for x in laid)).items() if n > 0}))

    def with_back(self, laid: Iterable[Laid]) -> Demand:
        """What is left when `laid` is taken up again."""
        return Demand(self.left + Counter(x.code for x in laid))


def blanks(item: Item) -> tuple[Blank, ...]:
    """The ways in which `item` may lie along the grain, those that look alike left out."""
    sides = (False, True) if item.may_turn_over else (False,)
    ways = [Blank(item, half, over) for over in sides for half in (False, True)]
    seen: dict[tuple[tuple[float, float], ...], Blank] = {}
    for way in ways:
        # Outlines with arcs lie in their boxes anyway: two ways do.
        looks = tuple(sorted((round(x, 6), round(y, 6)) for x, y in way.corners))
        seen.setdefault(looks, way)
    return tuple(seen.values())


def single(item: Item) -> Block:
    """The block of one copy of `item`."""
    blank = Blank(item, half=False)
    length, width = blank.size
    return Block(length, width, (Laid(item.code, blank.placement),), abs(item.outline.area))

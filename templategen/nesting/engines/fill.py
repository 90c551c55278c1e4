"""Fill one piece of stock with blocks."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import fsum
from random import Random

from templategen.geometry.bounds import Bounds
from templategen.nesting.engines.block import Block, Demand
from templategen.nesting.engines.clearing import Clearance, clearings
from templategen.nesting.engines.guillotine import GuillotineSections
from templategen.nesting.engines.interlock import Interlock
from templategen.nesting.engines.lanes import Habits, Lanes, Strip
from templategen.nesting.stock import Laid, Piece

TICKS = 10_000
"""Rectangles are packed in whole ticks of 1/10000 mm, so that sums are exact."""

SLACK = 1e-3
"""Share of a tick that is forgiven, so that a part as long as its board still fits."""

LEFTMOST = "leftmost"
"""The rule that isn't the packing library's own: its lowest place, with the board stood on end."""

RULES = ("MaxRectsBl", LEFTMOST, "MaxRectsBssf", "MaxRectsBaf", "MaxRectsBlsf")
"""Rules for the best place: lowest, leftmost, best short side, best area, best long side."""

SAWN_RULES = ("GuillotineBssfSas", "GuillotineBafLas", "GuillotineBlsfSlas")
"""Rules that divide the board by cuts right through it."""

REST = Habits(1.0, 0.2, 0.6)
"""How lanes are laid in what sections leave."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """One way of filling: how defects are cut round, the rule for the best place, and the codes of each row
    that goes first, in the order in which the row should take them."""

    way: Clearance
    rule: str
    rows: tuple[tuple[str, ...], ...] = ()


def fill(
    piece: Piece, blocks: Sequence[Block], demand: Demand, recipe: Recipe, interlock: Interlock
) -> tuple[tuple[Laid, ...], float]:
    """Lay blocks in the order given, as many of each as demand and room allow; `demand` itself stays as it is.

    Returns what was laid and the area of those parts, mm2.
    """
    left = Demand(demand.left.copy())
    laid: list[Laid] = []
    area = 0.0
    spacing = interlock.spacing
    for room in clearings(piece, recipe.way, spacing):
        order = [*_rows(room, left, recipe.rows, interlock), *blocks]
        for block, placed in _pack(room, order, left, recipe.rule, spacing, turning=not piece.grain):
            laid.extend(placed)
            area += block.area
    return tuple(laid), area


def fill_lanes(
    piece: Piece, demand: Demand, way: Clearance, habits: Habits, interlock: Interlock, random: Random
) -> tuple[tuple[Laid, ...], float]:
    """Lay what finds room in lanes that a saw can cut; as `fill` otherwise."""
    lanes = Lanes(interlock, Demand(demand.left.copy()), habits, random)
    return _in_strips(piece, way, interlock.spacing, lanes.fill)


def fill_sections(
    piece: Piece, demand: Demand, way: Clearance, sections: GuillotineSections, random: Random
) -> tuple[tuple[Laid, ...], float]:
    """Lay what is worth most in sections and lanes that a saw can cut; as `fill` otherwise."""
    lanes = Lanes(sections.interlock, Demand(demand.left.copy()), REST, random)
    return _in_strips(piece, way, sections.kerf, lambda strip: sections.fill(strip, lanes))


def _in_strips(
    piece: Piece, way: Clearance, kerf: float, filling: Callable[[Strip], Iterator[tuple[Block, tuple[Laid, ...]]]]
) -> tuple[tuple[Laid, ...], float]:
    laid: list[Laid] = []
    areas: list[float] = []
    for room in clearings(piece, way, kerf):
        strip = Strip(room.left, room.bottom, room.width - kerf, room.height - kerf)
        if strip.length > 0 and strip.width > 0:
            for block, placed in filling(strip):
                laid.extend(placed)
                areas.append(block.area)
    return tuple(laid), fsum(areas)


def _rows(room: Bounds, demand: Demand, rows: Sequence[Sequence[str]], interlock: Interlock) -> Iterator[Block]:
    """Full rows while their widths fit, from a list of demand of their own: `_pack` counts what it lays."""
    spare = Demand(demand.left.copy())
    height = room.height
    for codes in rows:
        width = interlock.width(codes[0]) + interlock.spacing
        copies = [code for code in codes for _ in range(spare.left[code])] if width <= height else []
        block = interlock.longest_row(copies, room.width - interlock.spacing)
        if block is not None:
            height -= width
            spare.take(block)
            yield block


def _pack(
    room: Bounds, order: Sequence[Block], demand: Demand, rule: str, spacing: float, turning: bool
) -> Iterator[tuple[Block, tuple[Laid, ...]]]:
    packer = _Packer(room, rule, turning)
    for block in order:
        across, up = _up(block.length + spacing), _up(block.width + spacing)
        while demand.allows(block):
            spot = packer.place(across, up)
            if spot is None:
                break
            demand.take(block)
            x, y, upright = spot
            yield block, block.at(room.left + x / TICKS, room.bottom + y / TICKS, upright)


class _Packer:
    """The packing library's bin for one clear rectangle, stood on end for the leftmost rule."""

    def __init__(self, room: Bounds, rule: str, turning: bool) -> None:
        import rectpack

        self.on_end, self.turning = rule == LEFTMOST, turning
        self.size = _down(room.width), _down(room.height)
        packer = getattr(rectpack, RULES[0] if self.on_end else rule)
        self.packer = packer(*(self.size[::-1] if self.on_end else self.size), rot=turning)

    def place(self, across: int, up: int) -> tuple[int, int, bool] | None:
        """Lower left corner of the place found, in ticks, and whether the rectangle was turned a quarter."""
        w, h = self.size
        if not ((across <= w and up <= h) or (self.turning and up <= w and across <= h)):
            return None
        spot = self.packer.add_rect(*((up, across) if self.on_end else (across, up)))
        if spot is None:
            return None
        if self.on_end:
            return spot.y, spot.x, (spot.height, spot.width) != (across, up)
        return spot.x, spot.y, (spot.width, spot.height) != (across, up)


def _up(size: float) -> int:
    ticks = size * TICKS - SLACK
    return max(1, int(ticks) + (ticks > int(ticks)))


def _down(size: float) -> int:
    return max(1, int(size * TICKS + SLACK))

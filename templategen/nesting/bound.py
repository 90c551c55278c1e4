"""A bound that no layout can beat: what the parts need of areas and of lines, in whole pieces of stock."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import fsum, inf

from templategen.catalogue import fault_of
from templategen.errors import StockError
from templategen.geometry.placement import Placement
from templategen.nesting.area import ROUNDING, Bound, by_area, grown_area, room_area
from templategen.nesting.cross_section import CrossSections, cross_sections
from templategen.nesting.least_stock import Answer, Least, Stock
from templategen.nesting.line_limits import Effort, Limit, sharp_limit
from templategen.nesting.line_systems import System, systems
from templategen.nesting.scales import Scales
from templategen.nesting.stock import Item, Piece

__all__ = ["Bound", "bound", "by_area", "grown_area", "room_area"]

ROUNDS = 12
"""How often limits are looked for while pieces may be taken in parts."""

WHOLE_ROUNDS = 6
"""The same with whole pieces."""

WORK = 40
"""How many times lines are filled in search of limits where no more is asked for: a fraction of a second."""

SCALES_WORK = 200
"""The same in search of scales."""

HOW = (
    "no line across a board holds parts whose widths with their kerfs add up to more than is free of it, no line "
    "along it their lengths, no board more parts than lengths and widths both allow; all this asked of every share "
    "of the parts that each kind of stock may take"
)
"""What a sharper bound rests on besides areas."""

SLIP = 1e-3
"""By how much a part may be longer than its board on paper, mm."""


def bound(
    items: Sequence[Item],
    pieces: Sequence[Piece],
    spacing: float,
    enough: tuple[int, float] | None = None,
    work: int = WORK,
    scaled: bool = True,
) -> Bound:
    """The least stock that could hold all items; a bound that reaches `enough` (pieces, cost) isn't sharpened.

    By area: parts `spacing` apart stay clear of each other when each is grown by half of it, and the grown parts
    lie within the usable stock grown by as much. So the areas of the grown parts add up to no more than the area of
    the grown stock, defects (shrunk by as much) left out.

    By lines: the same on every straight line across or along a board, see `line_systems`. Both are asked of each kind
    of stock and the share of the parts it takes, whatever that share is (`least_stock`); the least cost under these
    limits is no more than that of any layout, since every layout keeps them.

    By scales: the same of lengths and widths at once, see `scales`; left out without `scaled`, which is quicker.

    Raises:
        StockError: the stock in hand can't hold the parts.
    """
    items = [item for item in items if item.count > 0]
    priced = any(piece.price > 0 for piece in pieces)
    plain = by_area(items, pieces, spacing, priced)
    if not items or _reached(plain, enough):
        return plain
    try:
        return _Sharp(items, pieces, spacing, priced, work, scaled).sharpened(plain, enough)
    except StockError:
        # A layout that was proved overrules a solver that finds none.
        if enough is None:
            raise
        return plain


def _reached(found: Bound, enough: tuple[int, float] | None) -> bool:
    return enough is not None and found.pieces >= enough[0] and found.cost >= enough[1] * (1 - 1e-9)


class _Sharp:
    """The search for limits that tighten the bound of one job."""

    def __init__(
        self, items: Sequence[Item], pieces: Sequence[Piece], spacing: float, priced: bool, work: int, scaled: bool
    ) -> None:
        self.work, self.scales_work = Effort(work), Effort(SCALES_WORK)
        self.weights = [piece.price if priced else piece.length * piece.width for piece in pieces]
        self.scale = max(self.weights, default=1.0) or 1.0
        self.systems: list[System] = []
        self.scales: list[Scales] = []
        fits = []
        for kind, piece in enumerate(pieces):
            between = piece.apart(spacing)
            fits.append([_fits(item, piece) for item in items])
            if piece.grain and piece.room.width > 0 and piece.room.height > 0:
                known = [
                    sections_of(item, between / 2) if fit else None for item, fit in zip(items, fits[-1], strict=True)
                ]
                self.systems += systems(kind, piece, between, items, known)
                self.scales += [Scales(kind, piece, between, items, fits[-1])] if scaled else []
        counts = tuple(piece.count for piece in pieces)
        stock = Stock(tuple(weight / self.scale for weight in self.weights), counts)
        self.least = Least(stock, [item.count for item in items], fits, _areas(items, pieces, spacing))
        self.systems.sort(key=lambda system: (len(system.sizes), system.kind, system.axis, not system.single))

    def sharpened(self, plain: Bound, enough: tuple[int, float] | None) -> Bound:
        """The bound, tightened until its solution breaks no limit that can be found."""
        weights = self.least.stock.weights
        answer = self._limited(weights, False, ROUNDS, lambda _: False)
        plain = replace(plain, in_parts=max(plain.in_parts, (answer.weight or 0.0) * self.scale))
        wanted = enough[1] if enough else inf
        answer = self._limited(weights, True, WHOLE_ROUNDS, lambda found: self._cost(found) >= wanted * (1 - 1e-9))
        cost = max(plain.cost, self._cost(answer))
        ones = [1.0] * len(weights)
        counted = self._limited(ones, True, 2, lambda found: False)
        pieces = max(plain.pieces, -int(-((counted.weight or 0.0) - 1e-6) // 1))
        if cost <= plain.cost * (1 + 1e-9) and pieces <= plain.pieces:
            return plain
        return replace(plain, pieces=pieces, cost=cost, how=f"{plain.how}; {HOW}")

    def _limited(self, weights: Sequence[float], whole: bool, rounds: int, done: Callable[[Answer], bool]) -> Answer:
        """The least weight: limits that the solution breaks are added, and it is solved again."""
        answer = self._solved(weights, whole)
        for _ in range(rounds):
            if not answer.pieces or done(answer) or not self._more(answer):
                break
            answer = self._solved(weights, whole)
        return answer

    def _solved(self, weights: Sequence[float], whole: bool) -> Answer:
        answer = self.least.solve(weights, whole)
        if answer.weight is None:
            raise StockError(fault_of("stock", "can't hold all parts, however they are laid", "add boards"))
        return answer

    def _more(self, answer: Answer) -> bool:
        """Add the limits that a solution breaks; whether there were any."""
        found = False
        for system in self.systems:
            held = answer.pieces[system.kind]
            limit = sharp_limit(system, held, answer.copies[system.kind], self.work) if held > 1e-6 else None
            if limit is not None:
                self.least.limits.append(limit)
                found = True
        for scales in self.scales:
            held = answer.pieces[scales.kind]
            passed = scales.limits(held, answer.copies[scales.kind], self.scales_work) if held > 1e-6 else []
            self.least.limits += passed
            found = found or bool(passed)
        return found

    def _cost(self, answer: Answer) -> float:
        """The cost proved, in money or mm2: exactly that of the whole pieces where they are optimal."""
        proved = (answer.weight or 0.0) * self.scale
        exact = fsum(round(n) * weight for n, weight in zip(answer.pieces, self.weights, strict=False))
        return exact if answer.whole and abs(exact - proved) <= 1e-6 * exact else proved * (1 - ROUNDING)


def _areas(items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> list[Limit]:
    """The limit by area of each kind."""
    limits = []
    for kind, piece in enumerate(pieces):
        half = piece.apart(spacing) / 2
        areas = tuple(grown_area(item.outline, half) * (1 - ROUNDING) for item in items)
        limits.append(Limit(kind, areas, max(0.0, room_area(piece, half)) * (1 + ROUNDING)))
    return limits


def sections_of(item: Item, grown: float) -> tuple[CrossSections, CrossSections]:
    """A part's sections by lines across and along the board."""
    across, along = (cross_sections(item.outline, item.grain_turn, axis, grown) for axis in (0, 1))
    return across, along


def _fits(item: Item, piece: Piece) -> bool:
    if not piece.grain:
        return True
    box, room = Placement(turn=item.grain_turn).outline(item.outline).bounds, piece.room
    return box.width <= room.width + SLIP and box.height <= room.height + SLIP

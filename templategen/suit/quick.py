"""A variant reckoned quickly: its parts exactly, its boards by one short layout of each kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from templategen.checks.sitting import seats
from templategen.errors import DesignError, StockError, TemplategenError
from templategen.nesting.area import by_area
from templategen.nesting.engines.rectangles import Rectangles
from templategen.nesting.nest import cost
from templategen.packet.jigs import plan_jigs
from templategen.packet.supply import Order, Supply, joint_supplies, supplies
from templategen.shop.weigh import mass_kg
from templategen.suit.variant import Variant, distance, profile_of
from templategen.table.assembly import Table, build_table
from templategen.table.profile.choices import Counts
from templategen.table.profile.model import Profile

EFFORT = 0.1
"""Effort for laying out one kind of stock, seconds of an ordinary machine; not proved, as proposals are."""

FIRST, LATER = 0.002, 0.03
"""A table is better where what counts first is less by this share, or else what counts next by that."""


def better(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether the first of two lists of what counts is less by more than a trifle."""
    for place, (less, more) in enumerate(zip(one, other, strict=True)):
        trifle = (LATER if place else FIRST) * abs(more)
        if abs(less - more) > trifle:
            return less < more
    return False


@dataclass(frozen=True, slots=True)
class Quick:
    """What a variant comes to. `counts` holds a figure for each thing that counts, the less the better: a size with
    its sign turned, hours and set-ups foretold by the number of parts and of kinds of part."""

    variant: Variant
    distance: float
    counts: tuple[float, ...]


class Reckoner:
    """Reckons variants of one profile, each once."""

    def __init__(self, profile: Profile) -> None:
        self.profile, self.known = profile, dict[Variant, Quick | None]()
        self.ceiling: float | None = None

    def __call__(self, variant: Variant) -> Quick | None:
        """What the variant comes to; None for a table that can't be built, has too few seats, or finds no room on
        the stock, and where money counts first for one whose boards cost more than the ceiling by area alone."""
        if variant not in self.known:
            self.known[variant] = self._reckoned(variant)
        return self.known[variant]

    def _reckoned(self, variant: Variant) -> Quick | None:
        suit = self.profile.suit
        try:
            table = build_table(profile_of(self.profile, variant))
        except TemplategenError:
            return None
        easy = table.profile.limits.seat_width[1]
        if suit.seats and seats(table.profile.top.diameter, easy) < suit.seats:
            return None
        boards = self._boards(table)
        if boards is None:
            return None
        counts = tuple(_count(table, boards, one) for one in suit.counts)
        return Quick(variant, distance(self.profile, variant), counts)

    def _boards(self, table: Table) -> tuple[float, int] | None:
        """Cost and number of the boards; None where parts find no room, or they cost too much."""
        if not table.profile.stock:
            return 0.0, 0
        served, unserved = supplies(table)
        if unserved:
            return None
        try:
            if self.ceiling is not None and sum(map(_least, served)) > self.ceiling + 1e-6:
                return None
            layouts = [Rectangles(sections=False).nest(one.items, one.pieces, one.spacing, EFFORT) for one in served]
        except (DesignError, StockError):
            return None
        if any(layout.unplaced for layout in layouts):
            return None
        sheets = least_of_jigs(table)
        return sum(map(cost, layouts)) + sheets, sum(len(layout.sheets) for layout in layouts)


def least_of_jigs(table: Table) -> float:
    """What the sheets for jigs cost at least, by area; nothing where there are none."""
    profile = table.profile
    pieces = plan_jigs(table).of_sheet(profile)
    if not any(one.wood == profile.jigs.wood for one in profile.stock):
        return 0.0
    served, _ = joint_supplies([Order(table, 1, jigs=pieces)], profile.stock)
    return sum(_least(one) for one in served if one.only_jigs)


def _least(supply: Supply) -> float:
    priced = any(piece.price for piece in supply.pieces)
    return by_area(supply.items, supply.pieces, supply.spacing, priced).cost


def _count(table: Table, boards: tuple[float, int], what: Counts) -> float:
    """One thing that counts; the less the better."""
    if what == "cost":
        return round(boards[0], 2)
    if what == "boards":
        return float(boards[1])
    if what == "mass":
        return round(mass_kg(table), 1)
    if what == "size":
        return -table.profile.top.diameter
    return float(len(table.placed) if what == "hours" else len(table.parts))

"""The bound by areas: what parts and their kerfs cover, against the room of whole pieces of stock."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, hypot, inf, pi, sqrt

from templategen.catalogue import translated, worded
from templategen.errors import Fault, StockError
from templategen.geometry.corner import turn_between
from templategen.geometry.outline import Outline
from templategen.nesting.stock import Item, Piece

MOST_STEPS = 20_000
"""Sets of pieces looked at before the bound by area falls back to parts of pieces."""

ROUNDING = 1e-7
"""Share by which areas are rounded in favour of the bound."""


Offer = tuple[float, float, int | None]
"""Room of a piece (mm2), its cost, and how many there are."""


@dataclass(frozen=True, slots=True)
class Bound:
    """The fewest pieces and the least cost that any layout can have (the stock's area in mm2 where it has no prices);
    `in_parts` is the least cost if fractions of pieces could be bought, which grows smoothly with the demand."""

    pieces: int
    cost: float
    how: str
    in_parts: float = 0.0


def by_area(items: Sequence[Item], pieces: Sequence[Piece], spacing: float, priced: bool) -> Bound:
    """The bound by areas alone, in whole pieces of the stock.

    Raises:
        StockError: the stock in hand has less area than the parts.
    """
    if not items:
        return Bound(0, 0.0, "there are no parts")
    between = min((piece.apart(spacing) for piece in pieces), default=spacing)
    need = fsum(item.count * grown_area(item.outline, between / 2) for item in items) * (1 - ROUNDING)
    rooms = [(max(0.0, room_area(piece, between / 2)) * (1 + ROUNDING), piece) for piece in pieces]
    offers = [(area, piece.price if priced else piece.length * piece.width, piece.count) for area, piece in rooms]
    if sum(inf if count is None and area > 0 else area * (count or 0) for area, _, count in offers) < need:
        found = worded("parts of {need:.3f} m² with their kerfs, more than all the stock has", need=need / 1000000.0)
        raise StockError(Fault("stock", found, translated("add boards")))
    cost, whole = _least_cost(offers, need)
    kinds = sorted((offer for offer in offers if offer[0] > 0), key=_rate)
    words = _words(need, between, whole, priced)
    return Bound(_least_pieces(offers, need), cost, words, _by_parts(kinds, need))


def _rate(offer: Offer) -> float:
    return offer[1] / offer[0]


def _words(need: float, spacing: float, whole: bool, priced: bool) -> str:
    stock = "whole pieces" if whole else "pieces, parts of pieces allowed,"
    measure = "cost least" if priced else "have the least area"
    return (
        f"parts and half a kerf of {spacing:g} mm round each cover {need / 1e6:.3f} m2; the {stock} with that much "
        f"room inside their margins and round their faults that {measure}"
    )


def grown_area(outline: Outline, by: float) -> float:
    """The least area of a shape grown by `by` all round, mm2.

    Exact for convex shapes of straight lines (Steiner); for others the Brunn-Minkowski bound, that of a disc.
    """
    area = abs(outline.area)
    if _convex(outline):
        return area + outline.length * by + pi * by * by
    return (sqrt(area) + sqrt(pi) * by) ** 2


def _convex(outline: Outline) -> bool:
    corners = outline.anticlockwise.points
    if any(vertex.bulge for vertex in outline):
        return False
    n = len(corners)
    legs = [corners[(i + 1) % n].minus(corners[i]) for i in range(n)]
    turns_left = all(legs[i - 1].cross(legs[i]) >= 0 for i in range(n))
    return turns_left and sum(turn_between(legs[i - 1], legs[i]) for i in range(n)) < 3 * pi


def room_area(piece: Piece, by: float) -> float:
    """The area inside the margins grown by `by`, less defects shrunk by `by` that lie wholly inside and apart."""
    left, bottom, right, top = piece.room.grown(by)
    if right - left <= 2 * by or top - bottom <= 2 * by:
        return 0.0
    area = (right - left) * (top - bottom)
    counted: list[tuple[float, float, float]] = []
    for x, y, diameter in sorted(piece.defects, key=lambda defect: -defect[2]):
        r = diameter / 2 - by
        inside = left <= x - r and x + r <= right and bottom <= y - r and y + r <= top
        if r > 0 and inside and all(hypot(x - u, y - v) >= r + s for u, v, s in counted):
            counted.append((x, y, r))
            area -= pi * r * r
    return area


def _least_pieces(offers: Sequence[Offer], need: float) -> int:
    """The fewest pieces with area enough: the largest are taken first."""
    total = 0
    for area, _, count in sorted(offers, key=lambda offer: -offer[0]):
        while need > 0 and area > 0 and (count is None or count > 0):
            if count is None or count * area >= need:
                return total + max(1, -int(-need // area))
            total, need, count = total + count, need - count * area, 0
    return total


def _least_cost(offers: Sequence[Offer], need: float) -> tuple[float, bool]:
    """The least cost of whole pieces with room for `need`; False when parts of pieces had to be allowed.

    Kinds are taken in order of cost for area; a branch is cut when even parts of the remaining pieces, the
    cheapest for their area first, would cost as much as the best set known.
    """
    kinds = sorted((offer for offer in offers if offer[0] > 0), key=_rate)
    best, steps = inf, 0
    waiting = [(0, need, 0.0)]
    while waiting:
        index, missing, cost = waiting.pop()
        steps += 1
        if steps > MOST_STEPS:
            return _by_parts(kinds, need), False
        if missing <= 0:
            best = min(best, cost)
            continue
        if cost + _by_parts(kinds[index:], missing) >= best * (1 - ROUNDING):
            continue
        area, price, count = kinds[index]
        most = -int(-missing // area)
        most = most if count is None else min(most, count)
        waiting.extend((index + 1, missing - n * area, cost + n * price) for n in range(most + 1))
    return best, True


def _by_parts(kinds: Sequence[Offer], need: float) -> float:
    """The least cost if fractions of pieces could be bought; infinite where there is too little stock."""
    cost = 0.0
    for area, price, count in kinds:
        if need <= 0:
            break
        share = need / area if count is None else min(need / area, count)
        cost += share * price
        need -= share * area
    return cost if need <= 1e-6 else inf

"""The assembly board in pieces: an even polygon round the stops, parted so that each piece comes out of a sheet."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, cos, floor, pi

from templategen.geometry.clip import clip_half_plane
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point, polar
from templategen.geometry.tolerance import EQUAL
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Stock

SHEET = (2440.0, 1220.0)
"""A common sheet where the profile names none, mm."""

TRIM = 10.0
"""Kept clear of a sheet's edges where it names no margin, mm."""


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """One piece: its outline in the table's frame, and its row and column, lowest left first."""

    row: int
    column: int
    outline: Outline


def board_outline(segments: int, apothem: float) -> Outline:
    """A polygon whose flats face the joints, at `apothem` from the table's axis."""
    corner = apothem / cos(pi / segments)
    return polygon(polar(corner, 2 * i * pi / segments) for i in range(segments))


def usable_sheet(profile: Profile) -> tuple[float, float]:
    """Length and width between the margins of the largest sheet of the jigs' wood that is thick enough."""
    fit = [
        _room(stock)
        for stock in profile.stock
        if stock.wood == profile.jigs.wood and stock.thickness >= profile.jigs.thickness - EQUAL
    ]
    return max(fit, key=lambda room: room[0] * room[1], default=(SHEET[0] - 2 * TRIM, SHEET[1] - 2 * TRIM))


def _room(stock: Stock) -> tuple[float, float]:
    margin = stock.margin if isinstance(stock.margin, tuple) else (stock.margin,) * 4
    left, right = max(margin[0], stock.bad_ends[0]), max(margin[1], stock.bad_ends[1])
    return stock.length - left - right, stock.width - margin[2] - margin[3]


def parted(outline: Outline, sheet: tuple[float, float], bit: float) -> tuple[BoardPiece, ...]:
    """The board in horizontal strips, cut into columns where they are longer than the sheet, so that least sheet is
    used; of equal divisions the one with the fewest pieces."""
    box = outline.bounds
    columns = ceil(box.width / sheet[0] - EQUAL)
    least = ceil(box.height / sheet[1] - EQUAL)
    rows = min(range(least, least + 3), key=lambda n: (n / max(1, floor(sheet[1] / (box.height / n + bit))), n))
    return tuple(_pieces(outline, rows, columns))


def _pieces(outline: Outline, rows: int, columns: int) -> Iterator[BoardPiece]:
    box = outline.bounds
    ys = [box.bottom + box.height * i / rows for i in range(rows + 1)]
    xs = [box.left + box.width * i / columns for i in range(columns + 1)]
    for row, (low, high) in enumerate(pairwise(ys)):
        for column, (left, right) in enumerate(pairwise(xs)):
            made = outline
            for at, inward in ((low, Point(0, 1)), (high, Point(0, -1))):
                made = clip_half_plane(made, Point(0, at), inward)[0]
            for at, inward in ((left, Point(1, 0)), (right, Point(-1, 0))):
                made = clip_half_plane(made, Point(at, 0), inward)[0]
            yield BoardPiece(row, column, made)


def within(line: Line, convex: Outline) -> Line | None:
    """What of the line lies inside a convex outline; None where nothing does."""
    first, last = 0.0, 1.0
    along = line.end.minus(line.start)
    for side in convex.anticlockwise.edges:
        inward = side.direction_at(0.0).left
        depth, gain = line.start.minus(side.start).dot(inward), along.dot(inward)
        if abs(gain) < 1e-12:
            if depth < -EQUAL:
                return None
            continue
        at = -depth / gain
        first, last = (max(first, at), last) if gain > 0 else (first, min(last, at))
    return line.between(first, last) if (last - first) * line.length > EQUAL else None

"""How many parts of some breadth find room on a piece, however they are turned."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product
from math import floor, sqrt

from templategen.geometry.outline import Outline
from templategen.geometry.point import Point
from templategen.nesting.line_limits import Limit
from templategen.nesting.stock import Item, Piece

SPOTS = 6
"""A disc inside a part is looked for round the spots of a grid of so many steps each way."""

GIVEN = 1e-4
"""What a room is taken to be wider, and parts nearer, than they are; mm."""

MOST = 12
"""Breadths looked at, the largest first."""


@lru_cache(1024)
def inscribed(outline: Outline) -> float:
    """The radius of a disc inside the outline: the largest round the spots of a grid. However a part is turned, it
    holds this disc."""
    box, best = outline.bounds, 0.0
    for i, j in product(range(1, SPOTS), repeat=2):
        spot = Point(box.left + box.width * i / SPOTS, box.bottom + box.height * j / SPOTS)
        if outline.winding(spot) != 0:
            best = max(best, outline.distance(spot))
    return best


def disc_limits(kind: int, piece: Piece, spacing: float, items: Sequence[Item]) -> Iterator[Limit]:
    """For each breadth, how many parts that hold a disc so broad find room on one piece.

    The middles of such discs are a diameter and a kerf apart, in the room less a radius all round. So many points
    at least d apart find place in a convex room of area A and perimeter P: no more than
    2 A / (sqrt 3 d^2) + P / (2 d) + 1 (Oler 1961).
    """
    radii = [inscribed(item.outline) for item in items]
    for radius in sorted({round(radius - 5e-4, 3) for radius in radii if radius > 1e-2}, reverse=True)[:MOST]:
        values = tuple(float(own >= radius) for own in radii)
        yield Limit(kind, values, float(most_apart(piece, radius, spacing)))


def most_apart(piece: Piece, radius: float, spacing: float) -> int:
    """How many discs of a radius find room on a piece at most."""
    length, width = piece.room.width - 2 * radius + GIVEN, piece.room.height - 2 * radius + GIVEN
    if length < 0 or width < 0:
        return 0
    apart = 2 * radius + spacing - GIVEN
    return floor(2 * length * width / (sqrt(3) * apart**2) + (length + width) / apart + 1)

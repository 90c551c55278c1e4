"""Holes in the waste of a sheet: for the two pins that it is laid on once turned over, and for screws."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from templategen.catalogue import fault_of
from templategen.errors import StockError
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point
from templategen.router.hold import flat
from templategen.table.profile.routing import MARGIN, TURNED, pin_of, routed_margin

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

STEP = 2.0
"""Places for a pin are tried so far apart, mm."""

SCREWS_APART = 400.0
"""One screw for about so much of the sheet, mm (unverified)."""

GRID = 20.0
"""Places for a screw are tried so far apart, mm."""

LEAST_SCREWS = 4


def pin_holes(rings: Sequence[Outline], size: tuple[float, float], bit: float) -> tuple[Outline, ...]:
    """Two holes on the middle line along X, where the sheet turned over finds them again; they stand off its ends
    unlike, so that a sheet turned about another line doesn't fit.

    Raises:
        StockError: the waste has no room for them.
    """
    from shapely import Point as Spot

    length, width = size
    radius = pin_of(bit) / 2
    free = _waste(rings, size, bit).buffer(-radius - MARGIN + 1e-6)
    steps = [radius + MARGIN + STEP * i for i in range(int((length / 2 - radius - MARGIN) / STEP) + 1)]
    left = next((x for x in steps if free.covers(Spot(x, width / 2))), None)
    right = next(
        (
            x
            for x in steps
            if free.covers(Spot(length - x, width / 2)) and left is not None and abs(x - left) >= TURNED
        ),
        None,
    )
    if left is None or right is None:
        near, far, *_ = routed_margin(bit)
        raise StockError(
            fault_of(
                "stock.margin",
                "both faces are worked, and the waste has no room for two pins on the middle line",
                'leave margin out, or {near} mm at the left end and {far} mm at the right, or write mode = "sawn"',
                near=f"{near:g}",
                far=f"{far:g}",
            )
        )
    return tuple(circle(x, width / 2, radius) for x in (left, length - right))


def screw_holes(
    rings: Sequence[Outline],
    size: tuple[float, float],
    bit: float,
    screw: tuple[float, float],
    pins: Sequence[Outline],
) -> tuple[Outline, ...]:
    """Places for screws in the waste, as far from every cut as is asked for, spread over the sheet; none where the
    waste has no room for four."""
    from shapely import Point as Spot
    from shapely import union_all

    radius, clear = screw[0] / 2, screw[1]
    free = (
        _waste(rings, size, bit)
        .buffer(-radius - clear)
        .difference(union_all([flat(pin).buffer(radius + clear) for pin in pins]))
    )
    edge = radius + clear
    spots = [spot for spot in _grid(size, edge) if free.covers(Spot(spot))]
    chosen: list[Point] = []
    while spots:
        best = max(spots, key=lambda spot: round(min((spot.distance(o) for o in chosen), default=-spot.length), 6))
        apart = min((best.distance(other) for other in chosen), default=SCREWS_APART)
        if apart < (SCREWS_APART if len(chosen) >= LEAST_SCREWS else GRID):
            break
        chosen.append(best)
        spots.remove(best)
    return tuple(circle(*spot, radius) for spot in chosen) if len(chosen) >= LEAST_SCREWS else ()


def _grid(size: tuple[float, float], edge: float) -> Iterator[Point]:
    across, up = (max(1, int((side - 2 * edge) / GRID)) for side in size)
    for i in range(across + 1):
        for j in range(up + 1):
            yield Point(edge + (size[0] - 2 * edge) * i / across, edge + (size[1] - 2 * edge) * j / up)


def _waste(rings: Sequence[Outline], size: tuple[float, float], bit: float) -> BaseGeometry:
    """What no pass touches."""
    from shapely import box, union_all

    return box(0, 0, *size).difference(union_all([flat(ring).buffer(bit) for ring in rings]))

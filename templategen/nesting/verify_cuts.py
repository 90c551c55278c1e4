"""Prove a cutting order from nothing: the board is sawn with another library, cut by cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import fsum
from typing import TYPE_CHECKING

from templategen.errors import Fault
from templategen.geometry.outline import Outline
from templategen.nesting.stock import Cut, Item, Sheet

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

CRUMB = 1e-3
"""Areas smaller than this are what rounding leaves, mm2."""

SLIVER = 1e-4
"""A kerf may go this deep into a part, mm: what rounding leaves."""

STAYS = 0.05
"""Waste thinner than this may stay on a part, mm: no saw takes off less."""

CORNER = 0.5
"""A corner that takes no larger share of a part's length and width may stay on: its finished end is sawn there."""

FAR = 2e4
"""How far a cut is followed to see whether it goes right through, mm."""

RUN_OUT = 1e-3
"""A cut is followed this far past the ends of its line, mm."""

FINE = 256
"""Straight pieces for an arc."""


def verify_cuts(sheet: Sheet, items: Sequence[Item], cuts: Sequence[Cut], kerf: float) -> tuple[Fault, ...]:
    """Everything that is wrong with a cutting order: cuts that don't go right through the piece they divide, that
    touch a part, or that leave parts together or untrimmed."""
    from shapely import box

    where = f"cutting {sheet.piece.name}-{sheet.number}"
    shapes = {item.code: item.outline for item in items}
    parts = [(laid.code, _flat(laid.placement.outline(shapes[laid.code]))) for laid in sheet.laid]
    wood = [box(0, 0, sheet.piece.length, sheet.piece.width)]
    faults: list[Fault] = []
    for cut in cuts:
        faults += _saw(where, wood, cut, kerf, parts)
    return (*faults, *_freed(where, wood, parts))


def _saw(where: str, wood: list[Polygon], cut: Cut, kerf: float, parts: Sequence[tuple[str, Polygon]]) -> list[Fault]:
    """Divide the piece that the cut is made in, in place."""
    from shapely import LineString, MultiPolygon, Point, Polygon

    across = LineString([cut.start, cut.end]).length
    if not across > 0:
        return [Fault(where, f"cut {cut.number} has no length")]
    strip = _band(cut, kerf, RUN_OUT)
    index = next((i for i, piece in enumerate(wood) if piece.contains(Point(cut.through))), None)
    if index is None or wood[index].intersection(strip).area < CRUMB:
        return [Fault(where, f"cut {cut.number} cuts nothing")]
    piece = wood.pop(index)
    through = piece.difference(_band(cut, kerf, FAR))
    found = []
    if abs(through.area - piece.difference(strip).area) > CRUMB:
        found.append(Fault(where, f"cut {cut.number} doesn't go right through"))
    gone = _band(cut, kerf, FAR)
    for code, part in parts:
        if piece.contains(part.representative_point()) and part.buffer(-SLIVER, join_style="mitre").intersects(gone):
            found.append(Fault(where, f"cut {cut.number} goes into {code}"))
    left = through.geoms if isinstance(through, MultiPolygon) else [through]
    wood.extend(part for part in left if isinstance(part, Polygon) and part.area > CRUMB)
    return found


def _band(cut: Cut, kerf: float, beyond: float) -> Polygon:
    """The kerf, drawn out by `beyond` past both ends."""
    from shapely import LineString

    (x, y), (u, v) = cut.start, cut.end
    length = LineString([cut.start, cut.end]).length
    dx, dy = (u - x) / length * beyond, (v - y) / length * beyond
    return LineString([(x - dx, y - dy), (u + dx, v + dy)]).buffer(kerf / 2, cap_style="flat")


def _freed(where: str, wood: Sequence[Polygon], parts: Sequence[tuple[str, Polygon]]) -> Iterator[Fault]:
    from shapely import STRtree

    if not wood:
        return
    tree, held = STRtree(wood), [0] * len(wood)
    for code, part in parts:
        spot = part.representative_point()
        inside = [i for i in tree.query(spot).tolist() if wood[i].contains(spot)]
        if not inside or not wood[inside[0]].buffer(SLIVER).contains(part):
            yield Fault(where, f"{code} isn't freed whole")
            continue
        held[inside[0]] += 1
        shape = part.convex_hull if len(part.exterior.coords) <= 17 else part.envelope
        waste = wood[inside[0]].area - shape.area - fsum(_corners(wood[inside[0]], shape))
        if held[inside[0]] > 1:
            yield Fault(where, f"{code} isn't parted from its neighbour")
        elif waste > part.length * STAYS:
            yield Fault(where, f"{code} isn't trimmed: {waste:.2f} mm2 are left on it")


def _corners(wood: Polygon, shape: BaseGeometry) -> Iterator[float]:
    """The areas of what hangs on at corners of a part that lean, within the box round it."""
    from shapely import get_parts

    left, low, right, high = shape.bounds
    grown = shape.buffer(STAYS, join_style="mitre")
    for waste in get_parts(wood.difference(grown).intersection(shape.envelope.buffer(STAYS, join_style="mitre"))):
        x0, y0, x1, y1 = waste.bounds
        if x1 - x0 <= CORNER * (right - left) + STAYS and y1 - y0 <= CORNER * (high - low) + STAYS:
            yield float(waste.area)


def _flat(outline: Outline) -> Polygon:
    from shapely import Polygon

    points = []
    for edge in outline.edges:
        steps = FINE if edge.bulge else 1
        points += [tuple(edge.point_at(a / steps)) for a, _ in pairwise(range(steps + 1))]
    return Polygon(points)

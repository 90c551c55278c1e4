"""Prove a layout from nothing: nothing here is shared with the engines.

Outlines become polygons that lie round them (tangents outside a curve, chords inside one), so that what is
proved of the polygons holds for the parts.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, cos, isfinite, pi, sqrt
from typing import TYPE_CHECKING

from templategen.errors import Fault
from templategen.geometry.edge import Arc
from templategen.geometry.outline import Outline
from templategen.geometry.point import polar
from templategen.nesting.stock import Item, Laid, Layout, Piece, Sheet

if TYPE_CHECKING:
    from shapely import Polygon

SLIP = 1e-6
"""What a distance may fall short by, mm."""

ASKEW = 1e-9
"""What an angle may be off the grain by, radians."""

EDGES = ("left", "right", "bottom", "top")
"""What margins are told of, in their order."""

ROUND_OUT = 0.002
"""The polygons lie outside the arcs by no more than this, mm."""


@dataclass(frozen=True, slots=True)
class _Lying:
    """A part where it lies, with the words that name it."""

    name: str
    shape: Polygon


def verify(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> tuple[Fault, ...]:
    """Everything that is wrong with `layout`; empty when it may be cut.

    Parts are `spacing` apart, or as far as their piece asks for where it has a spacing of its own.
    """
    return tuple(_faults(layout, items, pieces, spacing))


def _faults(layout: Layout, items: Sequence[Item], pieces: Sequence[Piece], spacing: float) -> Iterator[Fault]:
    yield from _counts(layout, items)
    yield from _stock(layout, pieces)
    known = {item.code: item for item in items}
    for sheet in layout.sheets:
        yield from _sheet(sheet, known, spacing)


def _counts(layout: Layout, items: Sequence[Item]) -> Iterator[Fault]:
    found = Counter(laid.code for sheet in layout.sheets for laid in sheet.laid)
    found.update(layout.unplaced)
    wanted = Counter({item.code: item.count for item in items})
    for code, count in sorted(layout.unplaced.items()):
        if count < 0:
            yield Fault(f"nesting {code}", f"{count} copies left over")
    for code in sorted({*found, *wanted}):
        if found[code] != wanted[code]:
            yield Fault(f"nesting {code}", f"{found[code]} copies laid or left over, {wanted[code]} wanted")


def _stock(layout: Layout, pieces: Sequence[Piece]) -> Iterator[Fault]:
    for piece, used in Counter(sheet.piece for sheet in layout.sheets).items():
        if piece not in pieces:
            yield Fault(f"nesting {piece.name}", "a piece that isn't in stock")
        elif piece.count is not None and used > piece.count * pieces.count(piece):
            yield Fault(f"nesting {piece.name}", f"{used} pieces used, {piece.count} in stock")
    names = Counter((sheet.piece.name, sheet.number) for sheet in layout.sheets)
    for (name, number), times in names.items():
        if times > 1:
            yield Fault(f"nesting {name}-{number}", f"{times} pieces of one number")


def _sheet(sheet: Sheet, items: dict[str, Item], spacing: float) -> Iterator[Fault]:
    where = f"nesting {sheet.piece.name}-{sheet.number}"
    lying = []
    for laid in sheet.laid:
        item = items.get(laid.code)
        if item is None:
            continue
        if not isfinite(laid.placement.x + laid.placement.y + laid.placement.turn):
            yield Fault(where, f"{laid.code} lies nowhere (not a finite number)")
            continue
        if sheet.piece.grain and not _along_grain(item, laid):
            turn = laid.placement.turn * 180 / pi
            yield Fault(where, f"{laid.code} is turned by {turn:.3f} degrees, across the grain")
        if laid.placement.turned_over and not item.may_turn_over:
            yield Fault(where, f"{laid.code} is turned over, but its faces differ")
        lying.append(_Lying(laid.code, _circumscribed(laid.placement.outline(item.outline))))
    yield from _inside(where, sheet.piece, lying)
    yield from _apart(where, lying, sheet.piece.apart(spacing))


def _along_grain(item: Item, laid: Laid) -> bool:
    """Whether the fibres lie along x: mirrored parts carry their grain the other way."""
    turn = item.grain_turn * (-1 if laid.placement.turned_over else 1)
    off = (laid.placement.turn - turn) % pi
    return min(off, pi - off) <= ASKEW


def _inside(where: str, piece: Piece, lying: Sequence[_Lying]) -> Iterator[Fault]:
    bad_left, bad_right = piece.bad_ends
    for part in lying:
        left, bottom, right, top = part.shape.bounds
        reach = left, piece.length - right, bottom, piece.width - top
        for edge, margin, gap in zip(EDGES, piece.margins, reach, strict=True):
            if not margin - gap <= SLIP:
                found = f"{part.name} reaches {margin - gap:.3f} mm over the margin of {margin:g} mm"
                yield Fault(where, f"{found}, {edge}")
        into = max(bad_left - left, right - (piece.length - bad_right))
        if not into <= SLIP:
            yield Fault(where, f"{part.name} reaches {into:.3f} mm into a bad end")
        yield from _off_faults(where, piece, part)


def _off_faults(where: str, piece: Piece, part: _Lying) -> Iterator[Fault]:
    from shapely import Point, box

    for x, y, diameter in piece.defects:
        short = diameter / 2 - part.shape.distance(Point(x, y))
        if not short <= SLIP:
            yield Fault(where, f"{part.name} lies {short:.3f} mm over the fault at {x:g}, {y:g}")
    for x, y, length, width in piece.defect_areas:
        core = box(x, y, x + length, y + width).buffer(-SLIP, join_style="mitre")
        if part.shape.intersects(core):
            shared = part.shape.intersection(core).area
            yield Fault(where, f"{part.name} lies over the fault at {x:g}, {y:g} with {shared:.3f} mm2")


def _apart(where: str, lying: Sequence[_Lying], spacing: float) -> Iterator[Fault]:
    from shapely import STRtree

    shapes = [part.shape for part in lying]
    if not shapes:
        return
    first, second = STRtree(shapes).query(shapes, predicate="dwithin", distance=spacing)
    for a, b in zip(first.tolist(), second.tolist(), strict=True):
        if a >= b:
            continue
        gap = shapes[a].distance(shapes[b])
        if not gap >= spacing - SLIP or (gap == 0 and _overlap(shapes[a], shapes[b])):
            names = f"{lying[a].name} and {lying[b].name}"
            yield Fault(where, f"{names} are {gap:.3f} mm apart, {spacing:g} mm wanted")


def _overlap(first: Polygon, second: Polygon) -> bool:
    """Whether two shapes that touch go into each other (asked only where no kerf is left between parts)."""
    return first.buffer(-SLIP, join_style="mitre").intersects(second.buffer(-SLIP, join_style="mitre"))


def _circumscribed(outline: Outline) -> Polygon:
    """A polygon that holds the whole outline."""
    from shapely import Polygon

    ring: list[tuple[float, float]] = []
    for edge in outline.anticlockwise.edges:
        ring.append((edge.start.x, edge.start.y))
        if isinstance(edge, Arc):
            ring.extend(_round(edge))
    return Polygon(ring)


def _round(arc: Arc) -> Iterator[tuple[float, float]]:
    """Points between the ends of an arc: tangents meet at them outside a curve, they lie on it inside one.

    An arc is split where it runs level or upright, so that the polygon's box is the arc's own.
    """
    steps = [arc.start_angle + share * arc.sweep for share in _shares(arc)]
    for first, last in pairwise(steps):
        if arc.sweep > 0:
            reach = arc.radius / cos((last - first) / 2)
            yield arc.centre.plus(polar(reach, (first + last) / 2))
        if last != steps[-1]:
            yield arc.centre.plus(polar(arc.radius, last))


def _shares(arc: Arc) -> list[float]:
    most = 2 * sqrt(2 * ROUND_OUT / (arc.radius + ROUND_OUT))
    count = max(1, ceil(abs(arc.sweep) / min(most, pi / 4)))
    shares = {i / count for i in range(count + 1)}
    quarters = {arc.share_of_angle(q * pi / 2) for q in range(4)}
    return sorted(shares | {share for share in quarters if 1e-9 < share < 1 - 1e-9})

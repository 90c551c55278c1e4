"""Offcuts: the rectangles worth keeping that a sheet leaves."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from templategen.geometry.bounds import Bounds
from templategen.nesting.stock import Item, Piece, Rectangle, Sheet

LEAST_LENGTH = 150.0
"""Shorter offcuts aren't worth a place on the rack, mm."""

LEAST_WIDTH = 30.0
"""Nor narrower ones, mm."""


def offcuts(
    sheet: Sheet,
    items: Sequence[Item],
    spacing: float,
    least: tuple[float, float] = (LEAST_LENGTH, LEAST_WIDTH),
) -> list[Rectangle]:
    """The largest clear rectangles left, one after another, `spacing` from parts and from each other.

    Parts count with their boxes. On stock with grain the first of `least` is measured along it, on other
    sheets along the longer side.
    """
    free = clear_rooms(sheet.piece.room, taken(sheet, items, spacing), least, sheet.piece.grain)
    return [_rectangle(box) for box in _one_by_one(free, sheet.piece, spacing, least, ())]


def keepers(
    sheet: Sheet,
    items: Sequence[Item],
    spacing: float,
    least: tuple[float, float] = (LEAST_LENGTH, LEAST_WIDTH),
) -> list[Rectangle]:
    """What goes back on the rack: the same, but a knot may lie in a piece that has a clear rectangle worth keeping.

    The piece with most good wood comes first: its area less the boxes of its defects.
    """
    free = clear_rooms(sheet.piece.room, _parts(sheet, items, spacing), least, sheet.piece.grain)
    return [_rectangle(box) for box in _one_by_one(free, sheet.piece, spacing, least, sheet.piece.defect_boxes)]


def clear_rooms(
    room: Bounds, boxes: Iterable[Bounds], least: tuple[float, float], grain: bool = True
) -> list[Bounds]:
    """The largest rectangles of a room that are clear of all boxes, each as large as can be, none smaller than
    `least`; what is too small is dropped as soon as it arises, so many boxes cost little."""
    free = [room]
    for box in boxes:
        free = _without(free, box, least, grain)
    return free


def offcut_piece(piece: Piece, box: Rectangle, name: str) -> Piece:
    """An offcut as stock of its own: its defects in its own frame, nothing to trim, paid for already.

    A round defect whose middle lies outside is carried as the rectangle of it that lies inside.
    """
    x, y, length, width = box
    inside = Bounds(x, y, x + length, y + width)
    knots, areas = [], []
    for kx, ky, diameter in piece.defects:
        if inside.left <= kx <= inside.right and inside.bottom <= ky <= inside.top:
            knots.append((kx - x, ky - y, diameter))
        else:
            areas.append(Bounds(kx - diameter / 2, ky - diameter / 2, kx + diameter / 2, ky + diameter / 2))
    areas += [Bounds(fx, fy, fx + fl, fy + fw) for fx, fy, fl, fw in piece.defect_areas]
    shared = [_shared(inside, area) for area in areas]
    return replace(
        piece, name=name, length=length, width=width, count=1, price=0.0, margin=0.0, bad_ends=(0.0, 0.0),
        defects=tuple(knots),
        defect_areas=tuple((b.left - x, b.bottom - y, b.width, b.height) for b in shared if b.width > 0 < b.height),
    )  # fmt: skip


def _shared(one: Bounds, other: Bounds) -> Bounds:
    return Bounds(
        max(one.left, other.left), max(one.bottom, other.bottom), min(one.right, other.right), min(one.top, other.top)
    )


def _rectangle(box: Bounds) -> Rectangle:
    return box.left, box.bottom, box.width, box.height


def _one_by_one(
    free: list[Bounds], piece: Piece, spacing: float, least: tuple[float, float], defects: Sequence[Bounds]
) -> Iterator[Bounds]:
    """The best of the free rectangles, then the best of what it leaves."""

    @lru_cache(None)
    def worth(box: Bounds) -> tuple[float, float, float, float]:
        return _good(box, defects, least, piece.grain), round(box.width * box.height, 6), -box.left, -box.bottom

    while free:
        box = max(free, key=worth)
        free.remove(box)
        if worth(box)[0] > 0:
            yield box
            free = _without(free, box.grown(spacing), least, piece.grain)


def _good(box: Bounds, defects: Sequence[Bounds], least: tuple[float, float], grain: bool) -> float:
    """The area of good wood, 0 where no clear rectangle within is worth keeping."""
    if not clear_rooms(box, defects, least, grain):
        return 0.0
    bad = (_shared(box, defect) for defect in defects)
    spoilt = sum(one.width * one.height for one in bad if one.width > 0 and one.height > 0)
    return max(1e-6, round(box.width * box.height - spoilt, 6))


def used_share(sheet: Sheet, items: Sequence[Item]) -> float:
    """The share of the piece, margins included, that becomes parts."""
    area = {item.code: abs(item.outline.area) for item in items}
    return sum(area[laid.code] for laid in sheet.laid) / (sheet.piece.length * sheet.piece.width)


def taken(sheet: Sheet, items: Sequence[Item], spacing: float) -> list[Bounds]:
    """The boxes in which no clear offcut may lie: parts with a kerf round them, and defects."""
    return [*_parts(sheet, items, spacing), *sheet.piece.defect_boxes]


def _parts(sheet: Sheet, items: Sequence[Item], spacing: float) -> list[Bounds]:
    outlines = {item.code: item.outline for item in items}
    return [laid.placement.outline(outlines[laid.code]).bounds.grown(spacing) for laid in sheet.laid]


def _without(free: list[Bounds], box: Bounds, least: tuple[float, float], grain: bool) -> list[Bounds]:
    """The maximal rectangles of what is left of `free` when `box` is taken out, those worth keeping."""
    whole = [room for room in free if not _meets(room, box)]
    if len(whole) == len(free) and all(_useful(room, least, grain) for room in whole):
        return free
    cut = [part for room in free if _meets(room, box) for part in _split(room, box)]
    return _maximal([room for room in (*whole, *cut) if _useful(room, least, grain)])


def _meets(room: Bounds, box: Bounds) -> bool:
    across = box.left < room.right and room.left < box.right
    return across and box.bottom < room.top and room.bottom < box.top


def _split(room: Bounds, box: Bounds) -> list[Bounds]:
    parts = [
        room._replace(right=box.left),
        room._replace(left=box.right),
        room._replace(top=box.bottom),
        room._replace(bottom=box.top),
    ]
    return [part for part in parts if part.width > 0 and part.height > 0]


def _maximal(rooms: list[Bounds]) -> list[Bounds]:
    kept: list[Bounds] = []
    for room in sorted(set(rooms), key=lambda b: (-b.width * b.height, b)):
        if not any(_holds(other, room) for other in kept):
            kept.append(room)
    return kept


def _holds(outer: Bounds, inner: Bounds) -> bool:
    across = outer.left <= inner.left and inner.right <= outer.right
    return across and outer.bottom <= inner.bottom and inner.top <= outer.top


def _useful(box: Bounds, least: tuple[float, float], grain: bool) -> bool:
    length, width = box.width, box.height
    if not grain:
        length, width = max(length, width), min(length, width)
    return length >= least[0] and width >= least[1]

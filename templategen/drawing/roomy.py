"""The roomiest spot of a shape: where words and arrows stand clear of lines."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point

GRID = 15


def roomiest(outline: Outline, lines: Sequence[Edge]) -> tuple[Point, float]:
    """The point inside the outline that stands furthest from its ring and the lines, and that distance.

    The best of a grid; ties go to the one nearest the middle of the box.
    """
    box = outline.bounds
    best, most = box.centre, 0.0
    every = (*outline.edges, *lines)
    for i, j in sorted(((i, j) for i in range(1, GRID) for j in range(1, GRID)), key=_from_middle):
        at = Point(box.left + box.width * i / GRID, box.bottom + box.height * j / GRID)
        room = _room(at, every, most + 1e-6)
        if room is not None and outline.contains(at):
            best, most = at, room
    return best, most


def _room(at: Point, lines: Sequence[Edge], more_than: float) -> float | None:
    """The distance to the nearest line, or None as soon as one is too near."""
    nearest = inf
    for line in lines:
        nearest = min(nearest, distance_to(line, at))
        if nearest <= more_than:
            return None
    return nearest


def _from_middle(cell: tuple[int, int]) -> tuple[float, int, int]:
    return (cell[0] - GRID / 2) ** 2 + (cell[1] - GRID / 2) ** 2, *cell


def clear_run(at: Point, ahead: Point, outline: Outline, lines: Sequence[Edge], room: float, most: float) -> float:
    """How far one may walk both ways along `ahead` with `room` mm to every line, at most `most`."""
    run = 0.0
    step = room / 2
    while run + step <= most:
        ends = (at.plus(ahead, run + step), at.plus(ahead, -run - step))
        if not all(_is_clear(end, outline, lines, room) for end in ends):
            break
        run += step
    return run


def _is_clear(at: Point, outline: Outline, lines: Sequence[Edge], room: float) -> bool:
    clear = outline.distance(at) >= room and all(distance_to(line, at) >= room for line in lines)
    return clear and outline.contains(at)

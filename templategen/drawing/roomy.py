"""The roomiest spot of a shape: where words and arrows stand clear of lines."""

from collections.abc import Iterator, Sequence
from math import inf

from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, distance_to
from templategen.geometry.point import Point

GRID = 15

ALIKE = 1e-6
"""Room that is more by less than this is no more, mm."""


def roomiest(outline: Outline, lines: Sequence[Edge]) -> tuple[Point, float]:
    """The point inside the outline that stands furthest from its ring and the lines, and that distance.

    The best of a grid; ties go to the one nearest the middle of the box.
    """
    box = outline.bounds
    best, most = box.centre, 0.0
    every = [*outline.edges, *lines]
    for at in cells(outline):
        room = _room(at, every, most + ALIKE)
        if room > most and outline.winding(at) != 0:
            best, most = at, room
    return best, most


def cells(outline: Outline) -> Iterator[Point]:
    """The places of a grid over the outline's box, from its middle outwards."""
    box = outline.bounds
    for i, j in CELLS:
        yield Point(box.left + box.width * i / GRID, box.bottom + box.height * j / GRID)


def _room(at: Point, lines: list[Edge], more_than: float) -> float:
    """The distance to the nearest line; 0 as soon as one is too near, which is asked first for the next place."""
    nearest = inf
    for place, line in enumerate(lines):
        away = distance_to(line, at)
        if away <= more_than:
            lines.insert(0, lines.pop(place))
            return 0.0
        nearest = min(nearest, away)
    return nearest


def _is_by(at: Point, lines: list[Edge], room: float) -> bool:
    """Whether a line is nearer than that; it is asked first for the next place."""
    for place, line in enumerate(lines):
        if distance_to(line, at) < room:
            lines.insert(0, lines.pop(place))
            return True
    return False


def _from_middle(cell: tuple[int, int]) -> tuple[float, int, int]:
    return (cell[0] - GRID / 2) ** 2 + (cell[1] - GRID / 2) ** 2, *cell


CELLS = sorted(((i, j) for i in range(1, GRID) for j in range(1, GRID)), key=_from_middle)
"""The places tried, from the middle outwards."""


def clear_run(at: Point, ahead: Point, outline: Outline, lines: Sequence[Edge], room: float, most: float) -> float:
    """How far one may walk both ways along `ahead` with `room` mm to every line, at most `most`.

    Steps are shorter than the room, so that none crosses the outline unseen: who starts inside it stays there.
    """
    run, step = 0.0, room / 2
    whole = Line(at.plus(ahead, -most), at.plus(ahead, most)).bounds
    near = [line for line in (*outline.edges, *lines) if line.bounds.meets(whole, room)]
    while run + step <= most:
        ends = (at.plus(ahead, run + step), at.plus(ahead, -run - step))
        if any(_is_by(end, near, room) for end in ends):
            break
        if run == 0 and not all(outline.winding(end) != 0 for end in ends):
            break
        run += step
    return run

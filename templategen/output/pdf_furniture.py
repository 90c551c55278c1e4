"""What stands round the drawing on a page: foot, rulers, map, crosses, trim lines, neighbours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from templategen.geometry.bounds import Bounds
from templategen.output.pdf_canvas import GREY, MOST_LETTERS, Ink, fitted, text_length
from templategen.output.tiles import FOOT, Grid, Tile

THIN = 0.13
MEDIUM = 0.25
SMALL = 1.8
NOTE = 2.5
TITLE = 3.5
"""Line widths (ISO 128) and capital heights (ISO 3098), mm."""

ARM = 4.0
"""Half the length of a cross, and how far its arms run beyond the overlap, mm."""

LONG_SIDE = 230.0
"""Sides of a page longer than this have a cross in their middle too, mm."""

RULERS = (100.0, 50.0, 20.0)
"""Lengths a ruler may have: the longest that fits its page, mm."""

INCH = 25.4

RULE = "print at 100 %; both rulers must measure true"


@dataclass(frozen=True, slots=True)
class Heading:
    """What the foot of every page says, and the printer's correction."""

    title: str
    code: str
    count: int
    revision: str
    note: str
    scale: tuple[float, float]
    inches: bool


def furnish(ink: Ink, grid: Grid, tile: Tile, heading: Heading, clear: Sequence[Bounds]) -> None:
    """All furniture of one page; `clear` are boxes of ink, in the paper frame, to keep words away from."""
    _seams(ink, grid, tile)
    _neighbours(ink, grid, tile, clear)
    _rulers(ink, grid, heading)
    _map(ink, grid, tile)
    _foot(ink, grid, tile, heading)


def _seams(ink: Ink, grid: Grid, tile: Tile) -> None:
    """Trim lines at the right and top, where the neighbours' edges come to lie at the left and bottom; crosses."""
    left, bottom = grid.corner
    right, top = left + grid.window_width, bottom + grid.window_height
    lap = grid.overlap
    ink.pen(THIN, GREY)
    if grid.neighbour(tile, 1, 0):
        ink.line(right, bottom, right, top)
    if grid.neighbour(tile, 0, -1):
        ink.line(left, top, right, top)
    ink.pen(THIN, GREY, (1.5, 1.0))
    if grid.neighbour(tile, -1, 0):
        ink.line(left + lap, bottom, left + lap, top)
    if grid.neighbour(tile, 0, 1):
        ink.line(left, bottom + lap, right, bottom + lap)
    ink.pen(THIN)
    for x, y in crosses(grid, tile):
        reach = max(ARM, lap / 2 + ARM)
        ink.line(max(x - reach, left), y, min(x + reach, right), y)
        ink.line(x, max(y - reach, bottom), x, min(y + reach, top))


def crosses(grid: Grid, tile: Tile) -> list[tuple[float, float]]:
    """Middles of the registration crosses on a page, in the middle of the overlaps it shares."""
    left, bottom = grid.corner
    xs = _along(left, grid.window_width, grid.overlap / 2)
    ys = _along(bottom, grid.window_height, grid.overlap / 2)
    found: dict[tuple[float, float], None] = {}
    for step, x in ((-1, xs[0]), (1, xs[-1])):
        if grid.neighbour(tile, step, 0):
            found.update(dict.fromkeys((x, y) for y in ys))
    for step, y in ((1, ys[0]), (-1, ys[-1])):
        if grid.neighbour(tile, 0, step):
            found.update(dict.fromkeys((x, y) for x in xs))
    return list(found)


def _along(start: float, length: float, half: float) -> list[float]:
    """Near, far and, on long sides, middle places for crosses."""
    ends = [start + half, start + length - half]
    return [ends[0], sum(ends) / 2, ends[1]] if length > LONG_SIDE else ends


def _neighbours(ink: Ink, grid: Grid, tile: Tile, clear: Sequence[Bounds]) -> None:
    """Names of the neighbours: in the side strip and the foot, and in the clearest spot at the right and top."""
    left, bottom = grid.corner
    ink.pen(THIN, GREY)
    if other := grid.neighbour(tile, -1, 0):
        room = grid.window_height - RULERS[0] - 4
        ink.text(left - 1.2, bottom + grid.window_height - 1, _lies(other, room), NOTE, "end", 90)
    if other := grid.neighbour(tile, 0, 1):
        ink.text(left + grid.window_width, bottom - 3.4, _lies(other, grid.window_width / 3), NOTE, "end")
    for step, upright in (((1, 0), True), ((0, -1), False)):
        if other := grid.neighbour(tile, *step):
            words = f"cut here, {other.name} goes under"
            if text_length(words, NOTE) > (grid.window_height if upright else grid.window_width) / 2:
                words = other.name
            x, y, turn = _clearest(grid, tile, clear, text_length(words, NOTE), upright)
            ink.text(x, y, words, NOTE, "middle", turn)


def _lies(other: Tile, room: float) -> str:
    words = f"{other.name} lies on this edge"
    return words if text_length(words, NOTE) <= room else other.name


def _clearest(
    grid: Grid, tile: Tile, clear: Sequence[Bounds], length: float, upright: bool
) -> tuple[float, float, float]:
    """Where along the right (or top) edge a line of text meets least ink."""
    left, bottom = grid.corner
    long, across = grid.window_height, grid.window_width
    if not upright:
        long, across = across, long
    spots = [share * long for share in (0.25, 0.75, 0.35, 0.65, 0.3, 0.7, 0.4, 0.6, 0.2, 0.8)]

    def box(along: float) -> Bounds:
        low, high = along - length / 2 - 1, along + length / 2 + 1
        edge = (across - NOTE - 2, across)
        window = tile.window
        if upright:
            return Bounds(window.left + edge[0], window.bottom + low, window.left + edge[1], window.bottom + high)
        return Bounds(window.left + low, window.bottom + edge[0], window.left + high, window.bottom + edge[1])

    best = min(spots, key=lambda along: sum(box(along).meets(ink) for ink in clear))
    if upright:
        return left + across - 1.0, bottom + best, 90.0
    return left + best, bottom + across - 1.0 - NOTE, 0.0


def _rulers(ink: Ink, grid: Grid, heading: Heading) -> None:
    left, bottom = grid.corner
    across = next((r for r in RULERS if r * heading.scale[0] <= grid.window_width), 10.0)
    up = next((r for r in RULERS if r * heading.scale[1] <= grid.window_height), 10.0)
    ink.pen(THIN)
    ruler(ink, (left, grid.margin + 4.2), across, heading.scale[0], False, heading.inches)
    ruler(ink, (grid.margin + 4.2, bottom), up, heading.scale[1], True, heading.inches)


def ruler(ink: Ink, at: tuple[float, float], length: float, scale: float, upright: bool, inches: bool) -> None:
    """A ruler of `length` mm that measures true once printed; inches on its other side when wanted."""
    reach = max(length, 4 * INCH) if inches and length >= 100 else length
    _across(ink, at, (0.0, 0.0), (reach * scale, 0.0), upright)
    for along, tick in _ticks(length, inches):
        _across(ink, at, (along * scale, 0.0), (along * scale, tick), upright)
    step = 50 if length >= 100 else 10
    for value in range(step, int(length) + 1, step):
        words = f"{value} mm" if value == int(length) else f"{value}"
        _label(ink, at, (value * scale - 0.6, 1.7), words, upright)
    if inches and length >= 50:
        last = int(reach / INCH + 1e-9)
        for value in range(1, last + 1):
            words = f"{value} in" if value == last else f"{value}"
            _label(ink, at, (value * INCH * scale - 0.6, -3.2), words, upright)


def _ticks(length: float, inches: bool) -> Iterator[tuple[float, float]]:
    for value in range(int(length) + 1):
        yield value, 3.6 if value % 50 == 0 else 1.5 if value % 10 == 0 else 1.1 if value % 5 == 0 else 0.7
    if inches and length >= 50:
        for eighth in range(int(max(length, 4 * INCH if length >= 100 else 0) / INCH * 8 + 1e-9) + 1):
            yield eighth * INCH / 8, -3.6 if eighth % 8 == 0 else -1.5 if eighth % 4 == 0 else -0.8


def _across(
    ink: Ink, at: tuple[float, float], first: tuple[float, float], last: tuple[float, float], upright: bool
) -> None:
    ends = [(at[0] - b, at[1] + a) if upright else (at[0] + a, at[1] + b) for a, b in (first, last)]
    ink.line(*ends[0], *ends[1])


def _label(ink: Ink, at: tuple[float, float], spot: tuple[float, float], words: str, upright: bool) -> None:
    along, off = spot
    x, y = (at[0] - off, at[1] + along) if upright else (at[0] + along, at[1] + off)
    ink.text(x, y, words, SMALL, "end", 90 if upright else 0)


def _map(ink: Ink, grid: Grid, tile: Tile) -> None:
    """The grid small, at the right of the foot: pages printed are outlined, this one is black."""
    if len(grid.tiles) < 2:
        return
    side = map_cell(grid)
    right, bottom = grid.page_width - grid.margin, grid.margin
    for other in grid.tiles:
        x = right - (grid.columns - other.column) * side[0]
        y = bottom + (grid.rows - 1 - other.row) * side[1]
        ink.pen(THIN)
        ink.rectangle(x, y, *side, fill=other == tile)
        ink.rectangle(x, y, *side)


def map_cell(grid: Grid) -> tuple[float, float]:
    """Width and height of one page on the map, mm."""
    room_x, room_y = min(24.0, grid.window_width / 5), FOOT - 6.0
    shrink = min(room_x / (grid.columns * grid.page_width), room_y / (grid.rows * grid.page_height))
    return grid.page_width * shrink, grid.page_height * shrink


def _foot(ink: Ink, grid: Grid, tile: Tile, heading: Heading) -> None:
    left, top = grid.corner[0], grid.margin + FOOT - 1.2 - TITLE
    lower = grid.neighbour(tile, 0, 1)
    taken = text_length(_lies(lower, grid.window_width / 3), NOTE) + 4 if lower else 0.0
    right = grid.corner[0] + grid.window_width - taken
    page = f"{tile.name} · {grid.tiles.index(tile) + 1} of {len(grid.tiles)}"
    after = left + text_length(page, TITLE, bold=True) + 5
    name = f"{heading.code} · {heading.title}" if heading.code else heading.title
    ink.pen(THIN)
    ink.text(left, top, page, TITLE, bold=True)
    ink.text(after, top, fitted(name, TITLE, right - after), TITLE)
    _note(ink, grid, heading)


def _note(ink: Ink, grid: Grid, heading: Heading) -> None:
    """How many, which revision, what to do: beside the ruler, where there is room."""
    beside = grid.corner[0] + (4 * INCH if heading.inches else RULERS[0]) * heading.scale[0] + 3
    room = grid.page_width - grid.margin - 3 - beside - (map_cell(grid)[0] * grid.columns)
    words = [f"{heading.count} wanted" if heading.count else "", heading.revision, RULE, heading.note]
    line = " · ".join(word for word in words if word)
    if room < 30:
        return
    for row, text in enumerate(_wrapped(line, room)):
        ink.text(beside, grid.margin + 6.4 - row * 3.2, text, SMALL)


def _wrapped(words: str, room: float) -> list[str]:
    """Lines of small text no longer than `room`; what is over three lines is cut with an ellipsis."""
    lines: list[str] = []
    rest = words[:MOST_LETTERS].split()
    while rest and len(lines) < 2:
        count = 1
        while count < len(rest) and text_length(" ".join(rest[: count + 1]), SMALL) <= room:
            count += 1
        lines.append(fitted(" ".join(rest[:count]), SMALL, room))
        rest = rest[count:]
    return [*lines, fitted(" ".join(rest), SMALL, room)] if rest else lines

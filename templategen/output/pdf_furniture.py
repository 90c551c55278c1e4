"""What stands round the drawing on a page: foot, rulers, map, signs, neighbours."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from templategen.catalogue import translated, worded
from templategen.geometry.bounds import Bounds
from templategen.geometry.point import Point
from templategen.output.pdf_canvas import GREY, Ink
from templategen.output.pdf_tags import ARTIFACT
from templategen.output.typeset import fitted, text_length, wrapped
from templategen.paper.correction import Correction
from templategen.paper.grid import FOOT, Grid, Tile
from templategen.paper.seams import Seam

THIN = 0.13
MEDIUM = 0.25
SMALL = 1.8
NOTE = 2.5
TITLE = 3.5
"""Line widths (ISO 128) and capital heights (ISO 3098), mm."""

RULERS = (100.0, 50.0, 20.0)
"""Lengths a ruler may have: the longest that fits its page, mm."""

INCH = 25.4

MOST_LINES = 3
"""Lines of small words beside the ruler."""

RULE = "print at 100 %; both rulers must measure true; cut to the middle of the line"


@dataclass(frozen=True, slots=True)
class Heading:
    """What the foot of every page says.

    `grain` and `centre` are directions on paper, of the fibres and to the table's centre.
    """

    title: str
    code: str = ""
    count: int = 0
    revision: str = ""
    note: str = ""
    inches: bool = False
    grain: Point | None = None
    centre: Point | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a file: its grid and tile, its seams and the boxes of its ink, its name and place among all."""

    grid: Grid
    tile: Tile
    seams: tuple[Seam, ...]
    inked: tuple[Bounds, ...]
    name: str
    number: int
    of: int
    correction: Correction

    def at(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the paper frame lies on the page."""
        left, bottom = self.grid.corner
        return left + x - self.tile.window.left, bottom + y - self.tile.window.bottom


def furnish(ink: Ink, page: Page, heading: Heading, clear: Sequence[Bounds]) -> None:
    """All furniture of one page but its seams and its heading; `clear` are boxes of ink, in the paper frame, to keep
    words off."""
    with ink.tagged("P"):
        _note(ink, page.grid, heading)
    with ink.tagged("P"):
        _neighbours(ink, page, clear)
    with ink.tagged(ARTIFACT):
        _rulers(ink, page, heading)
        _map(ink, page.grid, page.tile)
        _signs(ink, page, heading)


def _neighbours(ink: Ink, page: Page, clear: Sequence[Bounds]) -> None:
    """Names of the neighbours: in the side strip and the foot, and in the clearest spot at the right and top."""
    grid, tile = page.grid, page.tile
    left, bottom = grid.corner
    ink.pen(THIN, GREY)
    if other := grid.neighbour(tile, -1, 0):
        room = grid.window_height - RULERS[0] - 4
        ink.text(left - 1.2, bottom + grid.window_height - 1, _lies(other, room), NOTE, "end", 90)
    if other := grid.neighbour(tile, 0, 1):
        ink.text(left + grid.window_width, bottom - 3.4, _lies(other, grid.window_width / 3), NOTE, "end")
    for step, upright in (((1, 0), True), ((0, -1), False)):
        if other := grid.neighbour(tile, *step):
            _cut_here(ink, page, worded("cut here, {name} goes under", name=other.name), clear, upright)


ROWS = (1.0, 5.0, 9.0, 14.0, 20.0, 30.0, 45.0)
"""How far inside the edge to cut its words may stand, mm."""


def _cut_here(ink: Ink, page: Page, words: str, clear: Sequence[Bounds], upright: bool) -> None:
    """The words at the edge to cut, as near to it as there is clear paper; in small letters where there is none."""
    for size in (NOTE, SMALL):
        for off in ROWS:
            x, y, turn, met = _clearest(page, clear, text_length(words, size), size, off, upright)
            if met:
                continue
            ink.text(x, y, words, size, "middle", turn)
            return


def _lies(other: Tile, room: float) -> str:
    words = worded("{name} lies on this edge", name=other.name)
    return words if text_length(words, NOTE) <= room else other.name


def _clearest(
    page: Page, clear: Sequence[Bounds], length: float, size: float, off: float, upright: bool
) -> tuple[float, float, float, int]:
    """Where along the right (or top) edge, `off` inside it, a line of text meets least ink, and how much."""
    window, axis = page.tile.window, 1 if upright else 0
    edge = window[3 - axis] - off
    spans = [
        (box[axis], box[axis + 2])
        for box in clear
        if box[1 - axis] < edge + 1 and box[3 - axis] > edge - size * 1.3 - 0.5
    ]
    low, high = window[axis] + length / 2 + 2, window[axis + 2] - length / 2 - 2
    half = length / 2 + 0.5
    count = max(1, int((high - low) / 3))
    places = [low + (high - low) * i / count for i in range(count + 1)]
    wish = low + (high - low) / 4

    def ink(place: float) -> tuple[int, float]:
        return sum(a < place + half and b > place - half for a, b in spans), abs(place - wish)

    best = min(places, key=ink)
    if upright:
        return *page.at(edge, best), 90.0, ink(best)[0]
    return *page.at(best, edge - size), 0.0, ink(best)[0]


def _rulers(ink: Ink, page: Page, heading: Heading) -> None:
    grid, correction = page.grid, page.correction
    left, bottom = grid.corner
    across = next((r for r in RULERS if r * correction.across <= grid.window_width), 10.0)
    up = next((r for r in RULERS if r * correction.up <= grid.window_height), 10.0)
    spots = ((False, across, (left, grid.margin + 4.2)), (True, up, (grid.margin + 4.2, bottom)))
    for upright, length, at in spots:
        draw = partial(ruler, ink, (0.0, 0.0), length, correction, upright, heading.inches)
        ink.stamp(f"ruler-{upright}-{length:g}-{heading.inches}", at, draw)


def ruler(
    ink: Ink, at: tuple[float, float], length: float, correction: Correction, upright: bool, inches: bool
) -> None:
    """A ruler of `length` mm that measures true once printed; inches on its other side when wanted."""
    ink.pen(THIN)
    reach = max(length, 4 * INCH) if inches and length >= 100 else length

    def spot(along: float, off: float) -> tuple[float, float]:
        x, y = correction.point(Point(-off, along) if upright else Point(along, off))
        return at[0] + x, at[1] + y

    lines = [(*spot(0, 0), *spot(reach, 0))]
    ink.line(*lines[0])
    ink.lines((*spot(along, 0), *spot(along, tick)) for along, tick in _ticks(length, inches))
    step = 50 if length >= 100 else 10
    labels = [(value - 0.6, 1.7, f"{value}") for value in range(step, int(length) + 1, step)]
    labels[-1] = (*labels[-1][:2], f"{length:g} mm")
    if inches and length >= 50:
        last = int(reach / INCH + 1e-9)
        labels += [(value * INCH - 0.6, -3.4, f"{value}") for value in range(1, last)]
        labels.append((last * INCH - 0.6, -3.4, f"{last} in"))
    for along, off, words in labels:
        ink.text(*spot(along, off), words, SMALL, "end", 90 if upright else 0)


def _ticks(length: float, inches: bool) -> Iterator[tuple[float, float]]:
    for value in range(int(length) + 1):
        yield value, 3.6 if value % 50 == 0 else 1.5 if value % 10 == 0 else 1.1 if value % 5 == 0 else 0.7
    if inches and length >= 50:
        for eighth in range(int(max(length, 4 * INCH if length >= 100 else 0) / INCH * 8 + 1e-9) + 1):
            yield eighth * INCH / 8, -3.6 if eighth % 8 == 0 else -1.5 if eighth % 4 == 0 else -0.8


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


SIGN = 9.0
"""Width of a sign in the foot, mm."""


def _signs(ink: Ink, page: Page, heading: Heading) -> None:
    """Left of the map: which way the grain runs and where the table's centre lies."""
    x = page.grid.page_width - page.grid.margin - _map_width(page.grid) - SIGN
    y = page.grid.margin + 5.4
    for name, way in (("centre", heading.centre), ("grain", heading.grain)):
        if way is None:
            continue
        ink.pen(MEDIUM)
        first, last = (x - 3.2 * way.x, y - 3.2 * way.y), (x + 3.2 * way.x, y + 3.2 * way.y)
        ink.line(*first, *last)
        for tip, sign in ((last, -1), (first, 1)) if name == "grain" else ((last, -1),):
            for turn in (-0.4, 0.4):
                back = way.times(sign * 1.8).turned(turn)
                ink.line(*tip, tip[0] + back.x, tip[1] + back.y)
        ink.text(x, page.grid.margin, translated(name), SMALL, "middle")
        x -= SIGN


def _signs_width(heading: Heading) -> float:
    return SIGN * sum(way is not None for way in (heading.grain, heading.centre))


def _map_width(grid: Grid) -> float:
    return map_cell(grid)[0] * grid.columns if len(grid.tiles) > 1 else 0.0


def head(ink: Ink, page: Page, heading: Heading) -> None:
    """Which sheet it is and what it shows, in its foot."""
    grid = page.grid
    left, top = grid.corner[0], grid.margin + FOOT - 1.2 - TITLE
    lower = grid.neighbour(page.tile, 0, 1)
    taken = text_length(_lies(lower, grid.window_width / 3), NOTE) + 4 if lower else 0.0
    right = grid.corner[0] + grid.window_width - taken
    place = f"{page.name} · {worded('{number} of {all}', number=page.number, all=page.of)}"
    after = left + text_length(place, TITLE, bold=True) + 5
    name = f"{heading.code} · {heading.title}" if heading.code else heading.title
    ink.pen(THIN)
    ink.text(left, top, place, TITLE, bold=True)
    ink.text(after, top, fitted(name, TITLE, right - after), TITLE)


def _note(ink: Ink, grid: Grid, heading: Heading) -> None:
    """What to do, how many, which revision: beside the ruler, where there is room."""
    beside = grid.corner[0] + (4 * INCH if heading.inches else RULERS[0]) * 1.02 + 3
    room = grid.page_width - grid.margin - 3 - beside - _map_width(grid) - _signs_width(heading)
    wanted = worded("{count} wanted", count=heading.count) if heading.count else ""
    words = [translated(RULE), wanted, heading.revision, heading.note]
    line = " · ".join(word for word in words if word)
    if room < 15:
        return
    lines = wrapped(line, SMALL, room)
    if len(lines) > MOST_LINES:
        lines = [*lines[: MOST_LINES - 1], fitted(" ".join(lines[MOST_LINES - 1 :]), SMALL, room)]
    ink.pen(THIN)
    for row, text in enumerate(lines):
        ink.text(beside, grid.margin + 6.4 - row * 3.0, text, SMALL)

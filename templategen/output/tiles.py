"""Tiles: a drawing's place on as many sheets of paper as it needs. Pure arithmetic, millimetres of paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, isfinite

from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.table.profile.model import Paper

SIZES: dict[str, tuple[float, float]] = {
    "a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297),
    "a5": (148, 210), "a6": (105, 148),
    "b0": (1000, 1414), "b1": (707, 1000), "b2": (500, 707), "b3": (353, 500), "b4": (250, 353),
    "b5": (176, 250), "b6": (125, 176),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8),
}  # fmt: skip
"""Width and height upright, mm (ISO 216; the American sizes are 8 1/2 x 11, 8 1/2 x 14 and 11 x 17 in)."""

FOOT = 15.0
"""Height of the strip along the foot of each page that carries title, map and ruler, mm."""

SIDE = 8.0
"""Width of the strip along the left of each page that carries the upright ruler, mm."""

PAD = 2.0
"""Least paper between the drawing and the outer edge of its window, mm."""

LEAST_STEP = 20.0
"""A page that shows less than this of its own is too small, mm."""

LONGEST_PAGE = 5000.0
"""Readers of PDF refuse pages of more than 14,400 points, mm."""

MOST_PAGES = 400
"""More pages than this are a mistake in the paper's size or the drawing's."""


@dataclass(frozen=True, slots=True)
class Tile:
    """One page: `column` from the left and `row` from the top, both from 0.

    `window` is the part of the drawing's paper frame that the page shows, overlaps included.
    """

    column: int
    row: int
    window: Bounds

    @property
    def name(self) -> str:
        """Column letter and row number."""
        return f"{letters(self.column)}{self.row + 1}"


@dataclass(frozen=True, slots=True)
class Grid:
    """All pages for one drawing.

    The paper frame is the drawing's frame multiplied by (scale_x, scale_y). A page shows its window with the
    lower left corner at (`margin` + SIDE, `margin` + FOOT).
    """

    page_width: float
    page_height: float
    margin: float
    overlap: float
    columns: int
    rows: int
    origin: tuple[float, float]
    tiles: tuple[Tile, ...] = ()

    @property
    def window_width(self) -> float:
        """Width of what a page shows."""
        return self.page_width - 2 * self.margin - SIDE

    @property
    def window_height(self) -> float:
        """Height of what a page shows."""
        return self.page_height - 2 * self.margin - FOOT

    @property
    def corner(self) -> tuple[float, float]:
        """Where on the page the window's lower left corner lies."""
        return self.margin + SIDE, self.margin + FOOT

    def tile(self, column: int, row: int) -> Tile:
        """The page at a place of the grid."""
        left = self.origin[0] + column * (self.window_width - self.overlap)
        bottom = self.origin[1] + (self.rows - 1 - row) * (self.window_height - self.overlap)
        return Tile(column, row, Bounds(left, bottom, left + self.window_width, bottom + self.window_height))

    def cell(self, tile: Tile) -> Bounds:
        """The share of a page that is its own: half of each overlap belongs to the neighbour."""
        half, window = self.overlap / 2, tile.window
        return Bounds(
            window.left + (half if tile.column > 0 else 0),
            window.bottom + (half if tile.row < self.rows - 1 else 0),
            window.right - (half if tile.column < self.columns - 1 else 0),
            window.top - (half if tile.row > 0 else 0),
        )

    def neighbour(self, tile: Tile, columns: int, rows: int) -> Tile | None:
        """The page so many columns to the right and rows down, if it is printed."""
        for other in self.tiles:
            if (other.column, other.row) == (tile.column + columns, tile.row + rows):
                return other
        return None


def letters(number: int) -> str:
    """A, B ... Z, AA, AB ... for 0, 1 ..."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def tile_grid(box: Bounds, paper: Paper, traces: Iterable[Bounds] = ()) -> Grid:
    """The fewest pages that show `box` (in the paper frame), upright or lying.

    `traces` are small boxes along the lines drawn; pages without any are left out. Without traces all stay.

    Raises:
        OutputError: paper that is unknown, or too small for its margin and overlap, or too many pages.
    """
    if not all(isfinite(value) for value in box):
        raise OutputError(Fault("drawing", "its extents aren't finite", "check the sizes of the part"))
    grids = [grid for grid in (_grid(box, paper, *page) for page in _pages(box, paper)) if grid is not None]
    if not grids:
        raise OutputError(_too_small(paper))
    boxes = tuple(traces)
    full = [_filled(grid, boxes) for grid in grids if grid.columns * grid.rows <= 4 * MOST_PAGES]
    if not full or all(len(grid.tiles) > MOST_PAGES for grid in full):
        found = f"{box.width:.0f} x {box.height:.0f} mm would take more than {MOST_PAGES} pages"
        raise OutputError(Fault("paper.size", found, "use larger paper"))
    return min(full, key=lambda grid: (len(grid.tiles), grid.columns * grid.rows, grid.page_width))


def paper_size(paper: Paper) -> tuple[float, float | None]:
    """Width and height as named or given, mm; no height for a roll.

    Raises:
        OutputError: a name that isn't known, or sizes that no paper has.
    """
    if isinstance(paper.size, str):
        size = SIZES.get(paper.size.strip().lower())
        if size is None:
            found = f"{paper.size!r} is no paper size known here"
            raise OutputError(Fault("paper.size", found, f"use one of {', '.join(SIZES)}, [w, h] or [w]"))
        return size
    if len(paper.size) not in (1, 2) or not all(isfinite(side) and side > 0 for side in paper.size):
        raise OutputError(Fault("paper.size", f"{list(paper.size)}", "give [width, height], or [width] of a roll"))
    return paper.size[0], paper.size[1] if len(paper.size) == 2 else None


def _pages(box: Bounds, paper: Paper) -> list[tuple[float, float]]:
    """The ways to hold a page: upright and lying, a roll cut to what the drawing needs."""
    if not (isfinite(paper.margin) and isfinite(paper.overlap) and paper.margin >= 0 and paper.overlap >= 0):
        raise OutputError(Fault("paper.margin", f"{paper.margin} and {paper.overlap} mm", "give 0 or more"))
    width, height = paper_size(paper)
    if height is not None:
        return [(min(width, height), max(width, height)), (max(width, height), min(width, height))]
    tall = min(LONGEST_PAGE, box.height + 2 * (PAD + paper.margin) + FOOT)
    long = min(LONGEST_PAGE, box.width + 2 * (PAD + paper.margin) + SIDE)
    least = 2 * paper.margin + paper.overlap + LEAST_STEP + max(FOOT, SIDE)
    return [(width, max(tall, least)), (max(long, least + 100), width)]


def _grid(box: Bounds, paper: Paper, width: float, height: float) -> Grid | None:
    empty = Grid(width, height, paper.margin, paper.overlap, 1, 1, (0.0, 0.0))
    across, up = empty.window_width, empty.window_height
    if min(across, up) - paper.overlap < LEAST_STEP or width > LONGEST_PAGE or height > LONGEST_PAGE:
        return None
    columns = _count(box.width, across, paper.overlap)
    rows = _count(box.height, up, paper.overlap)
    covered_x = columns * (across - paper.overlap) + paper.overlap
    covered_y = rows * (up - paper.overlap) + paper.overlap
    origin = box.centre.x - covered_x / 2, box.centre.y - covered_y / 2
    return Grid(width, height, paper.margin, paper.overlap, columns, rows, origin)


def _count(extent: float, window: float, overlap: float) -> int:
    return max(1, ceil((extent + 2 * PAD - overlap) / (window - overlap) - 1e-9))


def _filled(grid: Grid, traces: tuple[Bounds, ...]) -> Grid:
    """The grid with its printed pages: those whose own cell some line goes through."""
    places = [grid.tile(column, row) for row in range(grid.rows) for column in range(grid.columns)]
    kept = tuple(tile for tile in places if not traces or any(grid.cell(tile).meets(box) for box in traces))
    return Grid(
        grid.page_width, grid.page_height, grid.margin, grid.overlap, grid.columns, grid.rows, grid.origin, kept
    )


def _too_small(paper: Paper) -> Fault:
    size = paper.size if isinstance(paper.size, str) else " x ".join(f"{side:g}" for side in paper.size) + " mm"
    found = f"margin {paper.margin:g} mm and overlap {paper.overlap:g} mm leave nothing of a page of {size}"
    return Fault("paper.margin", found, "use a smaller margin and overlap, or larger paper")

"""The grid: the pages of one drawing and what each of them shows. Millimetres of paper."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor, isfinite

from templategen.catalogue import fault_of, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.table.profile.model_of_shop import Paper

SIZES: dict[str, tuple[float, float]] = {
    "a0": (841, 1189), "a1": (594, 841), "a2": (420, 594), "a3": (297, 420), "a4": (210, 297),
    "a5": (148, 210), "a6": (105, 148),
    "b0": (1000, 1414), "b1": (707, 1000), "b2": (500, 707), "b3": (353, 500), "b4": (250, 353),
    "b5": (176, 250), "b6": (125, 176),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8),
}  # fmt: skip
"""Width and height upright, mm (ISO 216; the American sizes are 8 1/2 x 11, 8 1/2 x 14 and 11 x 17 in)."""


AMERICAN = ("letter", "legal", "tabloid")


def paper_at_hand(paper: Paper) -> str:
    """What a page is printed on by whoever has such paper: `letter` or `A4`."""
    return "letter" if isinstance(paper.size, str) and paper.size.strip().casefold() in AMERICAN else "A4"


def paper_size(paper: Paper) -> tuple[float, float | None]:
    """Width and height as named or given, mm; no height for a roll.

    Raises:
        OutputError: a name that isn't known, or sizes that no paper has.
    """
    if isinstance(paper.size, str):
        size = SIZES.get(paper.size.strip().lower())
        if size is None:
            found = worded("{size!r} is no paper size known here", size=paper.size)
            raise OutputError(
                Fault("paper.size", found, worded("use one of {names}, [w, h] or [w]", names=", ".join(SIZES)))
            )
        return size
    if len(paper.size) not in (1, 2) or not all(isfinite(side) and side > 0 for side in paper.size):
        raise OutputError(
            fault_of("paper.size", "{size}", "give [width, height], or [width] of a roll", size=list(paper.size))
        )
    return paper.size[0], paper.size[1] if len(paper.size) == 2 else None


FOOT = 15.0
"""Height of the strip along the foot of each page that carries title, map and ruler, mm."""

SIDE = 8.0
"""Width of the strip along the left of each page that carries the upright ruler, mm."""


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

    The paper frame is the drawing's frame put right for the printer (`Correction`). A page shows its window with the
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

    def neighbour(self, tile: Tile, columns: int, rows: int) -> Tile | None:
        """The page so many columns to the right and rows down, if it is printed."""
        place = (tile.column + columns, tile.row + rows)
        return next((other for other in self.tiles if (other.column, other.row) == place), None)


def letters(number: int) -> str:
    """A, B ... Z, AA, AB ... for 0, 1 ..."""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def ink_by_tile(grid: Grid, inked: Iterable[Bounds]) -> dict[tuple[int, int], list[Bounds]]:
    """The boxes that each page's window meets, by column and row from the top."""
    step_x, step_y = grid.window_width - grid.overlap, grid.window_height - grid.overlap
    left, bottom = grid.origin
    found: dict[tuple[int, int], list[Bounds]] = {}
    for box in inked:
        first, last = floor((box.left - left - grid.overlap) / step_x), floor((box.right - left) / step_x)
        low, high = floor((box.bottom - bottom - grid.overlap) / step_y), floor((box.top - bottom) / step_y)
        for column in range(first, last + 1):
            for row in range(low, high + 1):
                found.setdefault((column, grid.rows - 1 - row), []).append(box)
    return found

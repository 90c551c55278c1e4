"""Tiling: a pattern laid on the fewest pages, turned and arranged as is best."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, pi, radians, sin

from templategen.catalogue import fault_of
from templategen.drawing.move import placed_box
from templategen.drawing.pattern import Pattern
from templategen.drawing.pieces import pieces
from templategen.errors import OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.placement import Placement
from templategen.paper.correction import Correction, correction_of
from templategen.paper.grid import Grid
from templategen.paper.tiles import PAD, grid_rank, naive_count, tile_grid
from templategen.table.profile.model_of_shop import Paper

ASLANT = tuple(radians(angle) for angle in range(10, 90, 10))
"""Turns that are tried where a pattern may fit one page along its diagonal."""


FAR = 1e7
"""No drawing reaches further, mm."""


@dataclass(frozen=True, slots=True)
class Tiled:
    """A pattern in its last frame, turned by `turn` from its own; its pages; boxes of its ink on paper."""

    pattern: Pattern
    turn: float
    grid: Grid
    inked: tuple[Bounds, ...]
    correction: Correction
    naive: int

    @property
    def pages(self) -> int:
        """How many sheets it takes."""
        return len(self.grid.tiles)


def tiled(arrangements: Sequence[Pattern], paper: Paper, turning: bool = True) -> Tiled:
    """The arrangement, turn and grid that need the fewest pages and cross fewest joints.

    Raises:
        OutputError: paper too small or unknown, nothing to draw, sizes that aren't finite.
    """
    correction = correction_of(paper)
    if not arrangements or not arrangements[0].marks:
        raise OutputError(fault_of("drawing", "it holds nothing to print"))
    inks = [_Ink(pattern, tuple(pieces(pattern.marks))) for pattern in arrangements]
    found = [_tried(ink, 0.0, paper, correction) for ink in inks]
    naive = naive_count(found[0].box, paper, found[0].inked)
    if turning and _least(found) > 1:
        found += [_tried(ink, pi / 2, paper, correction) for ink in inks]
    if turning and _least(found) > 1:
        found += [
            _tried(ink, turn, paper, correction)
            for ink in inks
            for turn in ASLANT
            if _may_fit(ink, turn, found[0].grid)
        ]
    best = min(found, key=lambda one: one.rank)
    turned = best.ink.pattern.placed(Placement(turn=best.turn))
    return Tiled(turned, best.turn, best.grid, best.inked, correction, naive)


@dataclass(frozen=True, slots=True)
class _Ink:
    """A pattern with the boxes of its ink."""

    pattern: Pattern
    boxes: tuple[Bounds, ...]

    def turned(self, turn: float) -> tuple[Bounds, ...]:
        """Boxes of the turned pattern's ink: exact for quarter turns of boxes."""
        if turn == 0:
            return self.boxes
        if turn == pi / 2:
            return tuple(Bounds(-box.top, box.left, -box.bottom, box.right) for box in self.boxes)
        return tuple(pieces(self.pattern.placed(Placement(turn=turn)).marks))


@dataclass(frozen=True, slots=True)
class _Try:
    """One way to print."""

    ink: _Ink
    turn: float
    box: Bounds
    inked: tuple[Bounds, ...]
    grid: Grid
    crossed: float

    @property
    def rank(self) -> tuple[float, ...]:
        return len(self.grid.tiles), self.crossed, self.turn % (pi / 2) > 1e-9, self.turn


def _least(found: Sequence[_Try]) -> int:
    return min(len(one.grid.tiles) for one in found)


def _tried(ink: _Ink, turn: float, paper: Paper, correction: Correction) -> _Try:
    way = Placement(turn=turn)
    inked = ink.turned(turn)
    if correction != Correction():
        inked = tuple(correction.box(box) for box in inked)
    box = Bounds.around(inked)
    if not all(abs(value) < FAR for value in box):
        raise OutputError(fault_of("drawing", "sizes that aren't finite", "check the sizes of the part"))
    dear = [correction.box(placed_box(one, way)) for one in ink.pattern.dear]
    grid = tile_grid(box, paper, inked, dear)
    return _Try(ink, turn, box, inked, grid, grid_rank(grid, dear)[1])


def _may_fit(ink: _Ink, turn: float, grid: Grid) -> bool:
    """Whether the turned pattern's box fits one page, either way up."""
    box = Bounds.around(ink.boxes)
    c, s = cos(turn), sin(turn)
    window = sorted((grid.window_width, grid.window_height))
    sides = sorted((box.width * c + box.height * s + 2 * PAD, box.width * s + box.height * c + 2 * PAD))
    return sides[0] <= window[0] and sides[1] <= window[1]

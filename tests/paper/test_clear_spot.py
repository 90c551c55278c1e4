"""Clear spots and the places of seams, against trying every square and counting every box."""

from __future__ import annotations

from math import ceil, floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.geometry.bounds import Bounds
from templategen.paper.clear_spot import CELL, clear_spot
from templategen.paper.correction import Correction, correction_of
from templategen.paper.grid import Grid
from templategen.paper.seams import seam_boxes, seams_of
from templategen.paper.tiles import grid_rank, tile_grid
from templategen.table.profile.model import Paper

WINDOW = Bounds(-17.0, 4.0, 112.0, 91.0)

boxes = st.builds(
    lambda x, y, w, h: Bounds(x, y, x + w, y + h),
    st.floats(-40, 120), st.floats(-20, 100), st.floats(0.1, 70), st.floats(0.1, 40),
)  # fmt: skip


@settings(max_examples=80)
@given(st.lists(boxes, max_size=8), st.floats(1, 60), st.floats(1, 40))
def test_the_spot_is_the_highest_and_then_the_leftmost_clear_one(
    taken: list[Bounds], width: float, height: float
) -> None:
    """The same as by trying each square of each block from the top left."""
    assert clear_spot(WINDOW, taken, width, height) == _by_trial(taken, width, height)


def _by_trial(taken: list[Bounds], width: float, height: float) -> tuple[float, float] | None:
    columns, rows = floor(WINDOW.width / CELL), floor(WINDOW.height / CELL)
    full = {
        (x, y)
        for box in taken
        for x in range(floor((box.left - WINDOW.left) / CELL), floor((box.right - WINDOW.left) / CELL) + 1)
        for y in range(floor((box.bottom - WINDOW.bottom) / CELL), floor((box.top - WINDOW.bottom) / CELL) + 1)
    }
    across, up = ceil(width / CELL) + 1, ceil(height / CELL) + 1
    for y in range(rows - up, -1, -1):
        for x in range(columns - across + 1):
            if not any((i, j) in full for i in range(x, x + across) for j in range(y, y + up)):
                return WINDOW.left + (x + 0.5) * CELL, WINDOW.bottom + (y + 0.5) * CELL
    return None


def test_what_is_larger_than_the_page_finds_no_spot() -> None:
    """Neither too wide nor too tall a block has a place, even on empty paper."""
    assert clear_spot(WINDOW, (), 130, 10) is None
    assert clear_spot(WINDOW, (), 10, 90) is None
    assert clear_spot(WINDOW, (), 10, 10) == (-15.5, pytest.approx(77.5))


def lopsided_grid() -> Grid:
    """Three pages by two, none square, the overlap no share of anything."""
    return tile_grid(Bounds(-13, 7, 490, 430), Paper((201.0, 293.0), 6, 11, 1, 1), shifting=False)


def test_seams_lie_on_the_overlap_of_their_two_pages() -> None:
    """Each seam is the strip that both windows share, the left page over the right one, the lower over the upper."""
    grid = lopsided_grid()
    seams = seams_of(grid, {})
    assert grid.columns != grid.rows
    assert len(seams) == (grid.columns - 1) * grid.rows + grid.columns * (grid.rows - 1)
    for seam in seams:
        over, under = seam.over.window, seam.under.window
        assert seam.low == pytest.approx(under[seam.axis]) and seam.high == pytest.approx(over[seam.axis + 2])
        assert seam.lap == 11
        step = seam.under.column - seam.over.column, seam.over.row - seam.under.row
        assert step == ((1, 0) if seam.axis == 0 else (0, 1))
        low, high = under[1 - seam.axis], under[3 - seam.axis]
        assert all(low < place < high for place in (*seam.crosses, seam.witness))
        assert min(seam.crosses) < seam.witness < max(seam.crosses)
        assert seam.spot(1.0, 2.0) == ((1.0, 2.0) if seam.axis == 0 else (2.0, 1.0))
    assert len({seam.name for seam in seams}) == len(seams)


def test_marks_keep_clear_of_corners_where_seams_cross() -> None:
    """With free paper the first cross stands next to the window's edge, further in where another seam comes by."""
    one_row = tile_grid(Bounds(0, 0, 490, 200), Paper((201.0, 293.0), 6, 11, 1, 1), shifting=False)
    assert (one_row.columns, one_row.rows) == (3, 1)
    one_column = tile_grid(Bounds(0, 0, 120, 700), Paper((201.0, 293.0), 6, 11, 1, 1), shifting=False)
    assert (one_column.columns, one_column.rows) == (1, 3)
    for grid, room in ((one_row, 8.0), (one_column, 8.0), (lopsided_grid(), 11 + 14.0)):
        for seam in seams_of(grid, {}):
            low, high = seam.under.window[1 - seam.axis], seam.under.window[3 - seam.axis]
            assert seam.crosses[0] - low == pytest.approx(room)
            assert high - seam.crosses[-1] == pytest.approx(room)


def test_a_joint_a_millimetre_from_a_seam_is_not_crossed() -> None:
    """Boxes on a seam, or within 1 mm of its overlap, count once each, however many seams they meet; others don't."""
    grid = lopsided_grid()
    left, bottom = grid.origin
    x = left + grid.window_width - grid.overlap
    y = bottom + grid.window_height - grid.overlap
    clear = Bounds(x - 30, bottom + 50, x - 1.1, bottom + 60), Bounds(left + 20, y + 12.1, left + 30, y + 40)
    met = (
        Bounds(x - 30, bottom + 50, x - 0.9, bottom + 60), Bounds(x + 11.9, bottom + 5, x + 20, bottom + 9),
        Bounds(left + 20, y - 40, left + 30, y - 0.9), Bounds(left + 20, y + 11.9, left + 30, y + 40),
        Bounds(x - 5, y - 5, x + 5, y + 5),
    )  # fmt: skip
    assert grid_rank(grid, clear)[1] == 0
    for box in met:
        assert grid_rank(grid, [*clear, box])[1] == 1
    assert grid_rank(grid, met)[1] == len(met)


def test_marks_of_a_seam_keep_off_the_ink() -> None:
    """Where ink crosses a seam at one place the marks stand elsewhere; the boxes round them miss it."""
    grid = lopsided_grid()
    free = seams_of(grid, {})[0]
    a, b = free.spot(free.low, free.crosses[0] - 2), free.spot(free.high, free.crosses[0] + 2)
    ink = Bounds(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
    moved = seams_of(grid, {(free.over.column, free.over.row): [ink]})[0]
    assert moved.crosses != free.crosses and moved.witness == free.witness
    assert not any(box.grown(-4.1).meets(ink) for box in seam_boxes(moved))


def test_a_corrected_point_comes_out_true() -> None:
    """A printer of the scales and lean that the correction undoes puts every point where the drawing has it."""
    from math import cos, sin

    from templategen.geometry.point import Point

    a, d, s = 1.004, 0.993, 0.006
    paper = Paper("A4", 8, 12, 1 / a, 1 / d, s)
    made = correction_of(paper)
    for at in (Point(31, 170), Point(-12, 55), Point(140, -3)):
        x, y = made.point(at)
        assert (a * x + d * y * sin(s), d * y * cos(s)) == pytest.approx(at, abs=1e-9)
    box = made.box(Bounds(-12, -3, 140, 170))
    corners = [made.point(Point(x, y)) for x in (-12, 140) for y in (-3, 170)]
    assert box == pytest.approx((min(c.x for c in corners), min(c.y for c in corners),
                                 max(c.x for c in corners), max(c.y for c in corners)))  # fmt: skip
    assert Correction().matrix == (1, 0, 0, 1, 0, 0)

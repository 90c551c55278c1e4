"""Tiles: their arithmetic, by closed formulas."""

from __future__ import annotations

from math import ceil, inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from templategen.errors import OutputError
from templategen.geometry.bounds import Bounds
from templategen.paper.grid import FOOT, SIDE, SIZES, letters
from templategen.paper.tiles import _inked as inked_cells
from templategen.paper.tiles import tile_grid
from templategen.table.profile.model_of_shop import Paper

A4 = Paper("A4", 8, 12, 1.0, 1.0)

boxes = st.builds(
    lambda x, y, w, h: Bounds(x, y, x + w, y + h),
    st.floats(-500, 500), st.floats(-500, 500), st.floats(1, 1500), st.floats(1, 1500),
)  # fmt: skip
papers = st.builds(
    Paper, st.sampled_from(("A4", "letter", "a3", (300.0, 500.0), (610.0,))), st.floats(0, 15), st.floats(0, 20),
    st.just(1.0), st.just(1.0),
)  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(boxes, papers)
def test_the_windows_cover_the_drawing_and_share_the_overlap(box: Bounds, paper: Paper) -> None:
    """The outer windows hold the box, neighbours share just the overlap, and pages keep their margins."""
    grid = tile_grid(box, paper)
    windows = {(tile.column, tile.row): tile.window for tile in grid.tiles}
    assert len(windows) == grid.columns * grid.rows
    assert windows[0, 0].left <= box.left
    assert windows[0, 0].top >= box.top
    last = windows[grid.columns - 1, grid.rows - 1]
    assert last.right >= box.right
    assert last.bottom <= box.bottom
    for (column, row), window in windows.items():
        assert window.width == pytest.approx(grid.page_width - 2 * paper.margin - SIDE)
        assert window.height == pytest.approx(grid.page_height - 2 * paper.margin - FOOT)
        if (column + 1, row) in windows:
            assert window.right - windows[column + 1, row].left == pytest.approx(paper.overlap)
        if (column, row + 1) in windows:
            assert windows[column, row + 1].top - window.bottom == pytest.approx(paper.overlap)


@settings(max_examples=80, deadline=None)
@given(st.floats(1, 1500), st.floats(1, 1500))
def test_the_better_way_to_hold_the_page_is_taken(width: float, height: float) -> None:
    """No page held the other way would need fewer sheets (two millimetres of air on each side counted)."""

    def count(page: tuple[float, float]) -> int:
        across, up = page[0] - 16 - SIDE, page[1] - 16 - FOOT
        return max(1, ceil((width - 8) / (across - 12))) * max(1, ceil((height - 8) / (up - 12)))

    grid = tile_grid(Bounds(0, 0, width, height), A4)
    assert len(grid.tiles) <= min(count((210, 297)), count((297, 210)))


def test_pages_without_ink_are_left_out() -> None:
    """Two dots in opposite corners of a large frame take two pages, each named by its place."""
    dots = (Bounds(0, 0, 1, 1), Bounds(999, 999, 1000, 1000))
    grid = tile_grid(Bounds(0, 0, 1000, 1000), A4, dots)
    assert len(grid.tiles) == 2
    assert {tile.name for tile in grid.tiles} == {f"{letters(grid.columns - 1)}1", f"A{grid.rows}"}


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.floats(0, 900), st.floats(0, 900)), min_size=1, max_size=20))
def test_every_dot_of_ink_is_on_a_page(dots: list[tuple[float, float]]) -> None:
    """Whatever pages are left out, each dot lies within a window that is printed."""
    grid = tile_grid(Bounds(0, 0, 900, 900), A4, [Bounds(x, y, x, y) for x, y in dots])
    for x, y in dots:
        assert any(
            tile.window.left <= x <= tile.window.right and tile.window.bottom <= y <= tile.window.top
            for tile in grid.tiles
        )


def test_a_roll_is_cut_to_length() -> None:
    """A drawing narrower than the roll takes one page as long as it needs."""
    grid = tile_grid(Bounds(0, 0, 500, 1800), Paper((610.0,), 10, 12, 1.0, 1.0))
    assert len(grid.tiles) == 1
    assert min(grid.page_width, grid.page_height) == 610
    assert max(grid.page_width, grid.page_height) == pytest.approx(1800 + 4 + 20 + FOOT)


def test_columns_are_lettered_past_z() -> None:
    """A, Z, AA, AB, ZZ, AAA."""
    assert [letters(n) for n in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]


def test_iso_sizes_halve() -> None:
    """Each A and B size is the half of the one before, rounded down to a whole millimetre."""
    for series in "ab":
        for number in range(6):
            short, long = SIZES[f"{series}{number}"]
            assert SIZES[f"{series}{number + 1}"] == (long // 2, short)


@pytest.mark.parametrize(
    ("paper", "where"),
    [
        (Paper("A4", 90, 12, 1, 1), "paper.margin"),
        (Paper("A6", 10, 70, 1, 1), "paper.margin"),
        (Paper("A4", -1, 12, 1, 1), "paper.margin"),
        (Paper("A4", float("nan"), 12, 1, 1), "paper.margin"),
        (Paper("foolscap", 8, 12, 1, 1), "paper.size"),
        (Paper((), 8, 12, 1, 1), "paper.size"),
        (Paper((-5.0, 100.0), 8, 12, 1, 1), "paper.size"),
        (Paper((inf,), 8, 12, 1, 1), "paper.size"),
        (Paper("A6", 0, 0, 1, 1), "paper.size"),
    ],
)
def test_impossible_paper_is_refused(paper: Paper, where: str) -> None:
    """Unknown, too small or too much paper is an error that names the key."""
    with pytest.raises(OutputError, match=where):
        tile_grid(Bounds(0, 0, 30000, 30000), paper)


def test_an_endless_drawing_is_refused() -> None:
    """Extents that aren't finite are an error, not an endless loop."""
    with pytest.raises(OutputError, match="finite"):
        tile_grid(Bounds(0, 0, inf, 10), A4)


def test_spans_of_cells() -> None:
    """A box over several pages of one row, or of one column, is on each of them."""
    assert inked_cells([((1, 3), (2, 2)), ((5, 5), (0, 1)), ((7, 7), (4, 4))]) == {
        (1, 2), (2, 2), (3, 2), (5, 0), (5, 1), (7, 4),
    }  # fmt: skip

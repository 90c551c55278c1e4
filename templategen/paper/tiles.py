"""Tiles: a drawing's place on as many sheets of paper as it needs."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil, isfinite

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, OutputError
from templategen.geometry.bounds import Bounds
from templategen.paper.grid import FOOT, SIDE, Grid, paper_size
from templategen.table.profile.model_of_shop import Paper

PAD = 2.0
"""Least paper between the drawing and the outer edge of its window, mm."""

LEAST_STEP = 20.0
"""A page that shows less than this of its own is too small, mm."""

LONGEST_PAGE = 5000.0
"""Readers of PDF refuse pages of more than 14,400 points, mm."""

PHASES = 9
FEW_PHASES = 5
MANY = 1500
"""A grid is tried shifted by so many shares of a page's step, each way; by fewer where there are MANY traces."""

MOST_PAGES = 400
"""More pages than this are a mistake in the paper's size or the drawing's."""


def tile_grid(box: Bounds, paper: Paper, traces: Iterable[Bounds] = (), dear: Iterable[Bounds] = ()) -> Grid:
    """The fewest pages that show `box` (in the paper frame), upright or lying, the grid shifted as is best.

    `traces` are small boxes along the lines drawn; pages without any are left out. Without traces all stay.
    `dear` are boxes of joints and tiny features: of equal grids the one is taken whose seams meet fewest.

    Raises:
        OutputError: paper that is unknown, or too small for its margin and overlap, or too many pages.
    """
    if not all(isfinite(value) for value in box):
        raise OutputError(fault_of("drawing", "its extents aren't finite", "check the sizes of the part"))
    grids = [grid for grid in (_grid(box, paper, *page) for page in _pages(box, paper)) if grid is not None]
    if not grids:
        raise OutputError(_too_small(paper))
    boxes, kept_whole = tuple(traces), tuple(dear)
    small = [grid for grid in grids if grid.columns * grid.rows <= 4 * MOST_PAGES]
    full = [_shifted(grid, box, boxes, kept_whole) for grid in small]
    if not full or all(len(grid.tiles) > MOST_PAGES for grid in full):
        found = worded(
            "{width:.0f} x {height:.0f} mm would take more than {most} pages",
            width=box.width,
            height=box.height,
            most=MOST_PAGES,
        )
        raise OutputError(Fault("paper.size", found, translated("use larger paper")))
    return min(full, key=lambda grid: (*grid_rank(grid, kept_whole), grid.page_width))


def grid_rank(grid: Grid, dear: Sequence[Bounds]) -> tuple[float, ...]:
    """What is less is better: pages, joints and tiny features that a seam crosses, pages left out."""
    return len(grid.tiles), _crossed(grid, dear), grid.columns * grid.rows


def naive_count(box: Bounds, paper: Paper, traces: Sequence[Bounds]) -> int:
    """Pages of the plain way: paper as it comes, the grid laid from the drawing's lower left corner."""
    grid = _grid(box, paper, *_pages(box, paper)[0])
    if grid is None:
        raise OutputError(_too_small(paper))
    return len(_filled(replace(grid, origin=(box.left - PAD, box.bottom - PAD)), traces).tiles)


def _shifted(grid: Grid, box: Bounds, traces: tuple[Bounds, ...], dear: tuple[Bounds, ...]) -> Grid:
    """The grid shifted so that fewest pages hold ink and fewest dear boxes lie on a seam; else as it is."""
    plain = _filled(grid, traces)
    if len(plain.tiles) == 1 or not traces:
        return plain
    in_line = min(grid.columns, grid.rows) == 1 and len(plain.tiles) == max(grid.columns, grid.rows)
    if in_line and not _crossed(plain, dear):
        return plain
    phases = PHASES if len(traces) < MANY else FEW_PHASES
    xs = _origins(box.left, box.width, grid.window_width, grid.overlap, phases)
    ys = _origins(box.bottom, box.height, grid.window_height, grid.overlap, phases)
    columns = [_cells(traces, 0, origin, grid.window_width, grid.overlap, count) for origin, count in xs]
    rows = [_cells(traces, 1, origin, grid.window_height, grid.overlap, count) for origin, count in ys]
    counted = []
    for (x, across), column in zip(xs, columns, strict=True):
        for (y, up), row in zip(ys, rows, strict=True):
            if not in_line or across * up == len(plain.tiles):
                count = across * up if in_line else _count_inked(column, row)
                counted.append((count, across * up, x, y, across, up))
    least = min(count for count, *_ in counted)
    alike = [
        replace(grid, columns=across, rows=up, origin=(x, y))
        for count, _, x, y, across, up in sorted(counted)
        if count == least
    ]
    best = min(alike, key=lambda one: _crossed(one, dear))
    filled = _filled(best, traces)
    return min((plain, filled), key=lambda one: grid_rank(one, dear))


def _origins(low: float, extent: float, window: float, overlap: float, phases: int) -> list[tuple[float, int]]:
    """Places for a grid's edge along one side and how many pages it then takes; one page stays in the middle."""
    step = window - overlap
    least = _count(extent, window, overlap)
    slack = least * step + overlap - extent - 2 * PAD
    places = [low - PAD - slack / 2]
    if least > 1:
        places += [low - PAD - step * phase / phases for phase in range(phases)]
    return [(place, max(1, ceil((low + extent + PAD - place - overlap) / step - 1e-9))) for place in places]


def _cells(
    traces: Sequence[Bounds], axis: int, origin: float, window: float, overlap: float, count: int
) -> list[tuple[int, int]]:
    """First and last column (or row from below) that each box lies in; a grid starts outside all boxes."""
    share, low, top, far = 1 / (window - overlap), origin + overlap / 2, count - 1, axis + 2
    spans = [(int((box[axis] - low) * share), int((box[far] - low) * share)) for box in traces]
    return [span if span[1] <= top else (min(span[0], top), top) for span in spans]


def _count_inked(columns: Sequence[tuple[int, int]], rows: Sequence[tuple[int, int]]) -> int:
    """How many cells hold a box."""
    return len(_inked(set(zip(columns, rows, strict=True))))


def _inked(spans: Iterable[tuple[tuple[int, int], tuple[int, int]]]) -> set[tuple[int, int]]:
    """The cells of spans of columns and rows."""
    cells: set[tuple[int, int]] = set()
    for (left, right), (low, high) in spans:
        if left == right and low == high:
            cells.add((left, low))
        else:
            cells.update((x, y) for x in range(left, right + 1) for y in range(low, high + 1))
    return cells


def _crossed(grid: Grid, dear: Sequence[Bounds]) -> int:
    """How many of the boxes a seam crosses between two printed pages."""
    step_x, step_y = grid.window_width - grid.overlap, grid.window_height - grid.overlap
    left, bottom = grid.origin
    seams_x = [left + k * step_x for k in range(1, grid.columns)]
    seams_y = [bottom + k * step_y for k in range(1, grid.rows)]
    return sum(
        any(x - 1 < box.right and box.left < x + grid.overlap + 1 for x in seams_x)
        or any(y - 1 < box.top and box.bottom < y + grid.overlap + 1 for y in seams_y)
        for box in dear
    )


def _pages(box: Bounds, paper: Paper) -> list[tuple[float, float]]:
    """The ways to hold a page: upright and lying, a roll cut to what the drawing needs."""
    if not (isfinite(paper.margin) and isfinite(paper.overlap) and paper.margin >= 0 and paper.overlap >= 0):
        raise OutputError(
            fault_of(
                "paper.margin",
                "{margin} and {overlap} mm",
                "give 0 or more",
                margin=paper.margin,
                overlap=paper.overlap,
            )
        )
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


def _filled(grid: Grid, traces: Sequence[Bounds]) -> Grid:
    """The grid with its printed pages: those whose own cell some line goes through."""
    places = [grid.tile(column, row) for row in range(grid.rows) for column in range(grid.columns)]
    if traces:
        columns = _cells(traces, 0, grid.origin[0], grid.window_width, grid.overlap, grid.columns)
        rows = _cells(traces, 1, grid.origin[1], grid.window_height, grid.overlap, grid.rows)
        inked = _inked(set(zip(columns, rows, strict=True)))
        places = [tile for tile in places if (tile.column, grid.rows - 1 - tile.row) in inked]
    return replace(grid, tiles=tuple(places))


def _too_small(paper: Paper) -> Fault:
    size = paper.size if isinstance(paper.size, str) else " x ".join(f"{side:g}" for side in paper.size) + " mm"
    found = worded(
        "margin {margin:g} mm and overlap {overlap:g} mm leave nothing of a page of {size}",
        margin=paper.margin,
        overlap=paper.overlap,
        size=size,
    )
    return Fault("paper.margin", found, translated("use a smaller margin and overlap, or larger paper"))

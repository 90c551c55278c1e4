"""Real templates on paper: read back by two libraries, laid by their crosses alone, printed by a false printer."""

from __future__ import annotations

import io
from collections.abc import Iterator
from ctypes import c_float
from functools import cache
from math import cos, hypot, radians, sin
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from templategen.drawing.drawing import Words
from templategen.drawing.lettering import text_width
from templategen.drawing.pattern import Pattern, Template
from templategen.drawing.template import stacked, template
from templategen.errors import OutputError
from templategen.geometry.bounds import Bounds
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.output.pdf import tiled_pdf_of
from templategen.output.pdf_furniture import Heading
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.paper.correction import correction_of
from templategen.paper.imposition import Imposed, impose
from templategen.paper.tiling import Tiled, tiled
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model_of_shop import Paper
from templategen.table.profile.printer import correction
from templategen.table.profile.read import profile_from_text
from tests.output.test_pdf import MM, cross_middles, laid_together

CUT_WIDTH = 0.35


@cache
def table_of(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


@cache
def templates_of(name: str) -> tuple[Template, ...]:
    """Its templates."""
    table = table_of(name)
    return tuple(template(part, table) for part in table.parts)


@cache
def imposed_of(name: str) -> tuple[Imposed, ...]:
    """Its templates on the profile's paper."""
    return impose(templates_of(name), table_of(name).profile.paper)[0]


@pytest.fixture(scope="module")
def dining() -> Table:
    """The dining table."""
    return table_of("towpath-dining")


def printed(one: Imposed) -> bytes:
    """A file of one pattern."""
    return tiled_pdf_of([(one.tiled, Heading("Towpath tables", one.templates[0].code, 1, "rev"))], "x")


def outlines_on(laid: Tiled, table: Table) -> list[Outline]:
    """The exact outlines of the parts, told from the parts themselves, in the drawing's frame."""
    rings = []
    for sited in laid.pattern.sited:
        part = table.part(sited.code)
        later = (part.blank,) if part.kind in ("rim-segment", "spline") else ()
        rings += [sited.way.outline(ring) for ring in (*later, part.outline, *part.holes)]
    return rings


def plumbed(page: Any) -> list[list[tuple[float, float]]]:
    """Corners and points along the curves of every cut line, by the layout reader, mm."""
    found = []
    for shape in (*page.curves, *page.rects, *page.lines):
        if abs(shape["linewidth"] / MM - CUT_WIDTH) < 0.02:
            height = float(page.height)
            steps = [(name, [(x / MM, (height - y) / MM) for x, y in points]) for name, *points in shape["path"]]
            found.append(list(walked(steps)))
    return found


def walked(steps: list[tuple[str, list[tuple[float, float]]]]) -> Iterator[tuple[float, float]]:
    """Points along a path, curves at eight places each."""
    at = (0.0, 0.0)
    for name, points in steps:
        if name == "c":
            a, b, c, d = at, *points
            for t in (k / 8 for k in range(9)):
                w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
                x, y = (sum(k * p[i] for k, p in zip(w, (a, b, c, d), strict=True)) for i in (0, 1))
                yield x, y
        if points:
            at = points[-1]
            yield at


def pdfium_paths(page: Any) -> list[list[tuple[float, float]]]:
    """The same by the drawing library: segments of path objects in forms, carried to the page, mm."""
    found = []
    for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5):
        width = c_float()
        pdfium.FPDFPageObj_GetStrokeWidth(thing.raw, width)
        if abs(width.value - CUT_WIDTH) > 0.02:
            continue
        matrix, holder = thing.get_matrix(), thing.container
        while holder is not None:
            matrix, holder = matrix.multiply(holder.get_matrix()), holder.container
        steps: list[tuple[str, list[tuple[float, float]]]] = []
        curve: list[tuple[float, float]] = []
        for index in range(pdfium.FPDFPath_CountSegments(thing.raw)):
            segment = pdfium.FPDFPath_GetPathSegment(thing.raw, index)
            x, y = c_float(), c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            point = matrix.on_point(x.value, y.value)
            at = point[0] / MM, point[1] / MM
            if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_BEZIERTO:
                curve.append(at)
                if len(curve) == 3:
                    steps.append(("c", curve))
                    curve = []
            else:
                steps.append(("l", [at]))
        found.append(list(walked(steps)))
    return found


PAPERS = [
    Paper("A4", 8, 12, 1.0, 1.0),
    Paper("A3", 8, 10, 1.015, 0.985, radians(0.5)),
    Paper("letter", 10, 15, 0.985, 1.015, radians(-0.7)),
    Paper((420.0,), 6, 12, 1.004, 0.997, radians(0.3)),
]


@pytest.mark.wide
@pytest.mark.parametrize("paper", PAPERS, ids=["a4", "a3", "letter", "roll"])
def test_every_cut_line_lands_true(paper: Paper, dining: Table) -> None:
    """By two readers, with pages laid by their crosses alone, cut lines lie within 0.01 mm of the exact parts."""
    templates = [template(dining.part(code), dining) for code in ("RIM-A", "RAIL-MID", "SLAT-07", "FOOT", "SPLINE")]
    correct, several = correction_of(paper), 0
    for one in impose(templates, paper)[0]:
        data, grid = printed(one), one.tiled.grid
        several += one.tiled.pages > 1
        alone = pdfplumber.open(io.BytesIO(data)).pages[0]
        done = laid_together(data) if one.tiled.pages > 1 else {(0, 0): (alone, 0.0, 0.0)}
        first = grid.tiles[0]
        zero = grid.corner[0] - first.window.left, grid.corner[1] - first.window.bottom
        drawn = pypdfium2.PdfDocument(data)
        rings = outlines_on(one.tiled, dining)
        corners = [vertex.point for ring in rings for vertex in ring]
        met = [False] * len(corners)
        _, shift_x, shift_y = done[first.column, first.row]
        for tile, sheet in zip(grid.tiles, drawn, strict=True):
            page, dx, dy = done[tile.column, tile.row]
            for paths in (plumbed(page), pdfium_paths(sheet)):
                assert len(paths) >= len(one.tiled.pattern.sited)
                for x, y in (point for path in paths for point in path):
                    on_paper = x + dx - shift_x - zero[0], y + dy - shift_y - zero[1]
                    true_y = on_paper[1] / correct.up
                    true = Point((on_paper[0] + correct.lean * true_y) / correct.across, true_y)
                    near = [ring for ring in rings if ring.bounds.grown(1).meets(Bounds(*true, *true))]
                    assert min(ring.distance(true) for ring in near) < 0.01
                    for i, corner in enumerate(corners):
                        met[i] = met[i] or corner.distance(true) < 0.01
        assert all(met)
    assert several or isinstance(paper.size, tuple)


DPI = 300
PIXEL = DPI / 25.4


def off_line(image: np.ndarray, spots: np.ndarray, normals: np.ndarray) -> np.ndarray:
    """How far the middle of the ink lies beside each spot (mm from the page's lower left), in pixels; not a number
    where there is none within four."""
    steps = np.arange(-4.0, 4.01, 0.25)
    x = spots[:, :1] * PIXEL + normals[:, :1] * steps
    y = image.shape[0] - (spots[:, 1:] * PIXEL + normals[:, 1:] * steps)
    rows, columns = (np.clip(at.astype(int), 0, size - 1) for at, size in ((y, image.shape[0]), (x, image.shape[1])))
    dark = np.clip(150.0 - image[rows, columns], 0.0, None)
    with np.errstate(invalid="ignore"):
        return (dark * steps).sum(axis=1) / dark.sum(axis=1)


def seams_in_pixels(one: Imposed, rings: list[Outline]) -> Iterator[tuple[str, float, float]]:
    """For each two sheets that share a strip, both printed: how far the cut lines of one lie from where they should
    be, and from those of the other, in pixels at 300 dpi. Where words and seams' own marks touch a line is left out:
    the nine tenths that are best count."""
    sheets = pypdfium2.PdfDocument(printed(one))
    grid, corner = one.tiled.grid, one.tiled.grid.corner
    edges = [edge for ring in rings for edge in ring.edges]
    counts = [max(2, int(edge.length)) for edge in edges]
    shares = [
        (edge, (step + 0.5) / count) for edge, count in zip(edges, counts, strict=True) for step in range(count)
    ]
    at = np.array([edge.point_at(share) for edge, share in shares])
    normals = np.array([edge.direction_at(share).left for edge, share in shares])
    images = {}
    for tile, sheet in zip(grid.tiles, sheets, strict=True):
        images[tile.column, tile.row] = tile, sheet.render(scale=DPI / 72, grayscale=True).to_numpy().squeeze()
    for (column, row), (tile, image) in images.items():
        for other in ((column + 1, row), (column, row + 1)):
            if other not in images:
                continue
            boxes = [one.window for one in (tile, images[other][0])]
            shared = np.all(
                [(at[:, 0] > box.left + 0.5) & (at[:, 0] < box.right - 0.5) & (at[:, 1] > box.bottom + 0.5)
                 & (at[:, 1] < box.top - 0.5) for box in boxes], axis=0
            )  # fmt: skip
            if shared.any():
                here, there = (
                    off_line(picture, at[shared] + np.array(corner) - (box.left, box.bottom), normals[shared])
                    for box, picture in zip(boxes, (image, images[other][1]), strict=True)
                )
                known = ~np.isnan(here) & ~np.isnan(there)
                assert known.mean() > 0.9
                yield (
                    f"{tile.name} and {images[other][0].name}",
                    float(np.quantile(np.abs([here[known], there[known]]), 0.9)),
                    float(np.quantile(np.abs(here - there)[known], 0.9)),
                )


def test_sheets_join_within_a_pixel(dining: Table) -> None:
    """At 300 dpi every cut line that two sheets share lies on both within a pixel of its place and of the other."""
    one = impose([template(dining.part("RAIL-MID"), dining)], Paper("A4", 8, 12, 1.0, 1.0))[0][0]
    found = list(seams_in_pixels(one, outlines_on(one.tiled, dining)))
    assert len(found) >= 3
    assert all(off < 1.0 and apart < 1.0 for _, off, apart in found), found
    moved = [Placement(0.2, 0.2).outline(ring) for ring in outlines_on(one.tiled, dining)]
    assert all(off > 1.0 for _, off, _ in seams_in_pixels(one, moved))


@pytest.mark.slow
@pytest.mark.parametrize("name", shipped_names())
@pytest.mark.parametrize("size", ["A4", "A3", "letter"])
def test_all_sheets_join_within_a_pixel(name: str, size: str) -> None:
    """The same of every template of every shipped table; hatches that end on a line draw its ink aside."""
    table = table_of(name)
    for one in impose(templates_of(name), Paper(size, 8, 12, 1.0, 1.0))[0]:
        found = list(seams_in_pixels(one, outlines_on(one.tiled, table)))
        assert all(off < 1.5 and apart < 1.0 for _, off, apart in found), found


def inked_points(pattern: Pattern) -> np.ndarray:
    """Points every 2 mm along all lines of a pattern, and at the ends of its words."""
    spots: list[tuple[float, float]] = []
    for mark in pattern.marks:
        if isinstance(mark, Words):
            half = Point(text_width(mark.text, mark.height) / 2, 0).turned(mark.turn)
            spots += [mark.at.plus(half, share) for share in (-1, -0.5, 0, 0.5, 1)]
            continue
        edges = mark.outline.edges if hasattr(mark, "outline") else (mark.edge,)
        for edge in edges:
            count = max(1, int(edge.length / 2))
            spots += [tuple(edge.point_at(i / count)) for i in range(count + 1)]
    return np.array([(x, y) for x, y in spots])


def counted(points: np.ndarray, page: tuple[float, float], paper: Paper, step: float | None) -> int:
    """The fewest pages with ink over grids shifted by `step`, or of the grid at the lower left corner."""
    window = page[0] - 2 * paper.margin - 8, page[1] - 2 * paper.margin - 15
    pitch = window[0] - paper.overlap, window[1] - paper.overlap
    low = points.min(axis=0) - 2.0
    least = 10**9
    for x in np.arange(0, pitch[0], step) if step else (0.0,):
        columns = np.floor((points[:, 0] - low[0] + x - paper.overlap / 2) / pitch[0]).clip(0)
        far = np.floor((points[:, 0].max() + 2 - low[0] + x - paper.overlap) / pitch[0] - 1e-9).clip(0)
        columns = np.minimum(columns, far)
        for y in np.arange(0, pitch[1], step) if step else (0.0,):
            rows = np.floor((points[:, 1] - low[1] + y - paper.overlap / 2) / pitch[1]).clip(0)
            top = np.floor((points[:, 1].max() + 2 - low[1] + y - paper.overlap) / pitch[1] - 1e-9).clip(0)
            least = min(least, len(np.unique(columns * 1000 + np.minimum(rows, top))))
    return least


@pytest.mark.parametrize("code", ["RIM-A", "SLAT-07", "BASE-HIGH"])
def test_no_shift_or_turn_needs_fewer_pages(code: str, dining: Table) -> None:
    """Trying every shift in steps of 6 mm, both ways up and turned a quarter, finds no fewer pages."""
    paper = Paper("A4", 8, 12, 1.0, 1.0)
    faces = template(dining.part(code), dining).faces
    ways = [Pattern(tuple(m for face in stacked(faces, beside) for m in face.marks)) for beside in (False, True)]
    least = min(
        counted(inked_points(way)[:, ::order], page, paper, 6.0)
        for way in ways
        for order in (1, -1)
        for page in ((210.0, 297.0), (297.0, 210.0))
    )
    assert tiled(ways, paper).pages <= least


@pytest.mark.parametrize("name", shipped_names())
def test_fewer_sheets_than_the_plain_way(name: str) -> None:
    """Every shipped table takes no more sheets than template by template on upright paper from the corner."""
    from templategen.paper.grid import paper_size

    table = table_of(name)
    paper = table.profile.paper
    width, height = paper_size(paper)
    assert height is not None
    imposed, plain = imposed_of(name), 0
    for one in templates_of(name):
        pattern = Pattern(tuple(mark for face in stacked(one.faces) for mark in face.marks))
        plain += counted(inked_points(pattern), (width, height), paper, None)
    assert sum(one.tiled.pages for one in imposed) <= plain
    assert sorted(t.code for one in imposed for t in one.templates) == sorted(part.code for part in table.parts)


@pytest.mark.parametrize("name", shipped_names())
def test_templates_on_one_sheet_keep_apart(name: str) -> None:
    """No two faces that share a sheet come nearer than 4 mm."""
    import shapely

    table = table_of(name)
    for one in imposed_of(name):
        shapes = []
        for sited in one.tiled.pattern.sited:
            ring = sited.way.outline(table.part(sited.code).outline)
            shapes.append(
                shapely.Polygon([p for edge in ring.edges for p in (edge.point_at(i / 16) for i in range(16))])
            )
        for i, shape in enumerate(shapes):
            assert all(shape.distance(other) > 4.0 for other in shapes[:i])


@pytest.mark.parametrize("name", shipped_names())
def test_no_word_lies_over_a_cut_line(name: str) -> None:
    """Every word of every template stands wholly on one side of the cut line, in the wood."""
    for one in templates_of(name):
        for face in one.faces:
            for mark in face.marks:
                if isinstance(mark, Words):
                    half = Point(text_width(mark.text, mark.height) / 2.4, 0).turned(mark.turn)
                    up = Point(0, mark.height).turned(mark.turn)
                    start = {"start": 1.0, "middle": 0.0, "end": -1.0}[mark.anchor]
                    middle = mark.at.plus(half, start)
                    spots = [middle.plus(half, side).plus(up, share) for side in (-1, 0, 1) for share in (0, 1)]
                    assert len({face.wood[0].contains(spot) for spot in spots}) == 1, (one.code, mark.text)


@pytest.mark.parametrize("printer", [(1.004, 0.997, 0.2), (0.985, 1.015, -0.8), (1.0, 1.0, 0.0), (1.08, 0.93, 1.5)])
def test_a_crooked_printer_prints_true(printer: tuple[float, float, float]) -> None:
    """What a false printer does to a corrected drawing gives back the drawing, from four lengths measured."""
    across, up, lean = printer[0], printer[1], radians(printer[2])

    def press(x: float, y: float) -> tuple[float, float]:
        return across * x + up * y * sin(lean), up * y * cos(lean)

    corners = [press(x, y) for x, y in ((0, 0), (150, 0), (150, 150), (0, 150))]

    def apart(i: int, j: int) -> float:
        return hypot(corners[i][0] - corners[j][0], corners[i][1] - corners[j][1])

    measured = (apart(0, 1), apart(0, 3), apart(0, 2), apart(1, 3))
    scale_x, scale_y, skew = correction(measured, "mm")
    correct = correction_of(Paper("A4", 8, 12, scale_x, scale_y, skew))
    for x, y in ((0, 0), (100, 0), (0, 100), (-37, 412)):
        at = correct.point(Point(x, y))
        assert press(*at) == pytest.approx((x, y), abs=1e-9)


def test_layers_bookmarks_and_title(dining: Table) -> None:
    """The file names its layers, leads to every page by a bookmark and carries a title."""
    (one,) = impose([template(dining.part("RIM-A"), dining)], Paper("A4", 8, 12, 1, 1))[0]
    data = printed(one)
    document = pypdfium2.PdfDocument(data)
    assert document.get_metadata_value("Title") == "x"
    titles = [entry.get_title() for entry in document.get_toc()]
    assert [title.split()[0] for title in titles] == [tile.name for tile in one.tiled.grid.tiles]
    assert b"/OCProperties" in data and b"THROUGH_OUTSIDE: cut right through" in data
    assert data.count(b"/Type /OCG") >= 5


def test_seam_marks_meet_only_where_pages_belong(dining: Table) -> None:
    """Each seam's crosses lie at places of their own, so that no page fits another's edge at every cross."""
    (one,) = impose([template(dining.part("RAIL-MID"), dining)], Paper("A4", 8, 12, 1, 1))[0]
    data = printed(one)
    sheets = [cross_middles(page) for page in pdfplumber.open(io.BytesIO(data)).pages]
    assert all(len(crosses) >= 2 for crosses in sheets)
    assert all("a" in page.extract_text() for page in pdfplumber.open(io.BytesIO(data)).pages[:2])


def test_a_second_line_to_trace_stands_off_the_cut(dining: Table) -> None:
    """With paper.trace_offset a thin ring runs that far outside the part, arcs and corners alike."""
    from dataclasses import replace

    profile = dining.profile
    table = replace(dining, profile=replace(profile, paper=replace(profile.paper, trace_offset=2.5)))
    face = template(table.part("RIM-A"), table).faces[0]
    (ring,) = [mark.outline for mark in face.marks if mark.layer.name == "TRACE"]
    outline = table.part("RIM-A").blank
    for edge in ring.edges:
        for share in (0.0, 0.3, 0.7):
            assert outline.distance(edge.point_at(share)) == pytest.approx(2.5, abs=1e-6)
            assert not outline.contains(edge.point_at(share))


def test_paper_that_cannot_serve_is_refused(dining: Table) -> None:
    """Paper smaller than its margins and a correction past a tenth are errors that name their key."""
    pattern = template(dining.part("FOOT"), dining).faces[0]
    for paper, where in (
        (Paper("A6", 40, 20, 1, 1), r"paper\.margin"),
        (Paper("A4", 8, 12, 1.11, 1), r"paper\.scale_x"),
        (Paper("A4", 8, 12, 1, 0.89), r"paper\.scale_y"),
        (Paper("A4", 8, 12, 1, 1, radians(3)), r"paper\.skew"),
    ):
        with pytest.raises(OutputError, match=where):
            tiled((pattern,), paper)


def test_what_is_turned_aslant_still_lies_true() -> None:
    """A bar longer than a page's side goes along the diagonal of one sheet."""
    from templategen.drawing.drawing import Shape
    from templategen.drawing.layers import THROUGH_OUTSIDE
    from templategen.geometry.outline import rectangle

    bar = Pattern((Shape(THROUGH_OUTSIDE, rectangle(0, 0, 285, 10)),))
    laid = tiled((bar,), Paper("A4", 8, 12, 1, 1))
    assert laid.pages == 1
    moved = bar.placed(Placement(turn=laid.turn))
    assert moved.box == laid.pattern.box


def told_template(one: Template) -> str:
    """All words of a template."""
    return " ".join(mark.text for face in one.faces for mark in face.marks if isinstance(mark, Words))


def test_a_template_names_its_mates_angles_and_hand(dining: Table) -> None:
    """On the paper stand the code with its count, the mates at each joint and the mitre's angle."""
    rim = told_template(template(dining.part("RIM-A"), dining))
    for words in ("RIM-A × 6", "to RIM-B", "to SPLINE", "to SLAT-07", "to RAILS", "15° off square", "centre"):
        assert words in rim
    slat = told_template(template(dining.part("SLAT-05"), dining))
    assert "to RAILS" in slat and "30° off square" in slat

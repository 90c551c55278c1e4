"""Tiled paper, read back by other libraries and laid together by its crosses."""

from __future__ import annotations

import io
import re
from math import hypot, pi, tan
from time import perf_counter
from typing import Any

import pdfplumber
import pypdfium2
import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.drawing.pattern import Pattern
from templategen.errors import OutputError
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.point import Point, Vertex
from templategen.geometry.region import Region
from templategen.output.pdf_canvas import Ink
from templategen.output.pdf_marks import curves, draw_pattern
from templategen.output.pdf_test_sheet import test_sheet_pdf as sheet_for_test
from templategen.table.profile.model_of_shop import Paper
from tests.output.tiled import tiled_pdf

MM = 72 / 25.4
CUT = Layer("THROUGH_OUTSIDE", "cut", weight=0.5, cuts=True)
THIN = Layer("CENTRE", "centre line", "blue", "long-dash-dot", 0.18)
A4 = Paper("A4", 8, 12, 1.0, 1.0)

CENTRE, INNER, OUTER = (100.0, -300.0), 600.0, 720.0


def segment() -> Outline:
    """A ring segment of 60 degrees whose arcs are drawn about CENTRE."""
    bulge = tan(pi / 12)
    corners = [arc_round(Point(*CENTRE), r, pi / 3, pi / 3) for r in (INNER, OUTER)]
    inner, outer = corners
    return Outline(
        (
            Vertex(*outer.start, bulge), Vertex(*outer.end), Vertex(*inner.end, -bulge), Vertex(*inner.start),
        )
    )  # fmt: skip


DRAWING = Drawing(
    "Rim",
    (
        Shape(CUT, segment()),
        Stroke(THIN, Line(Point(-200, 300), Point(400, 300))),
        Words(THIN, Point(0, 330), 5, "R1 ⌀1340 × 38 <b>&amp;</b>"),
    ),
)


def pages(data: bytes) -> list[Any]:
    """The pages as the layout reader sees them."""
    return list(pdfplumber.open(io.BytesIO(data)).pages)


def cut_lines(page: Any) -> list[list[tuple[str, tuple[tuple[float, float], ...]]]]:
    """Paths half a millimetre wide: commands and points in mm, y up."""
    found = []
    for curve in page.curves:
        if abs(curve["linewidth"] / MM - 0.5) < 0.01:
            steps = [
                (name, tuple((x / MM, (float(page.height) - y) / MM) for x, y in points))
                for name, *points in curve["path"]
            ]
            found.append(steps)
    return found


def cross_middles(page: Any) -> list[tuple[float, float]]:
    """Where two thin black lines of a cross's size meet, mm, y up."""
    lines = [
        (line["x0"] / MM, line["y0"] / MM, line["x1"] / MM, line["y1"] / MM)
        for line in page.lines
        if abs(line["linewidth"] / MM - 0.13) < 0.01 and set(line["stroking_color"]) == {0.0}
    ]
    level = [(x0, x1, y0) for x0, y0, x1, y1 in lines if abs(y1 - y0) < 1e-6 and 8 < x1 - x0 < 30]
    upright = [(x0, y0, y1) for x0, y0, x1, y1 in lines if abs(x1 - x0) < 1e-6 and 8 < y1 - y0 < 30]
    return [(x, y) for x0, x1, y in level for x, y0, y1 in upright if x0 < x < x1 and y0 < y < y1]


def place(page: Any) -> tuple[int, int]:
    """Column and row as the page's heading says; what of the drawing lies behind the window isn't on the page."""
    heading = page.filter(lambda thing: thing.get("tag") in ("H1", "H2"))
    name = re.search(r"([A-Z])(\d+) · \d+ of \d+", heading.extract_text())
    assert name
    return ord(name[1]) - ord("A"), int(name[2]) - 1


def joined(page: Any, other: Any, axis: int) -> tuple[float, float]:
    """The shift that brings the crosses at the left (or top) of `other` onto those at the right (or foot) of `page`.

    All crosses of the seam must agree.
    """
    mine, theirs = cross_middles(page), cross_middles(other)
    seam = max(x for x, _ in mine) if axis == 0 else min(y for _, y in mine)
    edge = min(x for x, _ in theirs) if axis == 0 else max(y for _, y in theirs)
    near = sorted(cross for cross in mine if abs(cross[axis] - seam) < 1e-3)
    far = sorted(cross for cross in theirs if abs(cross[axis] - edge) < 1e-3)
    assert len(near) >= 2
    shifts = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(near, far, strict=True)]
    assert all(hypot(x - shifts[0][0], y - shifts[0][1]) < 1e-3 for x, y in shifts)
    return shifts[0]


def laid_together(data: bytes) -> dict[tuple[int, int], tuple[Any, float, float]]:
    """Each page by column and row, with the shift that lays it among the others by its crosses alone."""
    waiting = {place(page): page for page in pages(data)}
    first = min(waiting)
    done = {first: (waiting.pop(first), 0.0, 0.0)}
    while waiting:
        (column, row), other, axis, sign = next(
            (at, near, axis, sign)
            for at in waiting
            for near, axis, sign in (
                ((at[0] - 1, at[1]), 0, 1), ((at[0] + 1, at[1]), 0, -1),
                ((at[0], at[1] - 1), 1, 1), ((at[0], at[1] + 1), 1, -1),
            )
            if near in done
        )  # fmt: skip
        page, (known, x, y) = waiting.pop((column, row)), done[other]
        dx, dy = joined(known, page, axis) if sign > 0 else joined(page, known, axis)
        done[column, row] = page, x + sign * dx, y + sign * dy
    return done


def along(steps: list[tuple[str, tuple[tuple[float, float], ...]]]) -> list[tuple[str, float, float]]:
    """Points along a path, curves taken at sixteen places each by Bernstein's formula."""
    at, found = (0.0, 0.0), []
    for name, points in steps:
        if name == "c":
            a, b, c, d = at, *points
            for t in (k / 16 for k in range(17)):
                w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
                found.append(("arc", *(sum(k * p[i] for k, p in zip(w, (a, b, c, d), strict=True)) for i in (0, 1))))
        if points:
            at = points[-1]
            found.append(("corner", *at))
    return found


@pytest.mark.parametrize(
    ("paper", "scale"),
    [
        (A4, (1.0, 1.0)),
        (Paper("letter", 10, 15, 1.004, 0.997), (1.004, 0.997)),
        (Paper((140.0, 180.0), 5, 10, 1.0, 1.0), (1.0, 1.0)),
    ],
)
def test_the_cut_line_lands_true_once_the_pages_are_laid_by_their_crosses(
    paper: Paper, scale: tuple[float, float]
) -> None:
    """Every point of the line, on every page, lies within 0.01 mm of the true arcs and corners."""
    done = laid_together(tiled_pdf(DRAWING, paper, "Towpath tables", "R1", 12, "a1", "note"))
    assert len(done) > 2
    outline = segment()
    first = next(iter(done.values()))
    origin = cut_lines(first[0])[0][0][1][0]
    start = outline.vertices[0]
    for page, dx, dy in done.values():
        (path,) = cut_lines(page)
        for kind, x, y in along(path):
            true = (
                start.x + (x + dx - origin[0] - first[1]) / scale[0],
                start.y + (y + dy - origin[1] - first[2]) / scale[1],
            )
            reach = hypot(true[0] - CENTRE[0], true[1] - CENTRE[1])
            assert min(abs(reach - INNER), abs(reach - OUTER)) < 0.01
            if kind == "corner":
                assert outline.distance(Point(*true)) < 0.01


def test_the_rulers_measure_a_hundred_millimetres_after_correction() -> None:
    """Across and down there is a line of 100 mm times the printer's correction, inside the printable area."""
    paper = Paper("A4", 8, 12, 1.004, 0.997)
    for page in pages(tiled_pdf(DRAWING, paper, "Towpath tables", "R1")):
        sizes = {(round(line["width"] / MM, 3), round(line["height"] / MM, 3)) for line in page.lines}
        assert (100.4, 0.0) in sizes
        assert (0.0, 99.7) in sizes
        for line in (line for line in page.lines if abs(line["linewidth"] / MM - 0.13) < 0.01):
            assert line["x0"] / MM >= 8 - 1e-3
            assert line["y0"] / MM >= 8 - 1e-3
            assert line["x1"] <= float(page.width) - 8 * MM + 1e-3
            assert line["y1"] <= float(page.height) - 8 * MM + 1e-3


def test_inches_are_added_when_wanted() -> None:
    """A ruler of four inches stands on every page, its last tick labelled."""
    page = pages(tiled_pdf(DRAWING, A4, "Towpath tables", "R1", inches=True))[0]
    assert any(abs(line["width"] / MM - 101.6) < 1e-3 for line in page.lines)
    assert "4 in" in page.extract_text()


def test_every_page_says_what_it_is() -> None:
    """Title, code, count, revision, page of pages and the neighbours' names are on the paper as words."""
    data = tiled_pdf(DRAWING, A4, "Towpath tables", "R1", 12, "rev 4f2a", "Cut to the middle of the line")
    reader = pypdfium2.PdfDocument(data)
    words = [page.get_textpage().get_text_range() for page in reader]
    for number, text in enumerate(words):
        flat = " ".join(text.split())
        assert f"{number + 1} of {len(words)}" in flat
        assert "R1 · Towpath tables" in flat
        assert "12 wanted · rev 4f2a" in flat
        assert "Cut to the middle" in flat
    assert "cut here, B1 goes under" in " ".join(words[0].split())
    assert "A1 lies on this edge" in " ".join(words[1].split())


def test_the_same_drawing_gives_the_same_bytes() -> None:
    """Two runs write one file, byte for byte."""
    args = DRAWING, A4, "Towpath tables", "R1", 12, "a1", "note"
    assert tiled_pdf(*args) == tiled_pdf(*args)
    assert sheet_for_test(A4, "Towpath tables") == sheet_for_test(A4, "Towpath tables")


def test_letters_are_embedded_and_scaling_is_off() -> None:
    """Every font that shows text travels in the file, and viewers are told not to fit pages to paper."""
    data = tiled_pdf(DRAWING, A4, "Towpath tables", "R1")
    pdf = pdfplumber.open(io.BytesIO(data))
    assert {char["fontname"].split("+")[-1] for page in pdf.pages for char in page.chars} == {
        "BitstreamVeraSans-Roman", "BitstreamVeraSans-Bold",
    }  # fmt: skip
    assert data.count(b"/FontFile2") == 2
    assert b"Helvetica" not in data
    assert b"/PrintScaling /None" in data


def test_a_whole_table_top_is_quick() -> None:
    """A ring of 1.7 m on A4 takes forty pages or so, empty ones left out, in a few seconds at the very most."""
    ring = Drawing("Ring", (Shape(CUT, circle(0, 0, 850)), Shape(CUT, circle(0, 0, 700))))
    start = perf_counter()
    data = tiled_pdf(ring, A4, "Towpath tables", "T1")
    assert perf_counter() - start < 5
    assert 30 < len(pypdfium2.PdfDocument(data)) < 60


@pytest.mark.parametrize("share", [0.05, 0.3, 1.0])
def test_curves_follow_their_arc(share: float) -> None:
    """Curves run within a tenth of a micrometre of an arc of radius 700 and join end to end."""
    arc = arc_round(Point(10, 20), 700, 0.3, -share * pi)
    at, count = arc.start, 0
    for x1, y1, x2, y2, x3, y3 in curves(arc):
        for t in (k / 20 for k in range(21)):
            w = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            x = w[0] * at.x + w[1] * x1 + w[2] * x2 + w[3] * x3
            y = w[0] * at.y + w[1] * y1 + w[2] * y2 + w[3] * y3
            assert abs(hypot(x - 10, y - 20) - 700) < 1e-4
        at, count = Point(x3, y3), count + 1
    assert at.distance(arc.end) < 1e-9
    assert count == max(1, -(-share * 8 // 1))


def test_lines_keep_their_type() -> None:
    """A long-dash-dot line is written with dashes of 24, 3, 0.5 and 3 line widths."""
    plain = Drawing("x", (Stroke(THIN, Line(Point(0, 0), Point(100, 0))),))
    found = pages(tiled_pdf(plain, A4, "x"))[0].lines
    dashes = [line.get("dashing_style") or line.get("dash") for line in found]
    assert any(dash and [round(d, 3) for d in dash[0]] == [4.32, 0.54, 0.09, 0.54] for dash in dashes)


def test_the_test_sheet_shows_a_square_to_measure() -> None:
    """It holds a square, both diagonals and the sums to do, and takes no notice of an earlier correction."""
    (page,) = pages(sheet_for_test(Paper("A4", 8, 12, 1.01, 0.99), "Towpath tables"))
    squares = [r for r in page.rects if abs(r["width"] - r["height"]) < 1e-3 and r["width"] / MM > 50]
    assert [round(square["width"] / MM, 3) for square in squares] == [150.0]
    diagonals = [line for line in page.lines if line["width"] > 1 and line["height"] > 1]
    assert [round(hypot(line["width"], line["height"]) / MM, 2) for line in diagonals] == [212.13, 212.13]
    text = page.extract_text()
    assert "measured = [across, down, rising diagonal, falling diagonal]" in text
    assert "scale_x = 150 mm / across" in text
    assert "212.1 mm" in text


def test_words_of_the_test_sheet_stand_where_they_belong() -> None:
    """Above the square on the paper, each diagonal's name on its own half, and a line at each distance of all four
    edges."""
    (page,) = pages(sheet_for_test(Paper("A4", 8, 12, 1.0, 1.0), "Towpath tables"))
    (square,) = (r for r in page.rects if abs(r["width"] - r["height"]) < 1e-3 and r["width"] / MM > 50)
    lines = page.extract_text_lines()
    told = [line for line in lines if line["text"].startswith(("Print", "Measure", "Write under", "Scale", "Grey"))]
    assert [line["text"].split()[0] for line in told] == ["Printer's", "Print", "Measure", "Write", "Scale", "Grey"]
    assert all(0 < line["top"] < line["bottom"] < square["top"] for line in told)
    middle = (square["x0"] + square["x1"]) / 2
    aslant = [char for char in page.chars if min(abs(char["matrix"][0]), abs(char["matrix"][1])) > 0.1]
    for name, right in (("rising", True), ("falling", False)):
        letters = [char for char in aslant if (char["matrix"][1] > 0) == right and not char["text"].isspace()]
        assert "".join(char["text"] for char in letters) == f"{name}diagonal"
        assert all((char["x0"] > middle) == right for char in letters), name
    short = [line for line in page.lines if line["width"] / MM < 5.1 and line["height"] / MM < 5.1]
    level, upright = ([line for line in short if line[side] > 1] for side in ("width", "height"))
    assert all(line["x1"] / MM < 210 - 15 for line in level), "no line to a side lies in the corner of the next"
    assert all(line["top"] / MM > 15 for line in upright)
    marks = [line for line in level if abs(line["width"] / MM - 5) < 0.01 and not 16 < line["top"] / MM < 281]
    ends = [(round(line["top"] / MM), round(line["x0"], 2)) for line in marks]
    assert len(ends) > 16 and {(297 - top, at) for top, at in ends} == set(ends), "top and bottom face each other"
    for off in (3, 4, 5, 6, 8, 10, 12, 15):
        for edge, at in (("x0", off), ("x1", 210 - off), ("top", off), ("bottom", 297 - off)):
            assert any(abs(line[edge] / MM - at) < 0.01 for line in short), (off, edge)


def test_waste_is_a_light_band_beside_the_cut() -> None:
    """A grey line twice as wide as the band, shown only outside the wood."""
    wood = rectangle(40, 60, 230, 110)
    pattern = Pattern((Shape(CUT, wood),), (Region(wood),), shade=7.0)
    ink = Ink(300, 200, "t")
    ink.begin_page()
    draw_pattern(ink, pattern)
    ink.end_page()
    (page,) = pages(ink.finish())
    wide = [curve for curve in (*page.curves, *page.lines, *page.rects) if curve["linewidth"] > 10]
    assert wide and all(curve["linewidth"] == pytest.approx(14 * MM) for curve in wide)
    assert all(tuple(curve["stroking_color"]) == pytest.approx((0xDD / 255,) * 3, abs=1e-3) for curve in wide)


HOSTILE = ["<b>&amp;</b>", "%%EOF)(\\", "\x00\x1b[31m\n\n", "日本語 ⌀", "x" * 5000, "", "\ud800"]


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_words_stay_words(words: str) -> None:
    """Markup, brackets, control letters, endless or unknown letters leave a file that opens, one page long."""
    drawing = Drawing(words, (Shape(CUT, rectangle(0, 0, 50, 50)), Words(THIN, Point(0, 0), 3.5, words[:20])))
    data = tiled_pdf(drawing, Paper("A3", 8, 12, 1, 1), words, words, 1, words, words)
    assert len(pypdfium2.PdfDocument(data)) == 1


@pytest.mark.parametrize("scale", [0.0, -1.0, float("nan"), 25.4, 0.899, 1.101])
def test_an_impossible_correction_is_refused(scale: float) -> None:
    """A correction that no printer needs is an error that names the key."""
    with pytest.raises(OutputError, match=r"paper\.scale_x"):
        tiled_pdf(DRAWING, Paper("A4", 8, 12, scale, 1.0), "x")


def test_an_empty_drawing_is_refused() -> None:
    """Nothing to print is an error, not an empty file."""
    with pytest.raises(OutputError, match="nothing to print"):
        tiled_pdf(Drawing("x", ()), A4, "x")


def test_furniture_keeps_off_the_drawing() -> None:
    """No word of the foot or the side strip lies in the window where the drawing shows."""
    for page in pages(tiled_pdf(DRAWING, A4, "Towpath tables " * 20, "R1", 12, "rev " * 20, "note " * 60)):
        for char in page.chars:
            x, y = char["x0"] / MM, char["y0"] / MM
            if char["size"] / MM < 4 and char["upright"]:
                assert y < 8 + 15 or x > 16
                assert not (16 < x < 200 and 23 < y < 283) or char["non_stroking_color"] != (0.0, 0.0, 0.0)


def test_lines_at_the_edges_keep_out_of_the_corners_of_small_paper() -> None:
    """On A5 the last of them have no room and are left out."""
    (page,) = pages(sheet_for_test(Paper("A5", 5, 12, 1.0, 1.0), "Towpath tables"))
    short = [line for line in page.lines if line["width"] / MM < 5.1 and line["height"] / MM < 5.1]
    upright = [line for line in short if line["height"] > 1 and (line["x0"] / MM < 16 or line["x0"] / MM > 148 - 16)]
    level = [line for line in short if line["width"] > 1 and (line["top"] / MM < 16 or line["top"] / MM > 210 - 16)]
    assert upright and level
    assert all(line["top"] / MM > 15 for line in upright)
    assert all(line["x1"] / MM < 148 - 15 for line in level)


def elements(data: bytes) -> list[tuple[int, str, str, int]]:
    """What a file tells a voice, by another library's reader: page, kind, words for a picture, number of its mark."""
    pdf = pdfplumber.open(io.BytesIO(data))
    found = []

    def walk(node: dict[str, Any], page: int) -> None:
        page = node.get("page_number", page)
        found.extend((page, node["type"], node.get("alt_text", ""), mark) for mark in node.get("mcids", []))
        for child in node.get("children", []):
            walk(child, page)

    for root in pdf.structure_tree:
        walk(root, 0)
    return found


def test_a_file_tells_its_structure() -> None:
    """On every page a figure told in words, the foot a heading and a paragraph; every mark has its element, once."""
    data = tiled_pdf(DRAWING, A4, "Towpath tables", "R1", 12, "rev 4f2a", "Rim, larch")
    told, read = elements(data), pages(data)
    for number, page in enumerate(read, start=1):
        (shown,) = [alt for at, kind, alt, _ in told if (at, kind) == (number, "Figure")]
        assert shown == f"Sheet {number} of {len(read)}, full size: R1 · Rim, larch · Towpath tables, 12 wanted"
        for element, words in (("H1", f"{number} of {len(read)}"), ("P", "12 wanted")):
            (foot, *_) = [mark for at, kind, _, mark in told if (at, kind) == (number, element)]
            said = "".join(char["text"] for char in page.chars if char["mcid"] == foot)
            assert words.replace(" ", "") in said.replace(" ", "")
        marks = [mark for at, _, _, mark in told if at == number]
        assert marks == list(range(len(marks)))
        assert {char["mcid"] for char in page.chars if char["tag"] == "P"} <= set(marks)
    assert b"/Marked true" in data
    (sheet,) = [alt for _, kind, alt, _ in elements(sheet_for_test(A4, "x")) if kind == "Figure"]
    assert "150 mm" in sheet

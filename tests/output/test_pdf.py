"""Tiled paper, read back by other libraries and laid together by its crosses."""

from __future__ import annotations

import io
from itertools import pairwise
from math import hypot, pi, tan
from time import perf_counter
from typing import Any

import pdfplumber
import pypdfium2
import pytest

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.errors import OutputError
from templategen.geometry.edge import Line, arc_round
from templategen.geometry.outline import Outline, circle, rectangle
from templategen.geometry.point import Point
from templategen.geometry.vertex import Vertex
from templategen.output.pdf import tiled_pdf
from templategen.output.pdf_marks import curves
from templategen.output.pdf_test_sheet import test_sheet_pdf as sheet_for_test
from templategen.table.profile.model import Paper

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


def laid_together(data: bytes) -> list[tuple[Any, float, float]]:
    """Each page with the shift that brings its crosses onto those of the pages laid before."""
    waiting = pages(data)
    done = [(waiting.pop(0), 0.0, 0.0)]
    known = set(cross_middles(done[0][0]))
    names = [done[0][0].extract_words()]
    assert names
    grid = {(0, 0)}
    assert grid
    while waiting:
        for page in list(waiting):
            shift = _shift(known, cross_middles(page))
            if shift is not None:
                waiting.remove(page)
                done.append((page, *shift))
                known |= {(x + shift[0], y + shift[1]) for x, y in cross_middles(page)}
                break
        else:
            raise AssertionError("pages that no cross joins")
    return done

"""Files of random tables, read back by a library that didn't write them."""

from __future__ import annotations

from pathlib import Path

import pytest

from templategen.drawing.part_sheet import part_drawing
from templategen.output.dxf import dxf_bytes
from templategen.output.svg import svg_text
from templategen.parts.part import Part
from tests.gdal import layered
from tests.random_profiles import tables

pytest.importorskip("pyogrio")
svgpathtools = pytest.importorskip("svgpathtools")


def read_back(part: Part, folder: Path) -> None:
    """The part's DXF through GDAL and its SVG through a path library: the outline's extents are the part's own."""
    drawing = part_drawing(part, "random")
    path = folder / f"{part.code}.dxf"
    path.write_bytes(dxf_bytes(drawing, "R2000"))
    outside = [shape for name, shape in layered(path, 0.1) if name == "THROUGH_OUTSIDE"]
    assert len(outside) == 1
    assert outside[0].bounds == pytest.approx(tuple(part.outline.bounds), abs=1e-2)
    assert outside[0].area == pytest.approx(part.outline.area, rel=1e-4)
    svg = folder / f"{part.code}.svg"
    svg.write_text(svg_text(drawing), encoding="utf-8")
    paths, _ = svgpathtools.svg2paths(str(svg))
    assert paths


def study(seeds: range, folder: Path) -> int:
    """How many tables were read back whole."""
    done = 0
    for table in tables(seeds):
        for part in table.parts:
            read_back(part, folder)
        done += 1
    return done


@pytest.mark.wide
def test_files_of_random_tables_read_back(tmp_path: Path) -> None:
    """Every part of some random tables reads back from its DXF and SVG."""
    assert study(range(700, 703), tmp_path) >= 1


@pytest.mark.slow
def test_files_of_many_random_tables_read_back(tmp_path: Path) -> None:
    """Every part of hundreds of random tables reads back from its DXF and SVG."""
    assert study(range(20_000, 22_000), tmp_path) >= 500

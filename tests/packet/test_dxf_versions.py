"""Every part of every shipped table in every DXF version: clean by audit, closed, nothing doubled, no spline."""

from __future__ import annotations

import io
from collections import Counter

import pytest

from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.plan import plan_drawing
from templategen.output.dxf import dxf_bytes
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.choices import DxfVersion
from templategen.table.profile.read import profile_from_text

ezdxf = pytest.importorskip("ezdxf")

VERSIONS: tuple[DxfVersion, ...] = ("R12", "R2000", "R2010", "R2018")
EACH = [(name, version) for name in shipped_names() for version in VERSIONS if version == "R12" or "side" in name]
"""Later versions differ in what stands before the drawing; R12 has entities of its own."""

CUTTING = ("THROUGH", "BLANK", "TOP_", "BOTTOM_", "EDGE", "END")
DRAWN = {"LWPOLYLINE", "POLYLINE", "CIRCLE", "LINE", "ARC", "TEXT"}


@pytest.fixture(scope="session", autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory) -> None:
    """The reader keeps its cache out of the tester's home."""
    import os

    os.environ["HOME"] = str(tmp_path_factory.mktemp("home"))


def corners(entity: object) -> list[tuple[float, float, float]]:
    """The entity's vertices with bulges."""
    if entity.dxftype() == "LWPOLYLINE":  # type: ignore[attr-defined]
        return [tuple(p) for p in entity.get_points("xyb")]  # type: ignore[attr-defined]
    return [(*v.dxf.location.vec2, v.dxf.bulge) for v in entity.vertices]  # type: ignore[attr-defined]


@pytest.mark.parametrize(("name", "version"), EACH)
def test_parts_are_clean_in_every_version(name: str, version: DxfVersion) -> None:
    """A strict reader mends nothing; outlines are closed, no edge is drawn twice, none is a spline."""
    table = build_table(profile_from_text(shipped_text(name), name))
    profile = table.profile
    drawings = [part_drawing(part, profile.title, "1", 4.0, profile.units) for part in table.parts]
    for drawing in (*drawings, plan_drawing(table)):
        text = dxf_bytes(drawing, version, profile.dxf.units).decode("utf-8" if version > "R2000" else "cp1252")
        document = ezdxf.read(io.StringIO(text))
        audit = document.audit()
        assert not audit.errors and not audit.fixes, (drawing.title, audit.errors, audit.fixes)
        space = document.modelspace()
        assert {entity.dxftype() for entity in space} <= DRAWN
        edges: Counter[tuple[object, ...]] = Counter()
        for entity in space.query("LWPOLYLINE POLYLINE"):
            assert entity.is_closed
            ring = corners(entity)
            for (x0, y0, bulge), (x1, y1, _) in zip(ring, ring[1:] + ring[:1], strict=True):
                ends = sorted(((round(x0, 4), round(y0, 4)), (round(x1, 4), round(y1, 4))))
                edges[(*ends, round(abs(bulge), 6))] += entity.dxf.layer.startswith(CUTTING)
        assert max(edges.values(), default=0) <= 1, drawing.title

"""Every part file of every shipped profile, in every version, by independent readers in two languages."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from templategen.drawing.clamping_sheet import clamping_drawing
from templategen.drawing.drawing import Drawing, Shape, Stroke
from templategen.drawing.part_sheet import part_drawing
from templategen.drawing.plan import plan_drawing
from templategen.drawing.stock_sheet import stock_drawing
from templategen.drawing.tidy import tidied
from templategen.geometry.edge import Arc
from templategen.geometry.placement import Placement
from templategen.nesting.stock import Item, Piece, Sheet
from templategen.nesting.stock import Laid as Lying
from templategen.output.dxf import dxf_bytes
from templategen.output.svg import svg_text
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.part import Part
from templategen.router.bits import Bit
from templategen.router.clamping import clampings
from templategen.router.sheet import Laid, Machine, sheet_work
from templategen.table.assembly import build_table
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Router
from templategen.table.profile.read import profile_from_text
from tests.interop.readers import (
    Layer,
    Seen,
    by_gdal,
    by_javascript,
    by_svgelements,
    by_svgpathtools,
    node_modules,
)

VERSIONS = ("R12", "R2000", "R2010", "R2018")
IN_TURN = set(zip(shipped_names(), VERSIONS, strict=True))
EACH = [
    pytest.param(name, version, marks=() if (name, version) in IN_TURN else pytest.mark.slow)
    for name in shipped_names()
    for version in VERSIONS
]
"""Every table in every version; the suite has each of both once, the study all."""

needs_node = pytest.mark.skipif(node_modules() is None, reason="node or its readers aren't installed")


@cache
def drawings(name: str) -> tuple[Drawing, ...]:
    """The sheets of a shipped table as they are written."""
    table = build_table(profile_from_text(shipped_text(name), name))
    profile = table.profile
    parts = [part_drawing(part, profile.title, "1", 4.0, profile.units) for part in table.parts]
    routed = [one for part in table.parts if part.kind == "rail" for one in clampings(part, profile)]
    parts += [clamping_drawing(one, profile, "1") for one in routed]
    return tuple(
        tidied(drawing) for drawing in (*parts, *routed_sheet(name, table.part("RAIL-HIGH")), plan_drawing(table))
    )


def routed_sheet(name: str, rail: Part) -> Iterator[Drawing]:
    """Both clampings of a board with a rail on it, askew, freed by an inch bit."""
    length = rail.outline.bounds.width
    piece = Piece("rails", length + 260.0, 300.0, margin=60.0, mode="routed")
    at = Placement(length / 2 + 130.0, 140.0, 0.02)
    machine = Machine(Bit(6.35, 60.0, 3.0), (Bit(6.35, 60.0, 3.0),), Router())
    work = sheet_work(
        [Laid(rail.code, rail, rail.outline, at, True)], (piece.length, piece.width), rail.thickness, machine
    )
    sheet, items = Sheet(piece, 1, (Lying(rail.code, at),)), {rail.code: Item(rail.code, rail.outline, 1)}
    unit: Units = "in" if name.endswith("inch") else "mm"
    for underside in (False, True) if work.is_turned else (False,):
        yield stock_drawing(sheet, items, name, unit, routed=work, underside=underside, layers=unit)


def truth(drawing: Drawing, scale: float = 1.0) -> dict[str, Layer]:
    """What each layer measures, from the exact geometry."""
    layers: dict[str, Layer] = {}
    for mark in drawing.marks:
        layer = layers.setdefault(mark.layer.name, Layer())
        edges = mark.outline.edges if isinstance(mark, Shape) else (mark.edge,) if isinstance(mark, Stroke) else ()
        for edge in edges:
            layer.length += edge.length * scale
            if isinstance(edge, Arc):
                layer.radii.add(round(edge.radius * scale, 4))
        if isinstance(mark, Shape):
            layer.area += mark.outline.area * scale**2
    return layers


def unit_of(name: str) -> tuple[str, float, int]:
    """What a table's files are written in here: the unit, how many go to a millimetre, its number in DXF."""
    return ("in", 1 / 25.4, 1) if name.endswith("inch") else ("mm", 1.0, 4)


def written(name: str, version: str, folder: Path) -> Iterator[tuple[Path, Drawing]]:
    """The DXF files of a table."""
    for number, drawing in enumerate(drawings(name)):
        path = folder / f"{number}.dxf"
        path.write_bytes(dxf_bytes(drawing, version, unit_of(name)[0]))  # type: ignore[arg-type]
        yield path, drawing


def _apart(radii: set[float]) -> list[float]:
    """Each radius once: what lies between two roundings may have been rounded both ways."""
    rising = sorted(radii)
    return [one for one, before in zip(rising, [-1.0, *rising], strict=False) if one - before > 2e-4]


def agrees(seen: Seen, wanted: dict[str, Layer], within: float, radii: bool, area: bool = True) -> None:
    """Layers, lengths, areas and radii are those of the geometry."""
    drawn = {name: layer for name, layer in wanted.items() if layer.length}
    assert {name for name, layer in seen.layers.items() if layer.length} == set(drawn)
    for name, layer in drawn.items():
        found = seen.layers[name]
        assert found.length == pytest.approx(layer.length, rel=within), name
        if area:
            assert found.area == pytest.approx(layer.area, rel=within, abs=within * layer.length**2), name
        if radii:
            assert _apart(found.radii) == pytest.approx(_apart(layer.radii), abs=2e-4), name


@pytest.mark.wide
@needs_node
@pytest.mark.parametrize(("name", "version"), EACH)
def test_javascript_readers_see_the_exact_lines(name: str, version: str, tmp_path: Path) -> None:
    """Two readers agree on layers, lengths, areas and radii to ten
    billionths, and on the unit where a version has one."""
    files = dict(written(name, version, tmp_path))
    for reader, told in by_javascript(list(files)).items():
        for path, drawing in files.items():
            seen = told[str(path)]
            agrees(seen, truth(drawing, unit_of(name)[1]), 1e-8, radii=True)
            assert seen.unit == (0 if version == "R12" else unit_of(name)[2]), reader


@pytest.mark.parametrize(("name", "version"), EACH)
def test_gdal_sees_the_exact_lines(name: str, version: str, tmp_path: Path) -> None:
    """A reader in C++ agrees on layers and, stepping arcs finely, on lengths to some millionths."""
    for path, drawing in written(name, version, tmp_path):
        agrees(by_gdal(path), truth(drawing, unit_of(name)[1]), 2e-6, radii=False, area=False)


@pytest.mark.parametrize("name", shipped_names())
def test_svg_libraries_see_the_exact_lines(name: str, tmp_path: Path) -> None:
    """Two path libraries agree on layers, lengths and radii."""
    for number, drawing in enumerate(drawings(name)):
        path = tmp_path / f"{number}.svg"
        path.write_text(svg_text(drawing), encoding="utf-8")
        agrees(by_svgpathtools(path), truth(drawing), 1e-7, radii=True, area=False)
        agrees(by_svgelements(path), truth(drawing), 1e-7, radii=True, area=False)


@needs_node
@pytest.mark.parametrize("name", shipped_names())
def test_a_javascript_library_sees_the_svg(name: str, tmp_path: Path) -> None:
    """A third path library, in another language, agrees to the accuracy it works to."""
    files = {}
    for number, drawing in enumerate(drawings(name)):
        path = tmp_path / f"{number}.svg"
        path.write_text(svg_text(drawing), encoding="utf-8")
        files[path] = drawing
    (told,) = by_javascript(list(files)).values()
    for path, drawing in files.items():
        agrees(told[str(path)], truth(drawing), 1e-4, radii=True, area=False)


@pytest.mark.wide
def test_the_table_of_readers_is_true() -> None:
    """What the developers' notes say of each reader is what it does."""
    from tests.interop.table import documented, table

    if node_modules() is None:
        pytest.skip("node or its readers aren't installed")
    assert documented() == table()

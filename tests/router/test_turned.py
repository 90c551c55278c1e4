"""Both faces of a part agree once it is turned over by the line that is drawn: as GDAL reads the written files."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, sin
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely.affinity import affine_transform, translate

from templategen.geometry.placement import Placement
from templategen.parts.part import Part
from tests.drawing.flat import flat
from tests.gdal import layered
from tests.router.cut import files_of, with_bit
from tests.router.routed_boards import Board, side_boards
from tests.router.test_clampings import layer_like, moved
from tests.table.made import table_of

AGREE = 0.01
"""Two faces agree to so much, mm."""

POCKETS = ("LAP", "TENON", "TONGUE", "MORTISE", "RELIEF")


class File:
    """A written file as GDAL reads it."""

    def __init__(self, folder: Path, data: bytes) -> None:
        path = folder / "read.dxf"
        path.write_bytes(data)
        self.shapes = layered(path, 1.0)

    def on(self, *words: str) -> list[Any]:
        """What stands on the layers whose names have one of the words, their face aside."""
        named = (shape for layer, shape in self.shapes if layer.partition("_")[2].startswith(words) or layer in words)
        return [
            shapely.Polygon(shape) if shape.geom_type == "LineString" and shape.is_ring else shape for shape in named
        ]

    def pockets(self, way: Callable[[Any], Any]) -> Any:
        """All that is cleared, carried to where it is compared."""
        return shapely.union_all([way(shape) for shape in self.on(*POCKETS)])


def mirrored(shape: Any, middle: float, along: str) -> Any:
    """A shape turned over about a line that runs along Y through an X, or along X through a Y."""
    turn = (-1, 0, 0, 1, middle, 0) if along == "y" else (1, 0, 0, -1, 0, middle)
    return affine_transform(shape, turn)


def off(one: Any, other: Any) -> float:
    """How far apart two areas are."""
    return float(shapely.hausdorff_distance(one.boundary, other.boundary))


def same(one: Any, other: Any, within: Any) -> bool:
    """Whether two areas are alike inside a third, to what faces agree to."""
    return bool(one.symmetric_difference(other).intersection(within).buffer(-AGREE / 2).is_empty)


def of_part(part: Part, face: str) -> Any:
    """The pockets of a flat face, seen from above in the part's frame."""
    cut = (flat(one.outline) for one in part.features_on(face) if one.traits.is_pocket)
    return shapely.union_all([mirrored(shape, 0.0, "y") if face == "bottom" else shape for shape in cut])


@pytest.mark.parametrize("longer", [80.0, None])
def test_a_part_turned_by_its_line_lies_on_pins_or_in_its_recess(longer: float | None, tmp_path: Path) -> None:
    """A rail with laps in both faces, pins in its waste or none; a lap 0.03 mm off is seen."""
    table = with_bit(table_of(name="towpath-dining"), 8.0, longer)
    part = table.part("RAIL-MID")
    top, bottom = files_of(part, table.profile).values()
    first, second = File(tmp_path, top), File(tmp_path, bottom)
    lines = [shapely.bounds(file.on("TURN_LINE")[0]) for file in (first, second)]
    assert all(line[0] == line[2] for line in lines)

    def over(shape: Any) -> Any:
        return mirrored(shape, lines[0][0] + lines[1][0], "y")

    holes, pins = first.on("PIN_HOLE"), [over(pin) for pin in second.on("PINS")]
    assert len(holes) == len(pins) == (2 if longer else 0)
    assert all(min(off(pin, hole) for hole in holes) < AGREE for pin in pins)
    (outline,) = [over(ring) for ring in second.on("OUTSIDE")] or first.on("OUTSIDE")
    up = 0.0
    for recess in map(over, second.on("RECESS")):
        up = outline.bounds[1] - recess.bounds[1]
        assert off(outline, translate(recess, 0.0, up)) < AGREE
    left, low, *_ = flat(part.outline).bounds
    home = (left - outline.bounds[0], low - outline.bounds[1])
    wood = flat(part.outline)
    assert off(translate(outline, *home), wood) < AGREE
    assert same(first.pockets(lambda shape: translate(shape, *home)), of_part(part, "top"), wood)
    laid = (home[0], home[1] + up)
    assert same(second.pockets(lambda shape: translate(over(shape), *laid)), of_part(part, "bottom"), wood)
    lap = layer_like(bottom, r"BOTTOM_LAP_\w+")
    spoilt = File(tmp_path, moved(bottom, lap, 0.03))
    assert not same(spoilt.pockets(lambda shape: translate(over(shape), *laid)), of_part(part, "bottom"), wood)


@pytest.mark.parametrize("name", ["iroko-boards-1", "iroko-slat-strips-1"])
def test_a_sheet_turned_by_its_line_lies_on_its_pins(name: str, tmp_path: Path) -> None:
    """All work of the underside lies under the parts that it belongs to."""
    board = side_boards()[f"stock/{name}"]
    files = board.files(board.work)
    upper, under = (File(tmp_path, files[f"stock/{name}{ending}.dxf"]) for ending in ("", "-bottom"))
    lines = [shapely.bounds(file.on("TURN_LINE")[0]) for file in (upper, under)]
    assert all(line[1] == line[3] for line in lines)

    def over(shape: Any) -> Any:
        return mirrored(shape, lines[0][1] + lines[1][1], "x")

    holes, pins = [over(hole) for hole in under.on("PIN_HOLE")], upper.on("PINS")
    assert len(holes) == len(pins) == 2
    assert all(min(off(pin, hole) for hole in holes) < AGREE for pin in pins)
    wood, up, down = (shapely.union_all(shapes) for shapes in zip(*lying(board), strict=True))
    assert up.area > 1000 and down.area > 1000
    assert same(upper.pockets(lambda shape: shape), up, wood) and same(under.pockets(over), down, wood)


def lying(board: Board) -> list[tuple[Any, Any, Any]]:
    """The finished parts on a board: their wood, the pockets that lie up, those that lie down."""
    table, found = table_of(name="towpath-side"), []
    for laid in board.one.sheet.laid:
        if laid.code in board.one.supply.finished:
            part, way = table.part(laid.code), laid.placement
            up, down = ("bottom", "top") if way.turned_over else ("top", "bottom")
            shapes = (flat(part.outline), of_part(part, up), of_part(part, down))
            found.append(tuple(placed(shape, way) for shape in shapes))
    return found


def placed(shape: Any, way: Placement) -> Any:
    """A shape where its part lies."""
    sign, x, y = -1.0 if way.turned_over else 1.0, cos(way.turn), sin(way.turn)
    return affine_transform(shape, (sign * x, -y, sign * y, x, way.x, way.y))

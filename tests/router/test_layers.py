"""The table of layers in DEVELOPERS.md against the layers that stand in written files, both ways."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest

from templategen.drawing.jig_sheet import jig_sheet
from templategen.drawing.stock_sheet import stock_drawing
from templategen.geometry.outline import circle, rectangle
from templategen.geometry.placement import Placement
from templategen.jigs.tear_out import tear_out
from templategen.jigs.trammel import trammel
from templategen.nesting.stock import Item, Laid, Piece, Sheet
from templategen.output.dxf import dxf_bytes
from templategen.packet.part_files import part_dxf
from templategen.parts.feature import Feature
from templategen.router.sheet import sheet_work
from tests.router.cut import files_of, with_bit
from tests.router.routed_boards import side_boards
from tests.router.test_sheet import MACHINE, SIZE, TINY, laid, made, pinwheel
from tests.shipped_packets import packet_files
from tests.table.made import table_of

NOTES = Path(__file__).parents[2] / "DEVELOPERS.md"

ALIKE = " and the like"
"""Says that the names after the first of a row stand for the operation in it."""

ON_LAYER = re.compile(r"\n *8\r?\n(\S+)\r?\n")


def without_figures(layer: str) -> str:
    """A layer's name with its face and its depth left open."""
    return re.sub(r"_\d+(_\d+)?(MM|IN)$", "_DEPTH", re.sub(r"^(TOP|BOTTOM|EDGE\d+|END\d+)_", "FACE_", layer))


@cache
def rows() -> Mapping[str, frozenset[str]]:
    """By name the kinds of files that the table says."""
    told = NOTES.read_text(encoding="utf-8").partition("## Layers of our DXF")[2].partition("\n## ")[0]
    found: dict[str, frozenset[str]] = {}
    for line in re.findall(r"(?m)^\| `.*$", told):
        names, files, _ = (cell.strip() for cell in line.strip("|").split(" | "))
        first, *others = re.findall(r"`(\w+)`", names)
        for name in (first, *(f"TOP_{other}_1MM" if ALIKE in names else other for other in others)):
            assert without_figures(name) not in found, f"{name} stands twice"
            found[without_figures(name)] = frozenset(files.split(", "))
    return found


def layers(files: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    """The layer of every mark, and the kind of file it is in."""
    for path, data in files.items():
        if path.endswith(".dxf"):
            drawn = data.decode().partition("ENTITIES")[2]
            yield from ((without_figures(name), path.partition("/")[0]) for name in set(ON_LAYER.findall(drawn)))


def routed_sheet() -> dict[str, bytes]:
    """A sheet with what boards seldom have: loose waste, holes too small for the bit, skins, a fault, a blank,
    cleared corners, a relief."""
    over = Placement(turned_over=True)
    relief = Feature("relief", "bottom", over.outline(rectangle(20, 0, 60, 30)), 4.0, "rebate")
    holed = (rectangle(10, 5, 40, 25), circle(70, 15, 1.5))
    bores = tuple(
        Feature(kind, "top", circle(x, 15, 8.0), 6.0, "bore") for kind, x in (("counterbore", 54), ("cross-bore", 80))
    )
    parts = (
        *pinwheel(62),
        (made("BAR", rectangle(0, 0, 90, 30), holed, (relief, *bores)), Placement(330, 60)),
        (TINY, Placement(350, 200)),
    )
    *lying, tiny = laid(parts)
    work = sheet_work([*lying, replace(tiny, finished=False)], SIZE, 12.0, replace(MACHINE, relief="corner"))
    piece = Piece("ply", *SIZE, mode="routed", defects=((450.0, 250.0, 12.0),))
    items = {part.code: Item(part.code, part.outline, 1) for part, _ in parts}
    sheet = Sheet(piece, 1, tuple(Laid(part.code, way) for part, way in parts))
    drawings = (stock_drawing(sheet, items, "t", routed=work, underside=down) for down in (False, True))
    return {f"stock/made-{number}.dxf": dxf_bytes(one, "R2000", "mm") for number, one in enumerate(drawings)}


@cache
def written() -> frozenset[tuple[str, str]]:
    """Those of a packet, of routed boards, a rail with pins or with corners cleared, a bar on feet, jigs, bolts."""
    every = dict(packet_files("towpath-side")) | routed_sheet()
    dining = table_of(name="towpath-dining")
    for number, jig in enumerate((*tear_out(dining), *trammel(dining))):
        every[f"jigs/{number}.dxf"] = dxf_bytes(jig_sheet(jig, "t").drawing, "R2000", "mm")
    for number in ("boards", "slat-strips"):
        board = side_boards()[f"stock/iroko-{number}-1"]
        every |= board.files(replace(board.work, screws=(circle(12.0, 9.0, 2.5),)))
    ways = ({"shop_longer": "80 mm"}, {"dxf_corner_relief": "corner"}, {"dxf_corner_relief": "edge"})
    for name, code, way in (*(("dining", "RAIL-HIGH", way) for way in ways), ("hex", "BASE-LOW", {})):
        table = with_bit(table_of(name=f"towpath-{name}"), 12.0 if name == "hex" else 8.0).with_(**way)
        files = files_of(table.part(code), table.profile) | {f"parts/{code}.dxf": part_dxf(table, code)}
        every |= {path.replace(".", f"-{name}{way}."): data for path, data in files.items()}
    bolted = with_bit(table_of(name="towpath-side"), 8.0).with_(legs_top_joint="bolted")
    pegged = bolted.with_(
        {"legs.top_joint": "draw-bored", "legs.peg": [8, 1.2, 11], "legs.tenon": [22, 28, 26], "top.thickness": 40}
    )
    every["parts/dripping.dxf"] = part_dxf(table_of({"top.drip_groove": (14.0, 6.0, 5.0)}, "towpath-side"), "RIM-A")
    for table, code in product((bolted, pegged), ("LEG", "RAIL-HIGH")):
        files = files_of(table.part(code), table.profile) | {f"parts/{code}.dxf": part_dxf(table, code)}
        every |= {path.replace(".", f"-{table.profile.legs.top_joint}."): data for path, data in files.items()}
    return frozenset(layers(every))


@pytest.mark.wide
def test_every_layer_stands_in_the_table_and_every_row_in_a_file() -> None:
    """Each with the kinds of files it is in."""
    table = rows()
    assert sorted(one for one in written() if one[1] not in table.get(one[0], ())) == []
    told = {(name, kind) for name, kinds in table.items() for kind in kinds}
    assert sorted(told - written()) == []

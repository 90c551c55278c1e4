"""The drawings of stock show what the record lays on it, and nothing is laid past the edge or over a fault."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.outlines import TRUE, told, worst_off
from templategen.proof.part_files import OUTSIDE, Files, all_drawn, pair_differences
from templategen.proof.read_record import RECORD, Record, outline_in, placement_in

EDGE = "STOCK_OUTLINE"


def stock_differences(piece: Record, parts: Mapping[str, Record], files: Files) -> Iterator[Difference]:
    """Where one piece of stock isn't as the record says."""
    name = f"{piece['name']} {piece['piece']}"
    laid = list(_laid(piece, parts))
    for code, ring in laid:
        yield from _lies_well(name, code, ring, piece)
    read, unread = all_drawn(files, name)
    yield from unread
    for path, drawn in read.items():
        board = rectangle(0, 0, *piece["size"])
        for where, ring, layers in (("edges", board, [EDGE]), *((code, ring, [OUTSIDE]) for code, ring in laid)):
            off, at = worst_off(ring.edges, drawn, [*layers, *([EDGE] if where != "edges" else [])])
            if off > TRUE:
                yield Difference(path, f"{name}, {where}", told(off, at))
    yield from pair_differences(read)


def _laid(piece: Record, parts: Mapping[str, Record]) -> Iterator[tuple[str, Outline]]:
    for entry in piece["placements"]:
        if entry["code"] in parts:
            part = parts[entry["code"]]
            yield entry["code"], placement_in(entry).outline(outline_in(part[entry.get("uses", "outline")]))


def _lies_well(name: str, code: str, ring: Outline, piece: Record) -> Iterator[Difference]:
    box, (length, width) = ring.bounds, piece["size"]
    if box.left < -TRUE or box.bottom < -TRUE or box.right > length + TRUE or box.top > width + TRUE:
        yield Difference(RECORD, f"{name}, {code}", "lies past the edge of the stock")
    for x, y, across in piece["faults"]:
        at = Point(x, y)
        if abs(ring.winding(at)) > 0.5 or ring.distance(at) < across / 2 - TRUE:
            yield Difference(RECORD, f"{name}, {code}", f"lies on the fault at ({x:g}, {y:g})")

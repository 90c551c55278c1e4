"""A part's DXF and SVG measure what the record says of the part, and agree with each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from templategen.errors import OutputError
from templategen.geometry.edge import Edge
from templategen.geometry.outline import Outline
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.outlines import TRUE, alike, places, told, unmatched, worst_off
from templategen.proof.read_dxf import SQUARE_LAYER, SQUARE_SIDE, read_dxf
from templategen.proof.read_record import Record, outline_in
from templategen.proof.read_svg import read_svg

READERS: dict[str, Callable[[bytes], Drawn]] = {"dxf": read_dxf, "svg": read_svg}

OUTSIDE, INSIDE = "THROUGH_OUTSIDE", "THROUGH_INSIDE"

ALONG_THE_RIM = ("round-over", "chamfer")
"""Drawn by the line they end on only."""

Files = dict[str, bytes]


def drawn_in(path: str, data: bytes) -> Drawn:
    """The lines of a file, by the reader for its kind.

    Raises:
        OutputError: it can't be read.
    """
    return READERS[path.rpartition(".")[2]](data)


def part_differences(part: Record, files: Files) -> Iterator[Difference]:
    """Where the drawings of one part miss it."""
    read, unread = all_drawn(files, part["code"])
    yield from unread
    for path, drawn in read.items():
        yield from _square(path, drawn)
        found = _in_place(part, drawn) if path.startswith("parts/") else _somewhere(part, drawn)
        for where, says in found:
            yield Difference(path, f"{part['code']}, {where}", says)
    yield from pair_differences(read)


def whole_differences(files: Files) -> Iterator[Difference]:
    """Where drawings of the whole table can't be read, or differ between their formats."""
    read, unread = all_drawn(files, "")
    yield from unread
    for path, drawn in read.items():
        yield from _square(path, drawn)
    yield from pair_differences(read)


def all_drawn(files: Files, where: str) -> tuple[dict[str, Drawn], list[Difference]]:
    """The lines of each file, and which files can't be read."""
    read: dict[str, Drawn] = {}
    unread = []
    for path, data in files.items():
        try:
            read[path] = drawn_in(path, data)
        except OutputError as trouble:
            unread.append(Difference(path, where, str(trouble)))
    return read, unread


def _square(path: str, drawn: Drawn) -> Iterator[Difference]:
    """The test square, where there is one, measures what it says."""
    for ring in drawn.rings.get(SQUARE_LAYER, ()):
        box = ring.bounds
        if max(abs(box.width - SQUARE_SIDE), abs(box.height - SQUARE_SIDE)) > TRUE:
            yield Difference(path, "test square", f"measures {box.width:.3f} x {box.height:.3f} mm, not 100 x 100")


def _in_place(part: Record, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """The view from above, which stands at the part's own coordinates."""
    wood = outline_in(part["outline"])
    yield from _miss("outline", wood.edges, drawn, [OUTSIDE])
    for hole in part["holes"]:
        yield from _miss("hole", outline_in(hole).edges, drawn, [INSIDE])
    for feature in part["features"]:
        if feature["face"] == "top" and feature["kind"] not in ALONG_THE_RIM:
            yield from _miss(feature["kind"], _within(outline_in(feature["outline"]), wood), drawn, list(drawn.edges))
    area = abs(wood.area)
    if not any(abs(abs(ring.area) - area) <= TRUE * wood.length for ring in drawn.rings.get(OUTSIDE, ())):
        yield "outline", f"no closed outline holds {area:.1f} mm2"


def _miss(where: str, edges: tuple[Edge, ...], drawn: Drawn, layers: list[str]) -> Iterator[tuple[str, str]]:
    off, at = worst_off(edges, drawn, layers)
    if off > TRUE:
        yield where, told(off, at)


def _within(outline: Outline, wood: Outline) -> tuple[Edge, ...]:
    """Edges of work that lie in the wood with both ends: others are drawn past it."""
    return tuple(edge for edge in outline.edges if all(wood.contains(point) for point in places((edge,))))


def _somewhere(part: Record, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """A piece that is drawn among others: an outline like it is there."""
    rings = [*drawn.rings.get(OUTSIDE, ()), *drawn.rings.get(INSIDE, ())]
    for where, corners in (("outline", part["outline"]), *(("hole", hole) for hole in part["holes"])):
        if not any(alike(outline_in(corners), ring) for ring in rings):
            yield where, "no outline of its shape is drawn"


def pair_differences(read: dict[str, Drawn]) -> Iterator[Difference]:
    """A DXF and the SVG of the same drawing hold the same lines."""
    for path, drawn in read.items():
        twin = path[:-3] + "svg"
        if path.endswith(".dxf") and twin in read:
            for layer in sorted(set(drawn.edges) | set(read[twin].edges)):
                for one, other, name in ((drawn, read[twin], path), (read[twin], drawn, twin)):
                    off, at = worst_off(unmatched(one, other, layer), other, [layer])
                    if off > TRUE:
                        yield Difference(name, layer, f"a line that its twin doesn't have {told(off, at)}")

"""The sheets of jigs show every piece where the record tells it, with all that is cut into it."""

from collections.abc import Iterator, Mapping

from templategen.catalogue import translated
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn
from templategen.proof.faces import WOOD, Seen, Site, see, strays
from templategen.proof.part_files import Files, Measured, alike, all_drawn, pair_differences, square
from templategen.proof.read_record import Record
from templategen.proof.recorded import BOTTOM, TOP, Recorded


def jig_differences(
    jig: Record, parts: Mapping[str, Recorded], files: Files, measured: Measured
) -> Iterator[Difference]:
    """Where the drawings of one jig miss its pieces."""
    read, unread = all_drawn(files, jig["code"])
    yield from unread
    for path, drawn in read.items():
        yield from square(path, drawn)
        faces: list[Seen] = []
        for piece in jig["pieces"]:
            if piece["code"] not in parts:
                yield Difference(path, piece["code"], translated("is a piece of the jig, but isn't among the parts"))
                continue
            part = parts[piece["code"]]
            for where, says in _piece(part, Point(*piece["at"]), drawn, faces):
                yield Difference(path, f"{part.code}, {where}", says)
        for seen in faces:
            measured.update(seen.measured)
        for layer, says in strays(drawn, faces):
            yield Difference(path, f"{jig['code']}, {layer}", says)
    yield from pair_differences(read)


def _piece(part: Recorded, at: Point, drawn: Drawn, faces: list[Seen]) -> Iterator[tuple[str, str]]:
    """The piece's top where the record puts it and, where that is worked, its underside."""
    faces.append(see(Site(part, TOP, at), drawn))
    yield from faces[-1].misses
    if part.on(BOTTOM):
        taken = {ring for seen in faces for ring in seen.rings}
        tries = [
            see(Site(part, BOTTOM, spot), drawn)
            for spot, ring in alike(part.wood(BOTTOM), drawn, WOOD)
            if id(ring) not in taken
        ]
        best = min(tries, key=lambda seen: len(seen.misses), default=None)
        if best is None:
            yield BOTTOM, translated("no view shows the face as the record has it")
        else:
            faces.append(best)
            yield from best.misses

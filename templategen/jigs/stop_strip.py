"""The stop strip: every length that slats and splines are cut to, along one strip beside the saw's fence."""

from collections.abc import Iterator

from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, figure, line, piece, shown
from templategen.table.assembly import Table

PAST = 60.0
"""Strip beyond the longest length, mm."""

SAME = 0.01
"""Lengths closer than this share a line, mm."""


def stop_strip(table: Table) -> Iterator[Jig]:
    """A strip whose left end stands at the saw's cut; each line is where the stop's face goes."""
    profile, name = table.profile, "STOP-STRIP"
    lengths = slat_lengths(table)
    if not lengths:
        return
    high = profile.jigs.strip
    strip = piece(profile, name, "stop strip for the slats", rectangle(0, 0, lengths[-1][0] + PAST, high), "gauge",
                  notes=("screw it along the fence, its left end at the near face of the saw's cut",))  # fmt: skip
    yield Jig(
        name,
        "slat stop strip",
        tuple(dict.fromkeys(code for _, codes in lengths for code in codes)),
        (strip,),
        tuple(_scribes(table, lengths, high)),
        tuple(_figures(name, lengths)),
        (
            said("Saw the left end at the machine itself, with the blade that cuts the slats ({kerf} kerf): then it "
                 "stands where the near face of the cut is.", kerf=shown(profile.shop.saw_kerf, profile)),
            "Set the stop's face to a line and cut every slat of that code, tongues included, then move to the next.",
            ("Lengths are the blank's greatest, from point to point, and hold for the first cut to length, at the "
            "angle that its set-up tells; an end of two edges gets its further cuts at stops of their own."),
        ),
        (
            ("Cut a test strip at the shortest line and measure it: what it is off is the left end's error, the same "
            "at every line. Shift the strip by it."),
            "Cut two at one line and hold them side by side: no step, or the stop gives way.",
        ),
        (
            ("The stop must not trap the offcut between itself and the blade: it stands on the clamped "
            "piece's side. Let the blade stop before taking the piece away."),
        ),
    )  # fmt: skip


def slat_lengths(table: Table) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """Greatest lengths with tongues, shortest first, each with the codes cut to it."""
    found: list[tuple[float, list[str]]] = []
    for part in sorted((p for p in table.parts if p.kind == "slat"), key=lambda p: (p.size[0], p.code)):
        if found and part.size[0] - found[-1][0] < SAME:
            found[-1][1].append(part.code)
        else:
            found.append((part.size[0], [part.code]))
    return tuple((length, tuple(codes)) for length, codes in found)


def _scribes(table: Table, lengths: tuple[tuple[float, tuple[str, ...]], ...], high: float) -> Iterator[Scribe]:
    name = "STOP-STRIP"
    for length, codes in lengths:
        short = " ".join(code.removeprefix("SLAT-") for code in codes)
        words = said("slat {codes}: {long}", codes=short, long=figure(length, table.profile))
        yield line(name, Point(length, 0), Point(length, high), words, "scale")


def _figures(name: str, lengths: tuple[tuple[float, tuple[str, ...]], ...]) -> Iterator[Critical]:
    for length, codes in lengths:
        yield distance(
            said("stop for {codes:all}", codes=codes), name, Point(0, 0), Point(length, 0), "length with tongues"
        )

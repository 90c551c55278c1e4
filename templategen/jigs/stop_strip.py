"""The stop strip: every length that slats are cut to at one angle, along one strip beside the saw's fence."""

from collections.abc import Collection, Iterator
from math import atan2, degrees

from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe
from templategen.jigs.piece import distance, figure, line, piece, shown
from templategen.jigs.sled import sled_of
from templategen.parts.part import Part
from templategen.table.assembly import Table

STOP_STRIP = "STOP-STRIP"
"""Its code, a number behind it where there are several."""

PAST = 60.0
"""Strip beyond the longest length, mm."""

SAME = 0.01
"""Lengths closer than this share a line, mm, and angles a strip, degrees."""


Lengths = tuple[tuple[float, tuple[str, ...]], ...]
"""Lengths, shortest first, each with the codes cut to it."""

Stop = tuple[float, float, str]
"""An angle off square, degrees, how far the stop is from the blade there, mm, and what is sawn to it."""


def stop_strip(table: Table, stops: Collection[Stop] | None = None) -> Iterator[Jig]:
    """A strip for each angle, whose left end is sawn at that angle; each line is where the stop's face goes. With the
    `stops` of the set-ups every one at its angle has its line; where anything but slats goes to one, there is no
    strip. None for what is sawn on SLED, whose own fence holds it by its paper."""
    by_angle = slat_lengths(table)
    if stops is not None:
        slats = {part.code for part in table.parts if part.kind == "slat"}
        all_stops = [(angle, [own for own in stops if abs(own[0] - angle) < SAME]) for angle, _ in by_angle]
        by_angle = tuple((angle, _lines(own)) for angle, own in all_stops if own and {o[2] for o in own} <= slats)
    for number, (angle, lengths) in enumerate(by_angle, 1):
        yield _strip(table, f"{STOP_STRIP}-{number}" if len(by_angle) > 1 else STOP_STRIP, angle, lengths)


def _lines(stops: Collection[Stop]) -> Lengths:
    """The lines for stops at one angle."""
    found: list[tuple[float, list[str]]] = []
    for _, length, code in sorted(stops, key=lambda own: own[1:]):
        if found and length - found[-1][0] < SAME:
            found[-1][1].append(code)
        else:
            found.append((length, [code]))
    return tuple((length, tuple(dict.fromkeys(codes))) for length, codes in found)


def _strip(table: Table, name: str, angle: float, lengths: Lengths) -> Jig:
    """No higher than what lies along it, so that the blade, as high as that asks for, saws its end through too."""
    profile = table.profile
    high = min(profile.jigs.strip, *(table.part(code).thickness for _, codes in lengths for code in codes))
    ring = rectangle(0, 0, lengths[-1][0] + PAST, high)
    strip = piece(profile, name, "stop strip for the slats", ring, "gauge")
    return Jig(
        name,
        said("slat stop strip, {angle:deg} off square", angle=angle) if angle > SAME else "slat stop strip, square",
        tuple(dict.fromkeys(code for _, codes in lengths for code in codes)),
        (strip,),
        tuple(_scribes(table, name, lengths, high)),
        tuple(_figures(name, lengths)),
        (
            said("Screw it on edge to the saw's fence, so that it can't creep as slats are clamped to it, its lined "
                 "face to the slats, the end that its figures count from over the cut. Saw that end there, by the "
                 "slats' blade ({kerf} kerf) set to their angle: lines count from where that cut meets the lined "
                 "face, along which the slats lie.",
                 kerf=shown(profile.shop.saw_kerf, profile)),
            ("Set the stop's face to the line with the card's figure, cut every slat that is named there, then move "
             "to the next."),
        ),
        (
            ("Cut a test strip at the shortest line and measure it: what it is off is the sawn end's error, the same "
            "at every line. Shift the strip by it."),
            "Cut two at one line and hold them side by side: no step, or the stop gives way.",
        ),
        (
            ("The stop must not trap the offcut between itself and the blade: it stands on the clamped "
            "piece's side. Let the blade stop before taking the piece away."),
        ),
        angle=angle,
    )  # fmt: skip


def slat_lengths(table: Table) -> tuple[tuple[float, Lengths], ...]:
    """Greatest lengths with tongues by the angle, in degrees off square, of the end that is sawn to a stop, which is
    the more slanting one; of slats with one edge at either end, but none at an angle at which the sled is used."""
    on_sled = [degrees(angle) for angle, _ in sled_of(table).angles]
    found: dict[float, list[Stop]] = {}
    for part in (part for part in table.parts if part.kind == "slat"):
        angles = tuple(off_square(part))
        if len(angles) == 2 and not any(abs(one - max(angles)) < SAME for one in on_sled):
            angle = next((one for one in found if abs(one - max(angles)) < SAME), max(angles))
            found.setdefault(angle, []).append((angle, part.size[0], part.code))
    return tuple(sorted((angle, _lines(own)) for angle, own in found.items()))


def off_square(part: Part) -> Iterator[float]:
    """How far off square each edge at the ends of a slat is, degrees; its grain lies along x."""
    for edge in part.outline.edges:
        along = edge.direction_at(0.5)
        if abs(along.y) > SAME:
            yield degrees(atan2(abs(along.x), abs(along.y)))


def _scribes(table: Table, name: str, lengths: Lengths, high: float) -> Iterator[Scribe]:
    for length, codes in lengths:
        short = " ".join(code.removeprefix("SLAT-") for code in codes)
        words = said("slat {codes}: {long}", codes=short, long=figure(length, table.profile))
        yield line(name, Point(length, 0), Point(length, high), words, "scale")


def _figures(name: str, lengths: Lengths) -> Iterator[Critical]:
    for length, codes in lengths:
        yield distance(
            said("stop for {codes:all}", codes=codes), name, Point(0, 0), Point(length, 0), "from the blade"
        )

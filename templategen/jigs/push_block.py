"""Blocks that push a piece along a fence, its end against it: what carries ends over a cutter, and backs the cut."""

from collections.abc import Iterator
from math import ceil, cos, degrees, sin

from templategen.checks.describe import said
from templategen.geometry.outline import Outline, polygon
from templategen.geometry.point import Point
from templategen.jigs.angle_gauge import angles_of, by_angle
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import distance, piece, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table

FRONT = 150.0
"""The edge that the piece lies against: hands and clamps stand so far off the cutter, mm."""

BACK = 100.0
"""Behind the piece along the fence, mm: what keeps the block square to it."""

DEEP = 100.0
"""How far it reaches from the fence at the least, mm."""

OVER = 12.0
"""Wood over the highest cut, mm."""


def end_angles(table: Table) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """Angles off square of the ends that get a tongue or a tenon, radians, each with its parts."""
    cut = [part for part in table.parts if part.cuts("tongue", "tenon")]
    return by_angle((angle, part.code) for part in cut for angle in angles_of(table, part))


def block(angle: float) -> Outline:
    """Seen from above: its long edge on the fence, y = 0, the piece at its front; it is pushed towards +x."""
    front = Point(FRONT * sin(angle), -FRONT * cos(angle))
    return polygon(((-BACK, 0.0), (-BACK, min(front.y, -DEEP)), front, (0.0, 0.0)))


def end_sled(table: Table) -> Iterator[Jig]:
    """A block for each angle at which ends are rebated; turned over it serves the other hand."""
    angles, profile = end_angles(table), table.profile
    deepest = max((f.depth for part in table.parts for f in part.cuts("tongue", "tenon")), default=0.0)
    layers = max(2, ceil((deepest + OVER) / profile.jigs.thickness))
    codes = tuple(dict.fromkeys(code for _, codes in angles for code in codes))
    if not angles:
        return
    yield Jig(
        "END-SLED",
        "sled for ends: blocks along the fence",
        codes,
        tuple(_pieces(table, angles, layers)),
        (),
        tuple(_figures(angles)),
        (
            said(
                "Its long edge along the machine's fence, the piece on the table itself, end flat on the fence, edge "
                "along the block's front; clamped to it {off} off the fence.",
                off=shown(FRONT / 2, profile),
            ),
            (
                "The first pass cuts the block too: it backs the wood. Turn it over for the other end of a slanting "
                "piece; a lower cut after a higher one wants a fresh edge."
            ),
        ),
        ("Cut two test pieces, turn one over and lay the shoulders together: no light.",),
        ("Both hands behind the block's front; the piece comes off once it is past the cutter.",),
    )  # fmt: skip


def _pieces(table: Table, angles: tuple[tuple[float, tuple[str, ...]], ...], layers: int) -> Iterator[Part]:
    glued, back = said("{layers} glued together", layers=layers), shown(BACK, table.profile)
    for number, (angle, codes) in enumerate(angles, 1):
        off = degrees(angle)
        name = said("block, front {angle:deg} off square, {back} on the fence", angle=off, back=back)
        notes = (glued, said("for {codes:all}", codes=codes))
        yield piece(table.profile, f"END-SLED-{number}", name, block(angle), count=layers, notes=notes)


def _figures(angles: tuple[tuple[float, tuple[str, ...]], ...]) -> Iterator[Critical]:
    for number, (angle, _) in enumerate(angles, 1):
        code, front = f"END-SLED-{number}", Point(FRONT * sin(angle), -FRONT * cos(angle))
        yield Critical(said("front of block {number}, off square", number=number), degrees(angle), "deg", code)
        yield distance(said("front of block {number}", number=number), code, Point(0, 0), front)

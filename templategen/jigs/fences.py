"""Wooden fences: long on a mitre gauge, tall for pieces on edge or on end, a face for a cutter to run in."""

from collections.abc import Iterator
from math import ceil

from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.jigs.piece import distance, piece, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table

PAST = 60.0
"""Fence past the stop, and the stop's own length, mm."""

BEYOND = 200.0
"""Fence beyond the cutter, so that the piece is held on both sides of the cut, mm."""

OVER = 40.0
"""Wood over the highest cut, mm."""

LEAST_TALL = 100.0
"""Height of a tall fence at the least, mm."""

TALL = 2 / 3
"""Of the height that a piece stands, the share that a tall fence backs."""

LONG = 450.0
"""Length of a fence for short pieces, mm."""

LONGEST = 900.0
"""And of one for long pieces, at the most, mm."""

RIB = 70.0
"""Width of the ribs behind a tall fence, mm."""

RISES = 0.6
"""Their height as a share of its, over the machine's own fence."""

SKIN = 4.0
"""Wood of a face behind the cutter that runs in it, mm."""


def lap_sled(table: Table) -> Iterator[Jig]:
    """The fence that carries rails across a cutter: half the longest rail, a trench's width, as far as the last pass
    sets the stop back, and room for the stop."""
    profile, rails = table.profile, [part for part in table.parts if part.cuts("lap")]
    if not rails:
        return
    half = max(part.size[0] for part in rails) / 2
    deepest = max(feature.depth for part in rails for feature in part.cuts("lap"))
    high = max(deepest + OVER, *(part.thickness for part in rails))
    name = said("fence, the cutter {beyond} from its near end", beyond=shown(BEYOND, profile))
    far, code, two = (
        half + max(part.size[1] for part in rails) + PAST,
        "LAP-SLED-FENCE",
        (said("{layers} glued together", layers=2),),
    )
    yield Jig(
        "LAP-SLED",
        "sled for laps: a long fence on the mitre gauge",
        tuple(part.code for part in rails),
        (
            piece(profile, code, name, rectangle(-far, 0, BEYOND, high), count=2, notes=two),
            piece(profile, "LAP-SLED-STOP", "stop on the fence", rectangle(0, 0, PAST, high), count=2, notes=two),
        ),
        (),
        (
            distance(
                "cutter to the fence's far end", code, Point(-far, 0), Point(0, 0), "half a rail + a trench + stop"
            ),
        ),
        (
            "Screw it to the mitre gauge that came with the machine, clear of the table; set the angle, lock it.",
            (
                "The rail lies on the table itself, an edge along the fence, an end at the stop, clamped on both "
                "sides of the cutter. The first pass cuts the fence's own room; it backs the wood."
            ),
        ),
        (
            said(
                "Cut two test pieces, turn one over, trenches together: no light, edges level within {near}.",
                near=shown(0.1, profile),
            ),
        ),
        ("A stand under the far end of a long rail; hands on the fence's ends, off the cutter's line.",),
    )  # fmt: skip


def tall_fence(table: Table) -> Iterator[Jig]:
    """For pieces that stand on an edge over the cutter."""
    edged = [part for part in table.parts if part.cuts("groove")]
    if edged:
        long, tall = (max(part.size[way] for part in edged) for way in (0, 1))
        yield _tall(table, "TALL-FENCE", edged, max(LONG, min(long, LONGEST)), tall)


def slot_fence(table: Table) -> Iterator[Jig]:
    """For segments that stand on a mitre over the cutter."""
    slotted = [part for part in table.parts if part.cuts("spline-slot")]
    if slotted:
        yield _tall(table, "SLOT-FENCE", slotted, LONG, max(part.size[0] for part in slotted))


def _tall(table: Table, code: str, parts: list[Part], long: float, standing: float) -> Jig:
    """A face as tall as the piece that stands at it asks for, ribs behind it."""
    profile, high = table.profile, max(LEAST_TALL, TALL * standing)
    face = f"{code}-FACE"
    return Jig(
        code,
        "tall fence for pieces on edge" if code == "TALL-FENCE" else "tall fence for pieces on end",
        tuple(part.code for part in parts),
        (
            piece(profile, face, "face", rectangle(0, 0, long, high)),
            piece(profile, f"{code}-RIB", "rib behind the face", rectangle(0, 0, RIB, high * RISES), count=2),
        ),
        (),
        (distance("height of the face", face, Point(0, 0), Point(0, high), "2/3 of what stands at it"),),
        (
            (
                "Screw the face to the machine's own fence from behind, heads sunk, the ribs on edge behind it, "
                "standing on that fence: what is told from the fence is measured from the face."
            ),
            "Featherboards press the piece to face and table, before and behind the cutter, never beside it.",
        ),
        ("Groove two test pieces and lay them together, one turned over, on one face: the grooves meet, no light.",),
        ("The piece is fed by a push block behind it, not by a hand above the cutter.",),
    )


def fence_face(table: Table) -> Iterator[Jig]:
    """The face that a cutter runs in which is wider than what it takes off."""
    cut = [part for part in table.parts if part.cuts("tongue", "tenon")]
    if not cut:
        return
    profile = table.profile
    high = max(feature.depth for part in cut for feature in part.cuts("tongue", "tenon")) + OVER
    wide = max(profile.shop.groove_cutter, profile.shop.router_bit)
    layers = ceil((wide + SKIN) / profile.jigs.thickness)
    notes = (said("{layers} glued together", layers=layers),) if layers > 1 else ()
    yield Jig(
        "FENCE-FACE",
        "wooden face for the fence",
        tuple(part.code for part in cut),
        (piece(profile, "FENCE-FACE", "face on the fence", rectangle(0, 0, LONG, high), count=layers, notes=notes),),
        (),
        (distance("height of the face", "FENCE-FACE", Point(0, 0), Point(0, high), "highest cut + wood over it"),),
        (
            "Screw it to the fence from behind, heads sunk, its lower edge on the table; lower the cutter first.",
            "Lock the fence, start the machine, hands clear, and raise the cutter slowly into the face.",
        ),
        ("Cut two test pieces and lay the rebates together: shoulders in line, no light.",),
        ("No screw where the cutter comes; the fence locked before the cutter runs, never moved against it.",),
    )  # fmt: skip

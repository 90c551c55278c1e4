"""Wooden fences: tall for pieces on edge or on end, a face for a cutter to run in."""

from collections.abc import Iterator
from math import ceil, cos, degrees, floor, radians, tan

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.geometry.tolerance import EQUAL, ON_EDGE
from templategen.jigs.angle_gauge import angles_of
from templategen.jigs.jig import Jig
from templategen.jigs.piece import distance, of_offcut, piece, shown, step_of, tidy
from templategen.jigs.push_block import push_blocks
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.units import angle_words

OFF = 100.0
"""From the cutter to the nearest clamp or screw, mm."""

NEAREST, AHEAD = 50.0, 5.0
"""From the cutter to the fingers that press on a piece's upper edge, at the least, and how far ahead of the last wood
on the table the middle stays of what they press on, mm (assumed)."""

OVER = 40.0
"""Wood over the highest cut, mm."""

LEAST_TALL = 100.0
"""Height of a tall fence at the least, mm."""

TALL = 2 / 3
"""Of the height that a piece stands, the share that a tall fence backs."""

LONG = 450.0
"""Length of a fence for short pieces, mm."""

ASIDE = 60.0
"""Face on either side of the cutter, besides what runs along it, mm: as far as a disc reaches at the table."""

BLOCK = 60.0
"""Face beyond a block's distance from the cutter, which the block is clamped to, mm."""

RIB = 70.0
"""Width of the ribs behind a tall fence, mm."""

PUSHED = 100.0, 140.0
"""Height of the push block behind what stands there, at the most, and its length at the foot, mm: what leans back
lies against it; what lies on its edge is as high at least, so that both pass under a featherboard."""

ONE_LEAN = radians(0.05)
"""Leans that differ by less are pushed by one block: over its height that is a tenth of a millimetre."""

RISES = 0.6
"""Their height as a share of its, over the machine's own fence."""

SKIN = 4.0
"""Wood of a face behind the cutter that runs in it, mm."""


def tall_fence(table: Table) -> Iterator[Jig]:
    """For pieces that stand on an edge over the cutter, and for segments on a mitre: a face as tall as what stands at
    it asks for and long enough for the blocks on both sides of the cutter, ribs behind it."""
    profile, edged, slotted = (
        table.profile,
        *([p for p in table.parts if p.cuts(k)] for k in ("groove", "spline-slot")),
    )
    standing = (*(part.size[1] for part in edged), *(part.size[0] for part in slotted))
    if not standing:
        return
    far = max(map(block_off, edged), default=0.0)
    long = tidy(profile, max(LONG, 2 * (far + BLOCK)))
    high = tidy(profile, max(LEAST_TALL, TALL * max(standing)))
    yield Jig(
        "TALL-FENCE",
        "tall fence for pieces on edge or on end",
        tuple(part.code for part in table.parts if part in edged or part in slotted),
        (
            piece(profile, "TALL-FENCE-FACE", "face", rectangle(0, 0, long, high)),
            piece(profile, "TALL-FENCE-RIB", "rib behind the face",
                  rectangle(0, 0, tidy(profile, RIB), tidy(profile, high * RISES)), count=2),
            *_pushed(table, [*edged, *slotted]),
        ),
        (),
        (distance("height of the face", "TALL-FENCE-FACE", Point(0, 0), Point(0, high), "2/3 of what stands at it"),),
        (
            (
                "Screw the face to the machine's own fence from behind, heads sunk, the ribs on edge behind it, "
                "standing on that fence, the face's middle over the cutter: what is told from the fence is measured "
                "from the face; blocks are clamped to it."
            ),
            (
                "Featherboards press the piece to face and table, before and behind the cutter, never beside it; one"
                " on its end to the face alone, at half the face's height."
            ),
            *_let_down(table),
            "For a rail a stand as high as the table at both sides.",
        ),
        ("Groove two test pieces and lay them together, one turned over, on one face: the grooves meet, no light.",),
        tuple(_fed(table, [*edged, *slotted])),
    )  # fmt: skip


def _let_down(table: Table) -> Iterator[str]:
    """Where the featherboard stands that presses down on what is let down on the cutter: before the cutter, on the
    part that lies there as it starts."""
    firm = list(_firm(table))
    if not firm:
        return
    own, off = table.profile, fingers_off(table)
    alone = tidy(own, off - min(firm))
    yield said(
        "What is let down on the bit: the one that presses down is clamped to the face, its fingers on the upper"
        " edge, {off} before the cutter; draw round it. On before the start; off to let a piece down, and to lift one"
        " that still lies under it[; over a cut's last {alone} it presses what overhangs: a soft push block ahead of"
        " the cutter holds down].",
        off=shown(off, own),
        alone=shown(alone, own) if alone > ON_EDGE else "",
    )


def fingers_off(table: Table) -> float:
    """How far before the cutter those fingers begin, mm: where they still press on wood that stands on the table when
    a piece is at its front block, if that isn't too near."""
    step = step_of(table.profile)
    return max(tidy(table.profile, NEAREST), floor(min([OFF, *_firm(table)]) / step + EQUAL) * step)


def _firm(table: Table) -> Iterator[float]:
    """How far before the cutter fingers begin at the most, mm, so that the middle of what they press on stays ahead
    of the last wood on the table as a groove ends, for each that ends in the wood at both ends."""
    for part in table.parts:
        for groove in part.cuts("groove"):
            if behind := tail(part, groove):
                yield behind - 2 * (overhang(part, groove) + AHEAD)


def overhang(part: Part, groove: Feature) -> float:
    """How far a piece that stands on its grooved edge stands out beyond that at either end, mm."""
    return (part.blank.bounds.width - part.face(groove.face).outline.bounds.width) / 2


def tail(part: Part, groove: Feature) -> float:
    """What of a piece is behind the cutter as a groove ends that starts and ends in the wood, mm; else 0."""
    box = part.blank.bounds
    cut, past = part.side_cut(groove).bounds, overhang(part, groove)
    closed = cut.left > box.left + past + ON_EDGE and cut.right < box.right - past - ON_EDGE
    return min(cut.left - box.left, box.right - cut.right) if closed else 0.0


def _fed(table: Table, standing: list[Part]) -> Iterator[str]:
    """How what stands on its edge is pushed: an end that leans is pushed along all of it, so that nothing tips."""
    yield (
        "Fed by TALL-FENCE-PUSH behind it, from over its hole by soft ones on its upper edge; no hand on the wood."
    )
    if leans_of(table, standing):
        yield (
            "A segment leans back over the block, on its edge and on its mitre: the block's slanting end bears on all"
            " of that and tips nothing; the square one is for all else."
        )


def leans_of(table: Table, standing: list[Part]) -> list[float]:
    """How far segments lean back that stand on their edge or on their mitre, radians; of those alike the least."""
    kept: list[float] = []
    for lean in sorted(a for part in standing if part.kind == "rim-segment" for a in angles_of(table, part)):
        if not kept or lean - kept[-1] > ONE_LEAN:
            kept.append(lean)
    return kept


def _pushed(table: Table, standing: list[Part]) -> Iterator[Part]:
    """The push block, off a board of the table, as it lies behind what is fed to the left: one end square, the other
    as what it pushes leans; one for each lean."""
    profile, (most, long) = table.profile, (tidy(table.profile, mm) for mm in PUSHED)
    high = min(most, *(part.size[1] for part in standing))
    for number, lean in enumerate(leans_of(table, standing) or [0.0], 1):
        code = "TALL-FENCE-PUSH" + (f"-{number}" if number > 1 else "")
        ring = polygon(((0, 0), (long, 0), (long, high), (high * tan(lean), high)))
        leans = figured(angle_words(degrees(lean))) if lean else None
        told = said("push block[, an end {leans} off square]", leans=leans)
        yield of_offcut(profile, code, told, min(part.size[2] for part in standing), ring)


def block_off(part: Part) -> float:
    """How far from the cutter the furthest block stands that a part's grooves start or end at, 0 where they all run
    through, mm: it touches the end of the blank that a groove runs out at, either end where it stops at both."""
    box, offs = part.blank.bounds, [0.0]
    for groove in part.cuts("groove"):
        cut, whole = part.side_cut(groove).bounds, part.face(groove.face).outline.bounds.width
        if groove.outline.bounds.width < whole - ON_EDGE:
            past = (box.width - whole) / 2
            at_left, at_right = cut.left < box.left + past + ON_EDGE, cut.right > box.right - past - ON_EDGE
            offs += [] if at_right else [cut.right - box.left]
            offs += [] if at_left else [box.right - cut.left]
    return max(offs)


def _runs(table: Table) -> float:
    """The longest that runs along the fence with blocks, mm: before the cut it all lies at one side of the cutter,
    behind it at the other."""
    holds = [(one, block) for block in push_blocks(table) for one in block.holds]
    return max(
        ((one.wide + (2 if one.scrap is not None else 1) * block.back) / cos(one.lean) for one, block in holds),
        default=0.0,
    )


def fence_face(table: Table) -> Iterator[Jig]:
    """The face for a cutter that is wider than what it takes off, or hardly less wide: it runs in or along it."""
    cut = [part for part in table.parts if part.cuts("tongue", "tenon")]
    if not cut:
        return
    profile = table.profile
    high = tidy(profile, max(feature.depth for part in cut for feature in part.cuts("tongue", "tenon")) + OVER)
    wide = max(profile.shop.groove_cutter, profile.shop.router_bit)
    layers = ceil((wide + SKIN) / profile.jigs.thickness)
    notes = (said("{layers} glued together", layers=layers),) if layers > 1 else ()
    face = rectangle(0, 0, tidy(profile, max(LONG, 2 * (_runs(table) + ASIDE))), high)
    yield Jig(
        "FENCE-FACE",
        "wooden face for the fence",
        tuple(part.code for part in cut),
        (piece(profile, "FENCE-FACE", "face on the fence", face, count=layers, notes=notes),),
        (),
        (distance("height of the face", "FENCE-FACE", Point(0, 0), Point(0, high), "highest cut + wood over it"),),
        (
            "Lower the cutter; screw it on from behind, heads sunk, its middle over it, its lower edge on the table.",
            "Lock the fence, start the machine, hands clear, and raise the cutter slowly into the face.",
        ),
        ("Cut two test pieces and lay the rebates together: shoulders in line, no light.",),
        ("No screw where the cutter comes; the fence is never moved against a running cutter.",),
    )  # fmt: skip

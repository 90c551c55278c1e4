"""Wooden fences: long on a mitre gauge, tall for pieces on edge or on end, a face for a cutter to run in."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, cos, degrees, floor, pi, radians, tan

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.outline import polygon, rectangle
from templategen.geometry.point import Point
from templategen.geometry.tolerance import EQUAL, ON_EDGE
from templategen.jigs.angle_gauge import angles_of
from templategen.jigs.end_hold import CLEAR, on_gauge
from templategen.jigs.jig import Jig
from templategen.jigs.piece import distance, of_offcut, piece, shown, step_of, tidy
from templategen.jigs.push_block import push_blocks
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.units import angle_words

PAST = 60.0
"""Fence past the stop, and the stop's own length, mm."""

BEYOND = 200.0
"""Fence beyond the cutter, so that the piece is held on both sides of the cut, mm."""

OFF = 100.0
"""From the cutter to the nearest clamp or screw, mm."""

NEAREST, AHEAD = 50.0, 5.0
"""From the cutter to the fingers that press on a piece's upper edge, at the least, and how far ahead of the last wood
on the table the middle stays of what they press on, mm (assumed)."""

APART = 10.0
"""Fence that stays between two rooms of the cutter, mm."""

OVER = 40.0
"""Wood over the highest cut, mm."""

BEARS = 10.0
"""What of a rail's end, inside its tenon's shoulders or its rounded corners, a stop touches at the least, mm."""

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

NECK = 20.0
"""Wood of the long fence between rooms in both its edges at the least, mm (assumed): clamps pull on it."""

SKIN = 4.0
"""Wood of a face behind the cutter that runs in it, mm."""


@dataclass(frozen=True, slots=True)
class OverSled:
    """A cut across pieces at the long fence: which, how high the cutter stands, mm, the angle of its gauge off
    square, degrees, and whether that is swung."""

    codes: tuple[str, ...]
    height: float
    angle: float
    swung: bool


@dataclass(frozen=True, slots=True)
class Room:
    """Where a cut meets the long fence: which edge of it lies down, 1 or 2, and how often it was shifted; a higher
    cut deepens a room of its own angle, a lower one has nothing behind it there and takes a fresh one."""

    cut: OverSled
    edge: int
    shifts: int


def rooms_of(cuts: Sequence[OverSled], high: float) -> tuple[Room, ...]:
    """The rooms of cuts in working order in a fence so high, mm, those of a swung gauge in its other edge: a room
    there lies over one in the first at the same place, so both together leave a neck."""
    found: list[Room] = []
    for cut in cuts:
        edge = 2 if cut.swung else 1
        deep = {(one.edge, one.shifts): one.cut for one in found}
        fit = [at for at in range(len(found) + 1) if _with_neck(deep.get((3 - edge, at)), cut, high)]
        alike = [at for at in fit if (own := deep.get((edge, at))) and _deepens(own, cut)]
        fresh = next(at for at in fit if (edge, at) not in deep)
        found.append(Room(cut, edge, max(alike, key=lambda at: deep[edge, at].height, default=fresh)))
    return tuple(found)


def _with_neck(over: OverSled | None, cut: OverSled, high: float) -> bool:
    """Whether a cut leaves its neck under what lies over it."""
    return over is None or over.height + cut.height <= high - NECK + EQUAL


def _deepens(own: OverSled, cut: OverSled) -> bool:
    return own.angle == cut.angle and own.height <= cut.height


def lap_sled(table: Table, cuts: Sequence[OverSled] = ()) -> Iterator[Jig]:
    """The fence that carries rails across a cutter: half the longest rail, a trench's width, as far as the last pass
    sets the stop back, and room for the stop; and what is too long for a block with its end over one. Where the
    `cuts` across pieces, in working order, want more than one room in it, these are listed."""
    profile, rails = table.profile, [part for part in table.parts if part.cuts("lap")]
    carried = [part for part in table.parts if part in rails or (part.cuts("tongue", "tenon") and on_gauge(part))]
    if not carried:
        return
    deepest = max(feature.depth for part in carried for feature in part.cuts("lap", "tongue", "tenon"))
    high = tidy(profile, max(2 * deepest + SKIN, deepest + OVER, *(part.thickness for part in carried)))
    half = max((part.size[0] / 2 + part.size[1] for part in rails), default=LONG - BEYOND)
    past = tidy(profile, PAST)
    far, code, two = tidy(profile, half + past), "LAP-SLED-FENCE", (said("{layers} glued together", layers=2),)
    layers, rooms = stop_layers(table), rooms_of(cuts, high)
    most = max((room.shifts for room in rooms), default=0)
    beyond = tidy(profile, max(BEYOND, OFF + most * shift_of(table)))
    listed = rooms if len({(room.edge, room.shifts) for room in rooms}) > 1 else ()
    yield Jig(
        "LAP-SLED",
        "sled for laps: a long fence on the mitre gauge",
        tuple(part.code for part in carried),
        (
            piece(profile, code, "long fence", rectangle(-beyond, 0, far, high), count=2, notes=two),
            piece(
                profile, "LAP-SLED-STOP", "stop on the fence", rectangle(0, 0, past, high), count=layers,
                notes=(said("{layers} glued together", layers=layers),),
            ),
        ),
        (),
        (
            distance(
                "cutter to the fence's far end", code, Point(0, 0), Point(far, 0), "half a rail + a trench + stop"
            ),
        ),
        tuple(_carrying(table, bool(rails), any(map(on_gauge, carried)), bool(listed))),
        (
            said(
                "Cut two test pieces, turn one over, trenches together: no light, edges level within {near}.",
                near=shown(0.1, profile),
            ),
        ),
        ("A stand under the far end of a long rail; one hand on the gauge, one on the fence's far end.",),
        ways=(tuple(map(translated, ROOMS)), *_listed(table, listed, beyond)) if listed else (),
    )  # fmt: skip


ROOMS = ("pieces", "height", "gauge", "edge down", "to the short end")


def _listed(table: Table, rooms: Sequence[Room], beyond: float) -> Iterator[tuple[str, ...]]:
    """A row for each cut, on a fence that reaches so far `beyond` the cutter, mm."""
    shift = shift_of(table)
    for room in rooms:
        gauge = translated("swung") if room.cut.swung else translated("as set" if room.cut.angle else "square")
        place = shown(beyond - room.shifts * shift, table.profile)
        yield ", ".join(room.cut.codes), shown(room.cut.height, table.profile), gauge, str(room.edge), place


def shift_of(table: Table) -> float:
    """How far the long fence is shifted, so that its last room, aslant through both its layers, is off the cutter."""
    profile, lean = table.profile, pi / 2 - pi / table.sizes.rails
    cutter = max(profile.shop.groove_cutter, profile.shop.router_bit)
    return tidy(profile, cutter / cos(lean) + 2 * profile.jigs.thickness * tan(lean) + APART)


def stop_layers(table: Table) -> int:
    """Thicknesses of the sheet that the stop on the lap sled's fence is glued up of: it stands further off the fence
    than any rail's end is set back, by what it bears on and by the thickness of a block on edge level with it."""
    thick = table.profile.jigs.thickness
    back = max((set_back(part) for part in table.parts if part.cuts("lap")), default=0.0)
    return max(2, ceil((back + max(BEARS, thick)) / thick - ON_EDGE))


def set_back(part: Part) -> float:
    """How far in from its edges a part's end begins, past a tenon's shoulders or rounded corners, mm."""
    box = part.outline.bounds
    ends = [edge for edge in part.outline.edges if min(edge.start.x, edge.end.x) > box.right - ON_EDGE]
    return max((part.blank.bounds.top - max(edge.start.y, edge.end.y) for edge in ends), default=0.0)


def _carrying(table: Table, laps: bool, ends: bool, rooms: bool) -> Iterator[str]:
    if laps and table.sizes.rails > 2:
        yield (
            "Screw it to the mitre gauge that came with the machine, clear of the table; set that by SLAT-GAUGE, the"
            " slope along its slot, and lock it."
        )
    else:
        yield "Screw it to the mitre gauge that came with the machine, clear of the table; set that square, lock it."
    if laps:
        yield said(
            "The machine's own fence off, the rail lies on the table itself, an edge along this one, an end at the "
            "stop, clamped on both sides of the cutter, the clamps at least {clear} clear of all that it cuts, hands "
            "{off}. The first pass cuts the fence's own room; it backs the wood.",
            clear=shown(tidy(table.profile, CLEAR), table.profile),
            off=shown(tidy(table.profile, OFF), table.profile),
        )
    if rooms:
        yield said(
            "A lower cut after a higher one, and one at another angle, wants fresh wood there. The table names for"
            " each cut, in their order, which edge of the fence lies down (write 1 and 2 on them) and how far past"
            " the cutter its short end is; so a neck of {neck} or more stays between the edges.",
            neck=shown(tidy(table.profile, NECK), table.profile),
        )
    if laps and table.sizes.rails > 2:
        yield (
            "Gauge swung: unscrew the fence, put the gauge in the slot on the cutter's other side, and screw the"
            " fence on with its long end and the stop on that side."
        )
    if ends:
        yield (
            "For tenons, the gauge square or as their set-up tells, screw it on so that it ends at the machine's"
            " fence; the end flat on that, an edge along this one, clamped to it."
        )


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
    """The push block, off a board of the table: one end square, the other as what it pushes leans; one for each
    lean."""
    profile, (most, long) = table.profile, (tidy(table.profile, mm) for mm in PUSHED)
    high = min(most, *(part.size[1] for part in standing))
    for number, lean in enumerate(leans_of(table, standing) or [0.0], 1):
        code = "TALL-FENCE-PUSH" + (f"-{number}" if number > 1 else "")
        ring = polygon(((0, 0), (long, 0), (long - high * tan(lean), high), (0, high)))
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

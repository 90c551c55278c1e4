"""The long fence on a mitre gauge, which carries pieces across a cutter, and the rooms that cuts want in it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, cos, pi, tan

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.geometry.tolerance import EQUAL, ON_EDGE
from templategen.jigs.end_hold import CLEAR, on_gauge
from templategen.jigs.fences import LONG, OFF, OVER, SKIN
from templategen.jigs.jig import Jig
from templategen.jigs.piece import distance, piece, shown, tidy
from templategen.parts.part import Part
from templategen.table.assembly import Table

PAST = 60.0
"""Fence past the stop, and the stop's own length, mm."""

BEYOND = 200.0
"""Fence beyond the cutter, so that the piece is held on both sides of the cut, mm."""

APART = 10.0
"""Fence that stays between two rooms of the cutter, mm."""

BEARS = 10.0
"""What of a rail's end, inside its tenon's shoulders or its rounded corners, a stop touches at the least, mm."""

NECK = 20.0
"""Wood of the long fence between rooms in both its edges at the least, mm (assumed): clamps pull on it."""


@dataclass(frozen=True, slots=True)
class OverSled:
    """A cut across pieces at the long fence: which, how high the cutter stands, mm, the angle of its gauge off
    square, degrees, whether that is swung, and whether the fence ends at the machine's, for the pieces' ends."""

    codes: tuple[str, ...]
    height: float
    angle: float
    swung: bool
    at_end: bool = False


@dataclass(frozen=True, slots=True)
class Room:
    """Where a cut meets the long fence: which edge of it lies down, 1 or 2, and how often it was shifted; a higher
    cut deepens a room of its own angle, a lower one has nothing behind it there and takes a fresh one. Below 0 it
    ends at the machine's fence: at -1 as it is made, at each further one once more of that end is sawn off."""

    cut: OverSled
    edge: int
    shifts: int


def rooms_of(cuts: Sequence[OverSled], high: float) -> tuple[Room, ...]:
    """The rooms of cuts in working order in a fence so high, mm, those of a swung gauge in its other edge, those at
    the machine's fence in either: a room there lies over one in the first at the same place, so both together leave a
    neck."""
    found: list[Room] = []
    for cut in cuts:
        deep = {(one.edge, one.shifts): one.cut for one in found}
        shifts = range(-1, -len(found) - 2, -1) if cut.at_end else range(len(found) + 1)
        edges = (1, 2) if cut.at_end else (2 if cut.swung else 1,)
        places = [(edge, at) for at in shifts for edge in edges]
        fit = [(edge, at) for edge, at in places if _with_neck(deep.get((3 - edge, at)), cut, high)]
        alike = [place for place in fit if (own := deep.get(place)) and _deepens(own, cut)]
        fresh = next(place for place in fit if place not in deep)
        found.append(Room(cut, *max(alike, key=lambda place: deep[place].height, default=fresh)))
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
    most = max((0, *(room.shifts for room in rooms)))
    beyond = tidy(profile, max(BEYOND, OFF + most * shift_of(table)))
    listed = tuple(_told(rooms))
    rows = listed if any(not room.cut.at_end or room.shifts < -1 for room in listed) else ()
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
        tuple(_carrying(table, bool(rails), any(map(on_gauge, carried)), listed, bool(rows))),
        (
            said(
                "Cut two test pieces, turn one over, trenches together: no light, edges level within {near}.",
                near=shown(0.1, profile),
            ),
        ),
        ("A stand under the far end of a long rail; one hand on the gauge, one on the fence's far end.",),
        ways=(tuple(map(translated, ROOMS)), *_listed(table, rows, beyond)) if rows else (),
    )  # fmt: skip


def _told(rooms: Sequence[Room]) -> Iterator[Room]:
    """The rooms that are listed: all of those at the machine's fence, and of the others, where any of these stands
    elsewhere than the first."""
    for at_end in (True, False):
        own = [room for room in rooms if room.cut.at_end is at_end]
        if any((room.edge, room.shifts) != (own[0].edge, own[0].shifts) for room in own):
            yield from own


ROOMS = ("pieces", "height", "gauge", "edge down", "to the short end")


def _listed(table: Table, rooms: Sequence[Room], beyond: float) -> Iterator[tuple[str, ...]]:
    """A row for each cut, on a fence that reaches so far `beyond` the cutter, mm."""
    shift = shift_of(table)
    for room in rooms:
        gauge = translated("swung") if room.cut.swung else translated("as set" if room.cut.angle else "square")
        place = shown(beyond - room.shifts * shift, table.profile)
        if room.cut.at_end:
            gauge = translated("as its card tells") if room.cut.angle else gauge
            off = shown(shift, table.profile) if room.shifts < -1 else ""
            place = said("machine's fence[, {off} sawn off there first]", off=off)
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


def _carrying(table: Table, laps: bool, ends: bool, rooms: Sequence[Room], listed: bool) -> Iterator[str]:
    """How it carries pieces; `rooms` are those that need be told, `listed` in a table."""
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
    if rooms and not listed:
        other = dict.fromkeys(code for room in rooms if room.edge == 2 for code in room.cut.codes)
        yield said(
            "{codes} on the fence's other edge: a lower cut after a higher one wants fresh wood there.",
            codes=", ".join(other),
        )
    if listed:
        yield said(
            "A lower cut after a higher one, and one at another angle, wants fresh wood there. The table names for"
            " each cut, in their order, which edge of the fence lies down (write 1 and 2 on them)[ and how far past"
            " the cutter its short end is; so a neck of {neck} or more stays between the edges].",
            neck=shown(tidy(table.profile, NECK), table.profile)
            if any(not room.cut.at_end for room in rooms)
            else "",
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

"""Wood for test pieces: strips of each section that set-ups are tried on, and what the scrap ring is cut from."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from templategen.catalogue import translated
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.angle_gauge import PAIR
from templategen.jigs.trial_piece import SPARE, lap_length, mortised, trial_tenon
from templategen.parts.part import Part, PartKind
from templategen.shop.cut_list import SIZES, inch_columns
from templategen.shop.listing import Cell, Listing
from templategen.shop.rough import LONGEST_STRIP, wider
from templategen.shop.set_ups.feed import is_closed
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.tolerances import SCRAP_RING, STRIPS
from templategen.shop.set_ups.words import is_scribed
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.profile.choices import Units
from templategen.table.profile.model_of_shop import Shop
from templategen.table.rails import lap_of
from templategen.units import format_mm

MORTISED: tuple[PartKind, ...] = ("rail", "base-rail")
"""Kinds of parts whose mortise is tried on a piece of their own section."""

ANY_WOOD = "any dry wood"

SAWN_ANEW = 50.0
"""How much longer a piece of the scrap ring is at first, to be sawn a second and a third time, mm."""

CLOSED_RING: Mapping[Units, float] = {"mm": 5.0, "in": 6.35}
"""What those pieces' last length is told in, mm."""

ENDS = 2
"""How many angles a pair of test pieces shows: one at each of its ends."""

STEP = 10.0
"""Strips are told in steps of this, or of half an inch, mm."""


@dataclass(frozen=True, slots=True)
class TrialWood:
    """`count` strips: their wood, finished section and `length`, mm; the set-ups `tried` on them, by number; length
    and width of each as sawn out."""

    code: str
    wood: str
    count: int
    length: float
    width: float
    thickness: float
    tried: tuple[int, ...]
    rough: tuple[float, float]

    def resawn(self, shop: Shop, thickness: float) -> bool:
        """Whether it is sawn flatwise out of wood so thick, mm: more than is planed off."""
        return thickness > self.thickness + shop.planing


def trial_wood(table: Table, set_ups: Sequence[SetUp]) -> tuple[TrialWood, ...]:
    """What is made before the first of the set-ups that need it: no strip is longer than is handy, nor too short to
    be fed by hand."""
    return tuple(
        one for code in dict.fromkeys((*STRIPS.values(), SCRAP_RING)) for one in _strips(table, set_ups, code)
    )


def _strips(table: Table, set_ups: Sequence[SetUp], code: str) -> Iterator[TrialWood]:
    on_it = [one for one in set_ups if code in one.proof.test_piece]
    if not on_it:
        return
    shop, numbers = table.profile.shop, tuple(one.number for one in on_it)
    like = _like(table, code)
    is_ring = code == SCRAP_RING
    ring = [ring_piece(table, set_ups) + SAWN_ANEW] * table.sizes.segments + _fillers(table, set_ups)
    packed = _packed(shop, ring if is_ring else list(_pieces(table, on_it, code)))
    packed = [max(packed)] * len(packed) if is_ring else packed
    lengths = Counter(_rounded(length, table.profile.units) for length in packed)
    wood = ANY_WOOD if is_ring else like.wood
    for length, count in lengths.items():
        width = like.blank.bounds.height
        rough = length + shop.longer, width + wider(shop, length)
        yield TrialWood(code, wood, count, length, width, like.thickness, numbers, rough)


def ring_piece(table: Table, set_ups: Sequence[SetUp]) -> float:
    """How long a piece of the scrap ring is when that closes, mm: held by hand, and where a groove of the rim begins
    and ends in the wood as long as its segments, or it ends before the cutter while it lies at the rear block."""
    closed = {
        code
        for one in set_ups
        if one.operation == "groove"
        for cut in one.cuts
        if is_closed(cut)
        for code in cut.codes
    }
    rim = [part for part in table.parts if part.kind == "rim-segment" and part.code in closed]
    long = max((part.blank.bounds.width for part in rim), default=0.0)
    step = CLOSED_RING[table.profile.units]
    return max(table.profile.shop.holding, ceil(long / step - EQUAL) * step)


def _fillers(table: Table, set_ups: Sequence[SetUp]) -> list[float]:
    """What stands in the last segment's place while that is still to be scribed: as long as the others."""
    scribed = (lay for one in set_ups if is_scribed(one) for cut in one.cuts for lay in cut.lays)
    return [table.sizes.outer_length] * sum(lay.pieces for lay in scribed)


def _like(table: Table, code: str) -> Part:
    """The widest part of the kind that the strip has the section of."""
    kind: PartKind = "rim-segment" if code == SCRAP_RING else next(one for one, own in STRIPS.items() if own == code)
    found = [part for part in table.parts if part.kind == kind]
    return max(found, key=lambda part: part.blank.bounds.height)


def _pieces(table: Table, set_ups: Sequence[SetUp], code: str) -> Iterator[float]:
    """The pieces that are cut off a strip: two for every two angles, of laps one for each rail, of the leg's joint
    one and one to spare; the last serves all other set-ups."""
    angles = sum(one.proof.test_piece != code for one in set_ups if one.operation == "mitre")
    yield from [PAIR[table.profile.units]] * (2 * ceil(angles / ENDS))
    if any(one.operation == "lap" for one in set_ups):
        lap = base_lap(table.sizes) if code == STRIPS["base-rail"] else lap_of(table.sizes)
        yield from [lap_length(lap)] * table.sizes.rails
    for piece in _of_joint(table, set_ups, code):
        yield from [piece.size[0]] * (1 + SPARE)
    yield table.profile.shop.holding


def _of_joint(table: Table, set_ups: Sequence[SetUp], code: str) -> Iterator[Part]:
    """The test pieces of the leg's joint that come off this strip."""
    tenon, *mortises = next(iter(trial_tenon(table))).parts
    done = {one.operation for one in set_ups}
    if code == STRIPS["leg"] and "rebate" in done:
        yield tenon
    if "mortise" in done:
        wanted = [mortised(kind) for kind in MORTISED if STRIPS[kind] == code]
        yield from (one for one in mortises if one.code in wanted)


def _packed(shop: Shop, pieces: Sequence[float]) -> list[float]:
    """The lengths of strips that hold the pieces, a kerf after each and an end to hold the last by."""
    ends = shop.saw_kerf + shop.strip_end
    strips: list[float] = []
    for piece in sorted(pieces, reverse=True):
        room = next((at for at, one in enumerate(strips) if one + piece + shop.saw_kerf <= LONGEST_STRIP), None)
        if room is None:
            strips.append(piece + ends)
        else:
            strips[room] += piece + shop.saw_kerf
    return [max(one, shop.holding) for one in strips]


def _rounded(length: float, units: Units) -> float:
    step = 12.7 if units == "in" else STEP
    return -(-(length - 1e-6) // step) * step


def trial_wood_list(wood: Sequence[TrialWood], units: Units) -> Listing:
    """Header and rows: one for each strip, sizes finished, with the set-ups that are tried on it."""
    inches = units == "in"
    header = ["code", "wood", "pieces", *(f"{size}_mm" for size in SIZES)]
    header += [column for size in SIZES if inches for column in (f"{size}_in", f"{size}_in_error_mm")]
    rows: list[list[Cell]] = []
    for one in wood:
        own = (one.length, one.width, one.thickness)
        rows.append([
            one.code, translated(one.wood), str(one.count), *(format_mm(size, 1) for size in own),
            *(inch_columns(own) if inches else ()), ", ".join(map(str, one.tried)),
        ])  # fmt: skip
    return [*header, "set_ups"], rows

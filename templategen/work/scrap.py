"""Pieces of scrap wood of a size: what lies under, beside and over the work while it is held, routed and bored."""

from collections.abc import Iterator, Mapping

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.jigs.angle_gauge import PAIR
from templategen.jigs.caul import Caul
from templategen.jigs.pivot import proof_offcut
from templategen.jigs.swing import Swing
from templategen.shop.cautions import ROUTER
from templategen.shop.gluing.hold import UNDER
from templategen.shop.pins import BLOCK, GUIDED
from templategen.shop.rough import rough_of
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF
from templategen.table.profile.choices import Units
from templategen.work.closing import BALK
from templategen.work.glued import is_upright
from templategen.work.operation import Operation
from templategen.work.plan import WorkPlan
from templategen.work.stock import FLATWISE_SAWN
from templategen.work.tool import Tool, by_rule, numbers_of, several, steps_of, up
from templategen.work.trimming import BATTEN_WIDE, HALVES, PACKED, batten_long, batten_thick, corners_that_stay

LONG: Mapping[Units, float] = {"mm": 10.0, "in": 25.4}
"""What the length of a piece is rounded up to, mm."""

HIGH: Mapping[Units, float] = {"mm": 1.0, "in": 25.4 / 16}
"""What its thickness is rounded up to where that may be more, mm."""

BATTEN: Mapping[Units, tuple[float, float]] = {"mm": (150.0, 40.0), "in": (6 * 25.4, 1.5 * 25.4)}
"""Length and width of the battens under a cross (assumed), mm: across any arm, and between a foot's end and where its
relief begins."""

STRIP_WIDE: Mapping[Units, float] = {"mm": 20.0, "in": 0.75 * 25.4}
"""Width of a strip that something is packed up by (assumed), mm."""

STRIPS_A_FIELD = 2
"""How many strips the slats of a field lie on (assumed): one near each of their ends."""

PACKING: Mapping[Units, tuple[float, float]] = {"mm": (300.0, 50.0), "in": (12 * 25.4, 2 * 25.4)}
"""Length and width of the packing under a half ring (assumed), mm."""

PACKINGS = 3
"""How many lie under it (assumed): beside each end, and in the middle of the arch."""

END_BLOCK: Mapping[Units, tuple[float, float]] = {"mm": (100.0, 60.0), "in": (4 * 25.4, 2.5 * 25.4)}
"""Length and width of a block that backs an end where the tool comes out (assumed), mm."""

PIN_BLOCK_WIDE: Mapping[Units, float] = {"mm": 40.0, "in": 1.5 * 25.4}
"""Width of the block that guides the pins' bit (assumed), mm."""

PINNED = "bore and pin"
"""What the slats' pins are driven by."""

PRESSING: Mapping[Units, tuple[float, float]] = {"mm": (150.0, 25.0), "in": (6 * 25.4, 25.4)}
"""Length and width of the block that presses a piece to the bandsaw's fence (assumed), mm."""


def scrap_of(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """A row for each kind of piece, with its number and sizes."""
    yield from _pressing(table, work)
    yield from _halves(table, work)
    yield from _packed(table, work)
    yield from _under(table, work)
    yield from _pins(table, work)
    yield from _tried(table, work)


def _row(told: str, count: int, sizes: tuple[float, float, float], use: str, units: Units) -> Tool:
    """`told` with its number; length, width and height."""
    long, wide, high = (by_rule(size, units) for size in sizes)
    words = said("{long} x {wide}, {high} high", long=long.removesuffix(f" {units}"), wide=wide, high=high)
    return several(told, count, words, use, sizes)


def _done(work: WorkPlan, *names: str) -> Operation | None:
    return next((one.operation for one in work.operations if one.operation.does in names), None)


def _pressing(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """What presses a piece to the fence that is sawn flatwise."""
    told = _done(work, FLATWISE_SAWN)
    if told is None or "bandsaw" not in table.profile.shop.machines:
        return
    units = table.profile.units
    high = max(rough_of(table.profile.shop, table.part(code), work.tables).width for code in told.codes)
    told_as = said("{count:# block at the fence|blocks at the fence}", count=1)
    yield _row(told_as, 1, (*PRESSING[units], up(high, LONG[units])), translated(told.does), units)


def _halves(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """The batten that half rings are trimmed along, what they lie on, and what their ends are backed by; balks beside
    the ends that are slotted."""
    told = _done(work, HALVES)
    if told is None:
        return
    units, use, thick = table.profile.units, translated(HALVES), table.profile.top.thickness
    long = up(batten_long(table), LONG[units])
    if ROUTER in told.cautions:
        size = long, BATTEN_WIDE[units], up(batten_thick(table), HIGH[units])
        yield _row(said("{count:# straight batten}", count=1), 1, size, use, units)
    else:
        words = said("{long} or longer", long=by_rule(long, units, 0))
        yield several(said("{count:# straight batten}", count=1), 1, words, use)
    packing = said("{count:# strip to pack up by|strips to pack up by}", count=PACKINGS)
    yield _row(packing, PACKINGS, (*PACKING[units], PACKED[units]), use, units)
    blocks = 2 * len(corners_that_stay(table))
    backed = said("{count:# end block}", count=blocks)
    yield _row(backed, blocks, (*END_BLOCK[units], thick), use, units)
    if on_half := [one for one in work.set_ups if one.on_half]:
        wide, high = BALK[units]
        size = up(table.sizes.joint_face + 2 * table.profile.jigs.router_base, LONG[units]), wide, high
        yield _row(said("{count:# balk}", count=2), 2, size, numbers_of(on_half), units)


def _packed(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """Strips that cauls and slats lie on, planed to their height; one of the latter bears the rule where pins go."""
    units, caul, sizes = table.profile.units, Caul(table.sizes), table.sizes
    step, codes, pinned = LONG[units], {jig.code for jig in work.jigs.jigs}, _done(work, PINNED) is not None
    slats = ", ".join(["ASSEMBLY", *([translated("slat pins")] if pinned else [])])
    for code, use, count, long, high in (
        ("CAUL", "CAUL", sizes.segments, caul.outline.bounds.width, caul.packed),
        ("ASSEMBLY", slats, STRIPS_A_FIELD * sizes.arms, sizes.inner_apothem - sizes.half_rail, sizes.slat_underside),
    ):
        if high > 0 and code in codes:
            told = said("{count:# strip to pack up by|strips to pack up by}", count=count)
            yield _row(told, count, (long // step * step, STRIP_WIDE[units], high), use, units)


def _under(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """Battens under the arms of a cross whose laps, pads or legs are glued."""
    steps = work.gluing.steps
    if laid := [step for step in steps if step.joints.keys() & {"lap", "pad"} or is_upright(step)]:
        units, count = table.profile.units, table.sizes.arms
        told = said("{count:# batten of one height|battens of one height}", count=count)
        yield _row(told, count, (*BATTEN[units], UNDER[units]), steps_of(laid), units)


def _pins(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """The block that guides the pins' bit."""
    if _done(work, PINNED):
        units = table.profile.units
        size = BLOCK[units][0], PIN_BLOCK_WIDE[units], GUIDED * PIN_OF[units].thick
        told = said("{count:# block to bore through|blocks to bore through}", count=1)
        yield _row(told, 1, size, translated("slat pins"), units)


def _tried(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """What the sled's angles are tried on, and the pivot's arc."""
    units, codes = table.profile.units, {jig.code for jig in work.jigs.jigs}
    if "SLED" in codes:
        slats = [part for part in table.parts if part.kind == "slat"]
        wide, thick = (max(part.size[at] for part in slats) for at in (1, 2))
        told = said("{count:# piece to try angles on|pieces to try angles on}", count=2)
        yield _row(told, 2, (PAIR[units], wide, thick), "SLED", units)
    if "PIVOT" in codes:
        told = said("{count:# piece to try the arc on|pieces to try the arc on}", count=1)
        yield _row(told, 1, (*proof_offcut(Swing(table.sizes)), table.profile.jigs.thickness), "PIVOT", units)

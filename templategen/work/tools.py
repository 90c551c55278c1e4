"""What is worked with besides machines: cutters and bits, hand tools, clamps, small things."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import get_args

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.checks.wording import format_size
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.bore_block import end_block_high
from templategen.jigs.bush import guide_of
from templategen.jigs.caul import Caul
from templategen.jigs.push_block import clamp_opening
from templategen.jigs.sled import CLAMPS, PRESSES, PULL, SAFE
from templategen.shop.cautions import HELD_DOWN, ROUTER, asks
from templategen.shop.gluing.hold import OPENING, opening_told
from templategen.shop.gluing.plan import GluingStep
from templategen.shop.listing import Listing
from templategen.shop.pins import pins_of
from templategen.shop.set_ups.bites import widest
from templategen.shop.set_ups.feed import is_closed
from templategen.shop.set_ups.remarks import LEFT
from templategen.shop.set_ups.set_up import SettingName, SetUp
from templategen.shop.set_ups.starts import BELOW
from templategen.table.assembly import Table
from templategen.table.pins import PIN_OF
from templategen.table.profile.choices import HandTool, Units
from templategen.table.profile.model import Profile
from templategen.work.closing import BALK, RING_LAID, SCRIBE, half_high
from templategen.work.glued import laid_on
from templategen.work.handed_over import TRIED
from templategen.work.in_the_hand import in_the_hand
from templategen.work.plan import WorkPlan
from templategen.work.scrap import scrap_of
from templategen.work.surfaces import FIXED_WITH, GRITS
from templategen.work.tool import Tool, by_rule, numbers_of, several, steps_of, up
from templategen.work.trimming import HALVES, batten_thick, bit_reach

ACROSS: tuple[SettingName, ...] = ("cutter", "width", "size", "radius")
"""The setting that is a cutter's own size, the first that a set-up has."""

BLADES = ("saw blade", "saw", "bandsaw blade", "")
"""Cutters that belong to their machine."""

HOLE_SAW = "hole saw"

SIZED = {
    "chamfer bit": "{across}, with a bearing",
    "corner bead bit": "{across}, with a bearing",
    "round-over bit": "radius {across}, with a bearing",
    HOLE_SAW: "{across} across, its pilot bit through {through}, cutting {reach} deep",
    "groove cutter": "{across} wide, standing {reach} out of the table",
}
"""What is told of a cutter's size."""

MADE_FOR_ANY = ("chamfer bit",)
"""One of the largest size does for all."""

ACROSS_AND_DEEP = "{across} across, cutting {reach} deep"

LED = "bit led by the template"

MEETS = 1.0
"""How far past a piece's middle a hole saw cuts from either face, mm."""

AROUND = ("round corner", "mortise")
"""What a hand router does along a template."""

STEP = {"mm": 1.0, "in": 25.4 / 16}
"""What a reach is rounded up to, mm."""

BAND_STEP, BAND_SPARE = {"mm": 500.0, "in": 12 * 25.4}, 1.1
"""A band is bought by half metres or feet, a tenth longer than it lies round the cauls, for its ratchet (assumed)."""

BY_HAND: Mapping[HandTool, tuple[str, ...]] = {
    "block plane": (RING_LAID, "fit the last segment", "level the joints", "make the pegs"),
    "chisels": ("make the pegs",),
}
"""Operations besides set-ups that a hand tool is named in."""

BENCH: Mapping[Units, float] = {"mm": 80.0, "in": 3 * 25.4}
"""What a clamp must open over a piece on the bench besides: its top and a piece of waste (assumed), mm."""

AT_HAND = 4
"""Clamps that hold a piece, and what lies beside it, on bench and machines (assumed)."""

WEIGHED = (SCRIBE, TRIED)
DRAWN_UP = (RING_LAID, "dry fit")
"""What besides gluing asks for sandbags, and for the band."""

FED = frozenset({"planer", "table saw", "router table", "groove cutter"})
"""Machines past which a piece is fed by hand."""

SMALL = (
    "moisture meter, pencil, marking knife, marking gauge, try square, steel rule, straightedge, winding sticks, "
    "calipers, depth gauge, feelers, mallet and a block to drive with, brush, narrow brush, cloths, scraper, masking "
    "tape, double-sided tape, plastic film, food film, kitchen foil, slips of paper, wax, cork or card for the "
    "cauls, stickers, a waste board to bore on, two blankets, gloves, a metal can with a lid, screwdriver, screws "
    "and glue for the jigs"
)


HEADER = ("tool", "number", "size", "for")


def tools_of(table: Table, work: WorkPlan) -> tuple[Tool, ...]:
    """Cutters in the order of their first use, then hand tools, clamps, and what else the steps ask for."""
    return (
        *_cutters(table, work.set_ups), *_starts(table, work.set_ups), *_led(table, work.set_ups),
        *_pins_bored(table, work), *_halves(table, work),
        *_in_hand(work), *_in_operations(work), *_held_down(table, work.set_ups), *_fed(table, work),
        *_swung(table, work),
        *_holding(table, work), *scrap_of(table, work), *_small(),
    )  # fmt: skip


def tool_list(tools: Iterable[Tool]) -> Listing:
    """Header and rows."""
    return list(HEADER), [[one.item, str(one.count) if one.count else "", one.size, one.use] for one in tools]


def _cutters(table: Table, set_ups: Sequence[SetUp]) -> Iterator[Tool]:
    """One for each kind and size; its reach is the deepest that any set-up asks of it."""
    alike: dict[tuple[str, float], list[SetUp]] = {}
    for one in set_ups:
        if one.cutter not in (*BLADES, LED):
            own = 0.0 if one.cutter in MADE_FOR_ANY else round(_across(one), 3)
            alike.setdefault((one.cutter, own), []).append(one)
    units = table.profile.units
    for (cutter, _), group in alike.items():
        across = by_rule(max(map(_across, group)), units)
        reach = by_rule(up(max(_reach(table, one) for one in group), STEP[units]), units)
        through = by_rule(max(_through(table, one) for one in group), units)
        size = said(SIZED.get(cutter, ACROSS_AND_DEEP), across=across, reach=reach, through=through)
        yield Tool(translated(cutter), 0, size, numbers_of(group))


def _starts(table: Table, set_ups: Sequence[SetUp]) -> Iterator[Tool]:
    """The bits of holes in which cuts start."""
    units, alike = table.profile.units, dict[tuple[float, float], list[SetUp]]()
    for one in set_ups:
        if any(map(is_closed, one.cuts)):
            alike.setdefault((one.value("width"), one.value("height")), []).append(one)
    for (wide, deep), group in alike.items():
        across, reach = by_rule(wide, units), by_rule(up(deep + BELOW[units], STEP[units]), units)
        use = said("holes to start in, {set_ups}", set_ups=numbers_of(group))
        yield Tool(translated("bit"), 0, said(ACROSS_AND_DEEP, across=across, reach=reach), use)


def _led(table: Table, set_ups: Sequence[SetUp]) -> Iterator[Tool]:
    """What runs along a template: the bit and what leads it, a flush bit for what it doesn't reach; and the hollow
    chisels of a mortiser."""
    profile, units = table.profile, table.profile.units
    led = [
        one for one in set_ups if "hand router" in one.needs and (one.operation in AROUND or one.way == "template")
    ]
    if led:
        deepest = max(_reach(table, one) for one in led)
        reach = by_rule(min(deepest, profile.shop.bit_length), units)
        yield Tool(
            translated(LED),
            0,
            said(
                "{guide}, cutting {reach} deep under a template {thick} thick",
                guide=_guide(profile),
                reach=reach,
                thick=by_rule(profile.jigs.thickness, units),
            ),
            numbers_of(led),
        )
    for one in led:
        if one.operation == "round corner" and (over := _reach(table, one) - profile.shop.bit_length) > EQUAL:
            size = said("its bearing at the tip, cutting {over} deep", over=by_rule(over, units))
            yield Tool(translated("flush bit"), 0, size, numbers_of([one]))
    mortised = [one for one in set_ups if "mortiser" in one.needs]
    for wide in sorted({widest(one, units) for one in mortised}):
        using = [one for one in mortised if widest(one, units) == wide]
        reach = by_rule(up(max(_reach(table, one) for one in using), STEP[units]), units)
        size = said("{wide} or narrower, cutting {reach} deep", wide=by_rule(wide, units), reach=reach)
        yield Tool(translated("hollow chisel"), 0, size, numbers_of(using))


def _guide(profile: Profile) -> str:
    """The bit, and the bush that leads it or its own bearing."""
    guide = guide_of(profile)
    bit = by_rule(guide.bit, profile.units)
    if guide.is_bearing:
        return said("{across}, with a bearing", across=bit)
    return said("{bit}, led by a guide bush of {bush}", bit=bit, bush=by_rule(guide.bush, profile.units))


def _pins_bored(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """The bit for the slats' pins."""
    if any(one.operation.does == "bore and pin" for one in work.operations):
        units, pins = table.profile.units, pins_of(table)
        across, reach = by_rule(PIN_OF[units].thick, units), by_rule(up(pins.reach(units), STEP[units]), units)
        yield Tool(translated("bit"), 0, said(ACROSS_AND_DEEP, across=across, reach=reach), translated("slat pins"))
        if pins.filled:
            size = said("{across} across, hard wood", across=across)
            yield Tool(translated("a few dowels"), 0, size, translated("slat pins"))


def _halves(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """What half rings are trimmed by: a batten, and the bit that runs along it."""
    told = next((one.operation for one in work.operations if one.operation.does == HALVES), None)
    if told is None:
        return
    units, use = table.profile.units, translated(HALVES)
    if ROUTER in told.cautions:
        far = batten_thick(table) + bit_reach(table)
        size = said(
            "its bearing at the shank, cutting {reach} deep, its shank so long that it stands {far} out of the base "
            "with the collet full",
            reach=by_rule(bit_reach(table), units),
            far=by_rule(far, units),
        )
        yield Tool(translated("pattern bit"), 0, size, use)
    bench = said("{count:# clamp to the bench|clamps to the bench}", count=2)
    yield several(bench, 2, translated("over a half ring, its packing and the top"), use)
    if on_half := [one for one in work.set_ups if one.on_half]:
        low = said("lower than the bench's top by {less}", less=by_rule(half_high(table) - BALK[units][1], units))
        yield several(said("{count:# firm box|firm boxes}", count=1), 1, low, numbers_of(on_half))
        upright = said("{count:# bar clamp}", count=2)
        yield several(
            upright, 2, translated("from the bench's back edge to its front, or a vice"), numbers_of(on_half)
        )


def _across(set_up: SetUp) -> float:
    return next((set_up.value(name, set_up.cuts[0]) for name in ACROSS if set_up.setting(name, set_up.cuts[0])), 0.0)


def _reach(table: Table, set_up: SetUp) -> float:
    """How deep it cuts: as high as it stands, and through a block that guides it, or through the thickest piece; a
    hole saw from both its faces."""
    block = end_block_high(table) if "END-BLOCK" in set_up.jigs else 0.0
    told = [set_up.value("height", cut) + block for cut in set_up.cuts if set_up.setting("height", cut)]
    through = _through(table, set_up)
    return max(told, default=through / 2 + MEETS if set_up.cutter == HOLE_SAW else through)


def _through(table: Table, set_up: SetUp) -> float:
    return max(table.part(code).size[2] for code in set_up.codes)


def _in_hand(work: WorkPlan) -> Iterator[Tool]:
    set_ups, done = work.set_ups, [planned.operation.does for planned in work.operations]
    for tool in get_args(HandTool):
        using = [one for one in set_ups if tool in one.needs or tool in _besides(one)]
        besides = [translated(name) for name in dict.fromkeys(done) if name in BY_HAND.get(tool, ())]
        if using or besides:
            yield Tool(translated(tool), 0, "", ", ".join([*([numbers_of(using)] if using else []), *besides]))
    if filed := [one for one in set_ups if one.operation == "pin slot"]:
        yield Tool(translated("file"), 0, "", numbers_of(filed))


def _besides(set_up: SetUp) -> tuple[HandTool, ...]:
    """Hand tools that a card at a machine names: what squares what is round, pares a pad, cuts a channel in a
    sole, or saws and chops a trench where no cutter reaches."""
    if set_up.operation == "lap" and set_up.way == "machine":
        return "tenon saw", "chisels"
    return ("chisels",) if _squared(set_up) or asks(set_up, "template") or set_up.setting("channel") else ()


def _in_operations(work: WorkPlan) -> Iterator[Tool]:
    """What pins and glides are bored and driven with."""
    for one in (planned.operation for planned in work.operations):
        if one.way in FIXED_WITH.values():
            yield Tool(translated(one.way), 0, "", translated(one.does))


def _held_down(table: Table, set_ups: Sequence[SetUp]) -> Iterator[Tool]:
    """What holds a piece down on the saw's sled, or a short one at the saw's fence."""
    if using := [one for one in set_ups if "SLED" in one.jigs or asks(one, *HELD_DOWN)]:
        most = CLAMPS if any("SLED" in one.jigs for one in using) else 1
        size = said("pressing with {force} or more", force=figured(format_size(PRESSES, "N", table.profile.units)))
        yield several(said("{count:# hold-down clamp}", count=most), most, size, numbers_of(using))
    if using := [one for one in set_ups if "END-SLED" in one.jigs]:
        wide = _opening(clamp_opening(table), table.profile.units)
        yield several(said("{count:# clamp}", count=1), 1, wide, numbers_of(using))
    units = table.profile.units
    wide = _opening(max(part.thickness for part in table.parts) + BENCH[units], units)
    yield several(said("{count:# clamp}", count=AT_HAND), AT_HAND, wide, translated("bench, fences and stops"))


def _opening(least: float, units: Units) -> str:
    return said("opening {wide} or wider", wide=by_rule(up(least, OPENING[units]), units, 0))


def _fed(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """What saws and planes in the hand are led by, what an end is planed on, and what keeps hands off cutters."""
    yield from in_the_hand(table, work)
    if any(FED.intersection(one.needs) for one in work.set_ups):
        yield Tool(translated("push stick, push blocks, two with soft soles, featherboards, two stands"), 0, "", "")


def _swung(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """What the ring turns on, and what holds the pivot's slide."""
    if any(jig.code == "PIVOT" for jig in work.jigs.jigs):
        size = said("{across} across", across=by_rule(table.profile.jigs.pin, table.profile.units))
        yield Tool(translated("steel rod and a wooden dowel"), 0, size, "PIVOT")
    if any(jig.code == "SLED" for jig in work.jigs.jigs):
        size = said("{pull} or more", pull=figured(format_size(PULL * SAFE, "N", table.profile.units)))
        yield several(said("{count:# luggage scale}", count=1), 1, size, "SLED")


def _squared(set_up: SetUp) -> bool:
    """Whether a chisel squares what a round cutter or a disc leaves."""
    return any(told in (LEFT[False, True], LEFT[True, True]) for told in set_up.warnings)


def _holding(table: Table, work: WorkPlan) -> Iterator[Tool]:
    """Clamps of each opening for the step that takes most of them, sandbags, and the band; the last two with what
    asks for them besides."""
    units, steps = table.profile.units, work.gluing.steps
    for hold in sorted({(step.hold.opening, step.hold.reach) for step in steps if step.hold.clamps}):
        alike = [step for step in steps if step.hold.clamps and (step.hold.opening, step.hold.reach) == hold]
        count, size = max(step.hold.clamps for step in alike), opening_told(alike[0].hold, units)
        yield several(said("{count:# clamp}", count=count), count, size, steps_of(alike))
    if bagged := _asking(work, [step for step in steps if step.hold.weights], *WEIGHED):
        size = said("{weight} each", weight=laid_on(table))
        yield several(said("{count:# sandbag}", count=table.sizes.arms), table.sizes.arms, size, bagged)
    if banded := [step for step in steps if step.hold.band]:
        long = by_rule(up(Caul(table.sizes).around * BAND_SPARE, BAND_STEP[units]), units, 0)
        known = any(step.hold.band_pressure for step in banded)
        size = said("{long} or longer" if known else "{long} or longer, as many as its step asks", long=long)
        use = _asking(work, banded, *DRAWN_UP)
        yield Tool(translated("band with a ratchet, corner guards"), int(known), size, use)


def _asking(work: WorkPlan, steps: Sequence[GluingStep], *others: str) -> str:
    """The steps, and those of other operations that a plan has, in their order."""
    told = [steps_of(steps)] if steps else []
    there = dict.fromkeys(one.operation.does for one in work.operations)
    return ", ".join((*told, *(translated(does) for does in there if does in others)))


def _small() -> Iterator[Tool]:
    grits = ", ".join(f"P{grit}" for grit in GRITS)
    yield Tool(translated("abrasive paper"), 0, grits, translated("sanding"))
    yield Tool(translated("small things"), 0, translated(SMALL), "")

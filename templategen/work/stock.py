"""From the board to the blank: sawing out, flattening, sawing flatwise."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.parts.part import Part
from templategen.shop.boards import Boards, boards_of, is_planed
from templategen.shop.cautions import BANDSAW, CIRCULAR_SAW, CROSSCUTS, FACING, HAND_SAW, PLANING, STOP_FIRST
from templategen.shop.rough import rough_of, rough_size
from templategen.shop.routed import finished_of, is_routed
from templategen.shop.set_ups.choose import NOTHING, first_of
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.trial_wood import TrialWood, trial_wood
from templategen.table.assembly import Table
from templategen.table.profile.choices import HandTool, Machine, Units
from templategen.table.seasons import seasons_of
from templategen.units import in_one_unit, length_by_rule
from templategen.work.operation import Operation
from templategen.work.routed import beside_router, routed_out

IN_ORDER = (
    "cut in the order of the layout's numbers, ends at the angles that it tells; sizes here are from point"
    " to point, and all of them are rough: the set-ups come after"
)

FROM_THE_ROUTER = (
    "where the layout is a router's, it frees these, and what its sheet calls finished has its outline, laps, "
    "tongues, tenons and mortises: leave out what the plan has for these, and go on with edges, ends and round edges"
)
"""For boards of which only some are sawn."""

EDGED = (
    "then one edge straight and square to it, the lower one of its drawing, of a segment the inner; mark it, for"
    " widths are measured from it"
)

BOTH_FACES = (
    "thicker than the {deep} that your circular saw cuts: lines on both faces, and half the thickness from either"
)

LABELLED = "the face with the label flat: it is the face side, the top of its drawing; mark it, label it again"

READY = (
    "the boards have their thickness already: lay each piece on a flat table and put aside what rocks or is bowed;"
    " the face with the label is its face side, the top of its drawing"
)

FLATWISE = (
    "whole strips or blanks, measured from the face side; what is left behind the last cut is an offcut; let them lie"
    " on sticks overnight, then plane the face side flat again by hand"
)

HELD_UPRIGHT = (
    "face side to the fence, a block as tall as the piece pressing it there before the blade, a push stick at the end"
)
"""How a strip on edge goes through a bandsaw."""

ON_A_CARRIER = (
    "what is thinner than the planer's manual allows goes through it on a flat board as long, a stop behind it"
)
"""How thin pieces go through a planer."""


def from_boards(table: Table, tables: int) -> Iterator[Operation]:
    """What is done to the boards of each thickness, the thickest first, before any set-up."""
    measure = _moisture(table)
    for boards in boards_of(table, tables):
        parts = [table.part(code) for code in boards.codes]
        yield replace(one := _freed(table, boards, parts, tables), tells=(*measure, *one.tells))
        measure = ()
        yield beside_router(_flattened(table, boards, parts, tables), finished_of(table, boards), table.profile.rates)
        thin = [part for part in parts if boards.bought > part.thickness + table.profile.shop.planing]
        planed = [part for part in thin if _is_planed_down(table, boards, part, tables)]
        if planed:
            yield _planed_down(table, boards, planed, tables)
        if sawn := [part for part in thin if part not in planed]:
            yield _sawn_flatwise(table, boards, sawn, tables)


def with_strips(table: Table, sawn: Sequence[Operation], set_ups: Sequence[SetUp]) -> Iterator[Operation]:
    """What is `sawn` out of the boards, and the strips that the set-ups are tried on; none where none of them needs
    one. Where sawing flatwise ends the boards' work the strips come before it: one out of thicker stock is sawn with
    it, and lies overnight with it; else it has a night of its own."""
    wood, shop = trial_wood(table, set_ups), table.profile.shop
    if not wood:
        yield from sawn
        return
    shared = bool(sawn) and sawn[-1].does == FLATWISE_SAWN
    strips = _strips_made(table, wood, shared)
    if not shared:
        resawn = any(one.resawn(shop, thick) for one in wood for thick in _thicknesses(table, one.wood))
        yield from (*sawn, replace(strips, wait=NIGHT_OF_REST) if resawn else strips)
        return
    *before, flatwise = sawn
    yield from (*before, strips, replace(flatwise, tells=(*flatwise.tells, translated(STRIPS_TOO))))


def _strips_made(table: Table, wood: Sequence[TrialWood], shared: bool) -> Operation:
    """The strips sawn out; `shared` says that those out of thicker stock are sawn flatwise by the next operation."""
    units, shop, rates = table.profile.units, table.profile.shop, table.profile.rates
    each = (
        said(
            "{code}: {count:# strip} of {wood:word}, {long} long, finished {wide} x {thick}", code=one.code,
            count=one.count, wood=one.wood,
            long=figured(length_by_rule(one.length, units)), wide=figured(length_by_rule(one.width, units)),
            thick=figured(length_by_rule(one.thickness, units)),
        )
        for one in wood
    )  # fmt: skip
    way, cautions = sawn_out_with(shop.machines, shop.hand_tools)
    more = f"{rates.set_up + 4 * rates.cut:.0f}"
    resawn = (
        said(RESAWN_NEXT, minutes=more)
        if shared
        else said(
            RESAWN_HERE, over=figured(length_by_rule(shop.resaw_face, units)), blocked="bandsaw" in shop.machines,
            minutes=more,
        )
    )  # fmt: skip
    return Operation(
        "saw out the test strips", way, "boards", said("{count:# strip}", count=sum(one.count for one in wood)),
        (STRIPS_FROM, *each, WITH_THEM, resawn),
        "its code on each",
        tuple(in_one_unit(translated(line), units) for line in cautions),
        minutes=rates.set_up + 3 * sum(one.count for one in wood) * rates.cut,
    )  # fmt: skip


def _thicknesses(table: Table, wood: str) -> Iterator[float]:
    """How thick the boards of a wood are: those in stock, else those that are bought."""
    yield from (one.thickness for one in table.profile.stock if one.kind == "board" and one.wood == wood)
    yield from (one.bought for one in boards_of(table) if one.wood == wood)


STRIPS_FROM = "out of what the boards leave over, else out of what was bought for it"

WITH_THEM = (
    "as wide and thick as the rough pieces of that section: plane and rip each with those, at one setting, and cut"
    " test pieces off it as set-ups ask for them"
)

RESAWN_NEXT = (
    "out of thicker stock, {minutes} minutes more for each: true its face and edge, and saw it flatwise with the next"
    " operation's pieces, overnight with them; planed to the thickness by itself where its section's boards come so"
)

RESAWN_HERE = (
    "out of thicker stock, {minutes} minutes more for each: true its face and edge, saw it flatwise {over} over the"
    " thickness[{blocked:?}, face to the fence, a block pressing it there, a push stick at the end], let it lie on"
    " sticks overnight and plane the face side flat again by hand; planed to the thickness by itself where its"
    " section's boards come so"
)

STRIPS_TOO = "test strips out of thicker stock likewise"

SAW_CURVES: tuple[Machine | HandTool, ...] = ("bandsaw", "bow saw")
"""What saws a curve in a sheet where no machine routes it."""

SAWN_OUT = "saw out"
"""How boards become blanks."""

NIGHT_OF_REST = 12.0
"""How long wood that was sawn flatwise lies before it is planed, hours (shop practice)."""

FLATWISE_SAWN, PLANED_DOWN = "saw flatwise", "plane down"
"""How boards come to about the thickness of a part."""

SHAVINGS = 15.0
"""What is so little thicker than a part is planed off where nothing but a hand would saw it, mm (assumed)."""


def _is_planed_down(table: Table, boards: Boards, part: Part, tables: int) -> bool:
    """Whether a planer takes off what a rip saw would: so little that nothing comes of it but shavings."""
    shop = table.profile.shop
    alone = rough_of(shop, part, tables, boards.bought).layers == 1 and boards.bought <= part.thickness + SHAVINGS
    return alone and "planer" in shop.machines and "bandsaw" not in shop.machines


def _planed_down(table: Table, boards: Boards, thin: list[Part], tables: int) -> Operation:
    """Parts out of boards that are a little too thick, for which no machine saws flatwise."""
    rates, units, shop = table.profile.rates, table.profile.units, table.profile.shop
    each = tuple(
        said(
            "{code}: down to {thick}, to {planed} at its set-up", code=part.code,
            thick=figured(length_by_rule(part.thickness + shop.resaw_face, units)),
            planed=figured(length_by_rule(part.thickness, units)),
        )
        for part in thin
    )  # fmt: skip
    metres = sum(
        one.count * one.length * (boards.bought - part.thickness) / PASS[units]
        for one, part in ((rough_of(shop, part, tables, boards.bought), part) for part in thin)
    )
    return Operation(
        PLANED_DOWN, "planer", "blanks", ", ".join(part.code for part in thin),
        (*each, OFF_BOTH_FACES, ON_A_CARRIER),
        said(
            "each {over} over its thickness, at both ends and the middle",
            over=figured(length_by_rule(shop.resaw_face, units)),
        ),
        (PLANING,), minutes=rates.set_up + rates.plane * metres / 300, wait=NIGHT_OF_REST,
        codes=tuple(part.code for part in thin),
    )  # fmt: skip


OFF_BOTH_FACES = (
    "whole strips or blanks, in light passes, as much off one face as off the other, the last off the far one; let"
    " them lie on sticks overnight, then plane the face side flat again by hand"
)

PASS: Mapping[Units, float] = {"mm": 2.0, "in": 25.4 / 16}
"""What a planer takes at a pass where much is to come off, mm (assumed)."""


def _moisture(table: Table) -> tuple[str, ...]:
    """What is measured before anything is cut, since all play in joints is reckoned from it."""
    year = seasons_of(table.profile)
    told = said(
        "before the first cut measure the moisture inside some boards of each thickness: {driest:.0f} to "
        "{wettest:.0f} %; boards that are wetter lie between stickers until they are within; where it isn't about "
        "{built:.0f} % have play and gaps reckoned anew for what you found, before any wood is cut",
        driest=year.driest, wettest=year.wettest, built=year.built,
    )  # fmt: skip
    return (told,)


OF_TOOL: Mapping[str, str] = {
    "bandsaw": BANDSAW, "circular saw": CIRCULAR_SAW, "mitre saw": CROSSCUTS, "tenon saw": HAND_SAW,
    "rip saw": HAND_SAW,
}  # fmt: skip
"""What is minded with each tool that boards are cut up with."""


ACROSS = ("circular saw", "mitre saw", "tenon saw", "rip saw", "bandsaw")


def marks_boards(machines: Sequence[Machine]) -> bool:
    """Whether cuts of boards are marked, for no saw has a fence and a stop for them."""
    return not {"table saw", "mitre saw"}.intersection(machines)


def sawn_out_with(machines: Sequence[Machine], hand_tools: Sequence[HandTool]) -> tuple[str, tuple[str, ...]]:
    """What cuts boards along and across the grain, and what is minded with it."""
    own = (*machines, *hand_tools)
    along = next((one for one in ("bandsaw", "circular saw", "rip saw") if one in own), NOTHING)
    across = next((one for one in ACROSS if one in own), NOTHING)
    both = said("{along:word} along the grain, {across:word} across it", along=along, across=across)
    told = both if along != across else along
    minded = dict.fromkeys(OF_TOOL[tool] for tool in (along, across) if tool in OF_TOOL)
    return told, (*minded, *((STOP_FIRST,) if machines else ()))


def _freed(table: Table, boards: Boards, parts: list[Part], tables: int) -> Operation:
    rates, units, shop = table.profile.rates, table.profile.units, table.profile.shop
    roughs = {part.code: rough_of(shop, part, tables, boards.bought) for part in parts}
    told = tuple(
        said(
            "{code}: {blanks}, {long} long, {wide} wide", code=code, blanks=rough.says,
            long=rough_size(rough.length, units), wide=rough_size(rough.width, units),
        )
        for code, rough in roughs.items()
    )  # fmt: skip
    cuts = 3 * sum(rough.count for rough in roughs.values())
    if is_routed(boards):
        return routed_out(table, boards, told, rates.set_up + cuts * rates.cut)
    tells = (IN_ORDER, *told)
    if any(one.mode == "routed" for one in boards.stock):
        tells += (FROM_THE_ROUTER,)
    way, cautions = sawn_out_with(shop.machines, shop.hand_tools)
    if CIRCULAR_SAW in cautions and boards.bought > shop.circular_saw_depth:
        tells += (said(BOTH_FACES, deep=figured(length_by_rule(shop.circular_saw_depth, units))),)
    return Operation(
        SAWN_OUT,
        way,
        "boards",
        said("{wood:word}, {thick} thick", wood=boards.wood, thick=figured(length_by_rule(boards.bought, units))),
        tells,
        "its label (lists/labels.pdf) on each piece, on a strip those of all its pieces; face up as the layout shows",
        tuple(in_one_unit(translated(line), units) for line in cautions),
        minutes=rates.set_up + cuts * rates.cut,
        codes=boards.codes,
    )


def _flattened(table: Table, boards: Boards, parts: list[Part], tables: int) -> Operation:
    rates, shop = table.profile.rates, table.profile.shop
    roughs = [rough_of(shop, part, tables, boards.bought) for part in parts]
    ready = [part.code for part in parts if is_planed(table, part)]
    rough = [part.code for part in parts if part.code not in ready]
    metres = sum(one.count * one.length * (1 if is_planed(table, part) else 2)
                 for one, part in zip(roughs, parts, strict=True))  # fmt: skip
    return Operation(
        "face and edge",
        said("{tool:word}, straightedge and winding sticks", tool=first_of(shop, "planer", "jointer plane")),
        "blanks",
        ", ".join(boards.codes),
        (*_faced(ready, rough), EDGED),
        "no light under a straightedge along and across, nor under a square",
        (FACING,) if "planer" in shop.machines else (HAND_SAW,),
        minutes=rates.set_up + rates.plane * metres / 300,
        codes=boards.codes,
    )


def _faced(ready: Sequence[str], rough: Sequence[str]) -> Iterator[str]:
    """What gets a face side planed, and what has one from the yard; the parts are named where both are there."""
    if rough:
        yield f"{', '.join(rough) + ': ' if ready else ''}{translated(LABELLED)}"
    if ready:
        yield f"{', '.join(ready) + ': ' if rough else ''}{translated(READY)}"


def _sawn_flatwise(table: Table, boards: Boards, thin: list[Part], tables: int) -> Operation:
    rates, units = table.profile.rates, table.profile.units
    shop = table.profile.shop
    roughs = {part.code: rough_of(shop, part, tables, boards.bought) for part in thin}
    each = tuple(
        said(
            "{code}: {thick} from the face side[, {layers} out of each; plane the sawn face flat before each further "
            "cut, it is the next face side]; planed to {planed} at its set-up",
            code=part.code, thick=figured(length_by_rule(part.thickness + shop.resaw_face, units)),
            layers=roughs[part.code].layers if roughs[part.code].layers > 1 else None,
            planed=figured(length_by_rule(part.thickness, units)),
        )
        for part in thin
    )  # fmt: skip
    cuts, sawn = sum(rough.count * rough.layers for rough in roughs.values()), "bandsaw" in shop.machines
    return Operation(
        FLATWISE_SAWN,
        said(
            "{tool:word} and its fence" if sawn else "{tool:word}, along a gauged line",
            tool=first_of(shop, "bandsaw", "rip saw"),
        ),
        "blanks",
        ", ".join(part.code for part in thin),
        (
            *each,
            *((HELD_UPRIGHT,) if sawn else ()),
            FLATWISE,
            *((ON_A_CARRIER,) if "planer" in shop.machines else ()),
        ),
        said(
            "each {over} over its thickness, at both ends and the middle",
            over=figured(length_by_rule(shop.resaw_face, units)),
        ),
        (BANDSAW,) if sawn else (HAND_SAW,),
        minutes=rates.set_up + 4 * cuts * rates.cut,
        wait=NIGHT_OF_REST,
        codes=tuple(part.code for part in thin),
    )

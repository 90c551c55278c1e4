"""The jigs that the operations of a plan are worked by, and making them; of other ways of working there are none."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.errors import Fault
from templategen.jigs.angle_gauge import bevel_gauge, slat_gauge
from templategen.jigs.assembly_board import assembly_board, lettered
from templategen.jigs.bore_block import bore_block, draw_block, end_block
from templategen.jigs.caul import cauls
from templategen.jigs.edge_template import groove_templates, slot_templates
from templategen.jigs.end_hold import on_gauge
from templategen.jigs.fences import fence_face, tall_fence
from templategen.jigs.jig import Builder, Jig, jigs_that_go
from templategen.jigs.lap_sled import OverSled, lap_sled
from templategen.jigs.leg_corner import leg_corners
from templategen.jigs.mitre_gauge import mitre_gauge
from templategen.jigs.mortise_template import mortise_templates
from templategen.jigs.packing import mortise_packing, tenon_packing, tongue_packing
from templategen.jigs.piece import shown
from templategen.jigs.pivot import pivot
from templategen.jigs.push_block import end_sled
from templategen.jigs.rounding import rounding_templates
from templategen.jigs.setup_block import height_bridges, over_its_opening, stop_blocks
from templategen.jigs.shooting_board import shooting_board
from templategen.jigs.sled import sled
from templategen.jigs.spacers import spacers
from templategen.jigs.stop_strip import STOP_STRIP, Stop, stop_strip
from templategen.jigs.story_stick import story_sticks
from templategen.jigs.tear_out import tear_out
from templategen.jigs.tracing import tracing_patterns
from templategen.jigs.trammel import trammel
from templategen.jigs.trial_piece import trial_laps, trial_tenon
from templategen.jigs.wedge_board import wedge_board
from templategen.parts.part import Part
from templategen.shop.cautions import general
from templategen.shop.set_ups.choose import first_of
from templategen.shop.set_ups.remarks import IN_THE_FENCE
from templategen.shop.set_ups.set_up import Setting, SetUp
from templategen.table.assembly import Table
from templategen.work.operation import Operation

TABLE_MACHINES = frozenset({"table saw", "router table", "groove cutter"})
"""Machines whose cutter projects from a table."""

ALIKE = 0.01
"""Angles within this are one, degrees."""

OFF_A_STRIP = ("TEST-", "PACK-")
"""How the codes of jigs begin that are made of the table's own wood, once there are strips of it."""

LAID_OUT = ("lap", "groove", "rebate", "nib", "shoulder", "mortise", "bore", "drain")
"""What is marked along a rail or a leg before it is cut."""


def _does(*names: str, way: str = "") -> Callable[[Operation], bool]:
    """Operations by name, or of them those with a word in their way."""
    return lambda one: one.does in names and way in one.way


def _told(code: str) -> Callable[[Operation], bool]:
    """Operations whose way of working names it."""
    return lambda one: bool(one.set_up and any(code in says for says in one.set_up.does))


def _end_over(code: str) -> Callable[[Operation], bool]:
    """Ends over a cutter whose card names what carries them."""
    return lambda one: bool(
        one.does == "rebate" and "sled" in one.way and one.set_up
        and any(code in told for told in (*one.set_up.does, *one.set_up.warnings))
    )  # fmt: skip


def _across(one: Operation) -> bool:
    """Cuts over a cutter that the long fence carries pieces across."""
    return _does("lap", "relief", way="sled")(one) or _end_over("LAP-SLED")(one)


def _turned(one: Operation) -> bool:
    """A saw's blade, its gauge, a fence or a straightedge is set off square."""
    return bool(one.set_up and any(own and own.figure.value for own in _angles(one.set_up)))


def _angles(set_up: SetUp) -> Iterator[Setting | None]:
    """Its angle, and those of single cuts."""
    return (set_up.setting("angle", cut) for cut in set_up.cuts)


def _on_a_table(one: Operation) -> bool:
    """A cutter is set to a height above its table."""
    return bool(one.set_up and TABLE_MACHINES.intersection(one.set_up.needs) and one.set_up.setting("height"))


def _along_a_stop(one: Operation) -> bool:
    """Ends are sawn by machine against a stop."""
    return bool(one.does in ("crosscut", "mitre") and one.set_up and one.set_up.way in ("auto", "machine"))


def _on_the_sled(one: Operation) -> bool:
    """Ends sawn on a table saw."""
    return bool(one.does in ("crosscut", "mitre") and one.set_up and "table saw" in one.set_up.needs)


def _in_the_face(one: Operation) -> bool:
    """A cutter runs in the fence, or close to it."""
    return bool(one.set_up and translated(IN_THE_FENCE) in one.set_up.warnings)


def _over_a_cutter(one: Operation) -> bool:
    """A piece stands on its edge or its mitre over a cutter."""
    return bool(one.does in ("groove", "spline slot") and one.set_up and one.set_up.way in ("auto", "machine"))


def _at_the_leg(one: Operation) -> bool:
    """A leg's tenon or its mortise is cut."""
    return one.does == "mortise" or bool(
        one.does in ("rebate", "shoulder") and one.set_up and "LEG" in one.set_up.codes
    )


def _joins(one: Operation) -> bool:
    """A step of the assembly, but not the last, which lets the whole top down."""
    return bool(one.step and not one.step.lets_down)


def _on_the_board(one: Operation) -> bool:
    """Dry or with glue, the top is put together on the board; but laps, whose arms lie on battens above its lines."""
    return one.does in ("dry ring", "dry fit") or bool(_joins(one) and one.step and not one.step.joints.get("lap"))


BY: Mapping[Builder, Callable[[Operation], bool]] = {
    tracing_patterns: _does("crosscut", "mitre", *LAID_OUT, "round corner", "saw round"),
    pivot: _does("saw round", way="pivot"),
    trammel: _does("saw round", way="trammel"),
    tear_out: _does("saw round", way="trammel"),
    shooting_board: _does("scrap ring", "crosscut", "mitre", way="shooting board"),
    mitre_gauge: _does("scrap ring", "mitre"),
    slat_gauge: _turned,
    bevel_gauge: _turned,
    sled: _on_the_sled,
    stop_strip: _along_a_stop,
    spacers: lambda one: one.does in ("dry fit", "bore and pin") or _joins(one),
    story_sticks: _does(*LAID_OUT),
    mortise_templates: _does("mortise", way="template"),
    slot_templates: _does("spline slot", way="template"),
    groove_templates: _does("groove", way="template"),
    rounding_templates: _does("round corner", way="template"),
    bore_block: _does("counterbore", "drill through", "cross bore", way="guide block"),
    end_block: _does("end bore", way="guide block"),
    draw_block: _does("peg bore", "tenon bore"),
    leg_corners: lambda one: one.does in ("round-over", "chamfer") or (_at_the_leg(one) and one.does != "mortise"),
    height_bridges: _on_a_table,
    lap_sled: _across,
    tall_fence: _over_a_cutter,
    end_sled: _end_over("END-SLED"),
    fence_face: _in_the_face,
    tongue_packing: _told("PACK-TONGUE"),
    tenon_packing: _told("PACK-TENON"),
    mortise_packing: _told("PACK-MORTISE"),
    stop_blocks: lambda one: one.does == "lap" and _on_a_table(one),
    trial_tenon: _at_the_leg,
    trial_laps: _does("lap"),
    cauls: lambda one: translated("caul") in one.way or one.does == "dry fit",
    wedge_board: lambda one: translated("wedges on the board") in one.way,
    assembly_board: _on_the_board,
}
"""Which operations each kind of jig is for, in the order of the work; of its jigs those that serve a part in hand."""


@dataclass(frozen=True, slots=True)
class JigsUsed:
    """The jigs that a plan's operations name, and why those that they would name can't be made."""

    jigs: tuple[Jig, ...] = ()
    faults: tuple[Fault, ...] = ()


def jigs_of(
    table: Table, builders: Iterable[Builder], operations: Iterable[Operation]
) -> tuple[tuple[Jig, ...], tuple[Fault, ...]]:
    """The jigs that go, the board with the letters that the operations give the joints, bridges with the heights,
    stop strips with the stops and the laps' sled with the cuts that they set; and why others don't go."""
    letters = {mark.joint: mark.letter for one in operations if one.step for mark in one.step.marks}
    own: dict[Builder, Builder] = {
        height_bridges: partial(height_bridges, asked=_heights(operations)),
        stop_strip: partial(stop_strip, stops=_stops(operations)),
        lap_sled: partial(lap_sled, cuts=tuple(_over_the_sled(table, operations))),
    }
    jigs, faults = jigs_that_go(table, (own.get(build, build) for build in builders))
    return tuple(lettered(table, jig, letters) if jig.code == "ASSEMBLY" else jig for jig in jigs), faults


def jigs_used(table: Table, operations: Sequence[Operation]) -> tuple[tuple[Operation, ...], JigsUsed]:
    """The operations, each with the codes of the jigs that it is worked by, and those jigs."""
    made: list[Jig] = []
    faults: list[Fault] = []
    named: list[tuple[str, ...]] = [() for _ in operations]
    for build, is_for in BY.items():
        at = [place for place, one in enumerate(operations) if is_for(one)]
        jigs, against = jigs_of(table, (build,) if at else (), operations)
        faults += against
        for jig in jigs:
            served = [place for place in at if _serves(jig, operations[place])]
            made += [jig] if served else []
            for place in served:
                named[place] += (jig.code,)
    told = (_set_by(table, replace(one, jigs=codes)) for one, codes in zip(operations, named, strict=True))
    return tuple(_bared(told)), JigsUsed(tuple(made), tuple(dict.fromkeys(faults)))


ALONG_THE_STRIP = "along {strip}'s lined face, from a square stop at the far end's point to the blade"

BY_THE_OPENING = (
    "{says:word}; by the opening of {opening} of HEIGHTS, then raised by {more}: until then each face of the test"
    " piece keeps so much too much"
)


def _set_by(table: Table, one: Operation) -> Operation:
    """The operation with its settings told as its jigs give them: a stop along the strip that slats lie against,
    which stands before the fence; a height that no opening has by that which serves it."""
    if one.set_up is None:
        return one
    set_up = one.set_up
    strip = next((code for code in one.jigs if code.startswith(STOP_STRIP)), "")
    if strip:
        set_up = set_up.told("stop", lambda _: said(ALONG_THE_STRIP, strip=strip))
    if "HEIGHTS" in one.jigs:
        set_up = set_up.told("height", partial(_by_opening, table))
    return replace(one, set_up=set_up)


SLIPS_STAY, SLIPS_OFF = (
    "the scrap ring's slips stay on the fence",
    "the scrap ring's slips off the fence",
)
"""What is told of them at the rim's mitres and at the next angle."""


def _bared(operations: Iterable[Operation]) -> Iterator[Operation]:
    """The operations; where slips or a strip stand on a fence for which a later one must be bare, that says so."""
    strip, slips = "", ""
    saw: tuple[str, ...] = ()
    for one in operations:
        if one.does == "scrap ring":
            slips = SLIPS_STAY
        if one.set_up and _along_a_stop(one):
            needs, told = one.set_up.needs, []
            if slips and (slips == SLIPS_STAY or needs == saw):
                told.append(slips)
                slips, saw = SLIPS_OFF if slips == SLIPS_STAY else "", needs
            own = next((code for code in one.jigs if code.startswith(STOP_STRIP)), "")
            if strip and not own and needs == saw:
                told.append(said("{strip} off: told from the bare fence", strip=strip))
                strip = ""
            strip, saw = (own, needs) if own else (strip, saw)
            set_up = replace(one.set_up, warnings=(*told, *one.set_up.warnings))
            one = replace(one, tells=(*one.tells, *told), set_up=set_up)
        yield one


def _by_opening(table: Table, height: Setting) -> str:
    """What is told of a cutter's height."""
    over = over_its_opening(table, height.figure.value)
    if over is None:
        return height.says
    opening, more = (shown(mm, table.profile) for mm in over)
    return said(BY_THE_OPENING, says=height.says, opening=opening, more=more)


def _heights(operations: Iterable[Operation]) -> set[float]:
    """What cutters above a table are set to, mm."""
    ups = [one.set_up for one in operations if one.set_up and _on_a_table(one)]
    return {one.value("height", cut) for one in ups for cut in one.cuts}


def _over_the_sled(table: Table, operations: Iterable[Operation]) -> Iterator[OverSled]:
    """What is cut across pieces on the laps' sled, and over their ends where they are too long for a block."""
    for operation in operations:
        one, at_end = operation.set_up, _end_over("LAP-SLED")(operation)
        if not one or not _across(operation):
            continue
        angle = one.value("angle") if one.setting("angle") else 0.0
        for swung in (False,) if at_end else (False, True):
            codes: dict[float, dict[str, None]] = {}
            for cut in one.cuts:
                for lay in cut.lays:
                    if on_gauge(_drawn(table, lay.code)) if at_end else lay.swung == swung:
                        codes.setdefault(one.value("height", cut), {})[lay.code] = None
            yield from (OverSled(tuple(own), high, angle, swung, at_end) for high, own in codes.items())


def _drawn(table: Table, code: str) -> Part:
    """The part of that code; of one drawn anew after a re-fit, where the table is the first one, what it was."""
    codes = {part.code: part for part in table.parts}
    return codes.get(code) or codes[code.rpartition("-")[0]]


def _stops(operations: Iterable[Operation]) -> set[Stop]:
    """Where stops stand when ends are sawn by machine."""
    ups = [one.set_up for one in operations if one.set_up and _along_a_stop(one)]
    return {
        (one.value("angle"), one.value("stop", cut), code)
        for one in ups for cut in one.cuts if one.setting("stop", cut) for code in cut.codes
    }  # fmt: skip


def _serves(jig: Jig, one: Operation) -> bool:
    """Whether a part in hand is one that the jig serves; what is done to the whole table has them all in hand."""
    codes = one.set_up.codes if one.set_up else one.step.adds if one.step else one.codes
    if jig.angle is not None and one.set_up:
        stopped = {code for cut in one.set_up.cuts for code in cut.codes if one.set_up.setting("stop", cut)}
        return abs(one.set_up.value("angle") - jig.angle) < ALIKE and not stopped.isdisjoint(jig.serves)
    return not codes or not set(codes).isdisjoint(jig.serves)


JIGS_MADE = "make the jigs"
"""The operation that comes first."""


def jigs_made(table: Table, used: JigsUsed) -> Iterable[Operation]:
    """Making the jigs before anything else; none where there are none. Test pieces and packing come off their strips
    as their set-ups are made."""
    codes = tuple(jig.code for jig in used.jigs if not jig.code.startswith(OFF_A_STRIP))
    if not codes:
        return
    tests = tuple(jig.code for jig in used.jigs if jig.code.startswith(OFF_A_STRIP))
    tells = (
        said("make {jigs}: the sheet of each has its pieces, its lines and its proof", jigs=", ".join(codes)),
        "each before the first operation that names it",
        *(
            (said("not yet {jigs}: off the strips, at the set-ups that name them", jigs=", ".join(tests)),)
            if tests
            else ()
        ),
    )
    shop = table.profile.shop
    saw = first_of(shop, "bandsaw", "hand router", "bow saw", "tenon saw")
    drill = first_of(shop, "drill press", "drill", "brace")
    yield Operation(
        JIGS_MADE, said("{saw:word}, {drill:word}, plane, marking knife", saw=saw, drill=drill), "boards",
        said("{count:# jig}, once for all tables", count=len(codes)),
        tells, "each by the proof on its own sheet", general(shop.machines),
        minutes=table.profile.rates.set_up * len(codes), jigs=codes,
    )  # fmt: skip

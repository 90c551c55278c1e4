"""What a card tells besides its figures, by the way that its operation is done in this shop."""

from collections import Counter
from collections.abc import Iterator, Sequence

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.bore_block import end_block_high
from templategen.jigs.end_hold import held, on_gauge
from templategen.jigs.lap_sled import BEARS, set_back
from templategen.jigs.shooting_board import shot
from templategen.jigs.story_stick import story_sticks, trench_letters
from templategen.jigs.trial_piece import BESIDE, lap_length, mortised
from templategen.parts.sides import side
from templategen.shop.set_ups.bites import bites
from templategen.shop.set_ups.feed import FED
from templategen.shop.set_ups.remarks import (
    AGAINST_THE_GRAIN,
    IN_A_TRIED_TONGUE,
    IN_THE_FENCE,
    ON_ITS_EDGE,
    ON_THE_KEPT,
    SLIVERS,
    TO_THE_END,
)
from templategen.shop.set_ups.set_up import Cut, SetUp
from templategen.shop.set_ups.starts import starts
from templategen.shop.set_ups.ways import CUTS_RIGHT_THROUGH, TO_THE_LINE, ShopWay
from templategen.table.assembly import Table
from templategen.table.pedestal import base_lap
from templategen.table.profile.choices import Units
from templategen.table.rails import lap_of, top_leg_joint
from templategen.units import length_by_rule

TOUCHES = 20.0
"""How much of a tenon's end a stop meets, mm (shop practice)."""

SUNK = 5.0
"""How far above a cutter the heads of screws stay that hold what it cuts, mm (shop practice)."""


MEETS = 3.0
"""How far two cuts from both faces of a piece go past each other, mm (shop practice)."""


def besides(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """All of it, in the order in which it is told."""
    yield from _over_a_table(table, set_up, way)
    yield from dict.fromkeys(_on_trials(table, set_up, way))
    yield from _packed(table, set_up, way)
    yield from _off_a_stick(table, set_up, way)
    yield from _from_both_faces(table, set_up, way)
    yield from _in_the_vice(table, set_up, way)
    yield from _in_a_sole(table, set_up)
    yield from _on_a_strip(table, set_up, way)
    yield from _into_a_leg(table, set_up, way)
    yield from _out_at_an_edge(set_up, way)
    if set_up.operation == "pin slot" and _all_lean(table, set_up.codes):
        yield IN_A_TRIED_TONGUE
    if set_up.relieved and way.kind in ON_ITS_EDGE:
        yield ON_ITS_EDGE[way.kind]
    if set_up.operation == "edge round-over" and table.sizes.is_sawn and way.kind != "by hand":
        yield AGAINST_THE_GRAIN
    if "mortiser" in way.needs:
        yield from bites(set_up, table.profile.units)


def _over_a_table(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """What else is set where a blade or a cutter stands out of a table: the stop of each pass of a lap, how high the
    cutter must reach, what carries an end over it, and the blade for each thickness."""
    units = table.profile.units
    if set_up.operation == "lap" and way.kind == "machine":
        yield from dict.fromkeys(
            said(
                "the stop pass by pass, on the side that is drawn: {stops}",
                stops=_stops_of(set_up, cut, units, round(set_up.value("passes", cut))),
            )
            for cut in set_up.cuts
            if set_up.setting("step", cut)
        )
        yield from _past_the_corners(table, set_up)
        yield said(
            "raise the cutter all the way first and measure: where it doesn't come to the height told, saw and chop"
            " to the same lines"
        )
    if set_up.operation == "relief" and way.kind == "machine":
        yield from _past_the_corners(table, set_up)
    if set_up.operation == "rebate" and way.kind == "machine":
        yield from _ends_carried(table, set_up)
    if set_up.operation == "shoulder" and way.kind == "machine":
        yield _at_a_block(table, set_up)
        yield from (SLIVERS,) if any(table.part(code).cuts("groove") for code in set_up.codes) else ()
    if set_up.operation in FED and way.kind == "machine":
        yield from starts(table, set_up)
    thick = sorted({round(table.part(code).thickness, 3) for code in set_up.codes})
    if set_up.operation in CUTS_RIGHT_THROUGH and "table saw" in way.needs and len(thick) > 1:
        sizes = ", ".join(length_by_rule(one, units) for one in thick)
        yield said("one thickness after the other, the blade a tooth above each: {sizes}", sizes=figured(sizes))


def _at_a_block(table: Table, set_up: SetUp) -> str:
    """How far off the blade a fence with a block stands: the shoulder's distance and the block's thickness."""
    thick, units = table.profile.jigs.thickness, table.profile.units
    fences = dict.fromkeys(set_up.value("fence", cut) + thick for cut in set_up.cuts)
    return said(
        "the block of jig board, {thick} thick: so for cut 1 the fence stands {fences} from the blade's far side",
        thick=figured(length_by_rule(thick, units)),
        fences=figured(", ".join(length_by_rule(one, units) for one in fences)),
    )


def _into_a_leg(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """What a bit is stopped at that goes through END-BLOCK, and what meets a tenon's end beside the fence."""
    units = table.profile.units
    if set_up.operation == "end bore" and "guide block" in way.machine:
        far = set_up.value("height") + end_block_high(table)
        yield said(
            "the stop on the bit stands {far} from its point: the depth and END-BLOCK's plates",
            far=figured(length_by_rule(far, units)),
        )
    if set_up.operation == "cross bore" and way.kind == "machine":
        tenon, section = top_leg_joint(table.sizes), table.profile.legs.section
        wide = (section - min(tenon.width, tenon.thickness)) / 2 + TOUCHES
        yield said(
            "the stop is a block {wide} or more wide and high, against fence and table: so it meets the tenon's end",
            wide=figured(length_by_rule(wide, units, 0, 8)),
        )


def _out_at_an_edge(set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """What backs the corner of a mitre where a bit runs out of its slot: nothing else is behind it there."""
    if set_up.operation != "spline slot" or way.kind != "hand-held":
        return
    stopped = [{one.name for one in cut.settings} for cut in set_up.cuts]
    if any(not {"start", "end"} <= names for names in stopped):
        yield translated(
            "to each edge where the slot is open, the outer one above all, clamp scrap as thick, sawn to the mitre's"
            " angle and level with the end: it backs the corner where the bit runs out"
        )


def _in_a_sole(table: Table, set_up: SetUp) -> Iterator[str]:
    """What leads water out of a drain hole that a flat floor would shut: with the last cut made in the sole."""
    if set_up.setting("channel"):
        units, base = table.profile.units, table.profile.base
        yield said(
            "last chisel a channel into each sole, {wide} wide as its drain hole and {deep} deep, from the hole to"
            " where that foot ends nearest: a flat floor would shut the hole",
            wide=figured(length_by_rule(base.drain_hole, units)),
            deep=figured(length_by_rule(set_up.value("channel"), units)),
        )


def _on_a_strip(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """A pad on a strip is too small for a router's base, and too high for a piece beside it to carry that."""
    pads = [code for code in set_up.codes if table.part(code).kind == "foot"]
    if pads and way.kind == "hand-held" and set_up.operation in ("chamfer", "round-over", "bead"):
        yield said("{pads}: another, or scrap as thick, taped behind it carries the base", pads=", ".join(pads))


def _packed(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """Trenches in the face that a relief is cut into, whose sides a turning cutter comes out at."""
    if set_up.operation != "relief" or way.kind == "by hand":
        return
    face = set_up.cuts[0].lays[0].worked
    parts = (table.part(code) for code in set_up.codes)
    if codes := [part.code for part in parts if any(lap.face == face for lap in part.cuts("lap"))]:
        yield said(
            "{parts}: first fill the trenches in that face with scrap, fitted and flush, or their arrises break out;"
            " two screws hold each on the trench's floor, heads sunk {sunk} or more, clear of the cutter, points"
            " short of the far face",
            parts=", ".join(codes),
            sunk=figured(length_by_rule(set_up.value("height") + SUNK, table.profile.units, 0, 8)),
        )


def _off_a_stick(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """By which lines a trench is cut that no machine's stop places, in a piece whose end has lost its corners."""
    if set_up.operation != "lap" or way.kind == "machine":
        return
    sticks = {code: jig.code for jig in story_sticks(table) for code in jig.serves}
    faces = dict.fromkeys((lay.code, lay.worked) for cut in set_up.cuts for lay in cut.lays)
    several = Counter(code for code, _ in faces)
    for code, face in faces:
        part = table.part(code)
        if set_back(part):
            sides = (translated(" and ").join(pair) for pair in trench_letters(part, face, set_up.value("height")))
            yield said(
                "{part}: that end has no corner left to measure from: the trench lies between the lines[ {letters}]"
                " of {stick}, told from the middle",
                part=f"{code}, {side(face, part.kind)}" if several[code] > 1 else code,
                letters=", ".join(sides),
                stick=sticks[code],
            )


def _from_both_faces(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """Which pieces are thicker than a saw in the hand cuts, and how it saws them."""
    shop, units = table.profile.shop, table.profile.units
    if set_up.operation not in CUTS_RIGHT_THROUGH or "circular saw" not in way.needs:
        return
    thick = [part for part in map(table.part, set_up.codes) if part.thickness > shop.circular_saw_depth]
    if thick:
        yield said(
            "{parts}: thicker than the {deep} that your saw cuts: the line on both faces, the blade {half} deep from"
            " either, the guide clamped anew to the line there",
            parts=", ".join(part.code for part in thick),
            deep=figured(length_by_rule(shop.circular_saw_depth, units)),
            half=figured(length_by_rule(max(part.thickness for part in thick) / 2 + MEETS, units, 0)),
        )


def _in_the_vice(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """Which ends no plane on its side reaches."""
    shorter = shot(table)
    thick = [code for code in set_up.codes if code not in shorter]
    if thick and TO_THE_LINE in way.does:
        yield said(
            "{parts}: too thick for the shooting board: planed to the line in the vice, from every edge inwards",
            parts=", ".join(thick),
        )


def _past_the_corners(table: Table, set_up: SetUp) -> Iterator[str]:
    """How far a stop stands out from the fence where a piece's end is rounded there, or shouldered."""
    if back := max(set_back(table.part(code)) for code in set_up.codes):
        out = figured(length_by_rule(back + BEARS, table.profile.units, 0, 8))
        yield said("the stop stands out {out} or more from the fence: the end meets it past its corner", out=out)


def _stops_of(set_up: SetUp, cut: Cut, units: Units, passes: int, less: float = 0.0) -> str:
    """Where the stop stands for so many passes of a trench, the first on its near side; for a piece whose end is
    `less` mm nearer to the crossing as much less."""
    first, step = set_up.value("stop", cut) - less, set_up.value("step", cut) if passes > 1 else 0.0
    stops = [length_by_rule(first + number * step, units) for number in range(passes)]
    return figured(", ".join((*(one.removesuffix(" mm") for one in stops[:-1]), stops[-1])))


def _on_trials(table: Table, set_up: SetUp, way: ShopWay) -> Iterator[str]:
    """Where a lap's and a mortise's test pieces are cut, which are shorter than the rails."""
    units, machine = table.profile.units, way.kind == "machine"
    if set_up.operation == "mortise":
        beside = figured(length_by_rule(BESIDE, units))
        for code in dict.fromkeys(mortised(table.part(code).kind) for code in set_up.codes):
            yield said("on {test} the mortise begins {beside} from the end", test=code, beside=beside)
    if set_up.operation != "lap":
        return
    says = (
        "the stop for test pieces, {long} long: {stops}"
        if machine
        else "on test pieces, {long} long, the trench begins {stops} from the end"
    )
    for cut in set_up.cuts:
        part = table.part(cut.lays[0].code)
        long = lap_length((lap_of if part.kind == "rail" else base_lap)(table.sizes))
        passes = round(set_up.value("passes", cut)) if machine else 1
        stops = _stops_of(set_up, cut, units, passes, -part.blank.bounds.left - long / 2)
        yield said(says, long=figured(length_by_rule(long, units)), stops=stops)


def _ends_carried(table: Table, set_up: SetUp) -> Iterator[str]:
    """What carries an end over a cutter: a block, or for a piece that is too long for that the mitre gauge."""
    long = [code for code in set_up.codes if on_gauge(table.part(code))]
    others = [code for code in set_up.codes if code not in long]
    if long:
        yield said(
            "[{codes}: ]on the mitre gauge with LAP-SLED, which ends at the machine's fence: an edge clamped along"
            " it, the end flat on the machine's fence, a stand under the far end for the whole way",
            codes=", ".join(long) if others else "",
        )
        if translated(IN_THE_FENCE) not in set_up.warnings:
            yield translated("no wooden face on the machine's fence: it is told from the bare one")
    if set_up.setting("angle"):
        yield TO_THE_END
    if others:
        yield said(
            "[{codes}: ]the end flat along the fence, the edge at the block of END-SLED that its table names for that"
            " end and face, clamped to it where that tells",
            codes=", ".join(others) if long else "",
        )
        if _all_lean(table, others):
            yield ON_THE_KEPT


def _all_lean(table: Table, codes: Sequence[str]) -> bool:
    """Whether no end that a block carries is square, as a test strip's own is."""
    return all(abs(one.lean) > EQUAL for one in held(table) if one.code in codes)

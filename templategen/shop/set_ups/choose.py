"""How an operation is done in this shop: as the maker wishes, else the first way its tools allow."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from math import cos, degrees, radians
from typing import Any

from templategen.catalogue import translated, worded
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.geometry.centroid import centroid
from templategen.geometry.tolerance import EQUAL
from templategen.jigs.edge_template import groove_templates, slot_templates
from templategen.jigs.jig import jigs_that_go
from templategen.parts.part import Part
from templategen.shop.rough import wider
from templategen.shop.set_ups.besides import MEETS, besides
from templategen.shop.set_ups.feed import ACROSS, FED, ended, is_closed
from templategen.shop.set_ups.remarks import (
    ABOUT,
    CARRIED,
    FACET,
    IN_THE_FENCE,
    IN_THE_HAND,
    LEFT,
    ON_THE_CUTTER,
    ON_THE_WOOD,
    OPEN_FIRST,
    SLED,
    TALLER,
)
from templategen.shop.set_ups.sawn_ends import OFF_A_STRIP, OFF_A_STRIP_MARKED, TOO_FAR
from templategen.shop.set_ups.set_up import Cut, Operation, Setting, SetUp
from templategen.shop.set_ups.starts import BORERS
from templategen.shop.set_ups.tolerances import AT_THE_FENCE, FACE_TO_FACE, FROM_EITHER, FROM_THE_TOP
from templategen.shop.set_ups.ways import CUTS_RIGHT_THROUGH, TO_A_KNIFE_LINE, WAYS, ShopWay, Tool
from templategen.table.assembly import Table
from templategen.table.profile.choices import Machine
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Shop

FIRM = 0.05
"""How far in from the ends of what it stands on a piece's weight must lie, as a share."""

NOTHING = "no tool in your shop"

KEYS: Mapping[Operation, str] = {
    "plane": "planing", "rip": "ripping", "crosscut": "ends", "mitre": "ends", "lap": "laps", "groove": "grooves",
    "spline slot": "slots", "rebate": "tongues", "nib": "tongues", "shoulder": "tongues", "mortise": "mortises",
    "bore": "holes", "drain": "holes", "counterbore": "holes", "drill through": "holes", "cross bore": "holes",
    "end bore": "holes", "pin slot": "holes", "peg bore": "holes", "tenon bore": "holes",
    "round-over": "edges", "chamfer": "edges", "bead": "edges",
    "relief": "laps", "edge round-over": "edges", "drip groove": "edges", "saw round": "rounding",
}  # fmt: skip
"""The key of `[work]` for each operation that has one."""

TAKES: Mapping[Tool, Callable[[Shop, float, float], bool]] = {
    "planer": lambda shop, width, height: width <= shop.planer[0] and height <= shop.planer[1],
    "table saw": lambda shop, width, height: height <= shop.saw_depth,
    "circular saw": lambda shop, width, height: height <= 2 * (shop.circular_saw_depth - MEETS),
    "mitre saw": lambda shop, width, height: height <= shop.mitre_saw[0] and width <= shop.mitre_saw[1],
    "bandsaw": lambda shop, width, height: height <= shop.bandsaw_height,
}
"""Whether a machine takes a piece of a width across the cut and a height over its table, mm."""

FROM_BELOW: tuple[Operation, ...] = ("lap", "relief", "nib", "groove", "spline slot", "rebate", "shoulder")
"""On a machine the piece lies over the cutter; a tool in the hand goes over the piece, so what is cut lies up."""

DRIVEN_BY: Mapping[str, tuple[Machine, ...]] = {
    "groove cutter": ("groove cutter",),
    "router bit": ("hand router", "router table"),
}
"""What drives a cutter."""


def owns(shop: Shop, way: ShopWay) -> bool:
    """Whether the shop has every tool of a way."""
    return all(tool in shop.machines or tool in shop.hand_tools for tool in way.needs)


def first_of(shop: Shop, *tools: Tool) -> str:
    """The first of some tools that the shop has."""
    return next((tool for tool in tools if tool in (*shop.machines, *shop.hand_tools)), NOTHING)


def ways_for(profile: Profile, operation: Operation) -> tuple[ShopWay, ...]:
    """The ways that the shop has the tools for, those that the maker wishes first."""
    wish = wish_for(profile, operation)
    owned = [way for way in WAYS[operation] if owns(profile.shop, way)]
    return tuple(sorted(owned, key=lambda way: way.kind != wish)) if wish != "auto" else tuple(owned)


def wish_for(profile: Profile, operation: Operation) -> str:
    """What `[work]` says of an operation."""
    return str(getattr(profile.work, KEYS[operation])) if operation in KEYS else "auto"


def chosen(table: Table, set_up: SetUp, glued: bool = False) -> SetUp:
    """The set-up with its machine and how it is done in this shop; a `glued` assembly doesn't go on a machine."""
    way = _way(table, set_up, glued)
    if way is None:
        told = said(
            "{operation:word}: nothing in your shop does this; it takes {takes}", operation=set_up.operation,
            takes=translated("; or ").join(
                translated(" and ").join(map(translated, needs)) for needs in _wanted(set_up.operation)
            ),
        )  # fmt: skip
        return replace(set_up, machine=NOTHING, warnings=(*set_up.warnings, told))
    if replace(set_up, way=way.kind).is_marked:
        set_up = _in_words_of(replace(set_up, cutter="", kerf_side=""), ON_THE_WOOD)
    elif set_up.operation in (*FED, *ACROSS) and way.kind == "hand-held":
        set_up = _in_words_of(set_up, IN_THE_HAND)
    if way.kind != "machine" and set_up.operation in FROM_BELOW:
        set_up = replace(set_up, cuts=tuple(_from_above(cut, set_up) for cut in set_up.cuts))
    if set_up.operation in FED:
        set_up = _measured_off(replace(set_up, cuts=ended(set_up.cuts, way.kind == "machine")), way)
    of_machines = (
        (ON_THE_CUTTER, OPEN_FIRST, CARRIED, TALLER, TOO_FAR, translated(IN_THE_FENCE))
        if way.kind != "machine"
        else ()
    )
    of_others = () if way.needs == ("table saw",) else (SLED,)
    marked = way.kind != "machine"
    warnings = tuple(
        _of_strips(set_up, told, marked) for told in set_up.warnings if told not in (*of_machines, *of_others)
    )
    carried = (CARRIED,) if way.kind == "machine" and _stands_badly(table, set_up) else ()
    warnings = tuple(dict.fromkeys((*warnings, *carried, *_left_at_ends(table.profile.shop, set_up, way))))
    does = (*_in_units(table.profile, way.does), *besides(table, set_up, way))
    return replace(
        set_up, machine=way.machine, does=does, way=way.kind,
        needs=way.needs, warnings=warnings,
    )  # fmt: skip


def _from_above(cut: Cut, set_up: SetUp) -> Cut:
    """The pieces turned over; what stood off square one way then stands so the other way."""
    turned = set_up.operation in ("lap", "nib") and set_up.value("angle", cut) > EQUAL
    return replace(cut, lays=tuple(replace(lay, up=lay.worked, swung=lay.swung != turned) for lay in cut.lays))


def _measured_off(set_up: SetUp, way: ShopWay) -> SetUp:
    """Grooves and slots that are all cut off the top: level there however thick the wood came out, and nothing to
    prove from the other face; over a cutter, where some have the other face at the fence, both are measured."""
    either = any(one.name == "fence" for cut in set_up.cuts for one in cut.settings)
    proof, instead = set_up.proof, {AT_THE_FENCE: FROM_EITHER} if either else {}
    if way.kind != "machine":
        instead = {AT_THE_FENCE: FROM_THE_TOP, FACE_TO_FACE: FROM_THE_TOP}
    told = (replace(one, measure=instead.get(one.measure, one.measure)) for one in proof.checks)
    return replace(set_up, proof=replace(proof, checks=tuple(told)))


def _of_strips(set_up: SetUp, told: str, marked: bool) -> str:
    """How pieces come off their strips to a line, told of those alone that no stop ends; all are `marked` out where
    the saw is in the hand."""
    codes = dict.fromkeys(code for cut in set_up.cuts for code in cut.codes if set_up.setting("apart", cut))
    alone = len(codes) == len(set_up.codes)
    ends = OFF_A_STRIP_MARKED if marked else OFF_A_STRIP
    return said(ends, codes="" if alone else ", ".join(codes)) if told == OFF_A_STRIP else told


def _in_words_of(set_up: SetUp, pairs: Iterable[tuple[str, str]]) -> SetUp:
    """The set-up, its settings told without a machine: as measured on the wood, or as set on what is in the hand."""

    def told(says: str) -> str:
        for of_a_machine, own in pairs:
            says = says.replace(of_a_machine, own)
        return says

    def marked(settings: Iterable[Setting]) -> tuple[Setting, ...]:
        return tuple(replace(one, says=told(one.says)) for one in settings)

    cuts = (replace(cut, settings=marked(cut.settings), otherwise=marked(cut.otherwise)) for cut in set_up.cuts)
    return replace(set_up, kerf_side=told(set_up.kerf_side), settings=marked(set_up.settings), cuts=tuple(cuts))


def _in_units(profile: Profile, told: Iterable[str]) -> tuple[str, ...]:
    """Sentences with their lengths in the maker's units."""
    return tuple(worded(one, **ABOUT[profile.units]) for one in told)


def _left_at_ends(shop: Shop, set_up: SetUp, way: ShopWay) -> tuple[str, ...]:
    """What a cutter leaves at the stopped ends of grooves, and what to do about it; a chisel leaves nothing."""
    slotted = set_up.operation in FED
    names = {one.name for cut in set_up.cuts for one in cut.settings}
    if not slotted or not names or way.kind not in ("machine", "hand-held"):
        return ()
    fed = (ON_THE_CUTTER if "rear" in names else OPEN_FIRST,) if way.kind == "machine" else ()
    return (*fed, LEFT[set_up.cutter == "groove cutter", "chisels" in shop.hand_tools])


def _way(table: Table, set_up: SetUp, glued: bool) -> ShopWay | None:
    if FACET in set_up.warnings and owns(table.profile.shop, TO_A_KNIFE_LINE):
        return TO_A_KNIFE_LINE
    by_hand = set_up.way == "by hand" or (glued and set_up.cutter == "groove cutter")
    left_out = ("machine", "hand-held", "template") if by_hand else ("machine", "template") if glued else ()
    ways = [way for way in ways_for(table.profile, set_up.operation) if way.kind not in left_out]
    fit = [way for way in ways if _takes(table, set_up, way)]
    badly = _stands_badly(table, set_up)
    return next((way for way in fit if not (badly and way.kind == "machine")), next(iter(fit), None))


def _stands_badly(table: Table, set_up: SetUp) -> bool:
    """Whether a piece that a machine takes standing on its end falls over there."""
    lays = (lay for cut in set_up.cuts for lay in cut.lays if set_up.operation == "spline slot")
    return any(topples_on(table.part(lay.code), lay.worked) for lay in lays)


def topples_on(part: Part, end: str) -> bool:
    """Whether a segment that stands on one of its mitres falls over: its weight lies beyond that end's middle nine
    tenths."""
    right = end == "right"
    edges = [edge for edge in part.blank.anticlockwise.edges if edge.end.y != edge.start.y]
    edge = max(edges, key=lambda one: one.point_at(0.5).x * (1 if right else -1))
    along = edge.end.minus(edge.start).times(1 / edge.length)
    at = centroid(part.blank).minus(edge.start).dot(along) / edge.length
    return not FIRM <= at <= 1 - FIRM


def _takes(table: Table, set_up: SetUp, way: ShopWay) -> bool:
    """Whether a way drives the cutter, and its machines take every piece and tilt far enough."""
    driven = DRIVEN_BY.get(set_up.cutter)
    if driven and not set(driven).intersection(way.needs):
        return False
    if way.needs == ("mitre saw",) and set_up.value("angle") > degrees(table.profile.shop.mitre_reach) + EQUAL:
        return False
    if way.kind == "machine" and set_up.operation in FED and not _starts_holes(table.profile.shop):
        return not any(map(is_closed, set_up.cuts))
    if way.kind == "template" and not templated(table, set_up.operation).issuperset(set_up.codes):
        return False
    if set_up.operation not in CUTS_RIGHT_THROUGH:
        return True
    shop, parts = table.profile.shop, [table.part(code) for code in set_up.codes]
    return all(
        TAKES[tool](shop, *_size(table, set_up, part)) for part in parts for tool in way.needs if tool in TAKES
    )


def _starts_holes(shop: Shop) -> bool:
    """Whether the shop can make the squared holes in which closed cuts start."""
    return "chisels" in shop.hand_tools and first_of(shop, *BORERS) != NOTHING


def templated(table: Table, operation: Operation) -> frozenset[str]:
    """The parts for which a template can be made."""
    jigs, _ = jigs_that_go(table, (groove_templates if operation == "groove" else slot_templates,))
    return frozenset(code for jig in jigs for code in jig.serves)


def _size(table: Table, set_up: SetUp, part: Part) -> tuple[float, float]:
    """Width across the cut, and height over the machine's table."""
    _, width, thickness = part.size
    if set_up.operation == "plane":
        return width + wider(table.profile.shop, part.size[0]) / 2, thickness  # its far edge is still rough
    turned = set_up.value("angle") if set_up.operation in ("crosscut", "mitre") else 0.0
    return width / max(0.1, cos(radians(turned))), thickness


def _wanted(operation: Operation) -> tuple[tuple[Tool, ...], ...]:
    """The tools that would do it, way by way."""
    return tuple(dict.fromkeys(way.needs for way in WAYS[operation]))


def way_findings(table: Table, set_ups: Callable[[Table], Iterable[SetUp]]) -> Iterator[Finding]:
    """A stop for each operation that no tool in the shop can do, a caution where the maker's wish can't be met; a
    shop with every tool needs no check."""
    profile = table.profile
    wished = {operation: wish_for(profile, operation) for operation in WAYS}
    if all(owns(profile.shop, way) for ways in WAYS.values() for way in ways) and set(wished.values()) == {"auto"}:
        return
    seen: dict[Operation, SetUp] = {}
    for one in set_ups(table):
        if one.operation not in seen or one.machine == NOTHING:
            seen[one.operation] = one
    for operation, one in seen.items():
        if one.machine == NOTHING:
            fields: dict[str, Any] = {"operation": operation, "parts": one.codes, "takes": _wanted(operation)}
            yield Finding("no-tool", "stop", "shop.machines", 1.0, (0.0, 0.0), fields)
        elif wished[operation] not in ("auto", *(way.kind for way in ways_for(profile, operation))):
            fields = {"operation": operation, "machine": one.machine, "takes": _wanted(operation)}
            yield Finding("other-tool", "caution", f"work.{KEYS[operation]}", 1.0, (0.0, 0.0), fields)

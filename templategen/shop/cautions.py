"""Cautions at the operation they belong to: short, general, and never instead of the machine's own manual.

Their substance is that of public guidance for circular saws, bandsaws, routers and wood dust, in words of our own.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import Literal

from templategen.catalogue import figured, read_as, translated
from templategen.geometry.edge import Arc
from templategen.parts.kinds import KINDS
from templategen.parts.part import Part
from templategen.shop.set_ups.feed import FED
from templategen.shop.set_ups.set_up import Operation, SetUp
from templategen.shop.set_ups.words import IN_THE_RING
from templategen.table.profile.choices import Machine

SHORT_PIECE = 300.0
"""Pieces shorter than this are not fed to a machine by hand, mm."""

DEFER = "Guards on. The machine's manual, local law and a competent person come before this sheet."
DUST = "Extract the dust at the machine; wear eye and ear protection and a mask that suits the wood."

BY_HAND = (
    "Wear eye protection, and a mask that suits the wood where dust flies.",
    "Local law and a competent person come before this sheet.",
)
"""For work without any machine, in place of the last two."""

GROOVES, BORING, ROUTER, MORTISES = (KINDS[kind].caution for kind in ("groove", "hole", "round-over", "mortise"))
FEED = (
    "Feed against the bit's turn: anticlockwise round an outer edge, clockwise round an inner one; small bites at end"
    " grain; never freehand with its turn."
)
MITRES = "Mitres: clamp the piece to the fence; the stop must not trap the offcut."
SAWING_ROUND = "Sawing round: pivot locked, blade guard down to the work, hands out of the blade's line."
SHORT = "Short piece: work it on the end of a longer strip or in a sled and cut it off last."
SHORT_BY_HAND = "Short piece: work it on the end of a longer strip held in the vice, and cut it off last."
STOP_FIRST = "Stop the blade before clearing offcuts; wait for it to run down."

FACING = (
    "Facing and edging: nothing shorter or thinner than the machine's manual allows; the guard over the cutter block,"
    " push blocks."
)
PLANING = (
    "Planing to thickness: nothing shorter or thinner than the machine's manual allows; stand aside of the feed,"
    " never reach in after a piece."
)
RIPPING = (
    "Ripping: guard on, riving knife close behind the teeth, a push stick of 450 mm (18 in) or more for the last"
    " 300 mm (12 in), the far end supported; high stock in two passes, the blade raised for the second; a thin strip"
    " falls off beyond the blade, never between it and the fence."
)
CROSSCUTS = (
    "Crosscuts: held to the fence by a clamp, never by hand across the blade; the stop must not trap the offcut."
)
LAPS, REBATES = KINDS["lap"].caution, KINDS["tongue"].caution
BANDSAW = "Bandsaw: guard and guide down to the work, hands beside the line, never back out of a curve while it runs."
HAND_SAW = "Hand saw and chisel: the piece held by a clamp or bench stop, both hands behind the edge."
CIRCULAR_SAW = (
    "Circular saw: work and guide clamped, both hands on the saw, the offcut free to fall, the cord out of the way;"
    " the blade set a tooth deeper than the wood; wait for it to stop before laying it down."
)
GLUED_RING = "The glued ring is wide: two persons carry and turn it; what hangs over table or bench rests on stands."
RING_CLAMPED = "Clamp the ring to the bench, packing under it; move each clamp on before the tool comes to it."

IN_SHORT: Mapping[str, str] = {
    PLANING: "stand aside of the feed, never reach in.",
    RIPPING: "guard, riving knife, push stick.",
    CROSSCUTS: "clamped to the fence, the offcut free.",
    MITRES: "clamped to the fence, the offcut free.",
    LAPS: "clamped to the sled, light passes.",
    REBATES: "clamped to block or gauge, hands behind it.",
    GROOVES: "featherboards or a jig, never freehand.",
    MORTISES: "work clamped, hands behind the edge.",
    BORING: "work clamped on a board.",
    ROUTER: "work clamped, both hands, against the bit's turn.",
    BANDSAW: "guard down to the work, hands beside the line.",
    SAWING_ROUND: "pivot locked, hands out of the blade's line.",
    CIRCULAR_SAW: "guide clamped, both hands on the saw.",
    HAND_SAW: "work held, both hands behind the edge.",
}
"""What can hurt, in a line that stands at each card in print: the whole caution is a leaf or two back."""


DRIVEN: Mapping[str, tuple[Machine, ...]] = {
    GROOVES: ("table saw", "groove cutter", "router table"),
    REBATES: ("table saw", "groove cutter", "router table", "mitre saw"),
    LAPS: ("table saw", "groove cutter", "router table"),
    ROUTER: ("router table", "hand router"),
    MITRES: ("table saw", "mitre saw"),
    SAWING_ROUND: ("bandsaw",),
}
"""Cautions that are a machine's, with those that they are of; a hand saw's stands where the shop has none of them, a
router's where that does it."""

SLEDS: tuple[Machine, ...] = ("table saw", "mitre saw")
"""What a short piece is held at in a sled."""

ON_THE_MACHINE = (
    "No bit may meet a clamp, a screw or a pin: run the file once above the work before the first cut.",
    "A bit cuts no deeper than its cutting length; its shank stands in the collet as far as its maker says.",
    "Feed and speed are those of the bit's and the machine's makers.",
    "Small and loose pieces fly: hold them down, stand clear, and stop the machine before reaching in.",
    DUST,
    DEFER,
)
"""For one part on a routing machine."""

LIFT = "Lift with straight backs, fingers clear of the joints as they close."

SHORT_PIECES: Mapping[str, str] = {
    "strip": "{short}: under {least} when cut off, so {operation} them in one long strip.",
    "sled": "Under {least}: {sizes}. Cut them off a longer strip on SLED, the strip clamped: a loose block at"
    " the stop is taken away before the cut, so that what comes off lies free; the last, and whatever is off it,"
    " under a hold-down clamp.",
    "mitre saw": "Under {least}: {sizes}. Cut them off a longer strip, the strip clamped: a loose block at the stop"
    " is taken away before the cut, so that what comes off lies free; the last, and whatever is off it, under a"
    " hold-down clamp.",
    "to a line": "Under {least}: {sizes}. Cut them off a longer strip, the strip clamped, nothing at a stop: what"
    " comes off lies free; the last, and whatever is off it, under a hold-down clamp.",
    "clamped": "Under {least}: {sizes}, off their strip. Hold them under a hold-down clamp at the fence, never in the"
    " hand; what comes off lies free.",
    "vice": "Under {least}: {sizes}. Saw them off a longer strip; the last, and whatever is off it, between blocks of"
    " waste in the vice.",
    "edges": "Under {least}: {sizes}. Screw blocks of waste as thick as the piece to a board, the piece between them;"
    " ease the edges that stand bare, then put the blocks to its other sides.",
    "on a sled": "Under {least}: {sizes}. Clamp them in the sled; never in the hand.",
    "blocks": "Under {least}: {sizes}. Hold them between blocks of waste, never in the hand.",
    "fed": "Under {least}: {sizes}. Featherboards and push blocks alone hold and feed them: no hand on the wood.",
    "template": "Under {least}: {sizes}. Never at a saw, nor in the hand: pared, then taped to the end of {strip}, as"
    " ROUND tells.",
    "carrier": "Under {least}: {sizes}. Round both corners of one end of {strip} with ROUND first, right through: the"
    " bearing runs on them. Tape each there, edges and ends level; the strip is what is clamped or held, that end"
    " clear of the bench; turn the piece for its last edge.",
    "square carrier": "Under {least}: {sizes}. Tape each to the end of {strip}, edges and end level; the strip is"
    " what is clamped or held, that end clear of the bench; turn the piece for its last edge.",
}
"""For pieces too short to be fed by hand, by what holds them: `edges` are blocks while arrises are eased, `on a sled`
is for machines that have one anyway, or for pieces that are off their strip, `vice` for sawing by hand, or with a saw
in the hand, `fed` for what goes along a fence over a cutter; `template` and `carrier` are for pads, which lie on a
strip as wide as they."""

HELD_DOWN = ("sled", "mitre saw", "to a line", "clamped")
"""Of these such as ask for a hold-down clamp."""

BY_OPERATION: Mapping[Operation, tuple[str, ...]] = {
    "plane": (PLANING,),
    "rip": (RIPPING,),
    "crosscut": (CROSSCUTS, STOP_FIRST),
    "mitre": (MITRES, STOP_FIRST),
    "lap": (LAPS,),
    "groove": (GROOVES,),
    "spline slot": (GROOVES,),
    "rebate": (REBATES, GROOVES),
    "nib": (CROSSCUTS, STOP_FIRST),
    "shoulder": (BANDSAW,),
    "mortise": (MORTISES,),
    "bore": (BORING,),
    "drain": (BORING,),
    "counterbore": (BORING,),
    "drill through": (BORING,),
    "cross bore": (BORING,),
    "end bore": (BORING,),
    "peg bore": (BORING,),
    "tenon bore": (BORING,),
    "pin slot": (BORING, HAND_SAW),
    "relief": (LAPS,),
    "round corner": (BANDSAW, ROUTER, FEED),
    "round-over": (ROUTER, FEED),
    "chamfer": (ROUTER, FEED),
    "bead": (ROUTER, FEED),
    "saw round": (SAWING_ROUND, BANDSAW, GLUED_RING),
    "trim": (HAND_SAW, GLUED_RING),
    "drip groove": (ROUTER, FEED, GLUED_RING),
    "edge round-over": (ROUTER, FEED, GLUED_RING),
}
"""By what is done; dust and the deferring line follow everywhere."""

IN_ONE_LENGTH: tuple[Operation, ...] = ("plane", "rip")
"""Done while pieces still hang together."""


EASED: tuple[Operation, ...] = ("round-over", "chamfer", "bead")
"""What takes an arris off."""

Holder = Literal["", "strip", "sled", "blocks", "carrier", "carriage"]
"""What holds a piece that is too short for the hand: the strip it still hangs on, a sled, blocks of waste, a strip of
its own width that it is taped to; a carriage holds one that doesn't stand by itself."""


def holder_of(set_up: SetUp, part: Part) -> Holder:
    """What holds pieces of a short part in a set-up; nothing where they are glued into the ring by then. A pad is
    thinner than fences and bearings are deep: a strip under it makes it as high as a rail."""
    operation = set_up.operation
    if operation in IN_THE_RING:
        return ""
    if operation in IN_ONE_LENGTH or set_up.in_strip:
        return "strip"
    if part.kind == "foot" and (operation in EASED or (operation == "round corner" and set_up.way != "by hand")):
        return "carrier"
    return "sled" if operation in ("crosscut", "mitre") else "blocks"


def set_up_cautions(
    set_up: SetUp,
    parts: Sequence[Part],
    least: float,
    shown: Callable[[float], str],
    freed: Collection[str] = (),
) -> Iterator[str]:
    """The cautions of one set-up, each once: of its operation, of its short pieces with their lengths, then dust and
    the deferring line. `parts` are the table's, `least` the length that may be fed by hand, `freed` the codes of
    those that were cut off their strips before."""
    yield from of_the_way(set_up)
    short = {part.code: part for part in parts if part.size[0] < least - 1e-6}
    for is_off in (False, True):
        state = [short[code] for code in set_up.codes if code in short and (code in freed) is is_off]
        kinds = {part.code: _held_by(set_up, part, is_off) for part in state}
        for kind in dict.fromkeys(kind for kind in kinds.values() if kind):
            own = {part.code: shown(part.size[0]) for part in state if kinds[part.code] == kind}
            yield _of_short(set_up, kind, own, shown(least))
    yield from BY_HAND if set_up.way == "by hand" else (DUST, DEFER)


def general(machines: Sequence[Machine]) -> tuple[str, str]:
    """What is minded with any of these machines, or where there is none: dust, and what comes before a sheet."""
    return (DUST, DEFER) if machines else BY_HAND


def with_tools(caution: str, machines: Sequence[Machine]) -> str:
    """A caution of some work, or that of hand tools where none of the machines is there that it speaks of."""
    needs = DRIVEN.get(caution)
    if needs is None or any(one in machines for one in needs):
        return caution
    return ROUTER if caution in (GROOVES, LAPS) and "hand router" in machines else HAND_SAW


def of_the_way(set_up: SetUp) -> Iterator[str]:
    """The cautions for the tools that it is done with."""
    if set_up.way == "by hand":
        yield HAND_SAW
    elif set_up.way == "hand-held" and "circular saw" in set_up.machine:
        yield CIRCULAR_SAW
    elif set_up.way == "hand-held":
        yield BORING if set_up.machine.startswith("drill") else ROUTER
        yield from (told for told in BY_OPERATION[set_up.operation] if told == FEED)
    elif set_up.operation == "rip" and set_up.machine.startswith("bandsaw"):
        yield BANDSAW
    else:
        yield from BY_OPERATION[set_up.operation]
        return
    if set_up.operation in IN_THE_RING:
        yield GLUED_RING
        if set_up.way == "hand-held":
            yield RING_CLAMPED


def asks(set_up: SetUp, *kinds: str) -> bool:
    """Whether its cautions tell of short pieces what texts of these kinds tell."""
    told = [translated(SHORT_PIECES[kind]) for kind in kinds]
    return any(read_as(one, caution) is not None for one in told for caution in set_up.cautions)


def in_short(set_up: SetUp) -> str:
    """What can hurt most, in a few words."""
    return IN_SHORT[next(of_the_way(set_up))]


def _of_short(set_up: SetUp, kind: str, sizes: Mapping[str, str], least: str) -> str:
    """Pieces too short to be fed by hand that are held alike, by code with their lengths."""
    listed = ", ".join(f"{code} ({size})" for code, size in sizes.items())
    return translated(SHORT_PIECES[kind]).format(
        short=", ".join(sizes), sizes=figured(listed), least=figured(least), strip=set_up.proof.test_piece,
        operation=translated(set_up.operation),
    )  # fmt: skip


def _held_by(set_up: SetUp, part: Part, is_off: bool) -> str:
    """Which of the texts of short pieces tells what holds a part, "" where nothing needs to."""
    holder, in_the_hand = holder_of(set_up, part), set_up.way in ("by hand", "hand-held")
    if holder == "sled":
        return _sawn_by(set_up, part, is_off)
    if holder == "carrier" and set_up.operation == "round corner":
        return "template"
    rounded = any(isinstance(edge, Arc) for edge in part.outline.edges)
    if holder == "carrier" and (set_up.way == "by hand" or not rounded):
        return "square carrier"
    if holder == "blocks" and set_up.operation in EASED:
        return "edges"
    if holder == "blocks" and not in_the_hand:
        return "on a sled" if "sled" in set_up.machine else "fed" if set_up.operation in FED else holder
    return holder


def _sawn_by(set_up: SetUp, part: Part, is_off: bool) -> str:
    """The same where an end is sawn: off the strip with or without a stop, or once the piece is off it."""
    in_the_hand, at_the_saw = set_up.way in ("by hand", "hand-held"), "mitre saw" in set_up.needs
    cuts = [cut for cut in set_up.cuts if part.code in cut.codes]
    names = {one.name for cut in cuts for one in cut.settings}
    if not (is_off or in_the_hand) and ("apart" in names or "stop" not in names):
        return "to a line"
    if at_the_saw:
        return "clamped" if is_off else "mitre saw"
    if is_off:
        return "blocks" if in_the_hand else "on a sled"
    return "vice" if in_the_hand else "sled"

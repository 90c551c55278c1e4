"""Cautions at the operation they belong to: short, general, and never instead of the machine's own manual.

Their substance is that of public guidance for circular saws, bandsaws, routers and wood dust, in words of our own.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from typing import Literal

from templategen.catalogue import figured, read_as, translated
from templategen.parts.kinds import KINDS
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
GLUED_RING = "The glued ring is heavy and wide: two persons, and stands beside the table it overhangs."

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
    "Small and loose pieces fly: hold them down, stand clear, and stop the spindle before reaching in.",
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
    " comes off lies free; the last under a hold-down clamp.",
    "clamped": "Under {least}: {sizes}, off their strip. Hold them under a hold-down clamp at the fence, never in the"
    " hand; what comes off lies free.",
    "vice": "Under {least}: {sizes}. Saw them off a longer strip; the last, and whatever is off it, between blocks of"
    " waste in the vice.",
    "edges": "Under {least}: {sizes}. Screw blocks of waste as thick as the piece to a board, the piece between them;"
    " ease the edges that stand bare, then put the blocks to its other sides.",
    "on a sled": "Under {least}: {sizes}. Clamp them in the sled, a block of waste behind them; never in the hand.",
    "blocks": "Under {least}: {sizes}. Hold them between blocks of waste, never in the hand.",
}
"""For pieces too short to be fed by hand, by what holds them: `edges` are blocks while arrises are eased, `on a sled`
is for machines that have one anyway, or for pieces that are off their strip, `vice` for sawing by hand, or with a saw
in the hand."""

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


Holder = Literal["", "strip", "sled", "blocks", "carriage"]
"""What holds a piece that is too short for the hand: the strip it still hangs on, a sled, blocks of waste; a carriage
holds one that doesn't stand by itself."""


def holder_of(set_up: SetUp) -> Holder:
    """What holds short pieces in a set-up; nothing where they are glued into the ring by then."""
    operation = set_up.operation
    if operation in IN_THE_RING:
        return ""
    if operation in IN_ONE_LENGTH or set_up.in_strip:
        return "strip"
    return "sled" if operation in ("crosscut", "mitre") else "blocks"


def set_up_cautions(
    set_up: SetUp,
    lengths: Mapping[str, float],
    least: float,
    shown: Callable[[float], str],
    freed: Collection[str] = (),
) -> Iterator[str]:
    """The cautions of one set-up, each once: of its operation, of its short pieces with their lengths, then dust and
    the deferring line. `lengths` are those along the grain by code, `least` what may be fed by hand, `freed` those
    that were cut off their strips before."""
    yield from of_the_way(set_up)
    for is_off in (False, True):
        state = {code: length for code, length in lengths.items() if (code in freed) is is_off}
        yield from _short(set_up, state, least, shown, is_off)
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


def is_held_down(set_up: SetUp) -> bool:
    """Whether its cautions ask for a hold-down clamp."""
    told = [translated(SHORT_PIECES[kind]) for kind in HELD_DOWN]
    return any(read_as(one, caution) is not None for one in told for caution in set_up.cautions)


def in_short(set_up: SetUp) -> str:
    """What can hurt most, in a few words."""
    return IN_SHORT[next(of_the_way(set_up))]


def _short(
    set_up: SetUp, lengths: Mapping[str, float], least: float, shown: Callable[[float], str], is_off: bool
) -> Iterator[str]:
    """Pieces too short to be fed by hand, where they are handled singly."""
    short = [code for code in set_up.codes if lengths.get(code, least) < least - 1e-6]
    holder = holder_of(set_up)
    if not short or not holder:
        return
    kind: str = "edges" if holder == "blocks" and set_up.operation in ("round-over", "chamfer", "bead") else holder
    in_the_hand = set_up.way in ("by hand", "hand-held")
    cuts = [cut for cut in set_up.cuts if set(short) & set(cut.codes)]
    if holder == "sled" and not (is_off or in_the_hand) and not any(set_up.setting("stop", cut) for cut in cuts):
        kind = "to a line"
    elif holder == "sled" and "mitre saw" in set_up.needs:
        kind = "clamped" if is_off else "mitre saw"
    elif holder == "sled" and is_off:
        kind = "blocks" if in_the_hand else "on a sled"
    elif holder == "sled" and in_the_hand:
        kind = "vice"
    if holder == "blocks" and "sled" in set_up.machine:
        kind = "on a sled"
    sizes = ", ".join(f"{code} ({shown(lengths[code])})" for code in short)
    yield translated(SHORT_PIECES[kind]).format(
        short=", ".join(short), sizes=figured(sizes), least=figured(shown(least)),
        operation=translated(set_up.operation),
    )  # fmt: skip

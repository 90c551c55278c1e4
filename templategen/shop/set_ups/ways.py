"""The ways in which each operation can be done, the usual one first: the tools it needs and how to do it."""

from collections.abc import Mapping
from dataclasses import dataclass

from templategen.shop.set_ups.set_up import Operation
from templategen.table.profile.choices import HandTool, Machine, WorkWay

Tool = Machine | HandTool


@dataclass(frozen=True, slots=True)
class ShopWay:
    """One way: `kind` as `[work]` names it, every tool that it needs, `machine` as a set-up names it, and how
    it is worked where the figures alone don't say."""

    kind: WorkWay
    needs: tuple[Tool, ...]
    machine: str
    does: tuple[str, ...] = ()


_FROM_THE_MORTISE = (
    "from the middle of the mortise's floor, a board clamped below, so that the underside doesn't break out"
)
_BOTH_FACES = "the pilot bit right through first; then saw from both faces, so that neither breaks out"
_DRAINS = "keep the hole clear of glue: the tenon's cheeks are glued, its end isn't"

_DRAWN_ROUND = "draw it on both faces with compasses, their point the radius in from end and edge; work to the line"
_BACKED = "centred in the counterbore, PACK-MORTISE in the mortise below, so that its floor doesn't break out"
_DOWN = (
    "clamp the leg upright to the bench, its tenon up",
    "clamp END-BLOCK astride the tenon, edges level: its hole stands in the middle and square to the tenon's end",
    "withdraw often; it runs through the cross bore and on to the depth told",
)
_SLOTTED = (
    "bore the round end through the tongue, PACK-TONGUE and a board clamped under it",
    "saw from the tongue's end along both sides of the bore, along the slat, and file until a pin slides",
    "write S on that tongue",
)
_ON_END = (
    (
        "the machine's table swung aside, the leg clamped on end to a square post, its tenon's end level both ways;"
        " the bit's point on the middle of the tenon, by the distances told"
    ),
    _DOWN[-1],
)
_BLIND = (
    ShopWay("machine", ("drill press",), "drill press"),
    ShopWay("hand-held", ("drill",), "drill through a guide block"),
    ShopWay(
        "by hand",
        ("brace",),
        "brace and centre bit",
        ("a square stood beside it both ways, tape on it at the depth told",),
    ),
)


def _pegged(pricked: str, clamped: str, backed: str) -> tuple[ShopWay, ...]:
    """Holes for a peg: one block marks or guides both, so that the draw is in the block."""
    return (
        ShopWay("machine", ("drill press",), "drill press", (pricked, backed)),
        ShopWay("hand-held", ("drill",), "drill through a guide block", (clamped, backed)),
        ShopWay("by hand", ("brace",), "brace and bit through a guide block", (clamped, backed)),
    )


SAW_LINES: tuple[Tool, ...] = ("tenon saw", "marking knife")

KNIFED_ROUND = "knife the line round at the distance and the angle told"
TO_THE_LINE = "plane to the line on the shooting board, its fence at the angle told, scrap behind the far edge"
_ALONG_A_GUIDE = (
    KNIFED_ROUND,
    (
        "lay the piece on a board that may be sawn into, strips as thick as it beside it, so that guide and sole"
        " never tip; clamp a straight guide across at that angle, so that the blade runs {hair} outside the line: off"
        " it by {hair} more than from the blade to the edge of the saw's sole, measured on scrap"
    ),
    TO_THE_LINE,
)
_SHOT = (KNIFED_ROUND, "saw a hair outside it, the piece on a bench hook", TO_THE_LINE)
SHOT_WITH: tuple[Tool, ...] = ("jointer plane", "block plane")
"""What an end is planed with on a shooting board, the best first."""

TO_A_KNIFE_LINE = ShopWay(
    "by hand", ("block plane", "marking knife"), "block plane, to a knife line",
    (KNIFED_ROUND,),
)  # fmt: skip
"""How an edge is planed off the point of an end that is too short for a saw."""

_TRIAL_GROOVE = (
    "rout a trial groove along a straightedge: what lies between the two is how far off a line the straightedge is"
    " clamped for good"
)
_STOOD = (
    "stand so that the straightedge lies beyond the router, and move it from left to right: so the bit draws the base"
    " to it"
)
_ROUTED_ACROSS = (
    _TRIAL_GROOVE,
    (
        "clamp it across at the angle told, so far outside one side line of the trench, and rout along it; then"
        " outside the other line; what stands between goes in passes"
    ),
    _STOOD,
    "several pieces go side by side, their ends level, scrap outside the first and the last",
)
_ROUTED_ALONG = (
    (
        "clamp the piece upright; along the face that the guide doesn't run on clamp a balk of scrap, {wide} or"
        " wider, level with the edge and a router's base longer at both ends: the base stands on both"
    ),
    (
        "its edge guide runs on the face named, from left to right as you face that; at an end that is told screw a"
        " block to the balk, off that by what lies between the bit's side and the base's edge: set the router down"
        " at the left one, it stops at the right one"
    ),
)
_FOOT_TO_FOOT = (
    ("first bring fresh wood of LAP-SLED's fence to the cutter, as its sheet tells: it runs lower than for the laps"),
    (
        "the first pass with one end at the stop; for the last turn the piece end for end, the other edge to the"
        " fence, for both feet are as long; what stands between them goes without a stop, a little less than the"
        " cutter is wide at a time"
    ),
)
_ROUTED_BETWEEN = (
    (
        "clamp a batten along either edge, level with the face: the router's base stands on both, however much is"
        " gone; a straightedge across at each foot, off where that ends by what lies between the bit and the base's"
        " edge"
    ),
)
CLAMPED_UP = (
    "clamp the piece with that end up and level; along the face that the guide doesn't run on clamp a balk of"
    " scrap, {wide} or wider, level with the end and a router's base longer at both its corners: the base stands"
    " on both"
)
"""How a piece stands, and a router on its end."""

_PLUNGED = (
    CLAMPED_UP,
    (
        "screw a block to the balk for each end told: the left one stops the base's left edge, the right one its"
        " right edge, with the bit where the slot ends there; off that by what lies between the bit's side and the"
        " base's edge"
    ),
    (
        "stand on the guide's side; set it down at the left, plunge a light pass at a time, move it from left to"
        " right alone: so the bit draws the guide to the wood"
    ),
)
"""A slot in an end that stands up, with a router that plunges."""

_ALONG_THE_RIM = (
    "lay the top face down on blankets; a straight bit as wide as the groove",
    (
        "screw a block with two round noses, a hand apart, to the guide's fence, so that both run on the rim's edge;"
        " go round anticlockwise as you look down on it, in light passes to the depth"
    ),
)
_IN_A_TEMPLATE = (
    "screw the template to the piece's top face as its own sheet tells, its stop against the end named",
    "light passes, the guide bush along all sides of the window; then square what is round with a chisel",
)
_ROUTED_ENDS = (
    _TRIAL_GROOVE,
    (
        "lay pieces of one kind side by side, their ends in one line, scrap outside the first and the last; clamp the"
        " straightedge across all, so far past the shoulder line as seen from the ends"
    ),
    _STOOD,
    "in passes from the ends inwards, the last along the straightedge; then turn all over",
)
_SAWN_ACROSS = (
    "knife both sides of the cut on the face and down both edges, gauge its depth from the face",
    (
        "saw inside both lines and once or twice between them down to the gauge line, chop out from both edges,"
        " router plane to the depth"
    ),
)

_ENDS = (
    ShopWay("machine", ("mitre saw",), "mitre saw"),
    ShopWay("machine", ("table saw",), "table saw with a mitre gauge"),
    *(
        ShopWay(
            "hand-held",
            ("circular saw", "marking knife", plane),
            "circular saw along a guide, then a shooting board",
            _ALONG_A_GUIDE,
        )
        for plane in SHOT_WITH
    ),
    *(ShopWay("by hand", (*SAW_LINES, plane), "tenon saw and shooting board", _SHOT) for plane in SHOT_WITH),
)
_EDGES = (
    ShopWay(
        "hand-held", ("hand router",), "hand router", ("a second piece clamped behind it, level, carries the base",)
    ),
    ShopWay("machine", ("router table",), "router table, with a starting pin"),
    ShopWay(
        "by hand", ("block plane",), "block plane, to pencil lines",
        ("pencil the size told along both faces; plane a flat between the lines, across the grain first",
         "for a round take off the two arrises that leaves, then again, and finish with paper round a block"),
    ),
)  # fmt: skip

_RING_EDGES = (ShopWay("hand-held", ("hand router",), "hand router"), *_EDGES[1:])

CUTS_RIGHT_THROUGH: tuple[Operation, ...] = ("plane", "rip", "crosscut", "mitre")
"""Operations whose machine must take the whole piece."""

WAYS: Mapping[Operation, tuple[ShopWay, ...]] = {
    "plane": (
        ShopWay("machine", ("planer",), "planer"),
        ShopWay(
            "hand-held", ("hand router", "jointer plane"), "hand router on rails, then a jointer plane",
            (("pack the piece so that it can't rock, between two straight rails of one height; the router rides on a"
             " board across them and takes the face down in passes side by side"),
             "turn it over, the flat face down, to the thickness told; plane the ridges off"),
        ),
        ShopWay(
            "by hand", ("jointer plane", "marking knife"), "jointer plane, to gauge lines",
            ("gauge the thickness told all round from the face side",
             "plane across the grain down to the lines, then along it; try with straightedge and winding sticks"),
        ),
    ),
    "rip": (
        ShopWay("machine", ("table saw",), "table saw"),
        ShopWay("machine", ("bandsaw", "jointer plane"), "bandsaw with a fence, then a jointer plane",
                ("set the fence {hair} further, and plane the sawn edge to the width told",)),
        ShopWay("hand-held", ("circular saw", "jointer plane"), "circular saw along a guide, then a jointer plane",
                (("gauge the width told from the straight edge on both faces; screw strips as thick as the piece to a"
                  " board on both sides of it, so that nothing moves and neither guide nor sole tips; clamp a"
                  " straight guide so that the blade runs {hair} outside the line"),
                 "plane to the lines, square to the face")),
        ShopWay("by hand", ("rip saw", "jointer plane", "marking knife"), "rip saw, then a jointer plane",
                ("gauge the width told from the straight edge on both faces; saw {hair} outside",
                 "plane to the lines, square to the face")),
    ),
    "crosscut": _ENDS,
    "mitre": _ENDS,
    "lap": (
        ShopWay("machine", ("groove cutter",), "groove cutter, with a sled"),
        ShopWay("hand-held", ("hand router",), "hand router along a straightedge", _ROUTED_ACROSS),
        ShopWay("machine", ("router table",), "router table, with a sled"),
        ShopWay("by hand", (*SAW_LINES, "chisels", "router plane"), "tenon saw, chisel, router plane", _SAWN_ACROSS),
    ),
    "groove": (
        ShopWay("machine", ("router table",), "router table"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a tall fence"),
        ShopWay("hand-held", ("hand router",), "hand router with an edge guide", _ROUTED_ALONG),
        ShopWay("template", ("hand router", "chisels"), "hand router in its template, then a chisel", _IN_A_TEMPLATE),
        ShopWay("by hand", ("plough plane", "chisels"), "plough plane and chisel",
                (("chop a stopped end with a chisel as wide as the groove first, to the full depth, as long as the"
                 " plane's skate before its iron"),
                 "plough the rest, its fence on the face named, its depth stop at the depth told")),
        ShopWay("by hand", ("drill", "chisels", "marking knife"), "drill and chisel",
                ("gauge both sides from the face named; bore between the lines to the depth told, side by side",
                 "pare to the lines with a wide chisel, try with the tongue")),
        ShopWay("by hand", ("chisels", "marking knife"), "chisel",
                (("gauge both sides deep from the face named; chop between the lines with a chisel as wide as the"
                 " groove, to the depth told on its side"),
                 "pare to the lines with a wide chisel, try with the tongue")),
    ),
    "spline slot": (
        ShopWay("machine", ("router table",), "router table"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a tall fence"),
        ShopWay("hand-held", ("hand router",), "hand router with an edge guide", _PLUNGED),
        ShopWay("template", ("hand router", "chisels"), "hand router in its template, then a chisel", _IN_A_TEMPLATE),
        ShopWay("by hand", ("drill", "chisels", "marking knife"), "drill and chisel",
                (("gauge both sides of the slot from the face named; bore between the lines, square to the mitre, a"
                 " stop on the bit at the depth told"),
                 "chisel to the lines, try with a spline")),
        ShopWay("by hand", ("chisels", "marking knife"), "chisel",
                ("gauge both sides deep from the face named; chop between the lines to the depth told",
                 "pare to the lines, try with a spline")),
    ),
    "rebate": (
        ShopWay("machine", ("router table",), "router table, with a sled"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a sled"),
        ShopWay("hand-held", ("hand router",), "hand router along a straightedge", _ROUTED_ENDS),
        ShopWay("by hand", (*SAW_LINES, "shoulder plane"), "tenon saw and shoulder plane",
                (("knife the shoulder round at the distance told, gauge the cheek; saw the shoulder to the"
                 " gauge line, then the cheek, both a hair outside"),
                 "plane to the lines, try in the mate")),
        ShopWay("by hand", (*SAW_LINES, "chisels"), "tenon saw and chisel",
                (("knife the shoulder round at the distance told, gauge the cheek; saw the shoulder to the"
                 " gauge line, then the cheek, both a hair outside"),
                 "pare across the grain to the lines, try in the mate")),
    ),
    "nib": (
        ShopWay("machine", ("table saw",), "table saw with a mitre gauge"),
        ShopWay("by hand", (*SAW_LINES, "chisels"), "tenon saw and chisel",
                ("knife the shoulder on both faces, saw to the depth told, chop the waste off to the tongue",)),
    ),
    "shoulder": (
        ShopWay("machine", ("bandsaw",), "bandsaw with a fence",
                (("the shoulder first, pushed with a mitre gauge, the length away from the column, turned over for"
                  " the other edge: the end at a block on the fence that ends {clear} before the blade; in to the"
                  " cheek's line, where the gauge meets a stop clamped to the table"),
                 ("then the cheek to that cut, the other edge at the fence: what falls off lies free here too; a"
                  " stand under the far end; nothing is picked up until the blade stands"))),
        ShopWay("by hand", SAW_LINES, "tenon saw, to the line"),
    ),
    "mortise": (
        ShopWay("machine", ("mortiser",), "mortiser with a hollow chisel"),
        ShopWay("hand-held", ("hand router", "chisels"), "hand router in a template, then a chisel",
                ("light passes, the guide bush on all sides of the mortise template", "square the corners")),
        ShopWay("by hand", ("drill", "chisels", "marking knife"), "drill and chisel",
                ("bore inside the lines, hole by hole, a stop on the bit at the depth told",
                 "chop to the knife lines, the ends first, the sides with the widest chisel that goes in")),
        ShopWay("by hand", ("brace", "chisels", "marking knife"), "brace and chisel",
                ("bore inside the lines, hole by hole, tape on the bit at the depth told",
                 "chop to the knife lines, the ends first, the sides with the widest chisel that goes in")),
    ),
    "bore": (
        ShopWay("machine", ("drill press",), "drill press", (_BOTH_FACES,)),
        ShopWay("hand-held", ("drill",), "drill with a hole saw",
                ("a square stood beside it both ways", _BOTH_FACES)),
        ShopWay("by hand", ("brace",), "brace with an expanding bit",
                ("until its point shows, then from the other face, so that no face breaks out",)),
    ),
    "drain": (
        ShopWay("machine", ("drill press",), "drill press", (_DRAINS,)),
        ShopWay("hand-held", ("drill",), "drill, a square stood beside it", (_FROM_THE_MORTISE, _DRAINS)),
        ShopWay("by hand", ("brace",), "brace and bit", (_FROM_THE_MORTISE, _DRAINS)),
    ),
    "counterbore": _BLIND,
    "cross bore": _BLIND,
    "drill through": (
        ShopWay("machine", ("drill press",), "drill press", (_BACKED,)),
        ShopWay("hand-held", ("drill",), "drill through a guide block", (_BACKED,)),
        ShopWay("by hand", ("brace",), "brace and bit, a square beside it", (_BACKED,)),
    ),
    "end bore": (
        ShopWay("hand-held", ("drill",), "drill through a guide block on the tenon", _DOWN),
        ShopWay("by hand", ("brace",), "brace and bit through a guide block on the tenon", _DOWN),
        ShopWay("machine", ("drill press",), "drill press with the leg on end", _ON_END),
    ),
    "pin slot": (
        ShopWay("machine", ("drill press", "tenon saw"), "drill press, then a tenon saw", _SLOTTED),
        ShopWay("hand-held", ("drill", "tenon saw"), "drill with a square beside it, then a tenon saw", _SLOTTED),
        ShopWay("by hand", ("brace", "tenon saw"), "brace and bit, then a tenon saw", _SLOTTED),
        ShopWay("by hand", (*SAW_LINES, "chisels"), "tenon saw and chisel",
                ("saw from the tongue's end along both sides of the slot, as far in as its round end reaches",
                 "chop the waste out square, from both faces, until a pin slides", _SLOTTED[-1])),
    ),
    "peg bore": _pegged(
        "prick the middle first through DRAW-BLOCK on the edge that lies up, RAIL level with the underside, its line"
        " on the distance told",
        "clamp DRAW-BLOCK on the edge that lies up, RAIL level with the underside, its line on the distance told",
        "right through, before there is a mortise to break out into; a board clamped behind for the far edge",
    ),
    "tenon bore": _pegged(
        "prick the middle first through DRAW-BLOCK on the tenon's cheek, LEG against the shoulder, its line on the"
        " tenon's middle",
        "clamp DRAW-BLOCK on the tenon's cheek, LEG against the shoulder, its line on the tenon's middle",
        "PACK-TENON under the tenon, so that it lies level and doesn't break out",
    ),
    "relief": (
        ShopWay("machine", ("groove cutter",), "groove cutter, with a sled", _FOOT_TO_FOOT),
        ShopWay("hand-held", ("hand router",), "hand router along a straightedge", _ROUTED_BETWEEN),
        ShopWay("machine", ("router table",), "router table, with a sled", _FOOT_TO_FOOT),
        ShopWay("by hand", (*SAW_LINES, "chisels", "jointer plane"), "tenon saw, chisel and plane",
                (("saw down to the line every {apart} between the feet, chop the waste out, plane to the"
                 " line"),)),
    ),
    "round corner": (
        ShopWay("machine", ("bandsaw", "hand router"), "bandsaw, then router with a template"),
        ShopWay("hand-held", ("hand router", "tenon saw"), "tenon saw, then hand router with a template",
                ("saw the corner off straight, outside the line; rout the rest off in light passes",)),
        ShopWay("by hand", ("bow saw", "spokeshave"), "bow saw and spokeshave", (_DRAWN_ROUND,)),
        ShopWay("by hand", ("tenon saw", "block plane"), "tenon saw and block plane",
                (_DRAWN_ROUND, "saw the corner off in straight cuts outside the line, plane to it")),
    ),
    "round-over": _EDGES,
    "chamfer": _EDGES,
    "bead": _EDGES,
    "edge round-over": _RING_EDGES,
    "saw round": (
        ShopWay("machine", ("bandsaw",), "bandsaw on a pivot",
                (("then plane and sand the sawn edge fair, down to the circle: what runs along it copies every"
                  " step"),)),
        ShopWay("hand-held", ("hand router",), "hand router on a trammel",
                ("lay the top face down on a board and screw it there through the waste outside the circle",
                 "light passes, by the trammel's own sheet, until it is through")),
        ShopWay("by hand", ("bow saw", "spokeshave"), "bow saw and spokeshave",
                (("scribe the circle on both faces at the radius told, with a batten from a nail in a plug in the"
                 " pole hole, or in a scrap taped over the rails' crossing; saw {clear} outside"),
                 "spokeshave to both lines, square to the face, with the grain of each segment")),
    ),
    "drip groove": (
        ShopWay("hand-held", ("hand router",), "hand router with an edge guide", _ALONG_THE_RIM),
        ShopWay("by hand", ("chisels", "marking knife"), "cutting gauge and chisel",
                (("gauge both sides of the groove deep from the rim's edge, with a cutting gauge whose fence has two"
                  " round noses"),
                 ("chop and pare between the lines with a chisel no wider than the groove, from both ends of each"
                  " segment, with its grain"))),
    ),
    "trim": (
        ShopWay("by hand", ("tenon saw", "block plane"), "tenon saw and block plane"),
        ShopWay("by hand", ("block plane",), "block plane"),
    ),
}  # fmt: skip
"""By operation; the first way that the shop has the tools for and that takes the piece is used."""

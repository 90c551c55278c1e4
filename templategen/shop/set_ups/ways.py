"""The ways in which each operation can be done, the usual one first: what it needs and how it is worked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from templategen.shop.set_ups.set_up import Operation
from templategen.table.profile.choices import HandTool, Machine, WorkWay

Tool = Machine | HandTool

OWN_WORDS = ""
"""The set-up's own words for its machine, which are those of the usual way."""


@dataclass(frozen=True, slots=True)
class ShopWay:
    """One way: `kind` as `[work]` names it, every tool that it needs, `told` as a set-up names its machine, and how
    it is worked where the figures alone don't say."""

    kind: WorkWay
    needs: tuple[Tool, ...]
    told: str = OWN_WORDS
    does: tuple[str, ...] = ()


_FROM_THE_MORTISE = (
    "from the middle of the mortise's floor, a board clamped below, so that the underside doesn't break out"
)
_DRAINS = "keep the hole clear of glue: the tenon's cheeks are glued, its end isn't"

_BACKED = "centred in the counterbore, waste clamped in the mortise below, so that its floor doesn't break out"
_DOWN = (
    "the block's hole stands square to the tenon's end; clamp it to the tenon's faces at the distances told",
    "withdraw often; it runs through the cross bore and on to the depth told",
)
_ON_END = ("clamp the leg on end so that its tenon's end lies square to the bit", _DOWN[1])
_BLIND = (
    ShopWay("machine", ("drill press",)),
    ShopWay("hand-held", ("drill",), "drill through a guide block, its stop set to the depth"),
    ShopWay("by hand", ("brace",), "brace and centre bit, tape on it at the depth"),
)

SLED = "further than the saw turns: a sled with a fixed fence, set by the gauge's reading"
"""What a saw's own gauge doesn't do."""

ROUND_CORNERS = "a round bit leaves round corners: square them with a chisel, or round the tenons"
ROUND_END = "stopped: a round bit leaves a round end; square it with a chisel, or ease the mate's corners"
RAMP = "stopped: a disc cutter leaves a ramp at the end; rout it, or square it with a chisel"
BY_CUTTERS = (ROUND_CORNERS, ROUND_END, RAMP)
"""What cutters leave, and no chisel does."""

SAW_LINES: tuple[Tool, ...] = ("tenon saw", "marking knife")

_ALONG_A_GUIDE = (
    (
        "clamp a straight guide across, turned to the angle told and proved on scrap, off the cut by the width of the"
        " saw's sole: measure that on scrap too"
    ),
    "saw, then plane the end to the knife line",
)
_SHOT = (
    "knife the line round at the distance and the angle told; saw a hair outside it",
    "plane to the line on a shooting board whose fence stands at the angle told, scrap behind the far edge",
)
_ROUTED_ACROSS = (
    (
        "clamp a straight fence across, turned to the angle told, off the trench's near side by what lies between the"
        " cutter and the edge of the router's base: measure that on scrap"
    ),
    "several pieces go side by side, their ends level, scrap outside the first and the last",
)
_ROUTED_ALONG = (
    "clamp the piece upright between two blocks level with the face that is cut, so that the router's base lies flat",
    (
        "its edge guide runs on the face named at the fence; where a cut stops, the base runs against a block off"
        " the end told by what lies between the cutter and the edge of the base"
    ),
)
_IN_A_TEMPLATE = (
    "screw the template to the piece's top face as its own sheet tells, its stop against the end named",
    "light passes, the guide bush along all sides of the window; then square what is round with a chisel",
)
_ROUTED_ENDS = (
    "lay pieces of one kind side by side, their ends level, scrap outside the first and the last",
    (
        "a fence across them for the router's base, off the shoulder by what is between its edge and the cutter;"
        " the last pass to the shoulder; then turn all over"
    ),
)
_SAWN_ACROSS = (
    "knife both sides of the cut on the face and down both edges, gauge its depth from the face",
    (
        "saw inside both lines and once or twice between them down to the gauge line, chop out from both edges,"
        " router plane to the depth"
    ),
)

_ENDS = (
    ShopWay("machine", ("mitre saw", "table saw")),
    ShopWay("machine", ("table saw",), "table saw with a mitre gauge"),
    ShopWay("machine", ("mitre saw",), "mitre saw"),
    ShopWay("hand-held", ("circular saw", "block plane"), "circular saw along a guide", _ALONG_A_GUIDE),
    ShopWay("by hand", (*SAW_LINES, "block plane"), "tenon saw and shooting board", _SHOT),
)
_EDGES = (
    ShopWay("hand-held", ("hand router",)),
    ShopWay("machine", ("router table",), "router table, with a starting pin"),
    ShopWay(
        "by hand", ("block plane",), "block plane, to pencil lines",
        ("pencil the size told along both faces; plane a flat between the lines, across the grain first",
         "for a round take off the two arrises that leaves, then again, and finish with paper round a block"),
    ),
)  # fmt: skip

WAYS: Mapping[Operation, tuple[ShopWay, ...]] = {
    "plane": (
        ShopWay("machine", ("planer",)),
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
        ShopWay("machine", ("table saw",)),
        ShopWay("machine", ("bandsaw", "jointer plane"), "bandsaw with a fence, then a jointer plane",
                ("set the fence 1 mm or 1/32 in further, and plane the sawn edge to the width told",)),
        ShopWay("hand-held", ("circular saw", "jointer plane"), "circular saw along a guide, then a jointer plane",
                ("clamp the guide so that the near face of the kerf is the width and 1 mm or 1/32 in off the edge",
                 "plane the sawn edge to the width, square to the face")),
        ShopWay("by hand", ("rip saw", "jointer plane", "marking knife"), "rip saw, then a jointer plane",
                ("gauge the width told from the straight edge on both faces; saw 1 mm or 1/32 in outside",
                 "plane to the lines, square to the face")),
    ),
    "crosscut": _ENDS,
    "mitre": _ENDS,
    "lap": (
        ShopWay("machine", ("groove cutter", "hand router")),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a sled"),
        ShopWay("hand-held", ("hand router",), "hand router along a fence", _ROUTED_ACROSS),
        ShopWay("machine", ("router table",), "router table, with a sled"),
        ShopWay("by hand", (*SAW_LINES, "chisels", "router plane"), "tenon saw, chisel, router plane", _SAWN_ACROSS),
    ),
    "groove": (
        ShopWay("machine", ("router table", "groove cutter")),
        ShopWay("machine", ("router table",), "router table"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a tall fence"),
        ShopWay("hand-held", ("hand router",), "hand router with an edge guide", _ROUTED_ALONG),
        ShopWay("template", ("hand router", "chisels"), "hand router in its template, then a chisel", _IN_A_TEMPLATE),
        ShopWay("by hand", ("plough plane", "chisels"), "plough plane and chisel",
                (("chop a stopped end with a chisel as wide as the groove first, to the full depth, as long as the"
                 " plane's skate before its iron"),
                 "plough the rest, its fence on the face named, its depth stop at the height told")),
        ShopWay("by hand", ("drill", "chisels", "marking knife"), "drill and chisel",
                ("gauge both sides from the face named; bore between the lines to the depth told, side by side",
                 "pare to the lines with a wide chisel, try with the tongue")),
        ShopWay("by hand", ("chisels", "marking knife"), "chisel",
                (("gauge both sides deep from the face named; chop between the lines with a chisel as wide as the"
                 " groove, to the depth told on its side"),
                 "pare to the lines with a wide chisel, try with the tongue")),
    ),
    "spline slot": (
        ShopWay("machine", ("router table", "groove cutter")),
        ShopWay("machine", ("router table",), "router table"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a tall fence"),
        ShopWay("hand-held", ("hand router",), "hand router with an edge guide", _ROUTED_ALONG),
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
        ShopWay("machine", ("router table", "groove cutter")),
        ShopWay("machine", ("router table",), "router table, with a sled"),
        ShopWay("machine", ("groove cutter",), "groove cutter, with a sled"),
        ShopWay("hand-held", ("hand router",), "hand router along a fence", _ROUTED_ENDS),
        ShopWay("by hand", (*SAW_LINES, "shoulder plane"), "tenon saw and shoulder plane",
                (("knife the shoulder round at the figure of the fence, gauge the cheek; saw the shoulder to the"
                 " gauge line, then the cheek, both a hair outside"),
                 "plane to the lines, try in the mate")),
        ShopWay("by hand", (*SAW_LINES, "chisels"), "tenon saw and chisel",
                (("knife the shoulder round at the figure of the fence, gauge the cheek; saw the shoulder to the"
                 " gauge line, then the cheek, both a hair outside"),
                 "pare across the grain to the lines, try in the mate")),
    ),
    "nib": (
        ShopWay("machine", ("table saw",)),
        ShopWay("by hand", (*SAW_LINES, "chisels"), "tenon saw and chisel",
                ("knife the shoulder on both faces, saw to the depth told, chop the waste off to the tongue",)),
    ),
    "shoulder": (
        ShopWay("machine", ("bandsaw", "tenon saw")),
        ShopWay("machine", ("bandsaw",), "bandsaw with a fence"),
        ShopWay("by hand", SAW_LINES, "tenon saw, to the line"),
    ),
    "mortise": (
        ShopWay("machine", ("mortiser", "hand router")),
        ShopWay("machine", ("mortiser",), "mortiser"),
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
        ShopWay("machine", ("drill press",)),
        ShopWay("hand-held", ("drill",), "drill through a guide block, with a hole saw",
                ("from both faces, the pilot bit through first, so that no face breaks out",)),
        ShopWay("by hand", ("brace",), "brace with an expanding bit",
                ("until its point shows, then from the other face, so that no face breaks out",)),
    ),
    "drain": (
        ShopWay("machine", ("drill press",), OWN_WORDS, (_DRAINS,)),
        ShopWay("hand-held", ("drill",), "drill through a guide block", (_FROM_THE_MORTISE, _DRAINS)),
        ShopWay("by hand", ("brace",), "brace and bit", (_FROM_THE_MORTISE, _DRAINS)),
    ),
    "counterbore": _BLIND,
    "cross bore": _BLIND,
    "drill through": (
        ShopWay("machine", ("drill press",), OWN_WORDS, (_BACKED,)),
        ShopWay("hand-held", ("drill",), "drill through a guide block", (_BACKED,)),
        ShopWay("by hand", ("brace",), "brace and bit, a square beside it", (_BACKED,)),
    ),
    "end bore": (
        ShopWay("machine", ("drill press",), OWN_WORDS, _ON_END),
        ShopWay("hand-held", ("drill",), "drill through a guide block on the tenon's end", _DOWN),
        ShopWay("by hand", ("brace",), "brace and bit through a guide block on the tenon's end", _DOWN),
    ),
    "relief": (
        ShopWay("machine", ("bandsaw",)),
        ShopWay("by hand", (*SAW_LINES, "chisels", "jointer plane"), "tenon saw, chisel and plane",
                (("saw down to the line every 30 mm or 1-1/4 in between the feet, chop the waste out, plane to the"
                 " line"),)),
    ),
    "round corner": (
        ShopWay("machine", ("bandsaw", "hand router")),
        ShopWay("hand-held", ("hand router", "tenon saw"), "tenon saw, then hand router with a template",
                ("saw the corner off straight, outside the line; rout the rest off in light passes",)),
        ShopWay("by hand", ("bow saw", "spokeshave"), "bow saw and spokeshave"),
        ShopWay("by hand", ("tenon saw", "block plane"), "tenon saw and block plane",
                ("saw the corner off in two or three straight cuts, plane to the line",)),
    ),
    "round-over": _EDGES,
    "chamfer": _EDGES,
    "bead": _EDGES,
    "edge round-over": _EDGES,
    "saw round": (
        ShopWay("machine", ("bandsaw",)),
        ShopWay("hand-held", ("hand router",), "hand router on a trammel",
                ("lay the top face down on a board and screw it there through the waste outside the circle",
                 "light passes, by the trammel's own sheet, until it is through")),
        ShopWay("by hand", ("bow saw", "spokeshave"), "bow saw and spokeshave",
                (("scribe the circle on both faces at the radius told, with a batten from a nail in a plug in the"
                 " pole hole, or in a scrap taped over the rails' crossing; saw 3 mm or 1/8 in outside"),
                 "spokeshave to both lines, square to the face, with the grain of each segment")),
    ),
    "trim": (
        ShopWay("by hand", ("tenon saw", "block plane")),
        ShopWay("by hand", ("block plane",), "block plane"),
    ),
}  # fmt: skip
"""By operation; the first that the shop has the tools for, and that takes the piece, is taken."""

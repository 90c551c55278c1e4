"""What set-ups are told besides their figures: how a piece is held and led where that is special, what a cutter
leaves, and how settings of a machine are called where there is none."""

from collections.abc import Mapping

from templategen.table.profile.choices import Units

SLED = "further than the saw turns: on SLED, its fence on the line of this angle"
"""For angles beyond a saw's own gauge."""

SLIVERS = (
    "the groove is cut already, so two slivers fall off at the cheek: a push stick takes them past the blade, never"
    " fingers"
)
"""Where a tenon's narrow shoulder is sawn along a groove."""

TO_THE_END = (
    "the ends lean: with one face up the gauge, set by BEVEL, stands to that side of square on which the end lies"
    " flat from edge to edge; with the other face up as far to the other side"
)
"""How a gauge stands that carries an end which isn't square."""

LEFT = {
    (False, True): "stopped: a round bit leaves a round end; square it with a chisel",
    (False, False): "stopped: a round bit leaves a round end; take the mate's corners off until it goes home",
    (True, True): (
        "stopped: stop where the cut in the face that lies down comes to the line, never past it; chop out the ramp"
        " that the disc leaves with a chisel"
    ),
    (True, False): (
        "stopped: stop where the cut in the face that lies down comes to the line, never past it; take the mate's"
        " corners off until it goes home over the ramp that the disc leaves"
    ),
}
"""What cutters leave where a groove stops, and what is done about it: by whether it is the groove cutter, and whether
there are chisels."""

OPEN_FIRST = (
    "feed from right to left as drawn, on TALL-FENCE, the cut's open end first; at the block stop the machine, then"
    " lift"
)

ON_THE_CUTTER = (
    "feed from right to left as drawn, on TALL-FENCE, an open end first; at the front block stop the machine, then"
    " lift. Where a rear block is told start over its squared hole, at every pass and level: the machine stands"
    " still, the piece is set down by that block, the bit free in the hole: turn it by hand; then clamp on the"
    " featherboard that presses down, where TALL-FENCE tells: featherboards alone hold it as you start; feed it by"
    " soft push blocks on its upper edge, no hand on the wood"
)
"""How a piece comes to a cutter and away from it: where cuts end in the wood, and where some start there, too."""

FACET = (
    "so short an edge no saw cuts clean, and hardly a line shows it: a stroke or two of a sharp block plane break the"
    " point; it lies in the groove"
)
"""How an edge of an end is made that is shorter than a blade is thick."""

UNHELD = "at a machine's fence no clamp would hold these ends beside the cutter, so they are cut by hand"
"""Why ends that are too short or too pointed for a sled don't go to the machine that makes the others."""

IN_THE_FENCE = (
    "the cutter runs in the fence or close to it: screw FENCE-FACE to it, lock it, and raise the running cutter into"
    " that first, hands clear, so that it cuts its own room; the fence's distance is measured from the face"
)
"""How a cut is made whose far side is hardly further from the fence than the cutter is wide."""

TALLER = "blocks taller than a mitred piece: its upper corner alone touches them"
"""Where a piece whose ends lean out over its foot comes to blocks."""

CARRIED = (
    "stood on that end the piece topples over its inner corner: clamp it to a carriage that runs along the fence, a"
    " block to the mitre's angle under the corner, and never let go of either"
)
"""Where nothing but a machine cuts a slot in an end that doesn't carry the piece."""

ON_ITS_EDGE: Mapping[str, str] = {
    "hand-held": "the rail lies on its other edge, the router's base on the one told",
    "machine": "the edge told lies down on the router table, the underside to the bit",
}
"""How a relieved rail stands while the arrises at its relief's floor are eased, by the kind of way."""

ON_THE_KEPT = "try it on the ends kept from the saw's trial: a square end lies flat at no block"
"""Where every end that a block carries leans."""

IN_A_TRIED_TONGUE = "try it in the tongues that were tried on the ends kept from the saw's trial"
"""What a slot is tried in then."""

AGAINST_THE_GRAIN = (
    "in three depths, the last a hair; anticlockwise the bit runs against the grain from each joint to the segment's"
    " middle: plane a narrow flat there first, from the middle back to the joint; shift the clamps on the way round"
)
"""How the edge of a ring that was sawn round is eased: its grain runs along each segment."""

ABOUT: Mapping[Units, Mapping[str, str]] = {
    "mm": {"hair": "1 mm", "clear": "3 mm", "apart": "30 mm", "wide": "100 mm"},
    "in": {
        "hair": "1/32 in",
        "clear": "1/8 in",
        "apart": "1-1/4 in",
        "wide": "4 in",
    },
}
"""Lengths that need no measuring, as the maker says them."""

IN_THE_MIDDLE = ": (measured thickness - width of the slot) / 2"
"""What is told of the distance at the fence, where a slot that is cut off either face must lie in the middle of the
wood as it is."""

ON_THE_WOOD = (
    (IN_THE_MIDDLE, ""),
    ("along the fence, from a square stop at the far end's point", "along the edge, from the far end's point"),
    ("from the stop at its outer corner", "from its outer corner"),
    ("along the fence", "along the edge"),
    ("as the saw's scale reads it", "on both faces"),
    ("from the fence to the near face of the kerf", "from the top to the line"),
    ("from the fence to the cutter's near side", "from the face gauged from to its near side"),
    ("from the fence to the cutter's far side: the shoulder", "from the end to the shoulder"),
    ("from the fence to the blade", "from the straight edge to the line"),
    ("to the blade", "to the line"),
    ("from the edge at the fence", "from the edge gauged from"),
    ("thickness that the planer leaves", "thickness"),
    ("the height is the measured thickness", "the depth is the measured thickness"),
    ("depth of the trench: of the cutter over what the piece lies on", "depth of the trench"),
    ("of the cutter over what the piece lies on", "how deep it goes"),
    ("of the blade over what the piece lies on", "how deep it goes"),
    ("from the pivot to the near face of the kerf", "from the top's middle to the line"),
    ("radius of the bit", "radius of the round"),
)
"""How a machine's setting is described, and the same setting for a knife or a marking gauge."""

IN_THE_HAND = (
    ("from the fence to the cutter's near side", "from the guide to the bit's near side"),
    ("the cutter's near side on the line nearest the fence", "the bit's near side on the line nearest the guide"),
    ("away from the fence", "away from the guide"),
    ("square to the fence", "square to the guide"),
    ("the cutter raised by so much for each level, the last to the full height",
     "the bit let down by so much for each level, the last to the full depth"),
    ("the last at the full height", "the last at the full depth"),
    ("of the cutter over what the piece lies on", "of the bit below the router's base"),
    ("of the cutter above its table", "of the bit below the router's base"),
    ("as the saw's scale reads it", "of the straightedge"),
    ("moved along the gauge's fence for each further pass", "along the edge, from pass to pass"),
    ("moved towards the end by about this for each further pass: it only clears what is left",
     "about this from pass to pass, the last along the straightedge: the others only clear what is left"),
    ("the cutter's far side on the shoulder line; further passes move towards the end",
     "the bit's side next to the straightedge on the shoulder line"),
    ("the cutter's near side on the line nearest the stop; further passes lie further from it",
     "the bit's side next to the straightedge on the line, the trench on its other side"),
    *ON_THE_WOOD,
)  # fmt: skip
"""The same for a router in the hand, with an edge guide or along a straightedge."""

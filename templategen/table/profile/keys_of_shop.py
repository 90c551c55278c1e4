"""The keys that describe what the maker has: tools and air, paper, router software, stock, woods."""

from typing import get_args

from templategen.table.profile.choices import (
    CornerRelief,
    DxfVersion,
    HandTool,
    Machine,
    StockKind,
    StockMode,
    Units,
)  # fmt: skip
from templategen.table.profile.key import Key, angle, choice, count, length, number, section, several, words
from templategen.wood.glue import GlueClass
from templategen.wood.movement import Sawn

SHOP = section(
    "shop",
    words("machines", Machine, "strike out those that you haven't"),
    words("hand_tools", HandTool, "strike out those that you haven't"),
    length("saw_depth", 80, 5, 400, "saws are so high", "as deep as the table saw cuts"),
    length("circular_saw_depth", 65, 5, 200, "saws are so large", "as deep as the circular saw in the hand cuts"),
    several(
        "mitre_saw",
        (
            length("saw_height", 90, 5, 400, "saws are so high", "height"),
            length("saw_width", 300, 20, 1000, "saws are so wide", "width"),
        ),
        "height and width that the mitre saw cuts at square",
    ),
    length("bandsaw_height", 200, 20, 1000, "saws are so high", "under the bandsaw's guides"),
    several(
        "planer",
        (
            length("planer_width", 260, 20, 2000, "planers are so wide", "width"),
            length("planer_height", 160, 20, 600, "planers are so high", "height"),
        ),
        "width and height that the planer takes",
    ),
    angle(
        "mitre_error",
        0.1,
        0,
        5,
        "it is a standard deviation, not a setting",
        "one standard deviation of an angle as cut",
    ),
    length(
        "length_error",
        0.3,
        0,
        10,
        "it is a standard deviation, not a length",
        "one standard deviation of a length as cut",
    ),
    length("saw_kerf", 3, 0.2, 12, "blades cut that wide", "width of a saw cut; measure one"),
    length("groove_cutter", 12, 1, 80, "cutters are made so", "width of one pass of the groove cutter"),
    several(
        "groove_reach",
        (
            length("reach", 40, 1, 200, "cutters are made so", "as deep as it cuts"),
            length("pass", 8, 0.5, 80, "light passes only", "one pass"),
        ),
        "how deep the groove cutter reaches, and how deep one pass of it goes",
    ),
    length("router_bit", 8, 0.5, 80, "bits are made so", "diameter, for routed and machined parts"),
    length("bit_length", 25, 2, 120, "bits are made so", "cutting length of that bit: how deep it reaches"),
    length("guide_bush", 17, 2, 120, "bushes are made so", "outside diameter of the router's guide bush"),
    several(
        "bandsaw_blade",
        (
            length("width", 13, 2, 80, "blades are made so", "blade width"),
            length("kerf", 1, 0.2, 5, "blades are set so", "width of the cut by the set"),
        ),
        "blade width, and the width of its cut",
    ),
    several(
        "bandsaw_table",
        (
            length("table_width", 400, 100, 3000, "tables are made so", "width"),
            length("table_depth", 400, 100, 3000, "tables are made so", "depth"),
        ),
        "width and depth of the bandsaw's table",
    ),
    length("longer", 25, 0, 300, "more is waste", "added to the length of every blank as it is sawn out"),
    several(
        "wider",
        (
            length("short", 5, 0, 50, "more is waste", "parts to 1 m"),
            length("middle", 8, 0, 50, "more is waste", "to 2 m"),
            length("long", 10, 0, 50, "more is waste", "longer ones"),
        ),
        "added to its width: parts up to 1 m long, up to 2 m, longer",
    ),
    length("strip_end", 150, 0, 600, "hands need room", "of a strip of small parts, by which it is held to the end"),
    length("planing", 6, 0, 100, "more is sawn off", "by how much stock may be planed down to a part"),
    length("resaw_face", 2, 0, 20, "more is waste", "taken off each face of what is sawn flatwise, cup and all"),
    several(
        "humidity",
        (
            number("driest", 45, 1, 99, "it is relative humidity in %", "driest"),
            number("dampest", 85, 1, 99, "it is relative humidity in %", "dampest"),
        ),
        "driest and dampest air the table lives in, in % relative humidity",
    ),
    number(
        "temperature", 15, -40, 60, "it is the mean of the air in degrees Celsius", "of that air, in degrees Celsius"
    ),
    number(
        "build_moisture",
        0,
        0,
        30,
        "wetter wood is still shrinking to its size",
        "moisture of the wood when you cut it, in %; 0: half way between its driest and wettest",
    ),
    choice("sawn", "plain", Sawn, "growth rings along the boards' face, or square to it"),
    choice("glue", "polyurethane", GlueClass, "the class of your glue"),
    number(
        "open_time",
        0,
        0,
        240,
        "glues set in that time",
        "minutes that your glue stays open, from its tin; 0: the least of its class",
    ),
    number("glue_temperature", 20, -10, 45, "nothing is glued beyond", "of wood and workshop when gluing, Celsius"),
    number("spread", 200, 20, 1000, "more runs out and less starves", "glue, g for each m2 of joint, on one side"),
    number("band", 0, 0, 50_000, "straps hold no more", "N that your band clamp may be drawn to; 0: not known"),
    number("waste", 20, 0, 200, "more is firewood", "% of board volume bought on top, for knots and offcuts"),
    count("coats", 2, 1, 12, "a skin, not a crust", "of finish on every face"),
    angle("mitre_reach", 50, 0, 89, "saws turn no further", "how far off square your saw turns"),
    length("stop_reach", 1500, 100, 10_000, "fences are so long", "how far from the blade a stop can be set"),
    length("holding", 300, 20, 2000, "fingers need room", "shortest piece your machines may be fed by hand"),
)

PAPER = section(
    "paper",
    Key(
        "paper",
        "size",
        "paper",
        "A4",
        'A0 to A6, B0 to B6, "letter", "legal", "tabloid", [w, h], or a roll [w]',
    ),
    length("margin", 8, 0, 60, "a printer can't reach further and paper is small", "that the printer leaves white"),
    length("overlap", 12, 0, 100, "tiles are glued over each other", "of neighbouring tiles"),
    number(
        "scale_x",
        1.0,
        0.9,
        1.1,
        "a printer further off needs setting, not correcting",
        "printer correction, from the test sheet",
    ),
    number(
        "scale_y", 1.0, 0.9, 1.1, "a printer further off needs setting, not correcting", "the same, down the sheet"
    ),
    angle(
        "skew",
        0,
        -2,
        2,
        "a printer further off needs mending, not correcting",
        "how far the top of a printed sheet leans to the right",
    ),
    length(
        "trace_offset",
        0,
        -20,
        50,
        "it clears a pencil or a bearing",
        "of a second line outside the cut line, to trace",
    ),
    several(
        "measured",
        (
            length("across", 0, 0, 1000, "it is the test sheet's square", "width"),
            length("down", 0, 0, 1000, "it is the test sheet's square", "height"),
            length("rising", 0, 0, 1000, "it is the test sheet's square", "rising diagonal"),
            length("falling", 0, 0, 1000, "it is the test sheet's square", "falling diagonal"),
        ),
        "of the test sheet's square: width, height, rising, falling diagonal; in place of scale and skew",
    ),
)

DXF = section(
    "dxf",
    choice("version", "R2000", DxfVersion, "of the files for the router's software"),
    choice("units", "mm", Units, "what that software expects"),
    choice("corner_relief", "none", CornerRelief, "relief holes for inside corners, from router_bit"),
)

STOCK = section(
    "stock",
    Key("stock", "name", "text", "stock", "what you call it; each its own name"),
    choice("kind", "board", StockKind, "a board has its grain along the length"),
    Key("stock", "wood", "wood", None, "what it is of: the table's wood, or plywood for a sheet"),
    length("length", 2400, 20, 100_000, "it is what parts are cut from", "along the grain"),
    length("width", 150, 5, 10_000, "it is what parts are cut from", "across the grain"),
    length("thickness", 38, 0, 500, "it is what parts are cut from", "as it lies on the bench"),
    count("count", None, 0, 100_000, "it counts pieces", "how many; leave out for as many as needed"),
    number("price", 0, 0, 10_000_000, "it is what one piece costs", "of each, in your currency"),
    Key("stock", "faults", "faults", (), "x, y, diameter of knots, from the lower left corner"),
    length(
        "margin",
        5,
        0,
        500,
        "it is trimmed off",
        "from every edge, or [left, right, bottom, top]; left out "
        "where a router works: a bit and 3 mm, at the ends room for pins and screws besides",
    ),
    length("gap", 9, 0, 200, "it is waste", "between parts that a router frees; left out: a bit and 1 mm"),
    Key("stock", "fault_areas", "faults", (), "x, y, length, width of other faults, from their lower left corners"),
    several(
        "bad_ends",
        (
            length("left_end", 0, 0, 100_000, "it is part of the length", "left"),
            length("right_end", 0, 0, 100_000, "it is part of the length", "right"),
        ),
        "how much of the left and right end is no use, split or soft",
    ),
    Key(
        "stock",
        "mode",
        "choice",
        None,
        "cuts right through, or a router's way; boards sawn, sheets routed",
        choices=get_args(StockMode),
    ),
)

WOODS = section(
    "woods",
    number("radial", 0, 0, 20, "no wood shrinks more", "shrinkage in %, green to ovendry, along a radius"),
    number("tangential", 0, 0, 25, "no wood shrinks more", "the same along the growth rings"),
    number("density", 600, 80, 1500, "woods weigh between balsa and ironwood", "kg/m3 at 12 % moisture"),
    number("fibre_saturation", 30, 15, 45, "woods saturate there", "moisture in % above which nothing moves"),
    number("stiffness", 10, 1, 40, "woods are so", "modulus along the grain, GPa"),
)

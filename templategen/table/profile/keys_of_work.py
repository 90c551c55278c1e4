"""The keys by which the maker picks a way of working; "auto" takes the first that the shop's tools can do."""

from templategen.table.profile.choices import ClosingWay, Guide, Holding, Patterns, PlainWay, WorkWay
from templategen.table.profile.key import Key, choice, length, number, section, several
from templategen.wood.species import SHEET_WOOD


def _way(name: str, doc: str) -> Key:
    return choice(name, "auto", WorkWay if name in ("grooves", "slots") else PlainWay, doc)


WORK = section(
    "work",
    choice("closing", "auto", ClosingWay, "of the ring, as lists/closing.csv compares them"),
    _way("planing", "faces, edges and thickness"),
    _way("ripping", "to width"),
    _way("ends", "square ends and mitres"),
    _way("laps", "the trenches of the rails"),
    _way("grooves", "of rim and rails"),
    _way("slots", "for the splines"),
    _way("tongues", "and tenons"),
    _way("mortises", "for the legs"),
    _way("holes", "for a parasol's pole"),
    _way("edges", "rounded and chamfered"),
    _way("rounding", "the ring sawn round"),
)


JIGS = section(
    "jigs",
    Key("jigs", "wood", "wood", SHEET_WOOD, "what the jigs' sheet is of"),
    length("thickness", 12, 3, 40, "jigs are made of sheet", "of that sheet; measure it at several places"),
    length("pin", 6, 2, 25, "pins are made so", "diameter of the pivot pin"),
    length("pin_depth", 6, 1, 40, "it must not come through", "how far the pin stands into the work"),
    several(
        "blade_place",
        (
            length("from_left", 0, 0, 3000, "it lies on the table", "from the left edge"),
            length("from_front", 0, 0, 3000, "it lies on the table", "from the front edge"),
        ),
        "where the bandsaw's teeth stand on its table, from the left and the front edge; 0: in the middle",
    ),
    length("blade_gap", 3, 0.5, 30, "a blade must run free", "play round the blade in a jig's slot"),
    length("trammel_bit", 12, 3, 60, "bits are made so", "diameter of the straight bit in the trammel"),
    length("router_base", 160, 50, 400, "routers are made so", "diameter of the router's base"),
    length("pass_depth", 3, 0.5, 20, "light passes only", "how deep one pass of the router goes at most"),
    length("leave", 1, 0, 10, "a router only trues", "left outside the circle where a router trues it after"),
    length("strip", 40, 15, 200, "it is read and clamped", "width of story sticks and stop strips"),
    choice("guide", "bush", Guide, "what leads the router along a template"),
    choice("patterns", "none", Patterns, "patterns of sheet to trace parts by: none, or one for each shape"),
)


ROUTER = section(
    "router",
    Key(
        "router",
        "bits",
        "rows",
        (),
        "bits besides shop.router_bit: [diameter, cutting length, depth of a pass] of each",
        parts=(
            length("diameter", 12, 0.5, 80, "bits are made so", "diameter"),
            length("cutting_length", 50, 2, 200, "bits are made so", "cutting length"),
            length("pass", 5, 0.5, 40, "light passes only", "depth of one pass"),
        ),
    ),
    choice("held_by", "tabs", Holding, "what holds parts until the last pass"),
    several(
        "tab",
        (
            length("tab_width", 8, 2, 60, "it is pared off by hand", "width along the line"),
            length("tab_height", 2.5, 0.5, 20, "it is pared off by hand", "height above the lower face"),
        ),
        "a tab's width along the line, and its height",
    ),
    length("skin", 0.5, 0.1, 3, "it is cut through by hand", "what a skin leaves standing at the lower face"),
    several(
        "screw",
        (
            length("shank", 5, 2, 20, "screws are made so", "diameter of its hole"),
            length("clear", 6, 1, 60, "a bit must not meet it", "from the hole to the nearest cut"),
        ),
        "a screw in the waste: diameter of its hole, and how far it keeps from every cut",
    ),
    number("vacuum", 150, 1, 100_000, "suction holds by area", "least area of a part held by suction, cm2"),
    length("through", 0.5, 0, 5, "deeper spoils the bed", "of a cut right through, into the spoil board"),
)

"""The keys that say what jigs are made of, and the tools they are made for."""

from templategen.table.profile.choices import Guide, Patterns
from templategen.table.profile.key import Key, choice, length, section, several
from templategen.wood.species import SHEET_WOOD

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

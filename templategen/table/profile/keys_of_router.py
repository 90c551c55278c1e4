"""The keys of the routing machine: its bits, and how the work lies still until the last pass."""

from templategen.table.profile.choices import Holding
from templategen.table.profile.key import Key, choice, length, number, section, several

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

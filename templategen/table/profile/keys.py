"""Every key of a profile with its default, range, reason and one line of explanation.

Defaults are physical sizes in mm (angles in degrees), the same in a profile that counts in inches. Ranges
only keep out what is no table at all; whether a table can be built is decided where it is built.
"""

from templategen.table.profile.key import Key
from templategen.table.profile.keys_of_limits import LIMITS
from templategen.table.profile.keys_of_rates import MAKER, RATES, WORDS
from templategen.table.profile.keys_of_shop import DXF, PAPER, SHOP, STOCK, WOODS
from templategen.table.profile.keys_of_table import BASE, EDGES, JOINTS, LEGS, SLATS, TOP
from templategen.table.profile.keys_of_work import JIGS, ROUTER, WORK

__all__ = ["FORMAT", "HEAD", "HEADINGS", "KEYS", "SECTIONS", "STOCK", "TOP_LEVEL", "UNITS", "WOODS"]

FORMAT = 1
UNITS = ("mm", "in")
LONGEST_TITLE = 120
LONGEST_NAME = 60

HEAD = (
    Key("", "title", "text", "Round slatted table", "appears on every sheet"),
    Key("", "units", "choice", "mm", "of every bare length in this file", choices=UNITS),
    Key("", "wood", "wood", "european larch", "a species of the built-in table, or [woods.NAME] of your own"),
)

NEEDED_OF_WOODS = ("radial", "tangential")

SECTIONS: dict[str, tuple[Key, ...]] = {
    "top": TOP,
    "slats": SLATS,
    "joints": JOINTS,
    "legs": LEGS,
    "base": BASE,
    "edges": EDGES,
    "shop": SHOP,
    "router": ROUTER,
    "work": WORK,
    "jigs": JIGS,
    "rates": RATES,
    "maker": MAKER,
    "words": WORDS,
    "limits": LIMITS,
    "paper": PAPER,
    "dxf": DXF,
}
HEADINGS = {
    "top": "the rim and the rails",
    "slats": "how the fields between the rails are filled",
    "joints": "tongues, grooves, clearances, splines",
    "legs": "the pedestal's legs",
    "base": "the ground cross and its feet",
    "edges": "arrises eased for hands, finish and weather, 0 for sharp; the rim's outer ones are top.edge_round",
    "shop": "what your own tools are",
    "work": "the way in which you do it, where there are several",
    "router": "the routing machine: its bits, and how work is held on it",
    "rates": "your own pace and prices, for hours, days and what a table costs; correct them as you go",
    "maker": "who you are, for the sheet that a customer is given",
    "words": "how it is told",
    "jigs": "what jigs are made of, and the tools they serve",
    "limits": "what check asks for; of two sizes of wood, less than the first is a stop, than the second a caution",
    "paper": "full-size templates on paper",
    "dxf": "files for a router's or a laser's software",
}
KEYS: dict[str, Key] = {key.path: key for section in SECTIONS.values() for key in section}
TOP_LEVEL = ("format", *(key.name for key in HEAD), "values", *SECTIONS, "stock", "woods", "measured", "suit")

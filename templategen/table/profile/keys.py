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

_HEADED = (
    ("the rim and the rails", TOP),
    ("how the fields between the rails are filled", SLATS),
    ("tongues, grooves, clearances, splines", JOINTS),
    ("the pedestal's legs", LEGS),
    ("the ground cross and its feet", BASE),
    ("arrises eased for hands, finish and weather, 0 for sharp; the rim's outer ones are top.edge_round", EDGES),
    ("what your own tools are", SHOP),
    ("the routing machine: its bits, and how work is held on it", ROUTER),
    ("the way in which you do it, where there are several", WORK),
    ("what jigs are made of, and the tools they serve", JIGS),
    ("your own pace and prices, for hours, days and what a table costs; correct them as you go", RATES),
    ("who you are, for the sheet that a customer is given", MAKER),
    ("how it is told", WORDS),
    ("what check asks for; of two sizes of wood, less than the first is a stop, than the second a caution", LIMITS),
    ("full-size templates on paper", PAPER),
    ("files for a router's or a laser's software", DXF),
)
SECTIONS: dict[str, tuple[Key, ...]] = {own[0].section: own for _, own in _HEADED}
HEADINGS = {own[0].section: heading for heading, own in _HEADED}
KEYS: dict[str, Key] = {key.path: key for section in SECTIONS.values() for key in section}
TOP_LEVEL = ("format", *(key.name for key in HEAD), "values", *SECTIONS, "stock", "woods", "measured", "suit")

"""The words that a choice of the profile takes, and the refusal of any other."""

from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, get_args, get_origin, get_type_hints

from templategen.catalogue import translated, worded
from templategen.errors import Fault

Edge = Literal["sawn", "faceted"]
Run = Literal["across", "along", "straight"]
Hold = Literal["gap", "width"]
Apex = Literal["open", "closed"]
SlatFace = Literal["flush", "centred"]
Spline = Literal["through", "stopped", "none"]
Parasol = Literal["own base", "table"]
TopJoint = Literal["glued", "bolted"]
"""How the legs' upper tenons are held in the top's rails."""

Corner = Literal["rounded", "chamfered", "beaded", "square"]
EdgeShape = Literal["chamfered", "rounded"]
Feet = Literal["pads", "relieved"]
Glides = Literal["none", "screwed", "nailed"]
"""What stands between the feet and the floor, and how it is held."""

Guide = Literal["bush", "bearing"]
Patterns = Literal["none", "all"]
Holding = Literal["tabs", "skin", "screws", "vacuum"]
Wheelchair = Literal["none", "ADA", "Scotland"]
WorkWay = Literal["auto", "machine", "hand-held", "template", "by hand"]
PlainWay = Literal["auto", "machine", "hand-held", "by hand"]
ClosingWay = Literal["auto", "stop", "scrap", "measure", "halves"]
Machine = Literal[
    "planer", "table saw", "mitre saw", "bandsaw", "groove cutter", "router table", "mortiser", "drill press",
    "hand router", "circular saw", "drill", "sander",
]  # fmt: skip
"""What a shop may have that is driven; the last four are held in the hand."""

HandTool = Literal[
    "rip saw", "tenon saw", "bow saw", "jointer plane", "shoulder plane", "block plane", "plough plane",
    "router plane", "spokeshave", "chisels", "brace", "marking knife",
]  # fmt: skip
CornerRelief = Literal["none", "corner", "edge"]
StockKind = Literal["board", "sheet", "roll"]
StockMode = Literal["sawn", "routed"]

Counts = Literal["cost", "boards", "to buy", "rack", "hours", "mass", "set-ups", "size"]
"""What a maker may count by: boards in all, those that the rack doesn't hold, how much of the rack is used."""

Units = Literal["mm", "in"]
"""What bare numbers of a profile, and the figures on its sheets, are in."""

DxfVersion = Literal["R12", "R2000", "R2010", "R2018"]
"""Versions of DXF that are written."""


@cache
def choices_of(section: type) -> dict[str, tuple[str, ...]]:
    """The fields of a section of the model that take words of a few, one or a list, each with its words."""
    hints = get_type_hints(section)
    own = {name: get_args(hint)[0] if get_origin(hint) is tuple else hint for name, hint in hints.items()}
    return {name: get_args(hint) for name, hint in own.items() if get_origin(hint) is Literal}


def unknown_words(where: str, section: Any) -> Iterator[Fault]:
    """A fault for each choice of a section that holds another word than it takes."""
    for name, words in choices_of(section.__class__).items():
        held = getattr(section, name)
        for word in held if isinstance(held, tuple) else (held,):
            if word not in words:
                offered = translated(" or ").join(f'"{one}"' for one in words)
                found = worded("{word!r} is not known here", word=word)
                yield Fault(
                    f"{where}.{name}" if where else name, found, worded("{offered} is wanted", offered=offered)
                )

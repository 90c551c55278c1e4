"""The words that a choice of the profile takes, and the refusal of any other."""

from collections.abc import Iterator, Mapping
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
TopJoint = Literal["glued", "bolted", "draw-bored"]
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


UNBUILT: Mapping[tuple[str, str], str] = {
    (
        "legs.top_joint",
        "wedged",
    ): "a wedge spreads a blind tenon for good, so that the top never comes off again, and one "
    "driven from above would stand in the table's face",
    (
        "legs.top_joint",
        "keyed",
    ): "a loose key needs a tenon that stands out through the top, or a slot as high as a peg "
    "and three times as wide through rail and tenon, which cuts the tenon off where it is drawn",
}
"""Words of the trade for what no such table can be built with, and why; other words of the choice do it."""


def unbuilt(path: str, word: object) -> str:
    """The word and why it is no choice here, "" where it is just not known."""
    key = path, str(word).strip().casefold()
    return f"{word!r}: {translated(UNBUILT[key])}" if key in UNBUILT else ""


def unknown_words(where: str, section: Any) -> Iterator[Fault]:
    """A fault for each choice of a section that holds another word than it takes."""
    for name, words in choices_of(section.__class__).items():
        held = getattr(section, name)
        for word in held if isinstance(held, tuple) else (held,):
            if word not in words:
                offered = translated(" or ").join(f'"{one}"' for one in words)
                path = f"{where}.{name}" if where else name
                found = unbuilt(path, word) or worded("{word!r} is not known here", word=word)
                yield Fault(path, found, worded("{offered} is wanted", offered=offered))

"""The quantity: a figure with the formula and the figures that it came from."""

from dataclasses import dataclass
from typing import Literal

Unit = Literal[
    "", "mm", "deg", "mm2", "mm3", "kg", "%", "N", "min", "g",
    "kg/m3", "g/m2", "m2", "m3", "l", "MPa", "C", "s", "N mm", "mm4", "GPa",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Quantity:
    """One figure.

    `name` is how it is asked for (`top.inner_apothem`, `part.SLAT-04L.length`; a key of the profile keeps its own
    name), `says` what it is in words, `value` stands in `unit` (angles in degrees). `formula` is arithmetic over the
    symbols of `terms`, each of which names another quantity; sin, cos and tan take degrees, asin, acos and atan give
    them, besides sqrt, min, max, floor, ceil, round, abs and pi. Without a formula it is given: by the maker, by a
    default, or by a table that `source` names. `source` also says where a formula comes from.
    """

    name: str
    says: str
    value: float
    unit: Unit
    formula: str = ""
    terms: tuple[tuple[str, str], ...] = ()
    source: str = ""

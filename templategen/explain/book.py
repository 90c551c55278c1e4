"""The book of quantities: each is written once, its value worked out from its formula."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.explain.evaluate import evaluate, symbols_of

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
    default, or by a table that `source` names. `source` also says where a formula comes from. What either says
    without fields is translated as it is written down.
    """

    name: str
    says: str
    value: float
    unit: Unit
    formula: str = ""
    terms: tuple[tuple[str, str], ...] = ()
    source: str = ""


SYMBOLS = {
    "A": "top.outer_apothem", "D": "top.diameter", "H": "top.height", "N": "top.segments", "R": "top.radius",
    "T": "top.thickness", "W": "top.rim_width", "a": "top.inner_apothem", "b": "top.half_rail", "k": "top.rails",
    "th": "top.field_angle", "mitre": "top.mitre", "arms": "top.arms", "face": "top.joint_face",
    "corner": "top.inner_corner", "hole": "top.pole_hole",
    "ce": "joints.end_clearance", "cg": "joints.glue_clearance", "cs": "joints.shoulder_clearance",
    "dg": "joints.groove_depth", "ds": "joints.spline_depth", "lt": "joints.tongue_length",
    "st": "joints.spline_thickness", "tt": "joints.tongue",
    "level": "slats.level", "span": "slats.span", "pitch": "slats.pitch", "g": "slats.solved_gap",
    "s": "legs.section", "h": "legs.height", "lean": "legs.lean", "rake": "legs.rake", "stub": "legs.stub",
    "E": "wood.stiffness", "F": "wood.fibre_saturation", "factor": "limits.movement_factor",
    "dry": "year.driest.swing", "wet": "year.wettest.swing",
}  # fmt: skip
"""What a symbol stands for in every formula, unless that says otherwise."""


class Book:
    """Quantities by name, in the order written. A formula may only use quantities written before it, so none can be
    circular."""

    def __init__(self) -> None:
        self._written: dict[str, Quantity] = {}

    def __contains__(self, name: str) -> bool:
        return name in self._written

    def __iter__(self) -> Iterator[Quantity]:
        return iter(self._written.values())

    def value(self, name: str) -> float:
        """The value of what is written under `name`."""
        return self._written[name].value

    @property
    def pages(self) -> Mapping[str, Quantity]:
        """All quantities by name."""
        return self._written

    def given(self, name: str, says: str, value: float, unit: Unit, source: str) -> str:
        """Writes down a quantity that has no formula, with the source of its value."""
        return self._write(Quantity(name, translated(says), float(value), unit, source=translated(source)))

    def add(self, name: str, says: str, unit: Unit, formula: str, source: str = "", **terms: str) -> str:
        """Writes down what follows from others; `terms` names the quantities of those of the formula's symbols that
        don't stand for what `SYMBOLS` says.

        Raises:
            KeyError: the name is written already, or a term is none of the formula's.
        """
        named = terms_of(formula, terms)
        value = evaluate(formula, {symbol: self.value(term) for symbol, term in named})
        return self._write(Quantity(name, translated(says), value, unit, formula, named, translated(source)))

    def put(self, quantity: Quantity) -> str:
        """Writes down a quantity made elsewhere."""
        return self._write(quantity)

    def _write(self, quantity: Quantity) -> str:
        if quantity.name in self._written:
            raise KeyError(f"{quantity.name} is written twice")
        self._written[quantity.name] = quantity
        return quantity.name


def terms_of(formula: str, terms: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """Each of a formula's symbols with the name of its quantity: those of `terms`, the others as everywhere."""
    symbols = symbols_of(formula)
    if strange := [symbol for symbol in terms if symbol not in symbols]:
        raise KeyError(f"{formula} has no {', '.join(strange)}")
    return tuple((symbol, terms.get(symbol) or SYMBOLS[symbol]) for symbol in symbols)


READABLE = 12
"""The most addends in one formula."""

Addend = tuple[str, str]
"""A quantity to add and the quantity it is multiplied by, "" for 1."""


def write_total(book: Book, name: str, says: str, unit: Unit, addends: Sequence[Addend], source: str = "") -> str:
    """Writes down a sum; one of many addends as partial sums first, named `NAME.sum_1` and so on."""
    size = READABLE
    while size * READABLE < len(addends):
        size *= READABLE
    if len(addends) <= READABLE:
        return _sum(book, name, says, unit, addends, source)
    stages = [addends[start : start + size] for start in range(0, len(addends), size)]
    sums: list[Addend] = []
    for number, stage in enumerate(stages, 1):
        of_sum, whole = "{says}: {number}. of {count:# part} of the sum", translated(says)
        words = said(of_sum, says=whole, number=number, count=len(stages))
        sums.append((write_total(book, f"{name}.sum_{number}", words, unit, stage, source), ""))
    return _sum(book, name, says, unit, sums, source)


def _sum(book: Book, name: str, says: str, unit: Unit, addends: Sequence[Addend], source: str) -> str:
    terms: dict[str, str] = {}
    sums = []
    for number, (value, times) in enumerate(addends, 1):
        terms[f"a{number}"] = value
        if times:
            terms[f"n{number}"] = times
        sums.append(f"n{number} * a{number}" if times else f"a{number}")
    if not sums:
        return book.given(name, says, 0.0, unit, source or "there are none")
    return book.add(name, says, unit, " + ".join(sums), source, **terms)

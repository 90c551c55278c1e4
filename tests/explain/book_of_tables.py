"""Tables with their quantities, each made once, and a second evaluator to check the first by."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache

from templategen.explain.book import Quantity
from templategen.explain.quantities import book_of
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables

SEEDS = range(12)

Told = tuple[Table, Mapping[str, Quantity]]


@lru_cache(maxsize=1)
def shipped() -> tuple[Told, ...]:
    """The shipped tables."""
    made = (build_table(profile_from_text(shipped_text(name), name)) for name in shipped_names())
    return tuple((table, book_of(table).pages) for table in made)


@lru_cache(maxsize=1)
def told_tables() -> tuple[Told, ...]:
    """The shipped tables and random ones."""
    return (*shipped(), *((table, book_of(table).pages) for table in tables(SEEDS)))


def by_python(formula: str, values: Mapping[str, float]) -> float:
    """The formula by Python's own arithmetic, with degrees."""
    names = {
        "sin": lambda a: math.sin(a * math.pi / 180),
        "cos": lambda a: math.cos(a * math.pi / 180),
        "tan": lambda a: math.tan(a * math.pi / 180),
        "asin": lambda s: math.asin(s) * 180 / math.pi,
        "acos": lambda s: math.acos(s) * 180 / math.pi,
        "atan": lambda s: math.atan(s) * 180 / math.pi,
        "sqrt": math.sqrt,
        "pi": math.pi,
        "min": min,
        "max": max,
        "floor": math.floor,
        "ceil": math.ceil,
        "round": round,
        "abs": abs,
    }
    return float(eval(formula, {"__builtins__": {}}, {**names, **values}))

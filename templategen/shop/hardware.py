"""What is bought besides wood, as far as the design needs it: pins, glue, finish; and what is assumed of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from templategen.parts.work import works
from templategen.shop.finish import Finish, finish_of
from templategen.shop.gluing.plan import GluingPlan
from templategen.table.assembly import Table
from templategen.units import format_mm, inch_fraction

PIN = 4.0
"""Thickness of a slat's pin, mm (assumed)."""

SHORTER = 2.0
"""By how much a pin stays short of the tongue's upper face, mm, so that it never shows (assumed)."""

SPARE = 1.25
"""Glue is bought, and mixed, for a quarter more than is spread (assumed)."""

BOTH_ENDS = 2
"""Pins of a slat at most: an end between arm and rim may have two tongues, and still gets one."""

GRAMS_PER_KG = 1000.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to buy: how much of it in which unit, its size in words, what for, and what is assumed."""

    item: str
    amount: float
    unit: str
    size: str
    use: str
    assumed: str
    digits: int = 0


def hardware(table: Table, plan: GluingPlan, tables: int = 1) -> tuple[Wanted, ...]:
    """Everything but wood for so many tables."""
    return (*_pins(table, tables), *_glue(plan, tables), *_finish(finish_of(table, tables)))


def hardware_list(wanted: tuple[Wanted, ...]) -> tuple[list[str], list[list[str | float]]]:
    """Header and rows."""
    rows: list[list[str | float]] = [
        [one.item, format_mm(one.amount, one.digits), one.unit, one.size, one.use, one.assumed] for one in wanted
    ]
    return ["item", "amount", "unit", "size", "for", "assumed"], rows


def _pins(table: Table, tables: int) -> Iterator[Wanted]:
    """One in the middle of each end of every slat, from below: the slat stays on its middle and moves evenly."""
    tongues = [(part.count, work.count) for part in table.parts for work in works(part) if work.kind == "tongue"]
    ends = sum(count * min(BOTH_ENDS, zones) for count, zones in tongues)
    if not ends:
        return
    groove, profile = table.sizes.slat_groove, table.profile
    long = max(0.0, groove.bottom) + groove.tongue_thickness - SHORTER
    kept = "reckoned for the table's gaps over the year, which hold for slats held on their middles"
    assumed = (
        f"stainless steel, or hard wood; through the lower cheek and the tongue, {SHORTER:g} mm short of its top"
    )
    size = f"{_length(PIN, profile.units)} thick, {_length(long, profile.units)} long at most"
    use = f"the middle of each end of a slat, from below; {kept}"
    yield Wanted("slat pins", float(ends * tables), "pieces", size, use, assumed)


def _glue(plan: GluingPlan, tables: int) -> Iterator[Wanted]:
    if plan.grams <= 0:
        return
    use = f"{plan.sessions} goes; {format_mm(plan.grams * tables, 0)} g are spread"
    assumed = f"shop.spread on one side, mitres sized first, a quarter more; {plan.glue.water}"
    grams = ceil(plan.grams * tables * SPARE / 10) * 10.0
    yield Wanted(plan.glue.says, grams / GRAMS_PER_KG, "kg", "", use, assumed, 2)


def _finish(finish: Finish) -> Iterator[Wanted]:
    low, high = (format_mm(value, 1) for value in finish.litres)
    use = (
        f"{format_mm(finish.bare, 1)} m2 on all faces that glue doesn't cover, undersides and grooves too, "
        f"{finish.coats} coats; two or three more on end grain and feet"
    )
    assumed = (
        f"{low} to {high} l at 10 to 14 m2 a litre on planed wood, later coats 1.3 to 1.5 times as far; "
        "rags with drying oil can catch fire by themselves: spread them out one by one outdoors until stiff, or "
        "drown them in a closed metal can"
    )
    yield Wanted("finish", ceil(finish.litres[1] * 10) / 10, "l", "", use, assumed, 1)


def _length(size: float, units: str) -> str:
    """A length for the shop: mm, or the nearest 32nd of an inch."""
    return inch_fraction(size, 32)[0] if units == "in" else f"{format_mm(size, 0)} mm"

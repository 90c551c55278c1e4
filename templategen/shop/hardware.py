"""What is bought besides wood, as far as the design needs it: pins, glue, finish; and what is assumed of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from templategen.shop.finish import Finish, finish_of
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.pins import PIN, SHORTER, pins_of
from templategen.table.assembly import Table
from templategen.table.rails import top_bolt
from templategen.units import format_mm, length_by_rule

SPARE = 1.25
"""Glue is bought, and mixed, for a quarter more than is spread (assumed)."""

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
    return (*_pins(table, tables), *_bolts(table, tables), *_glue(plan, tables), *_finish(finish_of(table, tables)))


def hardware_list(wanted: tuple[Wanted, ...]) -> tuple[list[str], list[list[str | float]]]:
    """Header and rows."""
    rows: list[list[str | float]] = [
        [one.item, format_mm(one.amount, one.digits), one.unit, one.size, one.use, one.assumed] for one in wanted
    ]
    return ["item", "amount", "unit", "size", "for", "assumed"], rows


def _pins(table: Table, tables: int) -> Iterator[Wanted]:
    """The slats' pins."""
    pins, units = pins_of(table), table.profile.units
    if not pins.count:
        return
    assumed = (
        f"stainless steel, or hard wood; through the lower cheek and the tongue, {SHORTER:g} mm short of its top"
    )
    size = f"{length_by_rule(PIN, units, 0, 32)} thick, {length_by_rule(pins.length, units, 0, 32)} long at most"
    yield Wanted("slat pins", float(pins.count * tables), "pieces", size, pins.sentence, assumed)


def _bolts(table: Table, tables: int) -> Iterator[Wanted]:
    """What holds a bolted top: bolt, washer or broad head, and nut for each leg. Threads are metric everywhere."""
    bolt, units = top_bolt(table.sizes), table.profile.units
    if bolt is None:
        return
    head, nut, long = (length_by_rule(size, units, 1, 32) for size in (bolt.head, bolt.nut, bolt.nut_length))
    size = f"M{bolt.thread:g} x {bolt.length:g} mm, head or washer {head} wide; barrel nut {nut} thick, {long} long"
    use = "one in each leg, from the top face down; the joint stays dry, so that the top comes off again"
    assumed = "stainless steel A2 or A4, property class 70; a spring washer under each head, grease on the threads"
    yield Wanted("bolts with barrel nuts", float(table.sizes.arms * tables), "sets", size, use, assumed)


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

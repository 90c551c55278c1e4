"""What to buy besides wood: pins, bolts, glue, finish, with what is assumed about each."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.shop.finish import Finish, finish_of
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.listing import Listing
from templategen.shop.pins import SHORTER, USE, pins_of
from templategen.table.assembly import Table
from templategen.table.glides import glide_outlines
from templategen.table.pins import PIN_OF
from templategen.table.profile.choices import Units
from templategen.table.rails import top_bolt, top_peg
from templategen.units import format_mm, length_by_rule

SPARE = 1.25
"""Glue is bought, and mixed, for a quarter more than is spread (assumed)."""

SPARE_PEGS = 2
"""Made more than there are legs: a bent one is replaced (assumed)."""

GRAMS_PER_KG = 1000.0

GRAMS_PER_OUNCE, QUARTS_IN_A_LITRE, SQUARE_FEET = 28.349523125, 1.056688209, 10.763910417
"""Avoirdupois ounce; US liquid quarts in a litre; square feet in a square metre (NIST SP 811, appendix B)."""


RAGS = (
    "rags with drying oil can catch fire by themselves: spread them out one by one outdoors until stiff, or drown "
    "them in a closed metal can"
)

GLIDES = "glides"
"""How they are called on lists."""


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
    return (
        *_pins(table, tables),
        *_bolts(table, tables),
        *_glides(table, tables),
        *_pegs(table, tables),
        *_glue(plan, tables, table.profile.units),
        *_finish(finish_of(table, tables), table.profile.units),
    )


def _by_rule(size: float, units: Units, digits: int = 1) -> str:
    return figured(length_by_rule(size, units, digits, 32))


HEADER = ("item", "amount", "unit", "size", "for", "assumed")


def hardware_list(wanted: tuple[Wanted, ...]) -> Listing:
    """Header and rows."""
    rows: list[list[str | float]] = [
        [
            translated(one.item),
            format_mm(one.amount, one.digits),
            translated(one.unit),
            one.size,
            one.use,
            one.assumed,
        ]
        for one in wanted
    ]
    return list(HEADER), rows


def _pins(table: Table, tables: int) -> Iterator[Wanted]:
    """The slats' pins."""
    pins, units = pins_of(table), table.profile.units
    if not pins.count:
        return
    assumed = said(
        "stainless steel, or hard wood; through the lower cheek and the tongue, {short} short of its top",
        short=_by_rule(SHORTER, units, 0),
    )
    thick, long = _by_rule(PIN_OF[units].thick, units, 0), _by_rule(pins.length, units, 0)
    size = said("{thick} thick, {long} long", thick=thick, long=long)
    yield Wanted("slat pins", float(pins.count * tables), "pieces", size, translated(USE), assumed)


def _bolts(table: Table, tables: int) -> Iterator[Wanted]:
    """What holds a bolted top: bolt, washer or broad head, and nut for each leg. Threads are metric everywhere."""
    bolt, units = top_bolt(table.sizes), table.profile.units
    if bolt is None:
        return
    sizes = bolt.head, bolt.head_height, bolt.nut, bolt.nut_length
    head, high, nut, long = (_by_rule(size, units) for size in sizes)
    size = said(
        "M{thread:g} x {length:g} mm, flat head, {high} high at most with its washers, head or washer {head} wide;"
        " barrel nut {nut} thick, {long} long",
        thread=bolt.thread,
        length=bolt.length,
        head=head,
        high=high,
        nut=nut,
        long=long,
    )
    use = translated("one in each leg, from the top face down; the joint stays dry, so that the top comes off again")
    assumed = translated(
        "stainless steel A2 or A4, property class 70; a spring washer under each head, grease on the threads"
    )
    yield Wanted("bolts with barrel nuts", float(table.sizes.arms * tables), "sets", size, use, assumed)


def _glides(table: Table, tables: int) -> Iterator[Wanted]:
    """What stands between the feet and the floor."""
    base, units = table.profile.base, table.profile.units
    if base.glides == "none":
        return
    across, thick, deep = (_by_rule(size, units) for size in base.glide)
    screwed = base.glides == "screwed"
    size = said(
        "{across} across, {thick} thick, with a stainless screw that goes {deep} into the wood"
        if screwed
        else "{across} across, {thick} thick, with a stainless nail that goes {deep} into the wood",
        across=across,
        thick=thick,
        deep=deep,
    )
    use = said(
        "{each} under each foot; they lift the table by {thick}, which its height counts",
        each=base.glides_each,
        thick=thick,
    )
    assumed = translated("plastic for stone and boards, stainless steel for gravel; nothing that rusts or drinks")
    yield Wanted(GLIDES, float(len(list(glide_outlines(table.sizes))) * tables), "pieces", size, use, assumed)


def peg_sizes(table: Table) -> tuple[str, str, str, str] | None:
    """A peg's thickness and length, and how far it is tapered to what, in words; None where no leg is draw-bored."""
    peg, units = top_peg(table.sizes), table.profile.units
    if peg is None:
        return None
    thick, long, tip, end = (
        _by_rule(size, units) for size in (peg.thickness, peg.length, peg.tip, peg.tip_thickness)
    )
    return thick, long, tip, end


def _pegs(table: Table, tables: int) -> Iterator[Wanted]:
    """What draws draw-bored legs home."""
    sizes = peg_sizes(table)
    if sizes is None:
        return
    thick, long, tip, end = sizes
    size = said("{thick} thick, {long} long, {tip} of it tapered to {end}", thick=thick, long=long, tip=tip, end=end)
    use = said(
        "one through each leg's upper tenon, {spare} spare; dry, so that the top comes off again", spare=SPARE_PEGS
    )
    assumed = translated(
        "split from dry, straight-grained oak, robinia or other hard wood that lasts outdoors; no glue"
    )
    yield Wanted("pegs", float(table.sizes.arms * tables + SPARE_PEGS), "pegs", size, use, assumed)


def _glue(plan: GluingPlan, tables: int, units: Units) -> Iterator[Wanted]:
    if plan.grams <= 0:
        return
    spread = plan.grams * tables
    told = f"{format_mm(spread / GRAMS_PER_OUNCE, 1)} oz" if units == "in" else f"{format_mm(spread, 0)} g"
    use = said("{goes:# go|goes}; {told} are spread", goes=plan.sessions, told=figured(told))
    assumed = said(
        "spread on one side[, {sized}], a quarter more; {water:word}",
        sized=translated("mitres sized first") if plan.glue.sizes else None, water=plan.glue.water,
    )  # fmt: skip
    grams = ceil(plan.grams * tables * SPARE / 10) * 10.0
    pounds = f"{format_mm(grams / GRAMS_PER_OUNCE / 16, 2)} lb" if units == "in" else ""
    yield Wanted(plan.glue.says, grams / GRAMS_PER_KG, "kg", pounds, use, assumed, 2)


def _finish(finish: Finish, units: Units) -> Iterator[Wanted]:
    inches, litres = units == "in", ceil(finish.litres[1] * 10) / 10
    low, high = (format_mm(value * (QUARTS_IN_A_LITRE if inches else 1.0), 1) for value in finish.litres)
    area = (
        f"{format_mm(finish.bare * SQUARE_FEET, 0)} sq ft"
        if inches
        else f"{format_mm(finish.bare, 1)} m\N{SUPERSCRIPT TWO}"
    )
    use = said(
        "{area} on all faces that glue doesn't cover, undersides and grooves too, {coats} coats; two or three more "
        "on end grain and feet",
        area=figured(area),
        coats=finish.coats,
    )
    assumed = said(
        "{litres} quarts at 100 to 140 sq ft a quart on planed wood, later coats 1.3 to 1.5 times as far; {rags}"
        if inches
        else "{litres} l at 10 to 14 m\N{SUPERSCRIPT TWO} a litre on planed wood, later coats 1.3 to 1.5 times as "
        "far; {rags}",
        litres=figured(low if low == high else f"{low}{translated(' to ')}{high}"),
        rags=translated(RAGS),
    )
    quarts = f"{format_mm(litres * QUARTS_IN_A_LITRE, 1)} US quarts" if inches else ""
    yield Wanted("finish", litres, "l", quarts, use, assumed, 1)

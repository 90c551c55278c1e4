"""The share for the customer: one sheet, as a page and on paper, in words for who gets the table.

No figure of it is new: sizes and mass are the table's, the year is the wood's, the price is the list's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import TYPE_CHECKING

from templategen.checks.balance import balance_of
from templategen.checks.finding import Finding
from templategen.checks.tipping import LIFTED_BY_ONE
from templategen.checks.wording import format_size
from templategen.drawing.drawing import Drawing
from templategen.english import spoken
from templategen.output.customer_sheet import CustomerSheet, customer_html
from templategen.output.maker_mark import mark_of
from templategen.packet.lay_out import LaidStock
from templategen.packet.lists import price_of_tables
from templategen.packet.lost import or_lost
from templategen.packet.page.sizes import size
from templategen.packet.page.year import seasons_in
from templategen.packet.table_stages import own_words
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.hardware import Wanted
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import trimmed
from templategen.work.plan import WorkPlan

if TYPE_CHECKING:
    from templategen.output.page.content import Picture
    from templategen.output.pdf_customer import PlacedPicture

PAGE, PAPER = "customer/sheet.html", "customer/sheet.pdf"

LETTER, A4 = (215.9, 279.4), (210.0, 297.0)
"""The paper that a customer has in hand: what the maker's own country prints on."""

AMERICAN = ("letter", "legal", "tabloid")


def customer_picture(drawing: Drawing | None) -> PlacedPicture | None:
    """The finished table for paper."""
    from templategen.output.pdf_customer import placed_picture

    return or_lost(PAPER, lambda: placed_picture(drawing), None) if drawing else None


def customer_files(
    table: Table, sheet: CustomerSheet, finished: Picture | None, picture: PlacedPicture | None
) -> Mapping[str, bytes]:
    """The sheet in both forms, by path."""
    from templategen.output.pdf_customer import NO_PICTURE, customer_pdf

    named = table.profile.paper.size
    paper = LETTER if isinstance(named, str) and named.casefold() in AMERICAN else A4
    with spoken(sheet.english, sheet.own):
        page = customer_html(sheet, finished.svg if finished else "").encode()
        printed = or_lost(PAPER, lambda: customer_pdf(sheet, picture or NO_PICTURE, paper), b"")
    return {PAGE: page, **({PAPER: printed} if printed else {})}


def customer_sheet(
    table: Table,
    findings: tuple[Finding, ...],
    gluing: GluingPlan,
    laid: LaidStock | None,
    wanted: tuple[Wanted, ...],
    work: WorkPlan,
) -> CustomerSheet:
    """What is told to who gets the table."""
    maker = table.profile.maker
    facts = (*_facts(table, findings), *_price(table, laid, wanted, work), *_delivery(table))
    chapters = (
        ("Bringing it in", tuple(_bringing(table, gluing))),
        ("Through the year", tuple(_year(table))),
        ("Through the years", CARE if table.sizes.is_glued_on_top else (BOLTED, *CARE)),
        ("At the table", tuple(_use(table, findings))),
    )
    return CustomerSheet(
        table.profile.title, tuple(one for one in (maker.name, *maker.lines) if one), facts, chapters,
        mark_of(maker.mark) if maker.mark else None, table.profile.words.customer, tuple(own_words(table.profile)),
    )  # fmt: skip


def _facts(table: Table, findings: tuple[Finding, ...]) -> Iterator[tuple[str, str]]:
    top, units = table.profile.top, table.profile.units
    yield "Size", f"{size(top.diameter, units)} across, {size(top.height, units)} high"
    coats = table.profile.shop.coats
    yield "Wood", f"solid {table.profile.wood}, {coats} coat{'s' if coats > 1 else ''} of finish on every face"
    if seats := next((one for one in findings if one.kind == "seats"), None):
        yield "Seats", f"{seats.measured:g} with room for their elbows"
    yield "Weight", f"about {format_size(round(balance_of(table).mass), 'kg', units)}"
    if top.pole_hole:
        yield "Parasol", f"a hole for a pole up to {size(top.pole_hole - POLE_PLAY, units)} thick"


def _price(
    table: Table, laid: LaidStock | None, wanted: tuple[Wanted, ...], work: WorkPlan
) -> Iterator[tuple[str, str]]:
    rates, money = table.profile.rates, f" {table.profile.maker.currency}".rstrip()
    price = price_of_tables(table, laid, wanted, work)
    if price is None:
        yield "Price", "as agreed: ____________________"
        return
    many = f" for {work.tables} tables" if work.tables > 1 else ""
    tax = f", of which {price.share_of(price.net, rates.tax):.2f} are {trimmed(rates.tax)} % tax" if rates.tax else ""
    yield "Price", f"{price.total:.2f}{money}{many}{tax}"
    if rates.valid:
        yield "Stands for", f"{rates.valid} days from ____________________"


def _delivery(table: Table) -> Iterator[tuple[str, str]]:
    yield "Delivery", table.profile.maker.delivery or "as agreed: ____________________"


def _bringing(table: Table, gluing: GluingPlan) -> Iterator[str]:
    top, units, balance = table.profile.top, table.profile.units, balance_of(table)
    if gluing.steps and gluing.steps[-1].dry:
        weight = format_size(round(balance.top_mass), "kg", units)
        yield (
            f"Top and legs are two pieces: undo the {table.sizes.arms} bolts in the top, and it, {weight}, lifts "
            "off straight up, for two persons or more; it comes down on its legs again letter to letter."
        )
        yield "Keep bolts, washers and nuts together; draw them up across the table in turn, until the joints close."
        height = top.height - top.thickness + table.profile.legs.tenon[2]
        yield (
            f"On edge the top alone goes through an opening {_opening(top.thickness, units)} wide and "
            f"{_opening(top.diameter, units)} high, the legs on their cross through one {_opening(height, units)} by "
            f"{_opening(table.profile.base.length, units)}."
        )
    else:
        yield "Top and legs are glued together: the table comes in one piece and isn't taken apart."
    yield (
        f"Put together and on edge it goes through an opening {_opening(top.height, units)} wide and "
        f"{_opening(top.diameter, units)} high."
    )
    persons = max(2, ceil(balance.mass / LIFTED_BY_ONE))
    who = WORDS.get(persons, str(persons))
    yield f"{who} persons carry it, by the rails under the top; dragged, it strains its legs."
    yield "Stand it level, all feet on the ground, where water runs off and air gets under it."


def _opening(across: float, units: Units) -> str:
    """What so much goes through with hands beside it, rounded up."""
    step = STEPS[units]
    return size(ceil((across + HANDS) / step) * step, units)


def _year(table: Table) -> Iterator[str]:
    dry, built, wet = seasons_in(table)
    units = table.profile.units
    yield (
        f"Wood is wider when the air is damp and narrower when it is dry. Between the slats there are "
        f"{size(round(built.gap, 1), units)} as it is made; expect about {size(round(dry.gap, 1), units)} at the "
        f"driest and {size(round(wet.gap, 1), units)} at the wettest of the year."
    )
    yield (
        f"The rim does the same: by about {size(round(wet.rim - dry.rim, 1), units)} from one to the other, so its "
        "joints may show a fine line at times. The slats lie loose in their grooves so that nothing splits."
    )
    yield "Fine cracks at the ends of boards, and resin or tannin in the first rains, are the wood's own way."
    yield "These are means; single boards differ."


BOLTED = "Draw the bolts in the top up again after the first dry season, then once a year: wood shrinks under them."

CARE = (
    "Brush it off, wash it with water and a little soap, let it dry; a pressure washer tears the fibres.",
    "Renew the finish about once a year, or when water no longer stands in drops: ends and feet first.",
    "Left without finish the wood turns silver grey, which does it no harm.",
    "Spread cloths with finish on them flat outdoors until they are stiff: heaped they can catch fire by themselves.",
    "In winter keep it dry and aired: a cover needs air under it, and feet shouldn't stand in wet leaves or snow.",
    "Once a year look at joints and feet; if something moves or has gone soft, don't use it and ask the maker.",
    "Put something under what is hot, and keep rusting metal off it: many woods stain black from iron.",
)

WORDS = {2: "Two", 3: "Three", 4: "Four"}
"""Numbers of persons that are told in words."""

POLE_PLAY = 2.0
"""A pole is so much thinner than its hole, mm."""

HANDS = 60.0
"""Room for hands beside what is carried, mm."""

STEPS: dict[Units, float] = {"mm": 10.0, "in": 25.4}
"""Openings are told in whole centimetres, or whole inches."""


def _use(table: Table, findings: tuple[Finding, ...]) -> Iterator[str]:
    yield "Nobody sits, stands or climbs on it; it can tip when somebody leans hard on the rim."
    yield "Keep children's fingers from between the slats, and watch that nobody swings on the rim."
    if not table.profile.top.pole_hole:
        yield "There is no hole for a parasol: stand one beside the table, in a base of its own."
        return
    if held := next((one for one in findings if one.kind == "parasol-in-base"), None):
        do = held.told(table.profile.units).do
        yield f"{do[:1].upper()}{do[1:]}; the hole only guides the pole."
    yield "Close the parasol in wind, and whenever nobody sits at the table; take it out in storms."

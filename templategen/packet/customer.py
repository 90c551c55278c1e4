"""The share for the customer: one sheet, as a page and on paper, in words for who gets the table.

No figure of it is new: sizes and mass are the table's, the year is the wood's, the price is the list's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import TYPE_CHECKING

from templategen.catalogue import figured, translated
from templategen.checks.balance import balance_of
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.checks.tipping import LIFTED_BY_ONE
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
from templategen.paper.grid import SIZES, paper_at_hand
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.hardware import Wanted
from templategen.table.assembly import Table
from templategen.table.profile.choices import TopJoint, Units
from templategen.units import trimmed
from templategen.work.plan import WorkPlan

if TYPE_CHECKING:
    from templategen.output.page.content import Picture
    from templategen.output.pdf_customer import PlacedPicture

PAGE, PAPER = "customer/sheet.html", "customer/sheet.pdf"


def customer_picture(drawing: Drawing | None) -> PlacedPicture | None:
    """The finished table for paper."""
    from templategen.output.pdf_customer import placed_picture

    return or_lost(PAPER, lambda: placed_picture(drawing), None) if drawing else None


def customer_files(
    table: Table, sheet: CustomerSheet, finished: Picture | None, picture: PlacedPicture | None
) -> Mapping[str, bytes]:
    """The sheet in both forms, by path."""
    from templategen.output.pdf_customer import NO_PICTURE, customer_pdf

    name = paper_at_hand(table.profile.paper)
    paper = SIZES[name.lower()]
    with spoken(sheet.words, sheet.own):
        page = customer_html(sheet, finished.svg if finished else "", name).encode()
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
    maker, words, own = table.profile.maker, table.profile.words.customer, tuple(own_words(table.profile))
    with spoken(words, own):
        facts = (*_facts(table, findings), *_price(table, laid, wanted, work), *_delivery(table))
        chapters = (
            (translated("Bringing it in"), tuple(_bringing(table, gluing))),
            (translated("Through the year"), tuple(_year(table))),
            (translated("Through the years"), tuple(_care(table))),
            (translated("At the table"), tuple(_use(table, findings))),
        )
    return CustomerSheet(
        table.profile.title, tuple(one for one in (maker.name, *maker.lines) if one), facts, chapters,
        mark_of(maker.mark) if maker.mark else None, words, own,
    )  # fmt: skip


def _size(mm: float, units: Units) -> str:
    return figured(size(mm, units))


def _facts(table: Table, findings: tuple[Finding, ...]) -> Iterator[tuple[str, str]]:
    top, units, wood = table.profile.top, table.profile.units, table.profile.wood
    across, high = _size(top.diameter, units), _size(top.height, units)
    yield translated("Size"), said("{across} across, {high} high", across=across, high=high)
    solid = said(
        "solid {wood:word}, {coats:# coat} of finish on every face", wood=wood, coats=table.profile.shop.coats
    )
    yield translated("Wood"), solid
    if seats := next((one for one in findings if one.kind == "seats"), None):
        yield translated("Seats"), said("{seats:g} with room for their elbows", seats=seats.measured)
    yield translated("Weight"), said("about {mass:kg}", units, mass=round(balance_of(table).mass))
    if top.pole_hole:
        pole = _size(top.pole_hole - POLE_PLAY, units)
        yield translated("Parasol"), said("a hole for a pole up to {pole} thick", pole=pole)


def _price(
    table: Table, laid: LaidStock | None, wanted: tuple[Wanted, ...], work: WorkPlan
) -> Iterator[tuple[str, str]]:
    rates = table.profile.rates
    price = price_of_tables(table, laid, wanted, work)
    if price is None:
        yield translated("Price"), translated(AGREED)
        return
    yield translated("Price"), said(
        "{total:.2f}[ {money}][ for {tables} tables][, of which {part:.2f} are {tax} % tax]",
        total=price.total, money=table.profile.maker.currency, tables=work.tables if work.tables > 1 else None,
        part=price.share_of(price.net, rates.tax), tax=figured(trimmed(rates.tax)) if rates.tax else None,
    )  # fmt: skip
    if rates.valid:
        yield translated("Stands for"), said("{days} days from ____________________", days=rates.valid)


APART: Mapping[TopJoint, str] = {
    "bolted": "Top and legs are two pieces: undo the {legs} bolts in the top, and it, {weight:kg}, lifts off "
    "straight up, for two persons or more; it comes down on its legs again letter to letter.",
    "draw-bored": "Top and legs are two pieces: tap the {legs} pegs under the top back out from their thin ends, and "
    "it, {weight:kg}, lifts off straight up, for two persons or more; it comes down on its legs again letter to "
    "letter.",
}
"""How a top that isn't glued comes off, and goes on again."""

KEPT: Mapping[TopJoint, str] = {
    "bolted": "Keep bolts, washers and nuts together; draw them up across the table in turn, until the joints close.",
    "draw-bored": "Keep the pegs dry; drive them in again thin end first, with light taps, across the table in turn, "
    "until the joints close. Never glue them, and put a new one of hard wood in for one that is bent or cracked.",
}
"""What is kept with it, and how it is drawn home."""

AGREED = "as agreed: ____________________"


def _delivery(table: Table) -> Iterator[tuple[str, str]]:
    yield translated("Delivery"), table.profile.maker.delivery or translated(AGREED)


def _bringing(table: Table, gluing: GluingPlan) -> Iterator[str]:
    top, units, balance = table.profile.top, table.profile.units, balance_of(table)
    if gluing.steps and gluing.steps[-1].dry:
        joint = table.profile.legs.top_joint
        yield said(APART[joint], units, legs=table.sizes.arms, weight=round(balance.top_mass))
        yield translated(KEPT[joint])
        yield said(
            "On edge the top alone goes through an opening {thick} wide and {across} high, the legs on their cross "
            "through one {high} by {long}.",
            thick=_opening(top.thickness, units), across=_opening(top.diameter, units),
            high=_opening(top.height - top.thickness + table.profile.legs.tenon[2], units),
            long=_opening(table.profile.base.length, units),
        )  # fmt: skip
    else:
        yield translated("Top and legs are glued together: the table comes in one piece and isn't taken apart.")
    yield said(
        "Put together and on edge it goes through an opening {high} wide and {across} high.",
        high=_opening(top.height, units), across=_opening(top.diameter, units),
    )  # fmt: skip
    persons = max(2, ceil(balance.mass / LIFTED_BY_ONE))
    yield said(
        "{who:word} persons carry it, by the rails under the top; dragged, it strains its legs.",
        who=WORDS.get(persons, str(persons)),
    )
    yield translated("Stand it level, all feet on the ground, where water runs off and air gets under it.")


def _opening(across: float, units: Units) -> str:
    """What so much goes through with hands beside it, rounded up."""
    step = STEPS[units]
    return _size(ceil((across + HANDS) / step) * step, units)


def _year(table: Table) -> Iterator[str]:
    dry, built, wet = seasons_in(table)
    units = table.profile.units
    gaps = {name: _size(round(one.gap, 1), units) for name, one in (("built", built), ("dry", dry), ("wet", wet))}
    yield said(
        "Wood is wider when the air is damp and narrower when it is dry. The gaps between the slats are {built} as "
        "it is made; expect about {dry} at the driest and {wet} at the wettest of the year.",
        **gaps,
    )
    yield said(
        "The rim does the same: by about {much} from one to the other, so its joints may show a fine line at times. "
        "The slats lie loose in their grooves so that nothing splits.",
        much=_size(round(wet.rim - dry.rim, 1), units),
    )
    yield translated(
        "Fine cracks at the ends of boards, and resin or tannin in the first rains, are the wood's own way."
    )
    yield translated("These are means; single boards differ.")


def _care(table: Table) -> Iterator[str]:
    dry = () if table.sizes.is_glued_on_top else (DRY_CARE[table.profile.legs.top_joint],)
    yield from map(translated, (*dry, *CARE))
    if table.sizes.glide_height > 0:
        yield translated(GLIDED)


DRY_CARE: Mapping[TopJoint, str] = {
    "bolted": "Draw the bolts in the top up again after the first dry season, then once a year: wood shrinks under "
    "them.",
    "draw-bored": "After the first dry season, then once a year, try whether a peg under the top turns by hand: put "
    "a new one in for each that does.",
}
"""What a top that comes off asks for."""

GLIDED = (
    "The feet stand on glides that keep them dry: have one that is worn or lost put back before the wood stands wet."
)

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
    yield translated("Nobody sits, stands or climbs on it; it can tip when somebody leans hard on the rim.")
    yield translated("Keep children's fingers from between the slats, and watch that nobody swings on the rim.")
    if not table.profile.top.pole_hole:
        yield translated("There is no hole for a parasol: stand one beside the table, in a base of its own.")
        return
    if held := next((one for one in findings if one.kind in ("parasol-in-base", "parasol-no-room")), None):
        do = held.described(table.profile.units).do
        yield said("{do}; the hole only guides the pole.", do=f"{do[:1].upper()}{do[1:]}")
    yield translated("Close the parasol in wind, and whenever nobody sits at the table; take it out in storms.")

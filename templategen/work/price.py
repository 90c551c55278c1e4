"""What a table costs: wood, other materials and hours at the maker's own rates, with the share that nobody knows."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from templategen.catalogue import figured, translated, worded
from templategen.shop.buy_list import FOR_STRIPS
from templategen.shop.hardware import GLIDES, Wanted
from templategen.shop.listing import Cell, Listing
from templategen.shop.trial_wood import TrialWood
from templategen.table.profile.model_of_shop import Rates, Stock
from templategen.units import format_mm, trimmed
from templategen.work.plan import WorkPlan

MINUTES = 60.0


@dataclass(frozen=True, slots=True)
class Charge:
    """One line of a price: so much of a unit at so much each; `doubt` is how much more or less it may come to."""

    item: str
    amount: float
    unit: str
    each: float
    basis: str
    doubt: float = 0.0

    @property
    def cost(self) -> float:
        """What the line comes to, to the hundredth, as it is written."""
        return round(self.amount * self.each, 2)


@dataclass(frozen=True, slots=True)
class Price:
    """Charges in order, then overhead and tax as shares of what stands before them; money is the maker's own."""

    charges: tuple[Charge, ...]
    overhead: float
    tax: float

    @property
    def bare(self) -> float:
        """Materials and hours."""
        return round(sum(one.cost for one in self.charges), 2)

    @property
    def net(self) -> float:
        """With overhead."""
        return self.bare + self.share_of(self.bare, self.overhead)

    @property
    def total(self) -> float:
        """With overhead and tax."""
        return self.net + self.share_of(self.net, self.tax)

    @property
    def range(self) -> tuple[float, float]:
        """The least and the most that the total may come to."""
        off = sum(one.doubt for one in self.charges) * (1 + self.overhead / 100) * (1 + self.tax / 100)
        return round(self.total - off, 2), round(self.total + off, 2)

    @staticmethod
    def share_of(amount: float, percent: float) -> float:
        """A percentage of an amount, to the hundredth."""
        return round(amount * percent / 100, 2)


def price_of(
    rates: Rates,
    stock: Sequence[Stock],
    used: Mapping[str, int],
    wanted: Sequence[Wanted],
    plan: WorkPlan,
    tried: Mapping[str, int],
    unserved: Sequence[TrialWood] = (),
) -> Price:
    """The price of all tables of a plan; `used` are pieces of stock by name, as the layouts take them, `tried` those
    that test strips are sawn out of besides; strips that are `unserved` count as nothing."""
    wood = (*_wood(stock, used), *_tried(stock, tried, unserved))
    bad, bench = translated("wood that turns out bad"), translated("work at the bench")
    spoilt = Charge(bad, rates.waste / 100, "of the wood", sum(one.cost for one in wood), "rates.waste")
    hours = plan.minutes / MINUTES
    off = round(hours * rates.hourly * rates.doubt / 100, 2)
    doubt = figured(trimmed(rates.doubt))
    basis = worded("the plan of work; true within {doubt} % (rates.doubt)", doubt=doubt)
    work = Charge(bench, hours, "h", rates.hourly, basis, off)
    return Price((*wood, spoilt, *_materials(rates, wanted), work), rates.overhead, rates.tax)


def _wood(stock: Sequence[Stock], used: Mapping[str, int]) -> Iterator[Charge]:
    for one in stock:
        if used.get(one.name):
            basis = translated(
                "the layouts" if one.price else "the layouts; no price is given, so it counts as nothing"
            )
            yield Charge(one.name, float(used[one.name]), "pieces", one.price, basis)


def _tried(stock: Sequence[Stock], tried: Mapping[str, int], unserved: Sequence[TrialWood]) -> Iterator[Charge]:
    for one in stock:
        if count := tried.get(one.name):
            basis = translated("wood for test pieces that no offcut holds")
            yield Charge(worded(FOR_STRIPS, stock=one.name), float(count), "pieces", one.price, basis)
    for strip in unserved:
        basis = translated("wood for test pieces that no offcut holds; no stock serves it, so it counts as nothing")
        yield Charge(strip.code, float(strip.count), "pieces", 0.0, basis)


def _materials(rates: Rates, wanted: Sequence[Wanted]) -> Iterator[Charge]:
    """Pins, bolts, glides, glue and finish, each at its rate by the unit in which it is bought."""
    each = {"pieces": ("rates.pin_price", rates.pin_price), "sets": ("rates.bolt_price", rates.bolt_price),
            GLIDES: ("rates.glide_price", rates.glide_price),
            "pegs": ("rates.peg_price", rates.peg_price),
            "kg": ("rates.glue_price", rates.glue_price),
            "l": ("rates.finish_price", rates.finish_price)}  # fmt: skip
    for one in wanted:
        unit = GLIDES if one.item == GLIDES else one.unit
        key, price = each.get(unit, ("", 0.0))
        basis = key or translated("no rate is known, so it counts as nothing")
        yield Charge(translated(one.item), one.amount, one.unit, price, basis)


def price_list(price: Price) -> Listing:
    """Header and rows: the charges, then overhead, tax and the total with its range."""
    rows: list[list[Cell]] = [
        [
            one.item,
            trimmed(one.amount, 3),
            translated(one.unit),
            format_mm(one.each, 2),
            format_mm(one.cost, 2),
            one.basis,
        ]
        for one in price.charges
    ]
    low, high = (format_mm(one, 2) for one in price.range)
    sums = (
        (translated("materials and work"), "", "", "", price.bare, translated("the sum of the lines above")),
        (
            translated("overhead"),
            trimmed(price.overhead),
            "%",
            "",
            price.share_of(price.bare, price.overhead),
            "rates.overhead",
        ),
        (translated("tax"), trimmed(price.tax), "%", "", price.share_of(price.net, price.tax), "rates.tax"),
        (translated("price"), "", "", "", price.total, worded("between {low} and {high}", low=low, high=high)),
    )
    rows += [[*row[:4], format_mm(row[4], 2), row[5]] for row in sums]
    return ["item", "amount", "unit", "price_each", "cost", "from"], rows

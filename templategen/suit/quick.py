"""A variant reckoned quickly: its parts exactly, its boards by a bound that no layout can beat."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import compress
from math import fsum

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.run import found_by_sizes
from templategen.checks.sitting import seats
from templategen.errors import StockError, TemplategenError
from templategen.kept.content import Contents
from templategen.nesting.area import Bound, by_area, grown_area, room_area
from templategen.nesting.bound import bound
from templategen.packet.jigs import plan_jigs
from templategen.packet.lay_out import is_priced
from templategen.packet.second_core import on_second_core
from templategen.packet.supply import Order, Supply, joint_supplies, supplies
from templategen.shop.set_ups.run import set_ups
from templategen.shop.weigh import mass_kg
from templategen.suit.variant import Variant, distance, profile_of
from templategen.table.assembly import Table, build_table
from templategen.table.bounds.refuse import refuse_impossible
from templategen.table.profile.choices import Counts
from templategen.table.profile.model import Profile
from templategen.table.sizes import Sizes
from templategen.table.spacing import spacing_of, stays_clear
from templategen.work.jigs import jigs_used
from templategen.work.machined import machined
from templategen.work.operation import Operation

FIRST, LATER = 0.002, 0.03
"""A table is better where what counts first is less by this share, or else what counts next by that."""


def better(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether the first of two lists of what counts is less by more than a trifle."""
    for place, (less, more) in enumerate(zip(one, other, strict=True)):
        trifle = (LATER if place else FIRST) * abs(more)
        if abs(less - more) > trifle:
            return less < more
    return False


Kind = tuple[str, float]
"""A wood, and a thickness of its stock."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What comes out of one kind of stock: the least that any layout of it costs, and boards in
    parts. Batches with one `key` are alike, so that they are laid out alike, whatever tables they belong to; `supply`
    is what a sharper bound asks for."""

    kind: Kind
    key: bytes
    least: float
    in_parts: float
    supply: Supply | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Quick:
    """What a variant comes to at least. `counts` holds a figure for each thing that counts, the less the better: a
    size, and what is used of the rack, with the sign turned, hours and set-ups by the number of parts and of kinds of
    part. `hints` are the same with boards in parts, smooth where whole boards go by steps, and so the better measure
    of what a layout will come to. `load` is the share of stock that can't be added to which the parts cover, 0 where
    any number may be bought. `batches` are what `counts` and `hints` have the cost from."""

    variant: Variant
    distance: float
    counts: tuple[float, ...]
    hints: tuple[float, ...] = ()
    load: float = 0.0
    batches: tuple[Batch, ...] = ()


@dataclass(frozen=True, slots=True)
class Boards:
    """What is paid for, and the fewest boards; the fewest that must be bought, and the most of the rack, mm2, that
    the parts can use."""

    batches: tuple[Batch, ...]
    boards: int
    bought: float
    rack: float
    load: float

    @property
    def cost(self) -> float:
        """The least that any layout costs."""
        return sum(one.least for one in self.batches)

    @property
    def in_parts(self) -> float:
        """The same if boards could be had in parts."""
        return sum(one.in_parts for one in self.batches)


class Reckoner:
    """Reckons variants of one profile, each once."""

    def __init__(self, profile: Profile, ceiling: float | None = None) -> None:
        self.profile, self.ceiling = profile, ceiling
        self.known: dict[Variant, Quick | str] = {}
        self._bounds: dict[bytes, Bound] = {}

    def __call__(self, variant: Variant) -> Quick | None:
        """What the variant comes to; None for a table that can't be built, has a finding over a note that its sizes
        alone tell, has too few seats or another height than was asked, or finds no room on the stock, or whose boards
        cost more than the ceiling by area alone."""
        found = self.told(variant)
        return None if isinstance(found, str) else found

    def told(self, variant: Variant) -> Quick | str:
        """The same, or in words why not."""
        if variant not in self.known:
            self.known[variant] = self._reckoned(variant)
        return self.known[variant]

    def all(self, variants: Iterable[Variant]) -> list[Quick]:
        """Those of the variants that there are; half of what isn't known yet is reckoned on a second core."""
        wanted = list(variants)
        new = list(dict.fromkeys(one for one in wanted if one not in self.known))
        half = len(new) // 2
        waiting = on_second_core(lambda: self._beside(new[half:]), wanted=half > 0)
        for one in new[:half]:
            self.told(one)
        known, bounds = waiting()
        self.known |= known
        self._bounds |= bounds
        return [found for one in wanted if not isinstance(found := self.known[one], str)]

    def _beside(self, some: Sequence[Variant]) -> tuple[dict[Variant, Quick | str], dict[bytes, Bound]]:
        """What another process makes of some variants, and the bounds that it came by."""
        return {one: self.told(one) for one in some}, self._bounds

    def _reckoned(self, variant: Variant) -> Quick | str:
        try:
            profile = profile_of(self.profile, variant)
            why = _against(profile)
            if why:
                return why
            table = build_table(profile)
        except TemplategenError as refusal:
            return str(refusal.faults[0])
        for finding in found_by_sizes(table):
            if finding.level != "note":
                return f"{finding.where}: {finding.says}"
        try:
            boards = self._boards(table)
        except StockError as shortage:
            return str(shortage.faults[0])
        if boards is None:
            return "finds no boards for some part, or dearer ones than the table asked"
        wanted = self.profile.suit.counts
        counts = tuple(_count(table, boards, one) for one in wanted)
        hints = tuple(
            boards.in_parts if what == "cost" else count for what, count in zip(wanted, counts, strict=True)
        )
        return Quick(variant, distance(self.profile, variant), counts, hints, boards.load, boards.batches)

    def _boards(self, table: Table) -> Boards | None:
        """The least of boards; None where a part has none, or they cost too much by area alone.

        Raises:
            StockError: there are too few boards, however the parts are laid.
        """
        served, unserved = supplies(table)
        if unserved and table.profile.stock:
            return None
        priced = any(one.price for one in table.profile.stock)
        sheets = [_batch(one, _by_area(one)) for one in _of_jigs(table) if is_priced(one) or not priced]
        paid = [is_priced(one) or not priced for one in served]
        area = sum(_by_area(one).cost for one in compress(served, paid)) + sum(one.least for one in sheets)
        if self.ceiling is not None and area > self.ceiling + 1e-6:
            return None
        least = [self._bound(one) for one in served]
        wanted = self.profile.suit.counts
        return Boards(
            (*(_batch(*pair) for pair in compress(zip(served, least, strict=True), paid)), *sheets),
            sum(one.pieces for one in least),
            sum(map(_least_bought, served)) if "to buy" in wanted else 0.0,
            sum(map(_rack, served)) if "rack" in wanted else 0.0,
            max(map(_load, served), default=0.0),
        )

    def _bound(self, supply: Supply) -> Bound:
        """The least of a supply; alike ones are reckoned once."""
        key = _key(supply)
        if key not in self._bounds:
            self._bounds[key] = bound(supply.items, supply.pieces, supply.spacing, scaled=False)
        return self._bounds[key]


def _against(profile: Profile) -> str:
    """What stands against a table that needn't be built to see it; "" for nothing.

    Raises:
        DesignError: it can't be built.
    """
    suit, top, easy = profile.suit, profile.top, profile.limits.seat_width[1]
    if suit.seats and seats(top.diameter, easy) < suit.seats:
        return said("seats {count}", count=seats(top.diameter, easy))
    if suit.height and not suit.height[0] <= top.height <= suit.height[1]:
        return translated("isn't as high as suit.height says")
    sizes = Sizes(profile)
    refuse_impossible(sizes)
    clear = stays_clear(profile, spacing_of(sizes))
    return "" if clear else translated("slats.gap: doesn't drain, or catches fingers, at some time of the year")


def _key(supply: Supply) -> bytes:
    return Contents().digest(supply)


def _batch(supply: Supply, least: Bound) -> Batch:
    return Batch((supply.wood, supply.thickness), _key(supply), least.cost, least.in_parts, supply)


def _of_jigs(table: Table) -> Iterable[Supply]:
    """The sheets for jigs, where there are any: those that every order of assembly needs."""
    profile = table.profile
    if not any(one.wood == profile.jigs.wood for one in profile.stock):
        return ()
    fitted = Operation("dry fit", "", "group", "")
    _, used = jigs_used(table, (*(machined(table, one, 1) for one in set_ups(table)), fitted))
    served, _ = joint_supplies([Order(table, 1, jigs=plan_jigs(table, used).of_sheet(profile))], profile.stock)
    return (one for one in served if one.only_jigs)


def _by_area(supply: Supply) -> Bound:
    return by_area(supply.items, supply.pieces, supply.spacing, is_priced(supply))


def _least_bought(supply: Supply) -> float:
    """The fewest pieces of kinds that the rack doesn't hold: those of the rack are free."""
    if all(piece.count is not None for piece in supply.pieces):
        return 0.0
    priced = [replace(piece, price=float(piece.count is None)) for piece in supply.pieces]
    return by_area(supply.items, priced, supply.spacing, priced=True).cost


def _need(supply: Supply) -> float:
    return fsum(item.count * grown_area(item.outline, supply.spacing / 2) for item in supply.items)


def _room_on_rack(supply: Supply) -> float:
    return fsum((piece.count or 0) * max(0.0, room_area(piece, supply.spacing / 2)) for piece in supply.pieces)


def _rack(supply: Supply) -> float:
    return min(_need(supply), _room_on_rack(supply))


def _load(supply: Supply) -> float:
    if any(piece.count is None for piece in supply.pieces):
        return 0.0
    return _need(supply) / max(1.0, _room_on_rack(supply))


def _count(table: Table, boards: Boards, what: Counts) -> float:
    """One thing that counts; the less the better."""
    return {
        "cost": round(boards.cost, 2), "boards": float(boards.boards), "to buy": boards.bought, "rack": -boards.rack,
        "mass": round(mass_kg(table), 1), "size": -table.profile.top.diameter,
        "hours": float(len(table.placed)), "set-ups": float(len(table.parts)),
    }[what]  # fmt: skip

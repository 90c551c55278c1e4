"""Proposals: variants built, proved and laid out like any other table."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from math import inf

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.errors import StockError
from templategen.nesting.bound import bound
from templategen.packet.lay_out import LaidSheet
from templategen.packet.pipeline import Worked
from templategen.packet.second_core import on_second_core
from templategen.packet.stages import FINDINGS, LAID, SET_UPS, WORK
from templategen.packet.supply import supplies
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.weigh import mass_kg
from templategen.suit.variant import Value, Variant, changes, distance, profile_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

SHARES = ("stock", "jigs")
"""What of a packet is worked out for a proposal: layouts as `make` has them, sheets for jigs too."""

WORTH = 0.01
"""One board more is told where the table then costs less by this share."""

AT_ONCE = 2
"""So many tables are laid out at a time: one for each core."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A table near the one asked, with all that speaks for and against it: `cost` of its stock, `boards` in all and
    those `bought` of which the rack holds none, the area of the `rack`'s own boards that it uses, mm2; `spent` is
    what of the cost each wood and thickness has."""

    variant: Variant
    changes: tuple[tuple[str, Value], ...]
    distance: float
    table: Table
    cost: float
    boards: int
    bought: int
    rack: float
    hours: float
    mass: float
    set_ups: int
    findings: tuple[Finding, ...]
    short: bool
    spent: Mapping[tuple[str, float], float] = field(default_factory=dict)

    @property
    def holds(self) -> bool:
        """Whether nothing stands against it: no finding over a note, and all parts have their place."""
        return not self.short and all(finding.level == "note" for finding in self.findings)

    @property
    def against(self) -> str:
        """What stands against it in words, if anything does."""
        if self.short:
            return translated("finds no room on the stock")
        grave = dict.fromkeys(
            f"{one.where} ({translated(one.level)})" for one in self.findings if one.level != "note"
        )
        return said("has findings to settle: {grave}", grave=", ".join(grave)) if grave else ""

    def count(self, what: str) -> float:
        """One thing that counts, the less the better."""
        return {
            "cost": self.cost, "boards": self.boards, "to buy": self.bought, "rack": -self.rack,
            "hours": round(self.hours, 1), "mass": self.mass, "set-ups": self.set_ups,
            "size": -self.table.profile.top.diameter,
        }[what]  # fmt: skip


def proposal(profile: Profile, variant: Variant) -> Proposal:
    """The variant in full, worked out in a copy of the process, which can't be copied again once a fit is proved.

    Raises:
        DesignError: the table can't be built.
    """
    worked = begun(profile_of(profile, variant), SHARES)
    return on_second_core(partial(in_full, profile, variant, worked), wanted=True)()


def in_full(profile: Profile, variant: Variant, worked: Worked) -> Proposal:
    """The same where some of it is worked out already."""
    table, laid = worked[TABLE], worked[LAID]
    pieces = [one.sheet.piece for one in laid.sheets] if laid else []
    return Proposal(
        variant,
        tuple(changes(profile, variant)),
        distance(profile, variant),
        table,
        round(laid.cost, 2) if laid else 0.0,
        len(pieces),
        sum(piece.count is None for piece in pieces),
        sum(piece.length * piece.width for piece in pieces if piece.count is not None),
        worked[WORK].minutes / 60,
        round(mass_kg(table), 1),
        len(worked[SET_UPS]),
        worked[FINDINGS],
        bool(laid and laid.unplaced),
        _spent(laid.sheets, any(one.price for one in table.profile.stock)) if laid else {},
    )


def _spent(sheets: Sequence[LaidSheet], priced: bool) -> dict[tuple[str, float], float]:
    found: dict[tuple[str, float], float] = {}
    for one in sheets:
        kind, piece = (one.supply.wood, one.supply.thickness), one.sheet.piece
        found[kind] = found.get(kind, 0.0) + (piece.price if priced else piece.length * piece.width)
    return found


def one_more(one: Proposal) -> Iterator[tuple[str, float]]:
    """For each kind of stock of which there are only so many: what the table costs with one more of it, where that is
    less by `WORTH`, or all finds room at last. What has no price beside priced boards is an offcut: there is
    no more of it."""
    stock = one.table.profile.stock
    priced = any(kind.price for kind in stock)
    asked = [at for at, kind in enumerate(stock) if kind.count is not None and (kind.price or not priced)]
    for start in range(0, len(asked), AT_ONCE):
        some = asked[start : start + AT_ONCE]
        waiting = [on_second_core(partial(_with_one_more, one, at), wanted=True) for at in some]
        for at, cost in zip(some, [wait() for wait in waiting], strict=True):
            if cost is not None:
                yield stock[at].name, cost


def _with_one_more(one: Proposal, at: int) -> float | None:
    """What the table costs with one more of a kind; None where that doesn't help. It is laid out where the bound of
    its kind leaves any hope."""
    profile = one.table.profile
    more = replace(profile.stock[at], count=(profile.stock[at].count or 0) + 1)
    rack = replace(profile, stock=(*profile.stock[:at], more, *profile.stock[at + 1 :]))
    enough = inf if one.short else (1 - WORTH) * one.cost
    served, _ = supplies(replace(one.table, profile=rack))
    for supply in served:
        if any(piece.name == more.name for piece in supply.pieces):
            others = one.cost - one.spent.get((supply.wood, supply.thickness), 0.0)
            try:
                if others + bound(supply.items, supply.pieces, supply.spacing).cost >= enough:
                    return None
            except StockError:
                return None
    laid = begun(rack, SHARES)[LAID]
    return round(laid.cost, 2) if laid and not laid.unplaced and laid.cost < enough else None

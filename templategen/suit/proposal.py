"""Proposals: variants built, proved and laid out like any other table."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from templategen.checks.finding import Finding
from templategen.packet.pipeline import Worked
from templategen.packet.second_core import on_second_core
from templategen.packet.stages import FINDINGS, LAID, SET_UPS, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.weigh import mass_kg
from templategen.suit.variant import Value, Variant, changes, distance, profile_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

SHARES = ("stock", "jigs")
"""What of a packet is worked out for a proposal: layouts as `make` has them, sheets for jigs too."""

WORTH = 0.01
"""One board more is told where the table then costs less by this share."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A table near the one asked, with all that speaks for and against it: `cost` of its stock, `boards` in all and
    those `bought` of which the rack holds none, the area of the `rack`'s own boards that it uses, mm2."""

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

    @property
    def holds(self) -> bool:
        """Whether nothing stands against it: no finding over a note, and all parts have their place."""
        return not self.short and all(finding.level == "note" for finding in self.findings)

    @property
    def against(self) -> str:
        """What stands against it in words, if anything does."""
        if self.short:
            return "finds no room on the stock"
        grave = dict.fromkeys(f"{one.where} ({one.level})" for one in self.findings if one.level != "note")
        return f"has findings to settle: {', '.join(grave)}" if grave else ""

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
    )


def one_more(one: Proposal) -> Iterator[tuple[str, float]]:
    """For each kind of stock of which there are only so many: what the table costs with one more of it, where that is
    less by `WORTH`, or all finds room at last. What has no price beside priced boards is an offcut: there is
    no more of it."""
    profile = one.table.profile
    priced = any(stock.price for stock in profile.stock)
    for number, stock in enumerate(profile.stock):
        if stock.count is None or (priced and not stock.price):
            continue
        more = replace(stock, count=stock.count + 1)
        rack = replace(profile, stock=(*profile.stock[:number], more, *profile.stock[number + 1 :]))
        laid = begun(rack, SHARES)[LAID]
        if laid and not laid.unplaced and (one.short or laid.cost < (1 - WORTH) * one.cost):
            yield stock.name, round(laid.cost, 2)

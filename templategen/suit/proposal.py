"""Proposals: variants built, proved and laid out like any other table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from templategen.checks.finding import Finding
from templategen.errors import TemplategenError
from templategen.packet.second_core import on_second_core
from templategen.packet.stages import FINDINGS, LAID, SET_UPS, WORK
from templategen.packet.table_stages import TABLE, begun
from templategen.shop.weigh import mass_kg
from templategen.suit.quick import Quick, better
from templategen.suit.search import apart
from templategen.suit.variant import Value, Variant, asked, changes, distance, profile_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

SHARES = ("stock", "jigs")
"""What of a packet is worked out for a proposal: layouts as `make` has them, sheets for jigs too."""

TRIED = 3
"""So many times as many variants are laid out as are proposed, where some don't hold."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A table near the one asked, with all that speaks for and against it; `cost` is that of its stock."""

    variant: Variant
    changes: tuple[tuple[str, Value], ...]
    distance: float
    table: Table
    cost: float
    boards: int
    hours: float
    mass: float
    set_ups: int
    findings: tuple[Finding, ...]
    short: bool

    @property
    def holds(self) -> bool:
        """Whether nothing stands against it: no finding over a note, and all parts have their place."""
        return not self.short and all(finding.level == "note" for finding in self.findings)

    def count(self, what: str) -> float:
        """One thing that counts, the less the better."""
        return {
            "cost": self.cost, "boards": self.boards, "hours": round(self.hours, 1), "mass": self.mass,
            "set-ups": self.set_ups, "size": -self.table.profile.top.diameter,
        }[what]  # fmt: skip


def proposal(profile: Profile, variant: Variant) -> Proposal:
    """The variant in full.

    Raises:
        DesignError: the table can't be built.
    """
    worked = begun(profile_of(profile, variant), SHARES)
    table, laid = worked[TABLE], worked[LAID]
    return Proposal(
        variant,
        tuple(changes(profile, variant)),
        distance(profile, variant),
        table,
        round(laid.cost, 2) if laid else 0.0,
        len(laid.sheets) if laid else 0,
        worked[WORK].minutes / 60,
        round(mass_kg(table), 1),
        len(worked[SET_UPS]),
        worked[FINDINGS],
        bool(laid and laid.unplaced),
    )


def proposals(profile: Profile, good: tuple[Quick, ...], most: int) -> tuple[Proposal, ...]:
    """At most so many that hold and are better than the table asked or than every nearer one, the nearest first."""
    wanted = apart(tuple(one for one in good if one.variant != asked(profile)), most)
    half = len(wanted) // 2
    waiting = on_second_core(lambda: list(_held(profile, wanted[half:])), wanted=True)
    held = [*_held(profile, wanted[:half]), *waiting()]
    others = [one for one in reversed(good) if one not in wanted][: TRIED * most]
    while len(held) < min(most, len(wanted)) and others:
        held += _held(profile, [others.pop(0)])
    return tuple(_undominated(held, profile.suit.counts))


def _held(profile: Profile, some: Sequence[Quick]) -> Iterator[Proposal]:
    """Those variants in full that hold."""
    for one in some:
        try:
            found = proposal(profile, one.variant)
        except TemplategenError:
            continue
        if found.holds:
            yield found


def _undominated(found: Sequence[Proposal], counts: Sequence[str]) -> Iterator[Proposal]:
    best: tuple[float, ...] | None = None
    for one in sorted(found, key=lambda one: (one.distance, str(one.variant))):
        own = tuple(one.count(what) for what in counts)
        if best is None or better(own, best):
            best = own
            yield one


def one_more(profile: Profile, own: Proposal) -> Iterator[tuple[str, float]]:
    """For each kind of stock of which there are only so many: what the table asked costs less with one more of it."""
    for number, stock in enumerate(profile.stock):
        if stock.count is None:
            continue
        more = replace(stock, count=stock.count + 1)
        rack = replace(profile, stock=(*profile.stock[:number], more, *profile.stock[number + 1 :]))
        laid = begun(rack, SHARES)[LAID]
        if laid and not laid.unplaced:
            yield stock.name, round(own.cost - laid.cost, 2) if not own.short else laid.cost

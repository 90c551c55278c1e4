"""Proposals: variants built, proved and laid out like any other table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from templategen.checks.finding import Finding
from templategen.errors import TemplategenError
from templategen.packet.pipeline import Worked
from templategen.packet.second_core import on_second_core
from templategen.packet.stages import FINDINGS, LAID, SET_UPS, WORK
from templategen.packet.table_stages import CHECKED, TABLE, begun
from templategen.shop.weigh import mass_kg
from templategen.suit.quick import Quick, better
from templategen.suit.search import apart, frontier
from templategen.suit.variant import Value, Variant, asked, changes, distance, profile_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

SHARES = ("stock", "jigs")
"""What of a packet is worked out for a proposal: layouts as `make` has them, sheets for jigs too."""

JUDGED = 24
"""So many variants are built and checked in full at most, where some don't hold."""


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
    return _in_full(profile, variant, begun(profile_of(profile, variant), SHARES))


def _in_full(profile: Profile, variant: Variant, worked: Worked) -> Proposal:
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
    """At most so many that hold and are better than the table asked or than every nearer one, the nearest first.

    Where one of the frontier doesn't hold, the frontier of all others takes its place, until all that is shown holds.
    """
    left, held, judged = list(good), dict[Variant, Proposal](), 0
    while judged < JUDGED:
        shown = apart(tuple(one for one in frontier(left) if one.variant != asked(profile)), most)
        waiting = [one for one in shown if one.variant not in held][: JUDGED - judged]
        if not waiting:
            break
        for one, found in zip(waiting, _judged(profile, waiting), strict=True):
            if found is None:
                left.remove(one)
            else:
                held[one.variant] = found
        judged += len(waiting)
    return tuple(_undominated(list(held.values()), profile.suit.counts))


def _judged(profile: Profile, some: Sequence[Quick]) -> list[Proposal | None]:
    """Each in full where it holds, half of them on a second core."""
    half = len(some) // 2
    waiting = on_second_core(lambda: [_held(profile, one) for one in some[half:]], wanted=half > 0)
    return [*(_held(profile, one) for one in some[:half]), *waiting()]


def _held(profile: Profile, one: Quick) -> Proposal | None:
    """A variant in full; None for one that doesn't hold, which is known before it is laid out as a rule."""
    try:
        worked = begun(profile_of(profile, one.variant), SHARES)
        if any(finding.level != "note" for finding in worked[CHECKED]):
            return None
        found = _in_full(profile, one.variant, worked)
    except TemplategenError:
        return None
    return found if found.holds else None


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

"""What a job teaches: rates that lie nearer to the maker's own pace, and how true lengths come out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import sqrt

from templategen.catalogue import translated, worded
from templategen.job.minutes import TIMED, Minutes, rate
from templategen.job.planned import Planned
from templategen.job.read import JobDone
from templategen.table.profile.model import Profile

HALF_TRUSTED = 120.0
"""After so many planned minutes by a rate a job counts as much as what was believed before."""

HALF_TRUSTED_LENGTHS = 10.0
"""The same for lengths measured."""

WETTEST_BUILT = 30.0
"""Wetter wood is no moisture to build at, %."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """A key of the workshop file that changes: from (None where nothing was set), to, and why."""

    key: str
    before: float | None
    after: float
    why: str


def lessons(plan: Planned, job: JobDone, shop: Profile) -> Iterator[Lesson]:
    """Every key that the job changes; `shop` is the workshop as it stands, on a table of nothing but defaults."""
    for name in TIMED:
        yield from _rate(name, plan, job, rate(shop.rates, name))
    yield from _length_error(plan, job, shop.shop.length_error)
    before, measured = shop.shop.build_moisture, job.moisture
    if measured is not None and measured <= WETTEST_BUILT and measured != before:
        yield Lesson("shop.build_moisture", before or None, measured, translated("as measured, %"))


def _rate(name: str, plan: Planned, job: JobDone, before: float) -> Iterator[Lesson]:
    """r + w (q r' - r): r as it stands, r' as planned with, w = m / (m + 120) for m planned minutes; q is how much
    longer what hangs on the rate took than planned, each kind of work by its share of those minutes."""
    held = {does: plan.minutes[does] for does in job.minutes if plan.minutes[does].of.get(name)}
    planned = sum(one.of[name] for one in held.values())
    if planned <= 0:
        return
    longer = sum(one.of[name] * job.minutes[does] / float(one) for does, one in held.items()) / planned
    trust = planned / (planned + HALF_TRUSTED)
    planned_with = rate(plan.profile.rates, name)
    after = round(before + trust * (longer * planned_with - before), 2)
    if after > 0 and after != before:
        reckoned = f"{before:g} + {trust:.3f} x ({longer:.3f} x {planned_with:g} - {before:g})"
        why = worded(
            "{planned:.0f} minutes planned took {took:.0f}, believed by {trust:.0f} %: {reckoned}",
            planned=planned, took=planned * longer, trust=100 * trust, reckoned=reckoned,
        )  # fmt: skip
        yield Lesson(f"rates.{name}", before, after, why)


def _length_error(plan: Planned, job: JobDone, before: float) -> Iterator[Lesson]:
    """The root of the mean square of what lengths are off, and of what was believed before as the rest."""
    off = [measured - plan.lengths[code] for code, measured in job.lengths.items()]
    if not off:
        return
    trust = len(off) / (len(off) + HALF_TRUSTED_LENGTHS)
    found = sum(one**2 for one in off) / len(off)
    after = round(sqrt(trust * found + (1 - trust) * before**2), 3)
    if after != before:
        why = worded(
            "lengths measured: {count}, off by {off:.2f} mm; believed by {trust:.0f} %",
            count=len(off), off=sqrt(found), trust=100 * trust,
        )  # fmt: skip
        yield Lesson("shop.length_error", before, after, why)


def predicted_hours(minutes: Mapping[str, Minutes], changes: Mapping[str, float]) -> float:
    """The hours of the same plan with rates that are so many times as long."""
    return sum(share * changes.get(name, 1.0) for one in minutes.values() for name, share in one.of.items()) / 60

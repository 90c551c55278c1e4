"""Groups the jobs that share a setting, so that it is made once."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import get_args

from templategen.shop.set_ups.feed import OVER_THE_CUTTER
from templategen.shop.set_ups.remarks import FACET
from templategen.shop.set_ups.set_up import BESIDES, Check, Cut, Job, Lay, Operation, Proof, Setting, SetUp

ORDER: tuple[Operation, ...] = get_args(Operation)

SAME = 6
"""Decimals to which settings must agree to be one: a millionth of a mm or degree."""

LAST = {"stop": 1, "beyond": 2}
"""What cuts go by that come after others; a corner is sawn off when the end beside it is."""


def grouped(jobs: Iterable[Job], tables: int = 1) -> tuple[SetUp, ...]:
    """The set-ups in working order, numbered from 1; within one the cuts, shortest stop first."""
    groups: dict[tuple[object, ...], list[Job]] = {}
    for job in jobs:
        groups.setdefault(_key(job), []).append(job)
    ordered = sorted(groups.values(), key=lambda group: _place(group[0]))
    return tuple(_set_up(number, group, tables) for number, group in enumerate(ordered, 1))


def _place(job: Job) -> tuple[float, int, float]:
    """Work on strips comes before ends are sawn, edges that are eased while a piece is whole right after, those on a
    relief's floor after the relief, and mitres go by their angle: a piece's first end is cut at the smallest one, and
    bears on the stop for the others. A point is taken off by hand when all are sawn."""
    mitred = (one.figure.value for one in job.shared if job.operation == "mitre" and one.name == "angle")
    after = "rip" if job.in_strip else "mitre" if job.while_whole else "relief" if job.relieved else ""
    at = next((place + 0.5 for place, one in enumerate(ORDER) if one == after), ORDER.index(job.operation))
    hands = 1 + (FACET in job.warnings) if job.operation == "mitre" and job.by_hand else 0
    return at, hands, round(next(mitred, 0.0), SAME)


def _key(job: Job) -> tuple[object, ...]:
    when = job.in_strip, job.while_whole, job.relieved
    return (ORDER.index(job.operation), *when, job.by_hand, FACET in job.warnings, job.cutter, *_values(job.shared))


def _values(settings: Sequence[Setting]) -> tuple[object, ...]:
    return tuple((one.name, round(one.figure.value, SAME) + 0.0) for one in settings)


def _set_up(number: int, jobs: Sequence[Job], tables: int) -> SetUp:
    first = jobs[0]
    warnings = tuple(dict.fromkeys(words for job in jobs for words in job.warnings))
    return SetUp(
        number, first.operation, "", first.cutter, first.shared, _cuts(jobs, tables), first.kerf_side,
        _proof(jobs), warnings, way="by hand" if first.by_hand else "auto", in_strip=first.in_strip,
        relieved=first.relieved,
    )  # fmt: skip


def _proof(jobs: Sequence[Job]) -> Proof:
    """All checks, each once with its tightest tolerance and whose it is, on the test piece of the strictest job and
    on pairs of others, whose ends later set-ups are tried on."""
    found: dict[str, Check] = {}
    whose: dict[str, dict[str, None]] = {}
    for check, job in ((check, one) for one in jobs for check in one.proof.checks):
        known = found.get(check.measure)
        if known is None or _off(check) < _off(known):
            found[check.measure] = check
        whose.setdefault(check.measure, {}).update(dict.fromkeys(lay.code for lay in job.lays))
    every = {lay.code for job in jobs for lay in job.lays}
    checks = (
        replace(check, pieces=tuple(whose[measure]) if whose[measure].keys() != every else ())
        for measure, check in found.items()
    )
    strictest = min(jobs, key=lambda job: min(map(_off, job.proof.checks)))
    kept = [job.proof.test_piece for job in jobs if job.proof.is_kept]
    pieces = BESIDES.join(dict.fromkeys((strictest.proof.test_piece, *kept)))
    return Proof(pieces, tuple(checks), bool(kept))


def _off(check: Check) -> float:
    return check.tolerance.figure.value


def _cuts(jobs: Sequence[Job], tables: int) -> tuple[Cut, ...]:
    """One cut for each setting of its own; those without a stop first, for what is off its strip goes to one, last
    those with a fence of their own. A gauge is swung once: laps that lie the other way come after all others."""
    groups: dict[tuple[object, ...], list[Job]] = {}
    for job in jobs:
        groups.setdefault(_values(job.own), []).append(job)
    cuts = [
        Cut(group[0].own, tuple(replace(lay, pieces=lay.pieces * tables) for lay in _lays(group)))
        for group in groups.values()
    ]
    return tuple(sorted(cuts, key=_rank))


def _rank(cut: Cut) -> tuple[bool, list[tuple[int, float]]]:
    names = {one.name for one in cut.settings}
    return "fence" in names and not names.isdisjoint(OVER_THE_CUTTER), [
        (LAST.get(one.name, 0), one.figure.value) for one in cut.settings
    ]


def _lays(jobs: Sequence[Job]) -> list[Lay]:
    lays = [lay for job in jobs for lay in job.lays]
    return sorted(lays, key=lambda lay: lay.swung) if jobs[0].operation == "lap" else lays

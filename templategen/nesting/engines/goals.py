"""Goals: sets of pieces cheaper than those in use, that might still hold everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from templategen.nesting.engines.job import Job, Used

FULLEST = 0.92
"""No set is tried whose pieces the parts would have to fill beyond this share."""

MOST_SETS = 3000
"""Sets listed at most; larger jobs change the set at hand by chance instead."""

MOST_LISTED = 10
"""Jobs with more pieces than this are changed by chance."""


def goals(job: Job, sheets: Sequence[Used]) -> list[tuple[int, ...]]:
    """Sets cheaper than the one in use (or as cheap, of fewer pieces), the most promising first.

    Most promising are sets that would be filled as far as the pieces in use are, the emptiest of those left
    aside: roomier sets gain little, tighter ones seldom hold everything.
    """
    used = [sheet.kind for sheet in sheets]
    found = _listed(job, used) if len(used) <= MOST_LISTED else _changed(job, used)
    need, usual = job.area_of(job.demand), _usual(job, sheets)
    shares = {kinds: need / _room(job, kinds) for kinds in found if kinds}
    hopeful = (kinds for kinds, share in shares.items() if share <= FULLEST)
    return sorted(hopeful, key=lambda kinds: (round(abs(shares[kinds] - usual), 9), job.cost(kinds), kinds))


def _usual(job: Job, sheets: Sequence[Used]) -> float:
    """How full the pieces in use are on the whole, without the emptiest of them."""
    full = sorted(sheets, key=lambda used: used.area / job.size(used.kind))[1:] or list(sheets)
    return sum(used.area for used in full) / sum(job.size(used.kind) for used in full)


def _room(job: Job, kinds: Sequence[int]) -> float:
    return sum(job.size(kind) for kind in kinds)


def _listed(job: Job, used: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Every cheaper set of at most as many pieces, up to MOST_SETS of them."""
    limit, count = job.cost(used), 0
    waiting: list[tuple[int, ...]] = [()]
    while waiting and count < MOST_SETS:
        kinds = waiting.pop()
        for kind in job.available(kinds):
            more = (*kinds, kind)
            if (kinds and kind < kinds[-1]) or (job.cost(more), len(more)) >= (limit, len(used)):
                continue
            count += 1
            yield more
            if len(more) < len(used):
                waiting.append(more)


def _changed(job: Job, used: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """The set in use with a piece left out, or left out and another exchanged."""
    limit = job.cost(used)
    for gone in sorted(set(used)):
        fewer = Counter(used)
        fewer[gone] -= 1
        yield tuple(sorted(fewer.elements()))
        for other in job.available(tuple(fewer.elements())):
            more = tuple(sorted([*fewer.elements(), other]))
            if job.cost(more) < limit:
                yield more

"""Goals: sets of pieces cheaper than those in use, that might still hold everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import fsum

from templategen.nesting.engines.job import Job, Used

FULL = 0.985
"""A whole set is never as full as the fullest pieces of its kinds would have it."""

MOST_SETS = 3000
"""Sets listed at most; larger jobs change the set at hand by chance instead."""

MOST_LISTED = 10
"""Jobs with more pieces than this are changed by chance."""


def goals(job: Job, sheets: Sequence[Used]) -> list[tuple[int, ...]]:
    """Sets cheaper than the one in use (or as cheap, of fewer pieces), those with most room to spare first.

    A set is hopeful when its pieces, each as full as any of its kind has been, could hold everything.
    """
    used = [sheet.kind for sheet in sheets]
    found = _listed(job, used) if len(used) <= MOST_LISTED else _changed(job, used)
    need = job.area_of(job.demand)
    spare = {kinds: fsum(job.fullest[kind] for kind in kinds) / need for kinds in found if kinds}
    hopeful = [kinds for kinds, share in spare.items() if share * FULL >= 1]
    hopeful.sort(key=lambda kinds: (-round(spare[kinds], 9), job.cost(kinds), kinds))
    return hopeful


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

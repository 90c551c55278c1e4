"""Goals: what makes one layout better than another, and sets of pieces that would make it cheaper."""

from collections import Counter
from collections.abc import Iterator, Sequence
from math import fsum
from typing import NamedTuple

from templategen.nesting.engines.job import NestingJob, Used
from templategen.nesting.offcuts import offcuts
from templategen.nesting.stock import Cut, Item, Layout

FULL = 0.985
"""A whole set is never as full as the fullest pieces of its kinds would have it."""

MOST_SETS = 3000
"""Sets listed at most; larger jobs change the set at hand by chance instead."""

MOST_LISTED = 10
"""Jobs with more pieces than this are changed by chance."""

SAME_FENCE = 1
"""Fence positions are told apart to so many decimals of a millimetre."""


class Objective(NamedTuple):
    """What a maker counts, the weightier first; the lesser tuple is the better layout.

    `missing` is the area of parts left over (mm2), `cost` that of the pieces in use, `pieces` their number,
    `offcuts` the negative sum of the squares of the offcuts' areas, so that one large rectangle beats two halves,
    `settings` how often the saw is set anew: fence positions and mitre angles over the whole cutting order.
    """

    missing: float
    cost: float
    pieces: int
    offcuts: float = 0.0
    settings: int = 0


def outlay(layout: Layout, items: Sequence[Item]) -> Objective:
    """What stands first, and is quickly told: parts left over, cost, pieces."""
    area = {item.code: abs(item.outline.area) for item in items}
    missing = fsum(area[code] * count for code, count in layout.unplaced.items())
    return Objective(round(missing, 3), round(layout.cost, 6), len(layout.sheets))


def goal(layout: Layout, items: Sequence[Item], spacing: float) -> Objective:
    """All of it; the saw's settings are those of the cuts that the sheets carry."""
    largest = [
        (width * height) ** 2
        for sheet in layout.sheets
        for _, _, width, height in offcuts(sheet, items, sheet.piece.apart(spacing))
    ]
    settings = saw_settings([cut for sheet in layout.sheets for cut in sheet.cuts])
    return outlay(layout, items)._replace(offcuts=-round(fsum(largest), 3), settings=settings)


def saw_settings(cuts: Sequence[Cut]) -> int:
    """How many fence positions the rips need, and how many mitre angles are sawn."""
    angles = {round(abs(cut.angle), 3) for cut in cuts if cut.kind == "mitre"}
    return len(angles) + len(_fences(cuts))


def _fences(cuts: Sequence[Cut]) -> set[float]:
    """The widths that rips leave: from the rip next below over the same length, or from the board's edge."""
    rips = [(c.start.y, min(c.start.x, c.end.x), max(c.start.x, c.end.x)) for c in cuts if c.kind == "rip"]
    fences = set()
    for y, left, right in rips:
        below = (v for v, u, w in rips if v < y - 10.0**-SAME_FENCE and u < right and left < w)
        fences.add(round(y - max(below, default=0.0), SAME_FENCE))
    return fences


def goals(job: NestingJob, sheets: Sequence[Used]) -> list[tuple[int, ...]]:
    """Sets cheaper than the one in use (or as cheap, of fewer pieces), those with most room to spare first.

    A set is hopeful when its pieces, each as full as any of its kind has been, could hold everything.
    """
    used = [sheet.kind for sheet in sheets]
    found = _listed(job, used) if len(used) <= MOST_LISTED else _changed(job, used)
    need = job.value_of(job.demand)
    spare = {kinds: fsum(job.fullest[kind] for kind in kinds) / need for kinds in found if kinds}
    hopeful = [kinds for kinds, share in spare.items() if share * FULL >= 1]
    hopeful.sort(key=lambda kinds: (-round(spare[kinds], 9), job.cost(kinds), kinds))
    return hopeful


def _listed(job: NestingJob, used: Sequence[int]) -> Iterator[tuple[int, ...]]:
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


def _changed(job: NestingJob, used: Sequence[int]) -> Iterator[tuple[int, ...]]:
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


def by_bisection(hopeful: Sequence[tuple[int, ...]], first: tuple[int, int]) -> Iterator[tuple[int, ...]]:
    """One after so large a share of the list (a fraction), then the same of each side, and so on."""
    part, whole = first
    spans = [(0, len(hopeful))]
    while spans:
        low, high = spans.pop(0)
        if low < high:
            middle = ((whole - part) * low + part * high) // whole
            yield hopeful[middle]
            spans += [(low, middle), (middle + 1, high)]

"""The search: variants spread over all ranges, the good ones bettered by steps, then drawn back to what was asked.

Everything is reckoned in a fixed order by a fixed amount of work, so the same profile gives the same answer.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from templategen.kept.keep import keeper
from templategen.suit.quick import Quick, Reckoner, better
from templategen.suit.variant import Variant, asked, evenly_spread, settled
from templategen.table.profile.model import Profile

SPREAD = 64
"""Variants spread over the ranges, for each size that may change; and at most MOST_SPREAD of them."""

MOST_SPREAD = 192

BETTERED = 4
"""So many of the frontier are bettered step by step."""

SHARES = (1 / 8, 1 / 32)
"""By how much of its range a size is moved at a time."""

HALVINGS = 5
"""How often the way back to what was asked is halved."""

Tell = Callable[[float], None]

One = TypeVar("One")


def search(profile: Profile, dearest: float | None = None, tell: Tell = lambda done: None) -> tuple[Quick, ...]:
    """All variants reckoned, the last of them about the frontier that they have. Where money counts first, none whose
    boards cost more than the `dearest`. Asked for the same again it is taken from what was kept."""
    who = keeper()
    if who is None:
        return _searched(profile, dearest, tell)
    return who.value("suit's search", (profile, dearest), lambda: _searched(profile, dearest, tell))


def _searched(profile: Profile, dearest: float | None, tell: Tell) -> tuple[Quick, ...]:
    reckon = Reckoner(profile, dearest if profile.suit.counts[0] == "cost" else None)
    own = reckon(asked(profile))
    found = [own] if own else []
    many = min(MOST_SPREAD, SPREAD * len(profile.suit.variations))
    found += reckon.all(evenly_spread(profile, many))
    tell(0.5)
    good = frontier(found)
    for number, one in enumerate(apart(good, BETTERED)):
        tell(0.5 + 0.4 * number / BETTERED)
        found += _bettered(profile, reckon, one)
    good = frontier(found)
    for one in apart(good, 2 * BETTERED):
        found += _drawn_back(profile, reckon, one)
    tell(1.0)
    return tuple(dict.fromkeys(found))


def frontier(found: Iterable[Quick]) -> tuple[Quick, ...]:
    """Those that no other beats, the nearest first."""
    ranked = sorted(set(found), key=lambda one: (one.distance, one.counts, str(one.variant)))
    kept: list[Quick] = []
    for one in ranked:
        if not kept or better(one.counts, kept[-1].counts):
            kept.append(one)
    return tuple(kept)


def apart(good: Sequence[One], most: int) -> list[One]:
    """Some of the frontier: the best, the nearest, and others evenly between."""
    if len(good) <= most:
        return list(good)
    return [good[-1 - round(number * (len(good) - 1) / max(1, most - 1))] for number in range(most)][::-1]


def _bettered(profile: Profile, reckon: Reckoner, start: Quick) -> Iterator[Quick]:
    """Steps that make what counts better, one size at a time, as long as there are any: by boards in parts, since
    in whole boards most steps change nothing."""
    best = start
    for share in SHARES:
        moved = True
        while moved:
            around = reckon.all(neighbours(profile, best.variant, share))
            yield from around
            ahead = min((best, *around), key=lambda one: (one.hints, one.counts, one.distance))
            best, moved = ahead, ahead != best


def neighbours(profile: Profile, variant: Variant, share: float) -> Iterator[Variant]:
    """The variants that differ in one value: another word, or a size moved by that share of its range."""
    for place, one in enumerate(profile.suit.variations):
        value = variant[place]
        if isinstance(value, str):
            others: list[float | str] = [word for word in one.words if word != value]
        else:
            step = max(share * (one.high - one.low), 1.0 if one.kind == "count" else 0.0)
            others = [settled(profile, one, value - step), settled(profile, one, value + step)]
        for other in others:
            if other != value:
                yield (*variant[:place], other, *variant[place + 1 :])


def _drawn_back(profile: Profile, reckon: Reckoner, start: Quick) -> Iterator[Quick]:
    """The same for what counts, each size as near to what was asked as halving the way finds it."""
    wanted, best = asked(profile), start
    for place, one in enumerate(profile.suit.variations):
        near, far = wanted[place], best.variant[place]
        if near == far:
            continue
        found = reckon((*best.variant[:place], near, *best.variant[place + 1 :]))
        if found and found.counts <= best.counts:
            best = found
            yield found
            continue
        for _ in range(0 if isinstance(near, str) or isinstance(far, str) else HALVINGS):
            middle = settled(profile, one, (float(near) + float(far)) / 2)
            found = reckon((*best.variant[:place], middle, *best.variant[place + 1 :]))
            if found and found.counts <= best.counts:
                best, far = found, middle
                yield found
            else:
                near = middle

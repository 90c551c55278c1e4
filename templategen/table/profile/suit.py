"""The section `[suit]`: which sizes may change and how far, what counts, what must hold."""

import re
from collections.abc import Iterator, Mapping, Sequence
from math import degrees
from typing import Any, get_args

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile import keys
from templategen.table.profile.choices import Counts
from templategen.table.profile.collect import Collector
from templategen.table.profile.key import NUMBERS, Key
from templategen.table.profile.resolve import described
from templategen.table.profile.suggest import did_you_mean
from templategen.table.profile.wish import Suit, Variation

COUNTS = get_args(Counts)


SHARE = r"(\d+(?:\.\d+)?)\s*%"


def read_suit(collector: Collector, written: Mapping[str, object], values: Mapping[str, Any]) -> Suit:
    """The section; `values` are all others by their key's path, mm and radians, since a share in % is one of them."""
    variations: list[Variation | None] = []
    counts, seats, height = Suit().counts, 0, None
    for name, raw in written.items():
        where = f"suit.{name}"
        with collector.trying():
            if name == "counts":
                counts = _counts(where, raw)
            elif name == "seats":
                seats = _seats(where, raw)
            elif name == "height":
                height = _between(collector, where, keys.KEYS["top.height"], raw)
            else:
                variations.append(_variation(collector, where, name, raw, values))
    return Suit(tuple(one for one in variations if one is not None), counts, seats, height)


def _counts(where: str, raw: object) -> tuple[Counts, ...]:
    words = raw if isinstance(raw, list) else [raw]
    for word in words:
        if word not in COUNTS:
            remedy = (
                did_you_mean(word, COUNTS)
                if isinstance(word, str)
                else worded("known here: {names}", names=", ".join(COUNTS))
            )
            raise ProfileError(Fault(where, worded("{word} is nothing that can count", word=described(word)), remedy))
    if not words or len(set(words)) < len(words):
        raise ProfileError(
            fault_of(where, "{count} words, each wanted once", 'write counts = ["cost", "hours"]', count=len(words))
        )
    return tuple(words)


def _seats(where: str, raw: object) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int) or not 0 <= raw <= 40:
        raise ProfileError(
            fault_of(where, "{raw} stands here", "a whole number up to 40 is wanted", raw=described(raw))
        )
    return raw


def _variation(
    collector: Collector, where: str, name: str, raw: object, values: Mapping[str, Any]
) -> Variation | None:
    key = keys.KEYS.get(name)
    if key is None or key.kind not in (*NUMBERS, "choice"):
        remedy = did_you_mean(name, [path for path, one in keys.KEYS.items() if one.kind in (*NUMBERS, "choice")])
        remedy += translated('; in quotes, such as "top.diameter" = [1250, 1400]')
        raise ProfileError(Fault(where, translated("is no size and no choice that can change"), remedy))
    if key.kind == "choice":
        return Variation(name, key.kind, words=tuple(_words(where, key, raw)))
    share = re.fullmatch(SHARE, raw.strip()) if isinstance(raw, str) else None
    if share is not None:
        return _by_share(where, key, float(share[1]), values[name])
    between = _between(collector, where, key, raw)
    return between and Variation(name, key.kind, *between)


def _between(collector: Collector, where: str, key: Key, raw: object) -> tuple[float, float] | None:
    """The least and the most; None where one of them can't be read, which is told."""
    if not isinstance(raw, list) or len(raw) != 2:
        name = where.removeprefix("suit.")
        told = f'"{name}"' if "." in name else name
        share = translated(', or a share: "10 %"') if "." in name else ""
        remedy = worded(
            "write the least and the most, such as {told} = [{low:g}, {high:g}]",
            told=told,
            low=key.low,
            high=key.high,
        )
        raise ProfileError(Fault(where, worded("{raw} stands here", raw=described(raw)), f"{remedy}{share}"))
    read = collector.parts((key, key), where, raw, "the least, the most")
    if read is None:
        return None
    low, high = (degrees(one) for one in read) if key.kind == "angle" else read
    if low >= high:
        raise ProfileError(
            fault_of(where, "{low} to {high} is no range", "write the smaller one first", low=raw[0], high=raw[1])
        )
    return low, high


def _by_share(where: str, key: Key, share: float, value: float | None) -> Variation:
    if not value or key.kind == "angle":
        raise ProfileError(fault_of(where, "a share of nothing, or of an angle", "write the least and the most"))
    low, high = value * (1 - share / 100), value * (1 + share / 100)
    return Variation(key.path, key.kind, max(key.low, low), min(key.high, high))


def _words(where: str, key: Key, raw: object) -> Iterator[str]:
    words: Sequence[object] = raw if isinstance(raw, list) else [raw]
    for word in words:
        if word not in key.choices:
            offered = ", ".join(f'"{one}"' for one in key.choices)
            raise ProfileError(
                fault_of(
                    where, "{raw} is not known here", "choose from {offered}", raw=described(word), offered=offered
                )
            )
        yield str(word)

"""What would do: beside each finding above a note a value of its key, tried on the table before it is named."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from math import ceil, degrees
from typing import Any

from templategen.checks.finding import Finding
from templategen.errors import TemplategenError
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.units import angle_words, length_by_rule, trimmed

INCH = 25.4

PROBES = (1, 8)
"""Steps to one side that show which way a figure goes; rounded figures need the longer."""

TRIES = 5
"""Values tried for one key, once its way is known."""

FINE = 10.0
"""Sizes under this are told to a tenth of a millimetre or 1/64 in, others to a half or 1/32."""

ALSO = {
    "top.thickness": ("legs.section", "top.rail_width", "legs.tenon", "base.thickness"),
    "base.thickness": ("legs.tenon",),
    "joints.tongue": ("slats.thickness", "top.thickness"),
    "joints.spline": ("joints.spline_depth", "top.rim_width", "joints.spline_thickness"),
    "joints.spline_depth": ("top.rim_width", "joints.spline"),
    "slats.thickness": ("joints.tongue",),
    "slats.gap": ("slats.hold", "slats.width", "shop.sawn"),
    "top.rail_width": ("joints.groove_depth",),
    "legs.tenon": ("legs.section", "top.rail_width", "joints.groove_depth"),
    "legs.centre_distance": ("legs.base_centre_distance", "legs.tenon", "top.diameter"),
    "top.pole_hole": ("top.rail_width",),
    "top.rim_width": ("joints.groove_depth", "shop.sawn", "top.segments"),
    "top.height": ("top.thickness", "base.thickness"),
    "top.edge_round": ("top.rim_width",),
}
"""Other keys that may do where the first doesn't."""

FIRST = {
    "top.rail_width": "joints.lap_clearance",
    "base.rail_width": "joints.lap_clearance",
    "legs.tenon": "joints.tenon_clearance",
}
"""A clearance that was set, and does when it is left to us, comes before any size."""

Check = Callable[[Table], Iterable[Finding]]
Trial = Callable[[Any], float | None]


def with_values(table: Table, findings: Sequence[Finding], checks: tuple[Check, ...]) -> tuple[Finding, ...]:
    """The findings; each that `checks` make above a note names a value with which it is a note and nothing else is
    graver than before. A table of a profile that was changed otherwise than by its text gets none.

    The slowest of `checks` stands last: it is asked only where a value did by the others, or of its own findings.
    """
    amiss = [one for one in findings if one.level != "note" and one.where in KEYS]
    if not amiss or _tried(table.profile, {}) is None:
        return tuple(findings)
    trials = _Trials(table, checks)
    return tuple(_named(trials, one) if one in amiss else one for one in findings)


class _Trials:
    """Tables of other values, each built and checked once."""

    def __init__(self, table: Table, checks: tuple[Check, ...]) -> None:
        self.profile = table.profile
        self._table = cache(lambda path, value: _tried(table.profile, {path: value}))
        self._found = cache(lambda path, value, number: self._checked(self._table(path, value), checks[number]))
        self._before = [tuple(check(table)) for check in checks]
        self._all = len(checks)

    @staticmethod
    def _checked(table: Table | None, check: Check) -> tuple[Finding, ...]:
        return tuple(check(table)) if table else ()

    def missing(self, one: Finding, path: str, value: Any) -> float | None:
        """By how much it is still missed, 0 where it is a note now; None where something else got graver."""
        if self._table(path, value) is None:
            return None
        for number in range(self._all):
            own = any(_like(one, other) for other in self._before[number])
            found = self._found(path, value, number) if own else ()
            left = [other for other in found if other.level != "note" and self._same(one, other, number)]
            if left:
                return max(_short(other) for other in left)
        worse = any(_worse(self._before[n], self._found(path, value, n)) for n in range(self._all))
        return None if worse else 0.0

    def _same(self, one: Finding, other: Finding, number: int) -> bool:
        """Whether it is the same finding, or tells the same of another part that nothing was told of before."""
        return _like(one, other) or (
            one.kind == other.kind and not any(_like(old, other) for old in self._before[number])
        )


def _worse(before: Sequence[Finding], after: Sequence[Finding]) -> bool:
    counts = (
        [sum(one.level == level for one in found) for level in ("stop", "caution")] for found in (before, after)
    )
    return any(now > then for then, now in zip(*counts, strict=True))


def _tried(profile: Profile, changes: dict[str, Any]) -> Table | None:
    try:
        return build_table(
            changed(profile, {at: list(one) if isinstance(one, tuple) else one for at, one in changes.items()})
        )
    except TemplategenError:
        return None


def _named(trials: _Trials, one: Finding) -> Finding:
    first = (FIRST[one.where],) if one.where in FIRST else ()
    for path in (*first, one.where, *ALSO.get(one.where, ())):
        told = _told(trials.profile, KEYS[path], _short(one), lambda value, at=path: trials.missing(one, at, value))  # type: ignore[misc]
        if told:
            return replace(one, would=told)
    return one


def _like(one: Finding, other: Finding) -> bool:
    """The same finding on another table."""
    return (one.kind, one.where) == (other.kind, other.where)


def _short(one: Finding) -> float:
    low, high = one.wanted
    below = low - one.measured if low is not None else 0.0
    above = one.measured - high if high is not None else 0.0
    return max(below, above, 1e-6)


def _told(profile: Profile, key: Key, short: float, trial: Trial) -> str:
    """The key with a value that does, as it is written; "" where none was found."""
    now = getattr(getattr(profile, key.section), key.name) if key.section else None
    if key.kind == "choice":
        return next((f'{key.path} = "{word}"' for word in key.choices if word != now and trial(word) == 0), "")
    if key.default is None and now is not None and trial("auto") == 0:
        return f'{key.path} = "auto"'
    if key.kind == "list" and isinstance(now, tuple):
        return _of_several(profile, key, now, short, trial)
    if key.kind not in ("length", "count", "number", "angle") or not isinstance(now, int | float):
        return ""
    found = next(_values(profile, key, float(now), short, trial), None)
    return f"{key.path} = {_written(profile, key, found)}" if found is not None else ""


def _of_several(profile: Profile, key: Key, now: tuple[float, ...], short: float, trial: Trial) -> str:
    """One of several sizes changed."""
    unit = _unit(profile, key.parts[0])
    plain = [size / unit for size in now]
    for place, part in enumerate(key.parts):
        found = next(
            _values(
                profile,
                part,
                now[place],
                short,
                lambda value, at=place: trial((*plain[:at], value, *plain[at + 1 :])),  # type: ignore[misc]
            ),
            None,
        )
        if found is not None:
            sizes = [*plain[:place], found, *plain[place + 1 :]]
            return f"{key.path} = [{', '.join(_written(profile, part, size, True) for size in sizes)}]"
    return ""


def _values(profile: Profile, key: Key, now: float, short: float, trial: Trial) -> Iterator[float]:
    """Values that do, reckoned from how far the figure goes for a step: first up, then down."""
    unit, step = _unit(profile, key), _step(profile, key, now)
    start = round(now / unit / step)

    def at(count: int) -> float:
        return round((start + count) * step, 6)

    for way in (1, -1):
        for probe in PROBES:
            left = trial(at(way * probe))
            if left == 0:
                yield at(way * probe)
            if left is not None and left < short:
                yield from _reached(lambda n, way=way: (at(way * n), trial(at(way * n))), probe, short, left)  # type: ignore[misc]
                break


def _reached(
    tried: Callable[[int], tuple[float, float | None]], probe: int, short: float, left: float
) -> Iterator[float]:
    """On along the line through the last two, until it does; twice as far where nothing changed between them."""
    last, count = 0, probe
    for _ in range(TRIES):
        gain = (short - left) / (count - last)
        if gain < 0:
            return
        last, short, count = count, left, count + (max(1, ceil(left / gain - 1e-6)) if gain else count)
        value, found = tried(count)
        if found == 0:
            yield value
        if found is None:
            return
        left = found


def _unit(profile: Profile, key: Key) -> float:
    """What the file's own unit is in the profile's, mm or radians."""
    if key.kind == "angle":
        return 1 / degrees(1)
    return INCH if key.kind == "length" and profile.units == "in" else 1.0


def _step(profile: Profile, key: Key, now: float) -> float:
    if key.kind == "count":
        return 1.0
    if key.kind != "length":
        return 0.1 if now < FINE else 1.0
    if profile.units == "in":
        return 1 / 64 if now < FINE else 1 / 32
    return 0.1 if now < FINE else 0.5


def _written(profile: Profile, key: Key, value: float, quoted: bool = False) -> str:
    if key.kind == "angle":
        return angle_words(value)
    if key.kind != "length":
        return f"{value:g}"
    if profile.units == "mm":
        return trimmed(value) if quoted else f"{trimmed(value)} mm"
    told = length_by_rule(value * INCH, "in")
    return f'"{told}"' if quoted else told

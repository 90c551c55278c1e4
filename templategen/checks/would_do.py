"""What would do: beside each finding above a note values of its keys, each tried on the table before it is named."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cache, partial
from math import ceil, degrees, radians
from typing import Any

from templategen.checks.finding import Finding, Remedy
from templategen.errors import TemplategenError
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.units import length_by_rule, trimmed

INCH = 25.4

PROBES = (1, 8, 32)
"""Steps to one side that show which way a figure goes; rounded figures, and numbers of slats, need the longer."""

TRIES = 7
"""Values tried for one key, once its way is known."""

FINE = 10.0
"""Sizes under this are told to a tenth of a millimetre or 1/64 in, others to a half or 1/32."""

ALSO = {
    "top.thickness": ("legs.section", "top.rail_width", "legs.tenon", "base.thickness"),
    "base.thickness": ("legs.tenon",),
    "joints.tongue": ("slats.thickness", "top.thickness", "shop.groove_cutter", "shop.router_bit"),
    "joints.spline": ("joints.spline_depth", "top.rim_width", "joints.spline_thickness"),
    "joints.spline_depth": ("top.rim_width", "joints.spline"),
    "slats.thickness": ("joints.tongue",),
    "slats.width": ("slats.gap", "slats.hold"),
    "slats.gap": ("slats.hold", "slats.width", "shop.sawn"),
    "top.rail_width": ("joints.groove_depth",),
    "legs.tenon": ("legs.section", "top.rail_width", "joints.groove_depth", "legs.centre_distance", "top.thickness"),
    "legs.centre_distance": ("legs.base_centre_distance", "legs.tenon", "top.diameter"),
    "top.pole_hole": ("top.rail_width",),
    "top.rim_width": ("joints.groove_depth", "shop.sawn", "top.segments"),
    "legs.bolt": ("legs.stub", "top.thickness", "legs.section"),
    "legs.barrel_nut": ("legs.section",),
    "top.height": ("top.thickness", "base.thickness"),
    "top.edge_round": ("top.rim_width",),
    "shop.mitre_error": ("shop.length_error",),
    "slats.face": ("slats.gap",),
    "base.drain_hole": ("joints.tenon_clearance", "base.foot_length"),
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
    """The findings; each that `checks` make above a note names the first of its `remedies`, if there is one."""
    first = {one: next(found, None) for one, found in remedies(table, findings, checks)}
    return tuple(replace(one, would=first.get(one)) for one in findings)


def remedies(
    table: Table, findings: Sequence[Finding], checks: tuple[Check, ...]
) -> Iterator[tuple[Finding, Iterator[Remedy]]]:
    """Each finding that `checks` make above a note, with the values that make it a note and nothing else graver than
    before, looked for one by one. A table of a profile that was changed otherwise than by its text has none.

    The slowest of `checks` stands last: it is asked only where a value did by the others, or of its own findings.
    """
    amiss = [one for one in findings if one.level != "note" and one.where in KEYS]
    if not amiss or _tried(table.profile, {}) is None:
        return
    trials = _Trials(table, checks)
    for one in amiss:
        if trials.knows(one):
            yield one, _remedies(trials, one)


class _Trials:
    """Tables of other values, each built and checked once."""

    def __init__(self, table: Table, checks: tuple[Check, ...]) -> None:
        self.profile = table.profile
        self._width = table.spacing.width
        self._table = cache(lambda path, value: _tried(table.profile, {path: value}))
        self._found = cache(lambda path, value, number: self._checked(self._table(path, value), checks[number]))
        self._before = [tuple(check(table)) for check in checks]
        self._all = len(checks)

    @staticmethod
    def _checked(table: Table | None, check: Check) -> tuple[Finding, ...]:
        return tuple(check(table)) if table else ()

    def knows(self, one: Finding) -> bool:
        """Whether one of the checks made it."""
        return any(_like(one, other) for found in self._before for other in found)

    def missing(self, one: Finding, path: str, value: Any) -> float | None:
        """By how much it is still missed, 0 where it is a note now; None where something else got graver, or slats
        that nobody asked to change come out much wider or narrower."""
        other_table = self._table(path, value)
        if other_table is None or (path != "slats.width" and not self._keeps_slats(other_table)):
            return None
        for number in range(self._all):
            own = any(_like(one, other) for other in self._before[number])
            found = self._found(path, value, number) if own else ()
            left = [other for other in found if other.level != "note" and self._same(one, other, number)]
            if left:
                return max(_short(other) for other in left)
        return None if self._worse(path, value) else 0.0

    def _keeps_slats(self, table: Table) -> bool:
        return abs(table.spacing.width - self._width) <= NEAR * self._width

    def _worse(self, path: str, value: Any) -> bool:
        """Whether there are more stops than before, or stops and cautions count as much though one is settled."""
        stops = graver = 0
        rest = sum(_grave(found)[1] for found in self._before)
        for number, found in enumerate(self._before):
            (stop, all_then), (stop_now, all_now) = _grave(found), _grave(self._found(path, value, number))
            stops, graver, rest = stops + stop_now - stop, graver + all_now - all_then, rest - all_then
            if graver >= rest:
                return True
        return stops > 0

    def _same(self, one: Finding, other: Finding, number: int) -> bool:
        """Whether it is the same finding, or tells the same of another part that nothing was told of before."""
        return _like(one, other) or (
            one.kind == other.kind and not any(_like(old, other) for old in self._before[number])
        )


NEAR = 0.25
"""By what share a slat may get wider or narrower where something else is settled: with half as wide ones it's another
table."""

COMFORT = {"foot-room", "knee-room"}
"""What makes a table worse to sit at and hurts nobody: raised where that settles anything else."""

WEIGHT = 100
"""How much more any other caution counts."""


def _grave(found: Sequence[Finding]) -> tuple[int, int]:
    """How many stops, and how many stops and cautions, by what they count."""
    cautions = sum(1 if one.kind in COMFORT else WEIGHT for one in found if one.level != "note")
    return sum(one.level == "stop" for one in found), cautions


def _tried(profile: Profile, changes: dict[str, Any]) -> Table | None:
    try:
        return build_table(
            changed(profile, {at: list(one) if isinstance(one, tuple) else one for at, one in changes.items()})
        )
    except TemplategenError:
        return None


def _remedies(trials: _Trials, one: Finding) -> Iterator[Remedy]:
    first = (FIRST[one.where],) if one.where in FIRST else ()
    for path in (*first, one.where, *ALSO.get(one.where, ())):
        yield from _of_key(trials.profile, KEYS[path], _short(one), partial(trials.missing, one, path))


def _like(one: Finding, other: Finding) -> bool:
    """The same finding on another table."""
    return (one.kind, one.where) == (other.kind, other.where)


def _short(one: Finding) -> float:
    low, high = one.wanted
    below = low - one.measured if low is not None else 0.0
    above = one.measured - high if high is not None else 0.0
    return max(below, above, 1e-6)


def _of_key(profile: Profile, key: Key, short: float, trial: Trial) -> Iterator[Remedy]:
    """Values of one key that do: every word, what is left to us, or the nearest size on each side."""
    now = getattr(getattr(profile, key.section), key.name) if key.section else None
    if key.kind == "choice":
        yield from (Remedy(key.path, word, f'"{word}"') for word in key.choices if word != now and trial(word) == 0)
    elif key.default is None and now is not None and trial("auto") == 0:
        yield Remedy(key.path, "auto", '"auto"')
    elif key.kind == "list" and isinstance(now, tuple):
        yield from _of_several(profile, key, now, short, trial)
    elif key.kind in ("length", "count", "number", "angle") and isinstance(now, int | float):
        for value in _values(profile, key, float(now), short, trial):
            yield Remedy(key.path, value, _written(profile, key, value))


def _of_several(profile: Profile, key: Key, now: tuple[float, ...], short: float, trial: Trial) -> Iterator[Remedy]:
    """One of several sizes changed."""
    unit = _unit(profile, key.parts[0])
    plain = [size / unit for size in now]
    for place, part in enumerate(key.parts):

        def with_it(value: float, at: int = place) -> tuple[float, ...]:
            return (*plain[:at], value, *plain[at + 1 :])

        def tried(value: float, sizes: Callable[[float], tuple[float, ...]] = with_it) -> float | None:
            return trial(sizes(value))

        for value in _values(profile, part, now[place], short, tried):
            sizes = with_it(value)
            yield Remedy(key.path, sizes, f"[{', '.join(_written(profile, part, size) for size in sizes)}]")


def _values(profile: Profile, key: Key, now: float, short: float, trial: Trial) -> Iterator[float]:
    """Values that do, reckoned from how far the figure goes for a step: first up, then down."""
    unit, step = _unit(profile, key), _step(profile, key, now)
    start = round(now / unit / step)

    def at(count: int) -> float:
        return round((start + count) * step, 6)

    for way in (1, -1):
        for probe in PROBES:
            left = trial(at(way * probe))
            if left is not None and left < short:
                count = probe if left == 0 else _reached(lambda n, way=way: trial(at(way * n)), probe, short, left)  # type: ignore[misc]
                yield from (at(way * count),) if count else ()
                break


def _reached(tried: Callable[[int], float | None], probe: int, short: float, left: float) -> int:
    """The least number of steps that does: on along the line through the last two, twice as far where nothing changed
    between them; from where it does, or is no table, back by halves. 0 where it never does."""
    before, at, does, far = 0, probe, 0, 0
    for _ in range(TRIES):
        gain = (short - left) / (at - before)
        if far - at == 1 or (gain < 0 and not far):
            break
        ahead = at + (max(1, ceil(left / gain - 1e-6)) if gain > 0 else at)
        ahead = min(ahead, (at + far) // 2) if far else ahead
        found = tried(ahead)
        if found:
            before, short, at, left = at, left, ahead, found
        else:
            does, far = (does if found is None else ahead), ahead
    return does


def _unit(profile: Profile, key: Key) -> float:
    """What the file's own unit is in the profile's, mm or radians."""
    if key.kind == "angle":
        return 1 / degrees(1)
    return INCH if key.kind == "length" and profile.units == "in" else 1.0


def _step(profile: Profile, key: Key, now: float) -> float:
    if key.kind == "count":
        return 2.0 * profile.top.rails if key.path == "top.segments" else 1.0
    if key.kind == "angle":
        return 0.01 if now < radians(1) else 0.1
    if key.kind != "length":
        return 0.1 if now < FINE else 1.0
    if profile.units == "in":
        return 1 / 64 if now < FINE else 1 / 32
    return 0.1 if now < FINE else 0.5


def _written(profile: Profile, key: Key, value: float) -> str:
    """As it is written into the profile."""
    if key.kind != "length" or profile.units == "mm":
        return trimmed(value) if key.kind == "length" else f"{value:g}"
    return f'"{length_by_rule(value * INCH, "in")}"'

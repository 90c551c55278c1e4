"""What would mend a finding: other values of the keys that it names, each tried on the table before it is offered."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from math import degrees
from typing import Any

from templategen.checks.finding import Finding
from templategen.checks.run import measured
from templategen.checks.sentences import SENTENCES
from templategen.errors import Fault, TemplategenError
from templategen.live.errand import Told
from templategen.table.assembly import build_table
from templategen.table.profile.change import changed
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.units import MM_PER_INCH

NAMED = re.compile(r"\b([a-z]+\.[a-z_]+)\b")
"""A key in a sentence."""

STRIDES = (1, 2, 4, 8, 16, 32, 64, 128, 256)
"""How many steps from the value that stands there are tried, before the least of them is looked for."""

MOST_KEYS = 3
"""Keys tried for one finding."""

Sound = Callable[[Profile], bool]


def mends(profile: Profile, found: Sequence[Finding], tell: Told) -> None:
    """Tells values for each finding that make it go and bring no graver one; without findings, values with which a
    table comes of it at all."""
    if not found:
        tell("mends", {"of": "", "offers": list(_for_refusal(profile))})
        return
    before = measured(build_table(profile))
    for one in found:
        if not any(one.name == other.name for other in before):
            continue
        offers = list(_offers(profile, _keys_of(one), lambda other, one=one: _settles(other, one, before)))  # type: ignore[misc]
        if offers:
            tell("mends", {"of": one.name, "offers": offers})


def for_faults(profile: Profile, faults: Sequence[Fault], asked: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Values with which a change that was refused would go: one more key changed along with those `asked`."""
    offers: list[dict[str, Any]] = []
    for fault in faults:
        for path in _named(f"{fault.where} {fault.remedy}"):
            key = KEYS[path]
            for value in _numbers_in(fault.remedy):
                changes = {**asked, path: value}
                if key.kind in ("length", "count", "number") and _reads(profile, changes):
                    offers.append({"changes": changes, "key": path, "value": value})
    return offers[:4]


def _reads(profile: Profile, changes: Mapping[str, Any]) -> bool:
    try:
        build_table(changed(profile, changes))
    except TemplategenError:
        return False
    return True


def _numbers_in(text: str) -> list[float]:
    found = [float(one) for one in re.findall(r"(?<![\w.])\d+(?:\.\d+)?", text)]
    return [int(one) if one == int(one) else one for one in dict.fromkeys(reversed(found))]


def _for_refusal(profile: Profile) -> Iterator[dict[str, Any]]:
    try:
        build_table(profile)
    except TemplategenError as refusal:
        words = " ".join(f"{fault.where} {fault.found} {fault.remedy}" for fault in refusal.faults)
        yield from _offers(profile, _named(words), _builds)


def _builds(profile: Profile) -> bool:
    try:
        build_table(profile)
    except TemplategenError:
        return False
    return True


def _settles(profile: Profile, finding: Finding, before: Sequence[Finding]) -> bool:
    """Whether a table of these values has that finding no more, or as a note, and no more stops than before."""
    try:
        after = measured(build_table(profile))
    except TemplategenError:
        return False
    if any(finding.name == other.name and other.level != "note" for other in after):
        return False
    return all(_count(after, level) <= _count(before, level) for level in ("stop", "caution"))


def _count(found: Sequence[Finding], level: str) -> int:
    return sum(one.level == level for one in found)


def _keys_of(finding: Finding) -> list[str]:
    return [path for path in dict.fromkeys((finding.where, *SENTENCES[finding.kind].keys)) if path in KEYS]


def _named(words: str) -> list[str]:
    """The keys that a sentence names, in its order."""
    return [path for path in dict.fromkeys(NAMED.findall(words)) if path in KEYS]


def _offers(profile: Profile, paths: Sequence[str], sound: Sound) -> Iterator[dict[str, Any]]:
    for path in paths[:MOST_KEYS]:
        for value in _values(profile, KEYS[path], sound):
            yield {"changes": {path: value}, "key": path, "value": value}


def _values(profile: Profile, key: Key, sound: Sound) -> Iterator[Any]:
    """The nearest sound value below and above, or every other word that is sound."""
    section, _, name = key.path.partition(".")
    now = getattr(getattr(profile, section), name)

    def tried(value: Any) -> bool:
        try:
            return sound(changed(profile, {key.path: value}))
        except TemplategenError:
            return False

    if key.kind == "choice":
        yield from (word for word in key.choices if word != now and tried(word))
    elif key.kind in ("length", "number", "count", "angle") and now is not None:
        start, step, low, high = _scale(profile, key, float(now))
        for way in (-1, 1):
            count = _least(lambda n, way=way: low <= start + way * n * step <= high  # type: ignore[misc]
                           and tried(_plain(start + way * n * step)))  # fmt: skip
            if count:
                yield _plain(start + way * count * step)


def _scale(profile: Profile, key: Key, now: float) -> tuple[float, float, float, float]:
    """Where the key stands, the step it is tried by, and its range, in the units of the file."""
    unit = float(MM_PER_INCH) if key.kind == "length" and profile.units == "in" else 1.0
    shown = degrees(now) if key.kind == "angle" else now
    step = {"length": 1 / 16 if unit > 1 else (1.0 if now >= 10 else 0.5), "count": 1.0}.get(key.kind, 0.0)
    step = step or (key.high - key.low) / 200
    start = round(shown / unit / step) * step
    return start, step, key.low / unit, key.high / unit


def _least(sound: Callable[[int], bool]) -> int:
    """The fewest steps that are sound, 0 where none are: strides that double, then halves between."""
    last = 0
    for count in STRIDES:
        if sound(count):
            low, high = last, count
            while high - low > 1:
                middle = (low + high) // 2
                low, high = (low, middle) if sound(middle) else (middle, high)
            return high
        last = count
    return 0


def _plain(value: float) -> int | float:
    shown = round(value, 6)
    return int(shown) if shown == int(shown) else shown

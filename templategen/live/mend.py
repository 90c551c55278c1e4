"""Values that would do, as buttons: those that the checks tell for a finding, and for what was refused those that the
refusal names, each tried on the table before it is offered."""

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import islice
from typing import Any

from templategen.checks.finding import Finding
from templategen.checks.run import mends
from templategen.errors import Fault, TemplategenError
from templategen.live.errand import Told
from templategen.packet.build import in_units
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Profile
from templategen.units import MM_PER_INCH

MOST = 3
"""Values offered for one finding or refusal."""

STEPS = 4
"""Keys changed together, at most, where no single one does."""

SIZE = re.compile(r"(?<![\w./-])(\d+(?:\.\d+|-\d+/\d+|/\d+)?)(?: mm| in|°)?(?: (thick|wide|long))?(?=$|[\s,;])")
"""A size as a refusal names it, and which of several it is."""

ASPECTS = ("thick", "wide", "long")

WORD = re.compile(r'\b([a-z]+\.[a-z_]+) to "([\w-]+)"')
"""A key to be set to a word."""

Changes = Mapping[str, Any]


def for_findings(table: Table, found: Sequence[Finding], tell: Told) -> None:
    """Tells values for each finding, as soon as found, with which it is a note and nothing else is graver."""
    for one, remedies in mends(table, found):
        if offers := [_offer({remedy.key: remedy.value}, str(remedy)) for remedy in islice(remedies, MOST)]:
            tell("mends", {"of": one.name, "offers": offers})


def for_faults(profile: Profile, faults: Sequence[Fault], asked: Changes | None = None) -> list[dict[str, Any]]:
    """Changes with which a table comes of it, those `asked` among them: every value that a refusal names and that
    does by itself; where none does, the best of them, and what is refused then mended likewise."""
    begun = dict(asked or {})
    for _ in range(STEPS):
        ways = [{**begun, **change} for change in _named(profile, begun, faults)]
        left = [_refused(profile, way) for way in ways]
        if sound := [way for way, refused in zip(ways, left, strict=True) if not refused]:
            return [_offer(way, _words(way)) for way in sound[:MOST]]
        best = min(zip(left, ways, strict=True), key=lambda one: len(one[0]), default=(faults, begun))
        if len(best[0]) >= len(faults):
            break
        faults, begun = best
    return []


def _refused(profile: Profile, changes: Changes) -> Sequence[Fault]:
    """What is refused of it, in the file's own units; nothing where it makes a table."""
    try:
        build_table(changed(profile, changes))
    except TemplategenError as refusal:
        return [in_units(fault, profile.units) for fault in refusal.faults]
    return ()


def _named(profile: Profile, begun: Changes, faults: Sequence[Fault]) -> Iterator[dict[str, Any]]:
    """What the remedies of refusals name: sizes, the nearest first, and words in quotes."""
    for fault in faults:
        path, _, place = fault.where.partition("[")
        if key := KEYS.get(path):
            now = _now(profile, key, begun)
            yield from ({path: value} for value in _sizes(now, fault.remedy, place.removesuffix("]")))
        yield from ({path: word} for path, word in WORD.findall(fault.remedy) if path in KEYS)


def _now(profile: Profile, key: Key, begun: Changes) -> Any:
    """What stands at the key, in the file's own units."""
    if key.path in begun:
        return begun[key.path]
    per = float(MM_PER_INCH) if profile.units == "in" else 1.0
    held = getattr(getattr(profile, key.section), key.name)
    if key.kind == "list" and held is not None:
        return [one / per if part.kind == "length" else one for one, part in zip(held, key.parts, strict=False)]
    return held / per if key.kind == "length" and held is not None else held


def _sizes(now: Any, remedy: str, place: str) -> Iterator[Any]:
    """The sizes that a remedy names, or the one that it would try, as the key takes them."""
    found = [(_number(one[1]), one[2]) for one in SIZE.finditer(remedy.rpartition("try ")[2])]
    if isinstance(now, list):
        for size, aspect in found:
            if aspect or place.isdecimal():
                at = ASPECTS.index(aspect) if aspect else int(place) - 1
                yield [size if number == at else one for number, one in enumerate(now)]
    elif isinstance(now, (int, float)):
        yield from dict.fromkeys(sorted((size for size, _ in found), key=lambda size: abs(size - now)))
    else:
        yield from (size for size, _ in found)


def _number(text: str) -> int | float:
    """`31.5`, `3/4` or `1-3/4` as a number."""
    value = float(sum(Fraction(one) for one in text.split("-")))
    return int(value) if value == int(value) else value


def _words(changes: Changes) -> str:
    return ", ".join(f"{path} = {value}" for path, value in changes.items())


def _offer(changes: Changes, words: str) -> dict[str, Any]:
    return {"changes": dict(changes), "words": words}

"""Reads what was measured: every fault in it is told at once, each with its file, line and key."""

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from math import degrees, radians

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError, UnitError
from templategen.parts.part import Part
from templategen.shop.refit.sizes import SIZES, Measurement, Size, size_of
from templategen.table.assembly import Table
from templategen.table.profile import keys
from templategen.table.profile.load import Source, source_from_file, source_from_text, toml_values
from templategen.table.profile.locate import locate_faults
from templategen.table.profile.resolve import Resolver, described
from templategen.table.profile.suggest import did_you_mean
from templategen.units import quoted, show_length, trimmed

LENGTH_ACCURACY, ANGLE_ACCURACY = 0.2, radians(0.05)
"""What a rule and a good protractor or gauge give where nothing is said, mm and radians."""

FURTHEST = 0.1
"""A measured size may differ from the drawing by this share, or by `LEEWAY` where that is more."""

LEEWAY, LEAN = 10.0, radians(6)
"""The same in mm, and how far an angle may differ, radians."""

FINEST = {"length": 0.001, "angle": radians(0.0005)}
COARSEST = {"length": 5.0, "angle": radians(2)}
"""Accuracies that an instrument has, mm and radians."""

ENTRY = ("part", "place", "accuracy", "angle_accuracy")
TOP_LEVEL = ("format", "units", "cut", "measured")
MOST_ENTRIES = 1000


@dataclass(frozen=True, slots=True)
class Bench:
    """What lies cut on the bench: copies by code and place, and what was measured on them.

    Rim segments are numbered round the ring, anticlockwise from arm 1; copies of other parts from 1.
    """

    cut: frozenset[tuple[str, int]] = frozenset()
    measured: tuple[Measurement, ...] = ()
    text: str = ""


@dataclass(slots=True)
class _Reader:
    """Reads entries of one file against a table."""

    table: Table
    units: str
    faults: list[Fault] = field(default_factory=list)
    cut: dict[tuple[str, int], None] = field(default_factory=dict)
    measured: list[Measurement] = field(default_factory=list)
    taken: set[tuple[str, int]] = field(default_factory=set)

    def tell(self, where: str, found: str, remedy: str, **fields: object) -> None:
        if len(self.faults) < 100:
            self.faults.append(fault_of(where, found, remedy, **fields))

    def part(self, where: str, entry: Mapping[str, object]) -> Part | None:
        """The part an entry is about."""
        raw = entry.get("part")
        codes = [part.code for part in self.table.parts]
        if raw is None:
            self.tell(where, "names no part", 'write part = "{codes}"', codes=codes[0])
        elif not isinstance(raw, str):
            self.tell(
                f"{where}.part",
                "{raw} stands here",
                'a code is wanted, such as "{codes}"',
                raw=described(raw),
                codes=codes[0],
            )
        else:
            found = next((p for p in self.table.parts if p.code.casefold() == raw.strip().casefold()), None)
            if found is None:
                self.tell(
                    f"{where}.part",
                    worded("{raw} is no part of this table", raw=quoted(raw)),
                    did_you_mean(raw, codes),
                )
            return found
        return None

    def place(self, where: str, raw: object, part: Part) -> int | None:
        """A copy's number, which the part must have."""
        there = places(self.table, part)
        if isinstance(raw, bool) or not isinstance(raw, int) or raw not in there:
            known = ", ".join(map(str, there))
            self.tell(
                where,
                "{raw} is no place of {code}",
                "its places are {known}",
                raw=described(raw),
                code=part.code,
                known=known,
            )
            return None
        return raw

    def free(self, where: str, part: Part) -> int | None:
        """The next copy that no entry has measured."""
        found = next((n for n in places(self.table, part) if (part.code, n) not in self.taken), None)
        if found is None:
            says = worded("all {count} of {code} are measured already", count=part.count, code=part.code)
            self.tell(where, says, translated("write place = 1 and so on to say which one is meant"))
        return found

    def measured_entries(self, entries: Sequence[Mapping[str, object]]) -> None:
        """All entries, those that name their place first, so that no other takes it."""
        numbered = [(f"measured[{number}]", entry) for number, entry in enumerate(entries, 1)]
        for where, entry in sorted(numbered, key=lambda one: "place" not in one[1]):
            self.measured_entry(where, entry)

    def cut_entry(self, where: str, entry: Mapping[str, object]) -> None:
        """Parts cut as drawn."""
        self.unknown(where, entry, ("part", "places"))
        part = self.part(where, entry)
        if part is None:
            return
        raw = entry.get("places", list(places(self.table, part)))
        if not isinstance(raw, list):
            raw = [raw]
        for number in raw:
            place = self.place(f"{where}.places", number, part)
            if place is not None:
                self.cut[part.code, place] = None

    def measured_entry(self, where: str, entry: Mapping[str, object]) -> None:
        """Sizes of one copy, which is cut."""
        part = self.part(where, entry)
        if part is None:
            return
        known = [size.name for size in SIZES.get(part.kind, ())]
        self.unknown(where, entry, (*ENTRY, *known))
        place = self.place(f"{where}.place", entry["place"], part) if "place" in entry else self.free(where, part)
        if place is None:
            return
        self.cut[part.code, place] = None
        self.taken.add((part.code, place))
        accuracies = {
            "length": self.accuracy(f"{where}.accuracy", entry.get("accuracy"), "length", LENGTH_ACCURACY),
            "angle": self.accuracy(f"{where}.angle_accuracy", entry.get("angle_accuracy"), "angle", ANGLE_ACCURACY),
        }
        for name, raw in entry.items():
            size = size_of(part, name)
            if size is not None:
                self.size(f"{where}.{name}", raw, size, part, place, accuracies[size.kind])

    def unknown(self, where: str, entry: Mapping[str, object], known: Sequence[str]) -> None:
        """Tells each key that isn't known, with the nearest that is."""
        for name in entry:
            if name not in known:
                self.tell(f"{where}.{name}", translated("is not known"), did_you_mean(name, list(known)))

    def size(self, where: str, raw: object, size: Size, part: Part, place: int, accuracy: float) -> None:
        """One size, maybe with its own accuracy behind +-."""
        if isinstance(raw, str) and ("+-" in raw or "±" in raw):
            raw, _, own = raw.replace("±", "+-").partition("+-")
            accuracy = self.accuracy(where, own.strip(), size.kind, accuracy)
        value = self.number(where, raw.strip() if isinstance(raw, str) else raw, size.kind)
        if value is None:
            return
        drawn = size.drawn(self.table, part)
        most = max(FURTHEST * abs(drawn), LEEWAY) if size.kind == "length" else LEAN
        if size.kind == "length" and value <= 0:
            self.tell(where, "{value} is no size", "measure again", value=self.shown(value, size.kind))
        elif abs(value - drawn) > most:
            told = worded(
                "{value} is far from the drawing's {drawn}",
                value=self.shown(value, size.kind),
                drawn=self.shown(drawn, size.kind),
            )
            self.tell(where, told, translated("check the number, its unit and which part it is"))
        else:
            self.measured.append(Measurement(part.code, place, size.name, value, accuracy, where))

    def accuracy(self, where: str, raw: object, kind: str, default: float) -> float:
        """One standard deviation of a measurement."""
        if raw is None:
            return default
        value = self.number(where, raw, kind)
        if value is None:
            return default
        low, high = FINEST[kind], COARSEST[kind]
        if not low <= value <= high:
            limits = f"{self.shown(low, kind)} to {self.shown(high, kind)} is what tools give"
            self.tell(where, worded("an accuracy of {value}", value=self.shown(value, kind)), limits)
            return default
        return value

    def number(self, where: str, raw: object, kind: str) -> float | None:
        """A length in mm or an angle in radians."""
        if isinstance(raw, str):
            raw = _bare(raw)
        try:
            amount = float(Resolver({}, lambda _: self.units).read(where, raw, kind).amount)
        except UnitError as problem:
            self.faults.extend(problem.faults)
            return None
        return radians(amount) if kind == "angle" else amount

    def shown(self, value: float, kind: str) -> str:
        return f"{trimmed(degrees(value), 4)} deg" if kind == "angle" else show_length(value, self.units)


def _bare(raw: str) -> object:
    """A number in quotes that needs no quotes."""
    try:
        return float(raw)
    except ValueError:
        return raw


def places(table: Table, part: Part) -> tuple[int, ...]:
    """The numbers of a part's copies: round the ring for rim segments, else from 1."""
    if part.kind == "rim-segment":
        ring = table.placed[: table.sizes.segments]
        return tuple(number for number, placed in enumerate(ring, 1) if placed.code == part.code)
    return tuple(range(1, part.count + 1))


def read_bench(table: Table, path: str | os.PathLike[str] | None) -> Bench:
    """What the file at `path` and the profile's own [[measured]] say is cut.

    Raises: ProfileError with every fault found.
    """
    return _bench(table, source_from_file(path) if path is not None else None)


def bench_from_text(table: Table, text: str, name: str = "measured") -> Bench:
    """The same from a text."""
    return _bench(table, source_from_text(text, name))


def _bench(table: Table, source: Source | None) -> Bench:
    profile = table.profile
    own = _Reader(table, profile.units)
    own.measured_entries([entry.entries for entry in profile.measured])
    if own.faults:
        raise ProfileError(fault.at(profile.file, profile.line_of(fault.where.rpartition(".")[0]))
                           for fault in own.faults)  # fmt: skip
    if source is None:
        return Bench(frozenset(own.cut), tuple(own.measured), "")
    data = toml_values(source)
    reader = _Reader(table, _units(data, profile.units), [], own.cut, own.measured, own.taken)
    _read_file(reader, data)
    if reader.faults:
        raise ProfileError(locate_faults(source.text, source.file, reader.faults))
    said = reader.cut or reader.measured
    return Bench(frozenset(reader.cut), tuple(reader.measured), source.text if said else "")


def _units(data: Mapping[str, object], default: str) -> str:
    raw = data.get("units", default)
    return raw if isinstance(raw, str) and raw in keys.UNITS else default


def _read_file(reader: _Reader, data: Mapping[str, object]) -> None:
    if data.get("format") != 1 or isinstance(data.get("format"), bool):
        found = (
            worded("{raw} is not a format known here", raw=described(data["format"]))
            if "format" in data
            else translated("is missing")
        )
        reader.tell("format", found, translated("write format = 1 as the first line"))
    if "units" in data and data["units"] not in keys.UNITS:
        reader.tell("units", "{raw} is not known here", '"mm" or "in" is wanted', raw=described(data["units"]))
    for name in data:
        if name not in TOP_LEVEL:
            reader.tell(name, translated("is not known"), did_you_mean(name, list(TOP_LEVEL)))
    for kind in ("cut", "measured"):
        entries = data.get(kind, [])
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            reader.tell(
                kind, "{raw} stands here", "write [[{kind}]] once for each", raw=described(entries), kind=kind
            )
            continue
        if len(entries) > MOST_ENTRIES:
            reader.tell(
                kind,
                "{count} entries stand here",
                "a table has fewer parts than {most_entries}",
                count=len(entries),
                most_entries=MOST_ENTRIES,
            )
            continue
        if kind == "measured":
            reader.measured_entries(entries)
            continue
        for number, entry in enumerate(entries, 1):
            reader.cut_entry(f"cut[{number}]", entry)

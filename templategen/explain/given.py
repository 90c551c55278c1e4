"""What the maker gave: every number of the profile as a quantity, with the line it stands on, or its default."""

from math import degrees, isclose
from typing import Any

from templategen.catalogue import translated, worded
from templategen.english import language
from templategen.explain.book import Book, Quantity, Unit
from templategen.explain.evaluate import evaluate
from templategen.explain.rewrite import Rewritten, rewritten
from templategen.table.edge_room import EASED, gave_way
from templategen.table.foot_room import LENGTH, gave_foot_room
from templategen.table.profile.key import Key
from templategen.table.profile.keys import SECTIONS
from templategen.table.profile.model import Profile
from templategen.table.profile.resolve import Resolver
from templategen.table.profile.workshop import taught
from templategen.units import quoted

UNITS: dict[str, Unit] = {"length": "mm", "angle": "deg", "number": "", "count": ""}

NUMBER_UNITS: dict[str, Unit] = {
    "shop.temperature": "C",
    "shop.build_moisture": "%",
    "shop.humidity.driest": "%",
    "shop.humidity.dampest": "%",
    "shop.open_time": "min",
    "shop.spread": "g/m2",
    "shop.glue_temperature": "C",
    "shop.band": "N",
    "shop.waste": "%",
    "limits.rim_load": "N",
}
"""The units of plain numbers that have one."""


def write_given(book: Book, profile: Profile) -> None:
    """Every number of the profile, the maker's own values first, each after the ones it depends on."""
    writer = _Writer(book, profile)
    for name in profile.values:
        writer.write_value(f"values.{name}")
    for section in SECTIONS.values():
        for key in section:
            writer.write_key(key)


def where_set(profile: Profile, path: str) -> str:
    """Where a key was set: `profile line 12`, `workshop line 7`, or `default`; and which job taught its figure."""
    line, workshop = profile.line_of(path), profile.of_workshop(path)
    if not line:
        less = gave_foot_room(profile) if path == LENGTH else path in EASED and path in gave_way(profile)
        return translated("default, less for want of room") if less else translated("default")
    lesson = taught(workshop, path) if workshop else ""
    said = worded("workshop line {line}", line=line) if workshop else worded("profile line {line}", line=line)
    return said + (f", {lesson}" if lesson else "")


def because(profile: Profile, path: str) -> str:
    """A word of the profile that a formula hangs on: `top.edge = "sawn" (default)`."""
    section, _, name = path.partition(".")
    word = getattr(getattr(profile, section), name) if name else getattr(profile, section)
    return f'{path} = "{word}" ({where_set(profile, path)})'


def said_of(path: str, key: Key, part: Key | None = None) -> str:
    """What a number of the profile is: in English its name and what its key means, else that and what the part is."""
    if language() == "english":
        return f"{path.rpartition('.')[2].replace('_', ' ')}: {key.doc}"
    return f"{key.told}: {part.told}" if part else key.told


class _Writer:
    """Writes keys on demand, each once and after the keys it depends on."""

    def __init__(self, book: Book, profile: Profile) -> None:
        self._book, self._profile = book, profile
        sections = {name: body for name, body in profile.in_force.items() if isinstance(body, dict)}
        self._sections: dict[str, dict[str, Any]] = sections
        self._resolver = Resolver(sections, profile.units_of)
        self._keys = {key.path: key for section in SECTIONS.values() for key in section}

    def write(self, path: str) -> None:
        """A key or a value of the maker's own."""
        if path not in self._book:
            self.write_key(self._keys[path]) if path in self._keys else self.write_value(path)

    def write_value(self, path: str) -> None:
        """One of the maker's own sizes."""
        if path in self._book:
            return
        name = path.partition(".")[2]
        raw = self._sections.get("values", {}).get(name)
        value = self._profile.values[name]
        kind = self._resolver.quantity(path).kind if raw is not None else "length"
        value = degrees(value) if kind == "angle" else value
        self._one(path, worded("your own {name}", name=name), value, UNITS[kind], raw)

    def write_key(self, key: Key) -> None:
        """A key of the profile; a list part by part."""
        if key.path in self._book:
            return
        value = getattr(getattr(self._profile, key.section), key.name)
        if value is None:
            return
        raw = self._sections.get(key.section, {}).get(key.name)
        if key.kind in UNITS:
            self._numbered(key, key.path, value, raw, said_of(key.path, key))
        elif key.kind == "list":
            raws = raw if isinstance(raw, list) else [None] * len(key.parts)
            for part, number, written in zip(key.parts, value or (0.0,) * len(key.parts), raws, strict=True):
                path = f"{key.path}.{part.path.split('.')[1]}"
                self._numbered(part, path, number, written, said_of(path, key, part), key.path)

    def _numbered(self, key: Key, path: str, value: float, raw: object, says: str, set_at: str = "") -> None:
        unit = NUMBER_UNITS.get(path, UNITS[key.kind])
        value = degrees(value) if key.kind == "angle" else float(value)
        self._one(path, says, value, unit, raw, set_at)

    def _one(self, path: str, says: str, value: float, unit: Unit, raw: object, set_at: str = "") -> None:
        profile = self._profile
        source = where_set(profile, set_at or path)
        if isinstance(raw, str):
            source = f"{source}: {quoted(raw)}"
            found = rewritten(raw, profile.units_of(path))
            if found is not None and self._holds(found, value):
                self._book.put(Quantity(path, says, value, unit, found.formula, found.terms, source))
                return
        self._book.given(path, says, value, unit, source)

    def _holds(self, found: Rewritten, value: float) -> bool:
        """Whether the arithmetic gives `value`: it doesn't where the program has put another value in its place."""
        for _, path in found.terms:
            self.write(path)
        values = {symbol: self._book.value(path) for symbol, path in found.terms}
        return isclose(evaluate(found.formula, values), value, rel_tol=1e-12, abs_tol=1e-12)

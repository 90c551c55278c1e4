"""Gathers the faults of a profile while it is read on, so that the maker sees them all at once."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from templategen.catalogue import fault_of, worded
from templategen.errors import Fault, ProfileError, UnitError
from templategen.expression import Quantity
from templategen.table.profile.judge import chosen, plain_text, ranged, unknown_keys
from templategen.table.profile.key import Key
from templategen.table.profile.keys import KEYS
from templategen.table.profile.resolve import AUTO, Resolver, described, is_auto
from templategen.units import quoted

MOST_FAULTS = 100

LONGEST_SAID, MOST_LINES = 90, 6

LONGEST = {"maker.mark": 20_000}
"""Letters of texts that aren't read by people."""
"""Characters of a line that a maker says of himself, and how many lines there may be."""


class Enough(Exception):  # noqa: N818 - not a failure, the end of reading on
    """So many faults that telling more would help nobody."""


class Collector:
    """Reads single values; a value at fault is told once and stands in as its default."""

    def __init__(self, resolver: Resolver, units: str) -> None:
        self.faults: list[Fault] = []
        self._resolver = resolver
        self.units_of = resolver.units_of
        self.units = units

    def tell(self, *faults: Fault) -> None:
        """Notes faults, each once: a key that others lean on is met several times.

        Raises: Enough once there are `MOST_FAULTS`.
        """
        self.faults.extend(fault for fault in faults if fault not in self.faults)
        if len(self.faults) >= MOST_FAULTS:
            raise Enough

    @contextmanager
    def trying(self) -> Iterator[None]:
        """Notes what is refused inside, and goes on after it."""
        try:
            yield
        except (ProfileError, UnitError) as problem:
            self.tell(*problem.faults)

    def resolved(self, path: str) -> Quantity | None:
        """The quantity of a key of a plain section, or None once its fault is told."""
        with self.trying():
            return self._resolver.quantity(path)
        return None

    def section(self, keys: Sequence[Key], section: str, written: Mapping[str, object]) -> dict[str, object]:
        """All values of a plain section, as the model takes them; kinds it does not know are left out."""
        self.unknown(section, written, keys)
        values: dict[str, object] = {}
        for key in keys:
            if key.kind == "choice":
                values[key.name] = self.choice(key, section, written)
            elif key.kind == "words":
                values[key.name] = self._words(key, written)
            elif key.kind in ("text", "lines"):
                values[key.name] = self._said(key, written)
            elif key.kind == "list":
                values[key.name] = self._list(key, written)
            elif key.kind == "rows":
                values[key.name] = self.rows(key.parts, key.path, written.get(key.name, []))
            elif key.kind in ("length", "angle", "number", "count"):
                number = self.keyed(key, written)
                values[key.name] = int(number) if key.kind == "count" and number is not None else number
        return values

    def _words(self, key: Key, written: Mapping[str, object]) -> object:
        """The words that were written, each once, in the order of the table of keys."""
        raw = written.get(key.name, list(key.choices))
        if not isinstance(raw, list):
            remedy = worded("write a list, such as [{first}]", first=quoted(key.choices[0]))
            self.tell(Fault(key.path, worded("{raw} stands here", raw=described(raw)), remedy))
            return key.default
        found = set()
        for number, word in enumerate(raw, 1):
            with self.trying():
                found.add(chosen(key, f"{key.path}[{number}]", word))
        return tuple(word for word in key.choices if word in found)

    def _said(self, key: Key, written: Mapping[str, object]) -> object:
        """What a maker says of himself: a line, or a few."""
        raw = written.get(key.name, key.default)
        if key.kind == "text":
            with self.trying():
                return plain_text(key.path, raw, LONGEST.get(key.path, LONGEST_SAID)) if raw != "" else raw
            return key.default
        if not isinstance(raw, list | tuple) or len(raw) > MOST_LINES:
            self.tell(
                fault_of(
                    key.path,
                    "{raw} stands here",
                    "write a list of at most {most} lines",
                    raw=described(raw),
                    most=MOST_LINES,
                )
            )
            return key.default
        lines = []
        for number, line in enumerate(raw, 1):
            with self.trying():
                lines.append(plain_text(f"{key.path}[{number}]", line, LONGEST_SAID))
        return tuple(lines)

    def _list(self, key: Key, written: Mapping[str, object]) -> object:
        if key.name not in written:
            return key.default_in(self.units_of(key.path))
        named = ", ".join(part.told for part in key.parts)
        return self.parts(key.parts, key.path, written[key.name], named) or key.default

    def keyed(self, key: Key, written: Mapping[str, object]) -> float | None:
        """A number of a plain section, which arithmetic elsewhere may lean on; None where we are to reckon it."""
        if key.default is None and is_auto(written.get(key.name, AUTO)):
            return None
        found = self.resolved(key.path)
        return self._in_range(key, key.path, found, written.get(key.name))

    def number(self, key: Key, where: str, written: Mapping[str, object]) -> float:
        """A number of an entry that has no name of its own in arithmetic, such as stock."""
        if key.name not in written:
            return _default(key, self.units_of(where))
        return self._item(key, f"{where}.{key.name}", written[key.name])

    def rows(self, parts: Sequence[Key], where: str, raw: object) -> tuple[Any, ...]:
        """Lists of numbers, as many in each as `parts`; those at fault are told and left out."""
        named = ", ".join(part.told for part in parts)
        if not isinstance(raw, list):
            self.tell(fault_of(where, "{raw} stands here", "write [[{named}], ...]", raw=described(raw), named=named))
            return ()
        if raw and all(isinstance(item, int | float) for item in raw):
            self.tell(fault_of(where, "one list stands here", "write {whole}", whole=f"[{raw}]"))
            return ()
        read = (self.parts(parts, f"{where}[{number}]", row, named) for number, row in enumerate(raw, 1))
        return tuple(row for row in read if row is not None)

    def parts(self, parts: Sequence[Key], where: str, raw: object, named: str) -> tuple[float, ...] | None:
        """A list of as many numbers as `parts`, or None once its faults are told."""
        if not isinstance(raw, list) or len(raw) != len(parts):
            found = worded("a list of {count}", count=len(raw)) if isinstance(raw, list) else described(raw)
            self.tell(
                fault_of(
                    where,
                    "{raw} stands here",
                    "{count} are wanted: [{named}]",
                    raw=found,
                    count=len(parts),
                    named=named,
                )
            )
            return None
        before = len(self.faults)
        read = tuple(
            self._item(part, f"{where}[{number}]", item)
            for number, (part, item) in enumerate(zip(parts, raw, strict=True), 1)
        )
        return read if len(self.faults) == before else None

    def _item(self, part: Key, where: str, raw: object) -> float:
        found = None
        with self.trying():
            found = self._resolver.read(where, raw, part.kind)
        return self._in_range(part, where, found, raw)

    def _in_range(self, key: Key, where: str, found: Quantity | None, raw: object) -> float:
        if found is not None:
            with self.trying():
                return ranged(key, where, found, raw, self.units_of(where))
        return _default(key, self.units_of(where))

    def choice(self, key: Key, where: str, written: Mapping[str, object]) -> str:
        """One word of a few."""
        if key.name in written:
            with self.trying():
                return chosen(key, f"{where}.{key.name}" if where else key.name, written[key.name])
        return str(key.default_in(self.units_of(key.path)) if where else key.default)

    def unknown(self, where: str, written: Mapping[str, object], keys: Sequence[Key]) -> None:
        """Tells each key that `keys` do not hold."""
        for fault in unknown_keys(where, list(written), [key.name for key in keys], list(KEYS)):
            self.tell(fault)

    def table(self, where: str, raw: object) -> Mapping[str, object]:
        """A table, or an empty one once its fault is told."""
        if isinstance(raw, dict):
            return raw
        if raw is not None:
            self.tell(
                fault_of(
                    where,
                    "{raw} stands here",
                    "write [{where}] on a line of its own, and its keys below",
                    raw=described(raw),
                    where=where,
                )
            )
        return {}

    def tables(self, where: str, raw: object) -> Sequence[Mapping[str, object]]:
        """The entries of a list of tables, or none once its fault is told."""
        if isinstance(raw, list) and all(isinstance(entry, dict) for entry in raw):
            return raw
        if raw is not None:
            self.tell(
                fault_of(
                    where,
                    "{raw} stands here",
                    "write [[{where}]] with two brackets, once for each",
                    raw=described(raw),
                    where=where,
                )
            )
        return ()


def _default(key: Key, units: str) -> float:
    default = key.default_in(units)
    return float(default) if isinstance(default, (int, float)) else 0.0

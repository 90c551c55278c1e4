"""Variants kept side by side: each is the text of a profile, with what was known of its table when it was kept."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from templategen.catalogue import fault_of
from templategen.errors import OutputError
from templategen.table.profile.model import Profile

MOST = 24
"""So many may lie side by side."""

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Variant:
    """One of them; `figures` are mass, findings and boards as they were told."""

    name: str
    text: str
    figures: Mapping[str, Any]
    written: Mapping[str, Any]
    svg: str


@dataclass(slots=True)
class Variants:
    """All of them, by a number that none takes again."""

    kept: dict[int, Variant] = field(default_factory=dict)
    last: int = 0

    def keep(self, variant: Variant) -> int:
        """Lays one beside the others.

        Raises:
            OutputError: there are too many.
        """
        if len(self.kept) >= MOST:
            raise OutputError(fault_of("", "{most} variants lie side by side", "put one away first", most=MOST))
        self.last += 1
        self.kept[self.last] = variant
        return self.last

    def __getitem__(self, number: int) -> Variant:
        """The variant of that number.

        Raises:
            OutputError: there is none.
        """
        if number not in self.kept:
            raise OutputError(fault_of("", "there is no such variant", "it was put away"))
        return self.kept[number]

    def learn(self, text: str, kind: str, news: Any) -> bool:
        """Takes up a figure of the table that this text makes; whether a variant lacked it."""
        like = [number for number, one in self.kept.items() if one.text == text]
        for number in like:
            one = self.kept[number]
            self.kept[number] = replace(one, figures={**one.figures, kind: news})
        return bool(like)

    def listed(self, now: Profile | None) -> list[dict[str, Any]]:
        """As plain values, each with the keys in which it differs from what stands in the file."""
        held = dict(flat(now.written)) if now else {}
        return [
            {"number": number, "name": one.name, "figures": _short(one.figures), "svg": one.svg,
             "differs": differences(held, one.written)}
            for number, one in self.kept.items()
        ]  # fmt: skip


def variant(name: str, text: str, profile: Profile, figures: Mapping[str, Any], svg: str) -> Variant:
    """A variant of a text, which reads as `profile`."""
    shown = "".join(sign for sign in name if sign.isprintable()).strip()[:LONGEST_NAME] or profile.title
    return Variant(shown, text, dict(figures), dict(flat(profile.written)), svg)


def differences(held: Mapping[str, Any], other: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The keys whose values differ, in the order in which they stand."""
    paths = dict.fromkeys([*other, *held])
    return [
        {"key": path, "here": held.get(path), "there": other.get(path)}
        for path in paths if held.get(path) != other.get(path)
    ]  # fmt: skip


def flat(written: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, Any]]:
    """Every key by its path."""
    for name, value in written.items():
        if isinstance(value, dict):
            yield from flat(value, f"{before}{name}.")
        elif isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
            for number, one in enumerate(value, 1):
                yield from flat(one, f"{before}{name}[{number}].")
        else:
            yield f"{before}{name}", value


def _short(figures: Mapping[str, Any]) -> dict[str, Any]:
    """Figures without pictures."""
    boards = {name: value for name, value in figures.get("boards", {}).items() if name != "sheets"}
    return {**figures, **({"boards": boards} if boards else {})}

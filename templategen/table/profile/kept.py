"""A profile's text with other values in it; comments, order and all other arithmetic stay as the maker wrote them.

The text is taken apart at its headers, and only the piece that holds a key is read and written anew.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

from templategen.catalogue import fault_of
from templategen.errors import ProfileError
from templategen.table.profile.locate import header_path, lines_of, statements

STEP = re.compile(r"([^.\[\]]+)(?:\[(\d+)\])?")
"""A part of a key's path: `stock[2]`, `width`."""


@dataclass(slots=True)
class Passage:
    """A table of the file as it is written: its header, its keys, and the blank lines and remarks before the next."""

    path: str
    first: int
    head: str = ""
    keys: str = ""
    rest: str = ""

    @property
    def text(self) -> str:
        """All of it."""
        return self.head + self.keys + self.rest


@dataclass(slots=True)
class _Text:
    """A profile's text in pieces, and its values as they should be read in the end."""

    pieces: list[Passage]
    wanted: dict[str, Any]
    lines: Mapping[str, int] = field(default_factory=dict)

    @property
    def whole(self) -> str:
        return "".join(piece.text for piece in self.pieces)


def edited(text: str, changes: Mapping[str, Any]) -> str:
    """A sound profile's text with `changes` by key: `slats.gap`, `stock[2].width`; None takes a key out. `stock[3]`
    as a table adds a third board, as None takes it away. Values aren't judged here.

    Raises:
        ProfileError: the text isn't TOML, or is written so that it can't carry a change.
    """
    text = text.removeprefix("\ufeff")
    if "\r\n" in text:
        return edited(text.replace("\r\n", "\n"), changes).replace("\n", "\r\n")
    for path, value in changes.items():
        try:
            now = _Text(list(_pieces(text)), tomllib.loads(text), lines_of(text))
            _want(now.wanted, path, value)
            _write(now, path, value)
            text = now.whole
            held = tomllib.loads(text) == now.wanted
        except (ValueError, LookupError, TypeError, AttributeError):
            held = False
        if not held:
            raise ProfileError(fault_of(path, "can't be changed as the file is written", "change it in an editor"))
    return text


def _pieces(text: str) -> Iterator[Passage]:
    lines = [f"{line}\n" for line in text.split("\n")]
    lines[-1] = lines[-1].removesuffix("\n")
    begins = [(line, words) for line, words in statements(text) if words.lstrip().startswith("[")]
    entries: dict[str, int] = {}
    paths = ["", *(".".join(header_path(tomllib.loads(words), entries)) for _, words in begins)]
    starts = [1, *(line for line, _ in begins), len(lines) + 1]
    for path, first, last in zip(paths, starts, starts[1:], strict=False):
        own = lines[first - 1 : last - 1]
        head = own.pop(0) if path else ""
        end = len(own)
        while end and (not own[end - 1].strip() or own[end - 1].lstrip().startswith("#")):
            end -= 1
        yield Passage(path, first, head, "".join(own[:end]), "".join(own[end:]))


def _steps(path: str) -> list[str | int]:
    steps: list[str | int] = []
    for name, number in STEP.findall(path):
        steps += [name, int(number) - 1] if number else [name]
    return steps


def _want(values: dict[str, Any], path: str, value: Any) -> None:
    """Puts the value among the values."""
    *way, last = _steps(path)
    home: Any = values
    for step in way:
        if isinstance(step, str):
            home = home.setdefault(step, [] if last in (0,) and isinstance(last, int) else {})
        else:
            home = home[step]
    if isinstance(last, int) and last == len(home) and value is not None:
        home.append(deepcopy(value))
    elif value is None:
        home.pop(last) if isinstance(last, int) else home.pop(last, None)
        if not home and isinstance(last, int):
            values.pop(str(way[0]))
    else:
        home[last] = deepcopy(value)


def _write(text: _Text, path: str, value: Any) -> None:
    entry = re.fullmatch(r"(\w+)\[\d+\]", path)
    if entry:
        _write_entry(text, path, entry[1], value)
        return
    home = _home(text, path, value)
    if home is not None:
        inner = path.removeprefix(home.path).removeprefix(".")
        home.keys = _keys_with(home.keys, inner, value)


def _home(text: _Text, path: str, value: Any) -> Passage | None:
    """The piece in which a key is written, or is to be; None where it is to be taken out and isn't there."""
    line = text.lines.get(path)
    if line:
        return next(piece for piece in reversed(text.pieces) if piece.first <= line)
    if value is None:
        return None
    section = path.rpartition(".")[0]
    found = next((piece for piece in text.pieces if piece.path == section), None)
    if found is None:
        found = Passage(section, 0, f"[{section}]\n")
        _append(text, len(text.pieces), found)
    return found


def _write_entry(text: _Text, path: str, name: str, value: Any) -> None:
    """Adds a board behind the last one, or takes one away; remarks before the next header stay."""
    found = next((piece for piece in text.pieces if piece.path == path), None)
    if value is None and found is not None:
        place = text.pieces.index(found)
        text.pieces[place - 1].rest += found.rest.lstrip("\n")
        text.pieces.remove(found)
        return
    import tomlkit

    if found is not None or value is None:
        raise ValueError(path)
    last = max((n for n, piece in enumerate(text.pieces, 1) if piece.path.startswith(f"{name}[")), default=None)
    _append(text, last or len(text.pieces), Passage(path, 0, f"[[{name}]]\n", tomlkit.dumps(value)))


def _append(text: _Text, place: int, new: Passage) -> None:
    """Puts a piece behind another, with a blank line between."""
    before = text.pieces[place - 1]
    if before.text and not before.text.endswith("\n"):
        before.rest += "\n"
    new.head = f"\n{new.head}"
    if before.rest.strip() and place < len(text.pieces):
        new.rest, before.rest = before.rest, ""
    elif place < len(text.pieces):
        new.rest, before.rest = before.rest or "\n", ""
    elif before.text.endswith("\n\n"):
        new.head = new.head[1:]
    text.pieces.insert(place, new)


def _keys_with(keys: str, path: str, value: Any) -> str:
    """The lines of one table with one key set."""
    import tomlkit

    if keys and not keys.endswith("\n"):
        keys += "\n"
    document = tomlkit.parse(keys)
    *way, last = _steps(path)
    home: Any = document
    for step in way:
        home = home[step]
    if value is None:
        home.pop(last)
    else:
        home[last] = value
    return document.as_string()

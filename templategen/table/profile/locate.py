"""Where a key stands in the maker's file: its path to its line, for messages."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from templategen.errors import Fault
from templategen.units import printable

PATIENCE = 300_000  # characters: values over many lines are tried line by line, and not for ever
DEEPEST = 8


def lines_of(text: str) -> dict[str, int]:
    """The line on which each table and key of a sound TOML text begins; entries of lists count from 1."""
    found: dict[str, int] = {}
    entries: dict[str, int] = {}
    header: list[str] = []
    for line, statement in statements(text):
        parsed = tomllib.loads(statement)
        if statement.lstrip().startswith("["):
            header = header_path(parsed, entries)
            found.setdefault(".".join(header), line)
        else:
            for path in _paths(parsed, header):
                found.setdefault(path, line)
    return found


def line_of(text: str, key_path: str) -> int:
    """The line of `key_path` (`slats.gap`, `stock[2].width`), or of the nearest thing that holds it, or 0."""
    return nearest_line(lines_of(text), key_path)


def nearest_line(lines: Mapping[str, int], key_path: str) -> int:
    """The line of `key_path` among `lines`, or of the nearest thing that holds it, or 0."""
    path = key_path
    while path and path not in lines and f"{path}[1]" not in lines:
        path = path[: max(path.rfind("."), path.rfind("["), 0)]
    return lines.get(path) or lines.get(f"{path}[1]", 0)


def locate_faults(profile_text: str, file: str, faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The same faults with their file and line, in the order of the file; those without a line come last."""
    try:
        lines = lines_of(profile_text)
    except (ValueError, RecursionError):
        lines = {}
    placed = [fault if fault.line else fault.at(file, nearest_line(lines, fault.where)) for fault in faults]
    shown = [replace(fault, where=printable(fault.where[:80]), remedy=printable(fault.remedy)) for fault in placed]
    return tuple(sorted(shown, key=lambda fault: (not fault.line, fault.line)))


def statements(text: str) -> Iterator[tuple[int, str]]:
    """Each header or assignment, possibly over several lines, with the line it begins on."""
    begin, held, patience = 0, "", PATIENCE
    for number, line in enumerate(text.replace("\r\n", "\n").split("\n"), 1):
        if not held and (not line.strip() or line.lstrip().startswith("#")):
            continue
        begin, held = (begin, f"{held}\n{line}") if held else (number, line)
        if _complete(held):
            yield begin, held
            held = ""
        elif (patience := patience - len(held)) < 0:
            return


def _complete(statement: str) -> bool:
    try:
        tomllib.loads(statement)
    except ValueError:
        return False
    return True


def header_path(parsed: object, entries: dict[str, int]) -> list[str]:
    """The path that a `[table]` or `[[list]]` header opens; `entries` counts the lists' entries so far."""
    path: list[str] = []
    while isinstance(parsed, dict) and parsed:
        name, parsed = next(iter(parsed.items()))
        path.append(name)
    if isinstance(parsed, list):
        whole = ".".join(path)
        entries[whole] = entries.get(whole, 0) + 1
        path[-1] += f"[{entries[whole]}]"
    return path


def _paths(value: object, path: list[str]) -> Iterator[str]:
    """Every path within a parsed value, each table and each entry of a list with it."""
    if path:
        yield ".".join(path)
    if len(path) > DEEPEST:
        return
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _paths(inner, [*path, name])
    elif isinstance(value, list):
        for index, inner in enumerate(value, 1):
            yield from _paths(inner, [*path[:-1], f"{path[-1]}[{index}]"])
